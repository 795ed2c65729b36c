import { nearestWord } from "../language/nearest.ts";
import type { TimeConstants } from "../tape/equalisation.ts";
import { evenField, FIELDS, PORTABLE, type ToleranceField } from "../tape/fields.ts";
import { type LossCurve, readLossCurve } from "../tape/loss-curve.ts";
import { readSpeed } from "../tape/speed.ts";
import { findStandard, namesAt, readTimeConstants, speedsWith } from "../tape/standards.ts";
import { type Arguments, valueGiven } from "./arguments.ts";
import { quantity } from "./conditions.ts";
import type { Environment } from "./environment.ts";
import { readText } from "./reading.ts";
import { Refusal } from "./refusal.ts";

/** Deviations refer to this frequency if no other is given, Hz. */
const REFERENCE = 1000;

/** `--tape`: tape speed, m/s. */
export function readTapeSpeed(given: Arguments): number | undefined {
  const text = valueGiven(given, "tape");
  if (text === undefined) return undefined;
  const speed = readSpeed(text);
  if (speed !== undefined) return speed;
  throw new Refusal(`--tape ${text}: that is no speed of a tape`, "for example 9.53cm/s or 3.75in/s");
}

const centimetres = (speed: number): string => `${Number((100 * speed).toPrecision(3))} cm/s`;

/** `--standard`: by name and speed, or time constants as they are. */
export function readStandard(
  text: string,
  speed: number | undefined,
): TimeConstants & { readonly name: string } {
  const constants = readTimeConstants(text);
  if (constants !== undefined) return { name: text.trim(), ...constants };
  if (text.includes("/")) {
    throw new Refusal(
      `--standard ${text}: give two time constants in microseconds, that of the bass first and greater`,
      "for example 3180/120, or inf/70 without one for the bass",
    );
  }
  if (speed === undefined) {
    const speeds = speedsWith(text).map(centimetres).join(", ");
    throw new Refusal(
      `--standard ${text} needs the speed of the tape`,
      speeds === "" ? "for example --tape 9.53cm/s" : `with --tape; it is known at ${speeds}`,
    );
  }
  const found = findStandard(text, speed);
  if (found !== undefined) return found;
  throw unknownStandard(text, speed);
}

function unknownStandard(text: string, speed: number): Refusal {
  const names = namesAt(speed);
  const message = `there is no standard "${text}" at ${centimetres(speed)}`;
  if (names.length === 0) return new Refusal(message, "give time constants instead, such as 3180/120");
  const near = nearestWord(text, names);
  return new Refusal(message, near === undefined ? `there are ${names.join(", ")}` : `did you mean ${near}?`);
}

/** `--re`: the frequency at which curves are 0 dB, Hz. */
export function readReference(given: Arguments): number {
  const text = valueGiven(given, "re");
  if (text === undefined) return REFERENCE;
  const hertz = quantity("re", text, "hertz");
  if (hertz > 0) return hertz;
  throw new Refusal(`--re ${text}: a frequency is above 0 Hz`);
}

const bare = (name: string): string => name.toLowerCase().replaceAll(/[^a-z0-9]/g, "");

/** `--field`: a tolerance field by name, or so many decibels either way. */
export function readField(given: Arguments): ToleranceField {
  const text = valueGiven(given, "field");
  if (text === undefined) return PORTABLE;
  const named = FIELDS.find(({ name }) => bare(name) === bare(text));
  if (named !== undefined) return named;
  const decibels = Number(/^(\d+(?:[.,]\d+)?)\s*dB$/i.exec(text.trim())?.[1]?.replace(",", "."));
  if (decibels > 0 && decibels <= 60) return evenField(decibels);
  const names = FIELDS.map(({ name }) => name).join(", ");
  throw new Refusal(`--field ${text}: there is no such tolerance field`, `there are ${names}, or 2dB`);
}

/** `--tape-loss`: what the medium loses, from a file with the columns hertz and db. */
export function readTapeLoss(given: Arguments, environment: Environment): LossCurve | undefined {
  const file = valueGiven(given, "tape-loss");
  if (file === undefined) return undefined;
  const found = readLossCurve(readText(file, environment, "table"));
  if (!("message" in found)) return found;
  throw new Refusal(`${file}:${found.line}:${found.column}: ${found.message}`, found.hint);
}

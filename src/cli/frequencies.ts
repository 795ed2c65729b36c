import { preferredFrequencies } from "../bench/response.ts";
import { type Arguments, listGiven, valueGiven } from "./arguments.ts";
import { quantity } from "./conditions.ts";
import { Refusal, readEach, readTogether } from "./refusal.ts";

const LOWEST = 20;
const HIGHEST = 20_000;
const POINTS_PER_OCTAVE = 6;
/** Close enough that a trap or a resonance has its shape on paper. */
const DRAWN_PER_OCTAVE = 48;
/** More points than any plot can show. */
const MOST_POINTS = 192;

/** The frequencies asked for, Hz: those of `--at` in the order given, else a sweep. */
export function readFrequencies(given: Arguments): readonly number[] {
  const at = readEach(listGiven(given, "at"), (text) => frequency("at", text));
  if (at.length > 0) {
    const other = ["from", "to", "points-per-octave"].find((name) => given.given.has(name));
    if (other !== undefined) throw new Refusal(`--at and --${other} exclude each other`);
    return at;
  }
  const { ends, points } = readTogether({
    ends: () => readEnds(given),
    points: () => pointsPerOctave(given),
  });
  return preferredFrequencies({ ...ends, pointsPerOctave: points });
}

/**
 * The frequencies of a drawing, Hz, where nobody asked for those of a table; nothing where somebody did, and
 * the drawing is to show them.
 */
export function drawnFrequencies(given: Arguments): readonly number[] | undefined {
  if (given.given.has("at") || given.given.has("points-per-octave")) return undefined;
  return preferredFrequencies({ ...readEnds(given), pointsPerOctave: DRAWN_PER_OCTAVE });
}

/** The range asked for, Hz. */
export function readEnds(given: Arguments): { readonly from: number; readonly to: number } {
  const { from, to } = readTogether({
    from: () => frequency("from", valueGiven(given, "from") ?? `${LOWEST}`),
    to: () => frequency("to", valueGiven(given, "to") ?? `${HIGHEST}`),
  });
  if (from > to) throw new Refusal(`--from ${from} Hz lies above --to ${to} Hz`, "exchange them");
  return { from, to };
}

/** A frequency above 0 Hz. */
export function frequency(option: string, text: string): number {
  const hertz = quantity(option, text, "hertz");
  if (hertz > 0) return hertz;
  throw new Refusal(
    `--${option} ${text}: a frequency is above 0 Hz`,
    "direct current is what voltages shows",
  );
}

function pointsPerOctave(given: Arguments): number {
  const text = valueGiven(given, "points-per-octave") ?? `${POINTS_PER_OCTAVE}`;
  const points = Number(text);
  if (Number.isInteger(points) && points >= 1 && points <= MOST_POINTS) return points;
  throw new Refusal(
    `--points-per-octave ${text}: give a whole number from 1 to ${MOST_POINTS}`,
    `${POINTS_PER_OCTAVE} is usual`,
  );
}

/** What `oscillation` found, in sentences. */
import type {
  Growing,
  NaturalFrequency,
  OscillationChart,
  StartMargin,
  Steady,
  SupplyLimit,
  Trap,
} from "../bench/oscillation/results.ts";
import { amps, decibels, decimal, hertz, ohms, volts, withUnit } from "./numbers.ts";

/** How long it takes to grow or die by a factor e. */
export const rateText = ({ growth_per_second: growth }: { readonly growth_per_second: number }): string => {
  if (growth === 0) return "stays";
  return `${growth > 0 ? "grows" : "dies"} e-fold in ${withUnit(1 / Math.abs(growth), "s")}`;
};

export const frequencyText = ({ hertz: f }: { readonly hertz: number }): string => (f > 0 ? hertz4(f) : "–");

/** Hertz to four digits: an oscillator's frequency is worth them. */
const hertz4 = (value: number): string => withUnit(value, "Hz", 4);

/** The parts of a mode in words, strongest first. */
export const partsText = ({ parts }: NaturalFrequency, most = 6): string =>
  parts
    .filter(({ participation }) => participation >= 0.05)
    .slice(0, most)
    .map(({ part }) => part)
    .join(", ");

const KINDS = {
  oscillation: "oscillates",
  motorboating: "motorboats",
  latching: "leaves its operating point",
};

/** `Oscillates at 52.09 kHz through C21, K2, TR3 and T6: grows e-fold in 56.1 µs.` */
export function growingText(growing: Growing): string {
  const at = growing.hertz > 0 ? ` at ${hertz4(growing.hertz)}` : "";
  return `It ${KINDS[growing.kind]}${at} through ${listed(growing.parts)}: ${rateText(growing)}.`;
}

const listed = (names: readonly string[]): string =>
  names.length < 2 ? names.join("") : `${names.slice(0, -1).join(", ")} and ${names.at(-1)}`;

/** What it still starts with, a sentence. */
export function startText({ transistor, batteries, across, in_series: inSeries }: StartMargin): string {
  const limits = [
    ...(transistor === undefined ? [] : [hfeText(transistor)]),
    ...batteries.map(({ part, value, tried }) =>
      value === undefined
        ? `with ${part} down to ${volts(tried)} and less`
        : `with ${part} down to ${volts(value)}`,
    ),
    ...(across === undefined ? [] : [lossText(across, "across")]),
    ...(inSeries === undefined ? [] : [lossText(inSeries, "in series with")]),
  ];
  return limits.length === 0 ? "" : `It still starts ${limits.join("; ")}.`;
}

function hfeText({ part, hfe, least_hfe, tried_hfe }: NonNullable<StartMargin["transistor"]>): string {
  const least = decimal(least_hfe ?? tried_hfe, 1);
  return `with hfe ${least}${least_hfe === undefined ? " and less" : ""} of ${part} instead of ${decimal(hfe, 0)}`;
}

function lossText(
  { part, value, tried }: { readonly part: string; readonly value?: number; readonly tried: number },
  where: string,
): string {
  const shown = ohms(value ?? tried);
  return value === undefined ? `with ${shown} ${where} ${part} and worse` : `with ${shown} ${where} ${part}`;
}

/** Frequency and how it was found; the currents through the heads. */
export function steadyText(steady: Steady | { readonly reason: string }): string {
  if ("reason" in steady) return `No steady swing was found: ${steady.reason}.`;
  const heads = Object.entries(steady.heads).map(([name, { amps_rms }]) => `${name} ${amps(amps_rms)} rms`);
  const method = steady.harmonics === 1 ? steady.method : `${steady.method} of ${steady.harmonics} harmonics`;
  const through = heads.length === 0 ? "" : `; through the heads: ${heads.join(", ")}`;
  return `It settles at ${hertz4(steady.hertz)} (${method}, junctions as warm as at rest)${through}.`;
}

export function trapText(trap: Trap): string {
  const left = trap.residual_volts_peak === undefined ? "" : `, ${volts(trap.residual_volts_peak)} peak left`;
  const more = decibels(trap.attenuation_db_one_percent_more);
  const less = decibels(trap.attenuation_db_one_percent_less);
  return [
    `Trap ${trap.coil} ${trap.capacitor}, tuned to ${hertz4(trap.resonance_hertz)}:`,
    `${decibels(trap.attenuation_db)} dB from ${trap.from} to ${trap.to}${left};`,
    `${more} dB with 1 % more inductance, ${less} dB with 1 % less (${hertz(Math.abs(trap.hertz_per_percent))} a per cent).`,
  ].join(" ");
}

export const NOTHING_GROWS = "Nothing grows: the operating point holds.";

/** All that is told of one that grows: how, its margin, where it settles, its traps. */
export function growingSentences(growing: Growing): readonly string[] {
  const { steady, start, traps } = growing;
  return [
    growingText(growing),
    startText(start),
    ...(steady === undefined ? [] : [steadyText(steady)]),
    ...traps.map(trapText),
  ].filter((sentence) => sentence !== "");
}

/** A line for each battery and capacitor looked at. */
export function marginTexts({ margins, growing }: OscillationChart): readonly string[] {
  if (margins === undefined) return [];
  const all = growing.length > 0 ? "nothing else grows" : "everything dies away";
  return [
    ...margins.batteries.map((limit) => supplyText(limit, all, ohms, "up to", "inside")),
    ...margins.capacitors.map((limit) =>
      supplyText(limit, all, (value) => withUnit(value, "F"), "down to", "in"),
    ),
  ];
}

function supplyText(
  { part, limit, tried, hertz: f }: SupplyLimit,
  all: string,
  shown: (value: number) => string,
  direction: string,
  inside: string,
): string {
  if (limit === undefined)
    return `${part}: ${all} ${direction} ${shown(tried)} ${inside} it: no limit found.`;
  const beyond =
    f === undefined ? "" : `; beyond, ${f > 0 ? hertz4(f) : "something without a frequency"} grows`;
  return `${part}: ${all} ${direction} ${shown(limit)} ${inside} it${beyond}.`;
}

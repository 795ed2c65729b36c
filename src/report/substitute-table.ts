/** Substitutes on a terminal: a line a type, and under it what to know of each. */
import type { TransistorReading } from "../bench/results.ts";
import type {
  Candidate,
  LeftOut,
  Moved,
  PathChange,
  PathFigures,
  Rebias,
  Substitution,
} from "../bench/substitute/results.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { type Column, harmless, layOut, rule, unbound, widthOf, wrap } from "./columns.ts";
import { type Ink, inkFor } from "./ink.ts";
import { amps, decibels, decimal, hertz, ohms, signed, volts, watts, withUnit } from "./numbers.ts";
import { titled } from "./titled.ts";
import type { TableOptions } from "./voltage-table.ts";

/** Of more candidates than this only the table is shown, and notes on the first. */
const NOTES_OF = 6;
/** Columns before those of the paths. */
const OWN = 5;
/** Columns of a path. */
const CELLS = 4;
/** So many nets and currents that have moved are named. */
const MOVED_SHOWN = 6;

const MINUS = "\u2212";

/** `4 %`: logarithmic changes as a percentage of growth. */
export const changeText = (change: number): string => {
  const share = 100 * Math.expm1(change);
  return share > 999 ? "> 999 %" : `${decimal(share, share < 9.95 && share > 0 ? 1 : 0)} %`;
};

/** Half-power points, `35 Hz … 9.8 kHz`. */
export function rangeText({ low_hertz, high_hertz }: PathFigures): string {
  const low = low_hertz === undefined ? "–" : hertz(low_hertz);
  const high = high_hertz === undefined ? "–" : hertz(high_hertz);
  return `${low} … ${high}`;
}

/** Collector current, V_CE, dissipation, and its share of the greatest. */
export function operatingCells(
  { ic_amps, vce_volts, dissipation_watts }: TransistorReading,
  most: number | undefined,
): string[] {
  const share = most === undefined ? "–" : `${decimal((100 * dissipation_watts) / most, 0)} %`;
  return [amps(ic_amps), volts(vce_volts), watts(dissipation_watts), share];
}

/** Of the type fitted as EMF of the source, of others by how much it is more. */
function hissText({ noise_change_db: change, input_noise_volts_rms: noise }: PathChange): string {
  if (change !== undefined) return `${signed(change)} dB`;
  return noise === undefined ? "–" : volts(noise);
}

const pathCells = (paths: Readonly<Record<string, PathChange>>, names: readonly string[]) =>
  names.flatMap((name) => {
    const found = paths[name];
    if (found === undefined) return ["–", "", "–", "–"];
    return [decibels(found.gain_db), signed(found.change_db), hissText(found), rangeText(found)];
  });

/** The candidates of one mode as rows of cells; the type fitted first. */
function rows({ part, fitted, candidates }: Substitution, names: readonly string[]): string[][] {
  const own = fitted.transistors[part]!;
  const fittedPaths = Object.fromEntries(
    Object.entries(fitted.paths).map(([name, figures]) => [name, { ...figures, change_db: 0 }]),
  );
  const first = pathCells(fittedPaths, names).map((cell, k) => (k % CELLS === 1 ? "" : cell));
  return [
    [
      "type",
      "I_C",
      "V_CE",
      "P",
      "of max",
      ...names.flatMap((name) => [harmless(name), "by dB", "hiss", `${MINUS}3 dB`]),
      "change",
    ],
    [harmless(fitted.type), ...operatingCells(own, fitted.ptot_watts), ...first, "fitted"],
    ...candidates.map((one) => [
      harmless(one.type) + (one.limits.length > 0 ? " !" : ""),
      ...operatingCells(one.transistors[part]!, one.ptot_watts),
      ...pathCells(one.paths, names),
      changeText(one.change),
    ]),
  ];
}

function table(one: Substitution, { width }: TableOptions, ink: Ink): readonly string[] {
  const names = Object.keys(one.fitted.paths);
  const all = rows(one, names);
  const columns: Column[] = all[0]!.map((_, k) => ({ align: k === 0 ? "left" : "right" }));
  const indices = columns.map((_, k) => k);
  const last = columns.length - 1;
  const cell = (k: number) => (k - OWN) % CELLS;
  // on a narrow terminal the half-power points go first, then the dissipation, then the hiss
  const plans = [
    indices,
    indices.filter((k) => k < OWN || k === last || cell(k) !== 3),
    indices.filter((k) => k < 3 || k === last || (k >= OWN && cell(k) !== 3)),
    indices.filter((k) => k < 3 || k === last || (k >= OWN && cell(k) === 0)),
    [0, 1, 2, last],
  ];
  const laid = plans.map((plan) =>
    layOut(
      all.map((cells) => plan.map((k) => cells[k]!)),
      plan.map((k) => columns[k]!),
    ).map((line) => unbound(line).trimEnd()),
  );
  const lines = laid.find((some) => some.every((line) => widthOf(line) <= width)) ?? laid.at(-1)!;
  const [head, fitted, ...others] = lines;
  const thin = ink.faint(rule(Math.max(...lines.map(widthOf))));
  return [ink.strong(head!), thin, fitted!, ...others, thin];
}

const UNITS = { V: volts, A: amps, dB: (value: number) => `${decibels(value)} dB` } as const;

/** What has moved beyond the spread, from where to where. */
export function movedText({ what, unit, from, to, least, greatest }: Moved): string {
  const show = UNITS[unit];
  const [a, b] = Math.abs(least) <= Math.abs(greatest) ? [least, greatest] : [greatest, least];
  return `${what} from ${show(from)} to ${show(to)} (spread ${show(a)} to ${show(b)})`;
}

/** The resistor that restores the current, and what its E12 value gives. */
export function rebiasText(bias: Rebias): string {
  const { resistor, ohms: now, exact_ohms, preferred_ohms, wanted_amps, transistor } = bias;
  const gains = Object.entries(bias.paths).map(
    ([name, { gain_db, change_db }]) => `${name} ${decibels(gain_db)} dB (${signed(change_db)})`,
  );
  return [
    `bias: ${resistor} of ${ohms(now)} as ${withUnit(exact_ohms, "Ω", 4)} gives the ${amps(wanted_amps)} of ${bias.wanted_in} again`,
    `nearest in E12 ${ohms(preferred_ohms)}: ${amps(transistor.ic_amps)} at ${volts(transistor.vce_volts)}${gains.length > 0 ? `, ${gains.join(", ")}` : ""}`,
  ].join("; ");
}

function notes(one: Candidate, width: number, ink: Ink): readonly string[] {
  const lines = [
    ...one.limits.map((text) => ink.accent(`limit: ${text}`)),
    ...one.warnings,
    ...(one.moved.length === 0
      ? []
      : [
          `beyond the spread: ${one.moved.slice(0, MOVED_SHOWN).map(movedText).join("; ")}${one.moved.length > MOVED_SHOWN ? `; and ${one.moved.length - MOVED_SHOWN} more` : ""}`,
        ]),
    ...(one.rebias === undefined ? [] : [rebiasText(one.rebias)]),
  ];
  if (lines.length === 0) return [];
  return [one.type, ...lines.flatMap((text) => wrap(`  ${text}`, width, 4))].map((line, k) =>
    k === 0 ? ink.strong(harmless(line)) : line,
  );
}

function leftOutText(list: readonly LeftOut[], width: number): readonly string[] {
  if (list.length === 0) return [];
  if (list.length > NOTES_OF) {
    const names = list.map(({ type }) => type).join(", ");
    return wrap(`Left out, because limits do not suffice or no operating point is found: ${names}`, width);
  }
  return list.flatMap(({ type, reason }) => wrap(`Left out: ${type}: ${reason}`, width));
}

/** Every mode's candidates, the least change first, with notes on the best of them. */
export function substituteTable(
  circuit: Circuit,
  results: readonly Substitution[],
  phrases: readonly string[],
  options: TableOptions,
): string {
  const ink = inkFor(options.color);
  const blocks = results.flatMap((one) => [
    ink.strong(harmless(`${[one.part, ...(one.also ?? [])].join(" and ")} in mode ${one.mode}`)),
    ...table(one, options, ink),
    ...one.candidates.slice(0, NOTES_OF).flatMap((each) => notes(each, options.width, ink)),
    ...(one.candidates.length > NOTES_OF
      ? wrap(`Notes on the first ${NOTES_OF} only; name a type to see those on it.`, options.width)
      : []),
    "",
  ]);
  const found = ["", ...blocks, ...leftOutText(results[0]?.left_out ?? [], options.width)];
  return titled(circuit, phrases, found, options);
}

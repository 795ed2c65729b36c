/** How a candidate compares with the type fitted, in one mode. */
import { operatingWarnings } from "../check.ts";
import type { SpreadChart } from "../spread/results.ts";
import type { Fit } from "./fit.ts";
import type { Moved, PathChange, PathFigures } from "./results.ts";

const NEPER_DB = 20 / Math.LN10;
/** A smaller change, of nepers or decibels, is rounding. */
const ROUNDING = 1e-10;
/** Currents below this are none, A. */
const NO_CURRENT = 1e-6;
/** Half-power points beyond these are heard by nobody, Hz. */
const AUDIBLE = [20, 20_000] as const;

/** Paths of the candidate with what has changed. */
export function pathChanges(fitted: Fit, candidate: Fit): Readonly<Record<string, PathChange>> {
  return Object.fromEntries(
    Object.entries(candidate.paths).map(([name, figures]) => [
      name,
      {
        ...figures,
        change_db: noticed(figures.gain_db - (fitted.paths[name]?.gain_db ?? figures.gain_db)),
        ...noiseChange(fitted.paths[name], figures),
      },
    ]),
  );
}

const noticed = (change: number): number => (Math.abs(change) < ROUNDING ? 0 : change);

function noiseChange(before: PathFigures | undefined, after: PathFigures) {
  const [then, now] = [before?.input_noise_volts_rms, after.input_noise_volts_rms];
  if (!then || !now) return {};
  return { noise_change_db: noticed(20 * Math.log10(now / then)) };
}

/**
 * How much changes: the root of the sum of squares of the logarithmic changes of every collector current (of
 * 1 µA and more), of the gain of every path, and of its half-power points as far as they lie between 20 Hz
 * and 20 kHz. A rule of ours: 0.1 is about 10 %, or 1 dB, of one of them.
 */
export function changeOf(fitted: Fit, candidate: Fit): number {
  const currents = Object.entries(fitted.chart.transistors).map(([name, { ic_amps }]) =>
    ratio(current(ic_amps), current(candidate.chart.transistors[name]?.ic_amps ?? 0)),
  );
  const gains = Object.entries(fitted.paths).flatMap(([name, before]) => {
    const after = candidate.paths[name];
    if (after === undefined) return [];
    return [
      (after.gain_db - before.gain_db) / NEPER_DB,
      ratio(heard(before.low_hertz, 0), heard(after.low_hertz, 0)),
      ratio(heard(before.high_hertz, Infinity), heard(after.high_hertz, Infinity)),
    ];
  });
  return noticed(Math.hypot(...currents, ...gains));
}

const current = (amps: number) => Math.max(NO_CURRENT, Math.abs(amps));
const ratio = (before: number, after: number) => Math.log(after / before);
const heard = (hertz: number | undefined, otherwise: number) =>
  Math.min(AUDIBLE[1], Math.max(AUDIBLE[0], hertz ?? otherwise));

/** Changes below these are none to a meter: a share of the value, and volts and decibels. */
const NOTICED = { share: 0.01, V: 0.01, A: 0, dB: 0.1 } as const;

/** Nets, collector currents and gains that have left the spread of the circuit as it was. */
export function movedOf(fitted: Fit, candidate: Fit, spread: SpreadChart | undefined): readonly Moved[] {
  if (spread === undefined) return [];
  const nets = Object.entries(spread.nets).map(
    ([name, { least_volts, greatest_volts }]): Moved => ({
      what: name,
      unit: "V",
      from: fitted.chart.nets[name]?.volts ?? 0,
      to: candidate.chart.nets[name]?.volts ?? 0,
      least: least_volts,
      greatest: greatest_volts,
    }),
  );
  const currents = Object.entries(spread.transistors).map(
    ([
      name,
      {
        ic_amps: { least, greatest },
      },
    ]): Moved => ({
      what: `${name} I_C`,
      unit: "A",
      from: fitted.chart.transistors[name]?.ic_amps ?? 0,
      to: candidate.chart.transistors[name]?.ic_amps ?? 0,
      least,
      greatest,
    }),
  );
  const gains = Object.entries(spread.paths).flatMap(
    ([
      name,
      {
        gain_db: { least, greatest },
      },
    ]): Moved[] => {
      const [before, after] = [fitted.paths[name], candidate.paths[name]];
      if (before === undefined || after === undefined) return [];
      return [
        { what: `gain of ${name}`, unit: "dB", from: before.gain_db, to: after.gain_db, least, greatest },
      ];
    },
  );
  return [...currents, ...nets, ...gains].filter(outside);
}

function outside({ unit, from, to, least, greatest }: Moved): boolean {
  const share = unit === "dB" ? 0 : NOTICED.share * Math.abs(from);
  if (Math.abs(to - from) <= Math.max(NOTICED[unit], share)) return false;
  return to < Math.min(least, from) || to > Math.max(greatest, from);
}

/** With less than this part of its collector current a transistor is as good as cut off. */
const HARDLY = 0.02;

/** Transistors that work with the type fitted and no longer do with the candidate, a sentence each. */
export function newRegions(fitted: Fit, candidate: Fit): readonly string[] {
  return Object.entries(candidate.chart.transistors).flatMap(([name, now]) => {
    const before = fitted.chart.transistors[name];
    if (before?.region !== "active") return [];
    if (now.region !== "active") return [`${name} is ${now.region}`];
    const hardly = Math.abs(now.ic_amps) < HARDLY * Math.abs(before.ic_amps);
    return hardly ? [`${name} is as good as cut off`] : [];
  });
}

/** Limits passed with the candidate that were not before. */
export function newExcesses(fitted: Fit, candidate: Fit): readonly string[] {
  const sentences = ({ circuit, chart }: Fit) =>
    operatingWarnings(circuit, [chart]).map(({ message }) => message.replace(/ \(modes? [^)]*\)$/, ""));
  const part = (sentence: string) => sentence.split(/[: ]/)[0];
  const before = sentences(fitted);
  return sentences(candidate).filter((now) => !before.some((old) => sameFinding(old, now, part)));
}

/** Whether two sentences are about the same limit of the same part, whatever the values. */
function sameFinding(a: string, b: string, part: (sentence: string) => string | undefined): boolean {
  const bare = (sentence: string) =>
    sentence.replace(/[−\d.]+ [mµ]?[VAW°C]+/g, "#").replace(/that .* stands/, "");
  return part(a) === part(b) && bare(a) === bare(b);
}

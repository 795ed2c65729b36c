/** The very sample that was tested: its type with the hfe and the leakage that give its two readings. */
import type { DeviceType } from "../circuit/circuit.ts";
import { REFERENCE_KELVIN, thermalVoltage, ZERO_CELSIUS } from "../devices/constants.ts";
import { MATERIALS } from "../devices/material.ts";
import { DEFAULT_HFE, leastLeakage } from "../devices/transistor-parameters.ts";
import { type TestCircuit, type TestReadings, testReadings } from "./transistor-test.ts";

/** As far above the junctions' own share as a leakage must lie. */
const ABOVE_LEAST = 1.001;
/** Readings are met to this part of themselves. */
const EXACT = 1e-10;
const GOOD_ENOUGH = 1e-8;
const MOST_STEPS = 60;
/** Largest step, nepers, and the one that the slopes are taken over. */
const LONGEST_STEP = 1.5;
const SLOPE_STEP = 1e-5;

export interface Sample {
  readonly type: DeviceType;
  /** V_BE was raised above that of the type, V: the sample leaks less than the type's junctions alone would. */
  readonly raisedVbe?: number;
}

/** Logarithms of hfe and of the leakage above the least possible one. */
type Unknowns = readonly [gain: number, leakage: number];

/**
 * The type with `hfe` (at its own first point; the fall-off keeps its shape) and `leakage` at 25 °C such
 * that it gives both readings in the test circuit, self-heating included. An open reading of 0 is taken as
 * the least leakage there can be. Nothing where no transistor of the type reads so.
 */
export function sampleOf(
  test: TestCircuit,
  readings: TestReadings,
  type: DeviceType,
  name: string,
): Sample | undefined {
  const base = withoutSpread(type, name);
  const raised = readings.openAmps > 0 ? raisedVbe(test, readings, base) : undefined;
  const fitted = raised === undefined ? base : withFigures(base, raised);
  const guess = firstGuess(test, readings, fitted);
  const found =
    readings.openAmps > 0
      ? solve(guess, (x) => misses(test, readings, sampleAt(fitted, x)))
      : solveGain(guess, (x) => missOfGain(test, readings, sampleAt(fitted, x)));
  if (found === undefined) return undefined;
  return {
    type: sampleAt(fitted, found),
    ...(raised?.vbe !== undefined && { raisedVbe: raised.vbe }),
  };
}

const withFigures = (type: DeviceType, figures: Readonly<Record<string, number>>): DeviceType => ({
  ...type,
  figures: { ...type.figures, ...figures },
});

/** One sample has no spread, and its leakage is measured. */
function withoutSpread(type: DeviceType, name: string): DeviceType {
  const dropped = ["spread.least", "spread.greatest", "leakage.max"];
  const kept = Object.entries(type.figures).filter(([key]) => !dropped.includes(key));
  const figures: Record<string, number> = Object.fromEntries(kept);
  figures.hfe ??= DEFAULT_HFE;
  figures["hfe.at"] ??= 1e-3;
  return { ...type, name, figures, source: measuredSource(type) };
}

/** What the block says of its figures. */
function measuredSource({ name, figures, source }: DeviceType): string {
  if (Object.keys(figures).length === 0) return "hfe and leakage measured; the rest usual values";
  return `hfe and leakage measured; the rest of ${name}${source === undefined ? "" : `: ${source}`}`;
}

function sampleAt(type: DeviceType, [gain, leakage]: Unknowns): DeviceType {
  const share = Math.exp(gain) / type.figures.hfe!;
  const { hfe2 } = type.figures;
  const scaled = withFigures(type, {
    hfe: Math.exp(gain),
    ...(hfe2 !== undefined && { hfe2: hfe2 * share }),
    "leakage.at": 25,
  });
  const least = ABOVE_LEAST * leastLeakage(type.material, scaled.figures);
  return withFigures(scaled, { leakage: least + Math.exp(leakage) });
}

/** Saturation current at 25 °C over that of the V_BE at its current, A. */
const vbePoint = ({ material, figures }: DeviceType) => {
  const usual = MATERIALS[material].vbe;
  return figures.vbe === undefined ? usual : { volts: figures.vbe, at: figures["vbe.at"] ?? usual.at };
};

/** What a sample of no leakage but its junctions' reads with the base open, against the reading. */
const FLOOR_SHARE = 0.8;
const LOWERED_TO = 0.5;

/** A higher V_BE where the saturation current alone would read more than the sample does. */
function raisedVbe(
  test: TestCircuit,
  { openAmps }: TestReadings,
  type: DeviceType,
): { vbe: number; "vbe.at": number } | undefined {
  const { volts, at } = vbePoint(type);
  const hardly = Math.log(leastLeakage(type.material, type.figures) * 1e-6);
  const floor = testReadings(test, sampleAt(type, [Math.log(type.figures.hfe!), hardly]))?.openAmps;
  if (floor === undefined || floor <= FLOOR_SHARE * openAmps) return undefined;
  const vt = thermalVoltage(REFERENCE_KELVIN);
  const ratio = floor / (LOWERED_TO * openAmps);
  return { vbe: vt * Math.log1p(Math.expm1(volts / vt) * ratio), "vbe.at": at };
}

/** By hand: hfe from the difference of the readings, leakage from the open one. */
function firstGuess(test: TestCircuit, { openAmps, fedAmps }: TestReadings, type: DeviceType): Unknowns {
  const drive = test.supplyVolts / test.baseOhms;
  const gain = Math.max(1, (fedAmps - openAmps) / drive);
  const least = leastLeakage(type.material, { ...type.figures, hfe: gain });
  const warm = test.celsius + ZERO_CELSIUS - REFERENCE_KELVIN;
  const doubling = type.figures.doubling ?? MATERIALS[type.material].doubling;
  const emitterOpen = (openAmps / (1 + gain)) * 2 ** (-warm / doubling);
  return [Math.log(gain), Math.log(Math.max(emitterOpen - least, 0.05 * emitterOpen, 1e-6 * least))];
}

/** Logarithms of the currents found over those read. */
function misses(
  test: TestCircuit,
  wanted: TestReadings,
  type: DeviceType,
): readonly [number, number] | undefined {
  const found = testReadings(test, type);
  if (found === undefined) return undefined;
  const rise = Math.max(found.fedAmps - found.openAmps, 1e-12 * found.fedAmps);
  return [Math.log(rise / (wanted.fedAmps - wanted.openAmps)), Math.log(found.openAmps / wanted.openAmps)];
}

function missOfGain(test: TestCircuit, wanted: TestReadings, type: DeviceType): number | undefined {
  const found = testReadings(test, type);
  return found && Math.log(found.fedAmps / wanted.fedAmps);
}

const size = (miss: readonly number[]) => Math.max(...miss.map(Math.abs));
const held = (step: number) => Math.max(-LONGEST_STEP, Math.min(LONGEST_STEP, step));

/** Newton's iteration on two logarithms with slopes by differences; steps that do not help are halved. */
function solve(
  from: Unknowns,
  miss: (x: Unknowns) => readonly [number, number] | undefined,
): Unknowns | undefined {
  let x = from;
  let f = miss(x);
  for (let step = 0; step < MOST_STEPS && f !== undefined && size(f) > EXACT; step++) {
    const byGain = miss([x[0] + SLOPE_STEP, x[1]]);
    const byLeakage = miss([x[0], x[1] + SLOPE_STEP]);
    if (byGain === undefined || byLeakage === undefined) return undefined;
    const [a, b] = [(byGain[0] - f[0]) / SLOPE_STEP, (byLeakage[0] - f[0]) / SLOPE_STEP];
    const [c, d] = [(byGain[1] - f[1]) / SLOPE_STEP, (byLeakage[1] - f[1]) / SLOPE_STEP];
    const determinant = a * d - b * c;
    if (!(Math.abs(determinant) > 1e-300)) return undefined;
    const wanted: Unknowns = [
      held((b * f[1] - d * f[0]) / determinant),
      held((c * f[0] - a * f[1]) / determinant),
    ];
    const better = shortened(x, wanted, size(f), miss);
    if (better === undefined) break;
    x = better.x;
    f = better.f;
  }
  return f !== undefined && size(f) < GOOD_ENOUGH ? x : undefined;
}

function shortened(
  x: Unknowns,
  step: Unknowns,
  present: number,
  miss: (x: Unknowns) => readonly [number, number] | undefined,
) {
  for (let share = 1; share > 1e-4; share /= 2) {
    const next: Unknowns = [x[0] + share * step[0], x[1] + share * step[1]];
    const f = miss(next);
    if (f !== undefined && size(f) < present) return { x: next, f };
  }
  return undefined;
}

/** The gain alone, with no leakage but the least. */
function solveGain([gain]: Unknowns, miss: (x: Unknowns) => number | undefined): Unknowns | undefined {
  const none = -100;
  const both = (x: Unknowns): readonly [number, number] | undefined => {
    const f = miss([x[0], none]);
    return f === undefined ? undefined : [f, x[1]];
  };
  const found = solve([gain, 0], both);
  return found && [found[0], none];
}

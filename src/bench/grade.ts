/** What a transistor from the drawer is worth, from two readings of a simple test. */
import type { DeviceType } from "../circuit/circuit.ts";
import { REFERENCE_KELVIN, ZERO_CELSIUS } from "../devices/constants.ts";
import { MATERIALS } from "../devices/material.ts";
import { bestPairs } from "./pairs.ts";
import { refusalOf } from "./reading-limits.ts";
import { sampleOf } from "./sample.ts";
import type { TestCircuit, TestReadings } from "./transistor-test.ts";
import { type Verdict, verdictOf, type Worth } from "./verdict.ts";

/** One transistor and its readings. */
export interface Tested {
  readonly sample: string;
  readonly test: TestCircuit;
  readonly readings: TestReadings;
  /** The type it is marked as, or a plain one of its polarity and material. */
  readonly type: DeviceType;
  /** Whether `type` is that of a data sheet, to be judged against. */
  readonly marked: boolean;
}

export interface Grade {
  readonly sample: string;
  readonly device: "pnp" | "npn";
  readonly material: DeviceType["material"];
  /** The type it was judged against. */
  readonly like?: string;
  readonly celsius: number;
  readonly readings: { readonly open_amps: number; readonly fed_amps: number };
  readonly base_amps: number;
  readonly measured: Worth;
  readonly at_25: Worth;
  /** Fed collector current over base current: the leakage taken for gain. */
  readonly naive_hfe: number;
  /** By how much that is wrong, as a fraction. */
  readonly naive_error: number;
  readonly verdict: Verdict;
  /** This very sample as a device type: solved in the test circuit it gives both readings. */
  readonly type: DeviceType;
  /** V_BE of the block where it had to be raised above that of the type, V. */
  readonly raised_vbe_volts?: number;
  readonly pair?: { readonly with: string; readonly hfe_ratio: number; readonly iceo_ratio: number };
}

/** Why readings are refused. */
export interface Refused {
  readonly sample: string;
  readonly message: string;
  readonly hint?: string;
}

export interface Grades {
  /** Highest hfe first. */
  readonly results: readonly Grade[];
  readonly refused: readonly Refused[];
  /** Whether the pairs are the best of all, not only good ones. */
  readonly pairsExact: boolean;
}

/** V_BE that the trade takes off the supply for the base current, V. Common practice, no source. */
const HAND_VBE = { germanium: 0.1, silicon: 0.6 } as const;

/**
 * Leakage and hfe by hand: I_B = (supply − V_BE)/base resistor, hfe = (fed − open)/I_B. Method: R. G. Keen's
 * test for germanium transistors. Carried to 25 °C by the laws of docs/models.md: hfe as T^1.5, I_CBO by its
 * doubling.
 */
export function handFigures(
  test: TestCircuit,
  { openAmps, fedAmps }: TestReadings,
  { material, figures }: Pick<DeviceType, "material" | "figures">,
) {
  const baseAmps = (test.supplyVolts - HAND_VBE[material]) / test.baseOhms;
  const hfe = (fedAmps - openAmps) / baseAmps;
  const measured = { iceo_amps: openAmps, icbo_amps: openAmps / (1 + hfe), hfe };
  const kelvin = test.celsius + ZERO_CELSIUS;
  const doubling = figures.doubling ?? MATERIALS[material].doubling;
  const hfe25 = hfe * (REFERENCE_KELVIN / kelvin) ** 1.5;
  const icbo25 = measured.icbo_amps * 2 ** ((REFERENCE_KELVIN - kelvin) / doubling);
  return {
    baseAmps,
    measured,
    at25: { iceo_amps: icbo25 * (1 + hfe25), icbo_amps: icbo25, hfe: hfe25 },
    naive: fedAmps / baseAmps,
  };
}

function gradeOne(tested: Tested): Grade | Refused {
  const { sample, test, readings, type, marked } = tested;
  const refused = refusalOf(test, readings, type.material);
  if (refused !== undefined) return { sample, ...refused };
  const { baseAmps, measured, at25, naive } = handFigures(test, readings, type);
  const found = sampleOf(test, readings, type, sample);
  if (found === undefined) {
    return {
      sample,
      message: `no ${marked ? type.name : `${type.device} ${type.material} transistor`} gives these readings`,
      hint: "check polarity and material, the resistors, and whether the transistor grew warm in the test",
    };
  }
  return {
    sample,
    device: type.device === "npn" ? "npn" : "pnp",
    material: type.material,
    ...(marked && { like: type.name }),
    celsius: test.celsius,
    readings: { open_amps: readings.openAmps, fed_amps: readings.fedAmps },
    base_amps: baseAmps,
    measured,
    at_25: at25,
    naive_hfe: naive,
    naive_error: naive / measured.hfe - 1,
    verdict: verdictOf(type, marked, found.type, at25),
    type: found.type,
    ...(found.raisedVbe !== undefined && { raised_vbe_volts: found.raisedVbe }),
  };
}

/** Grades every sample, sorts them by hfe, and finds the best-matched pairs. */
export function grade(all: readonly Tested[]): Grades {
  const graded = all.map(gradeOne);
  const results = graded
    .filter((one): one is Grade => "verdict" in one)
    .toSorted((a, b) => b.at_25.hfe - a.at_25.hfe);
  const { pairs, exact } = bestPairs(results.length, (a, b) => mismatch(results[a]!, results[b]!));
  return {
    results: results.map((one, k) => withPair(one, k, results, pairs)),
    refused: graded.filter((one): one is Refused => !("verdict" in one)),
    pairsExact: exact,
  };
}

/** So much of a difference in leakage weighs as much as one in hfe. A rule of ours. */
const LEAKAGE_WEIGHT = 0.2;
/** Leakage below this makes no difference to a pair, A. */
const NO_LEAKAGE = 1e-6;

/**
 * How badly two samples match: |ln| of the ratio of their hfe, and a fifth of that of their I_CEO at 25 °C.
 * Infinity where they are no pair at all: different polarity, material or type, or one condemned.
 */
export function mismatch(a: Grade, b: Grade): number {
  const condemned = [a, b].some(({ verdict }) => verdict.leakage === "condemned");
  if (condemned || a.device !== b.device || a.material !== b.material || a.like !== b.like) return Infinity;
  const leakage = (one: Grade) => Math.max(NO_LEAKAGE, one.at_25.iceo_amps);
  return (
    Math.abs(Math.log(a.at_25.hfe / b.at_25.hfe)) +
    LEAKAGE_WEIGHT * Math.abs(Math.log(leakage(a) / leakage(b)))
  );
}

function withPair(
  one: Grade,
  index: number,
  all: readonly Grade[],
  pairs: readonly (readonly [number, number])[],
): Grade {
  const pair = pairs.find((both) => both.includes(index));
  const other = pair && all[pair[0] === index ? pair[1] : pair[0]];
  if (other === undefined) return one;
  const ratio = (a: number, b: number) => Math.max(a, b) / Math.max(Math.min(a, b), NO_LEAKAGE);
  return {
    ...one,
    pair: {
      with: other.sample,
      hfe_ratio: ratio(one.at_25.hfe, other.at_25.hfe),
      iceo_ratio: ratio(
        Math.max(NO_LEAKAGE, one.at_25.iceo_amps),
        Math.max(NO_LEAKAGE, other.at_25.iceo_amps),
      ),
    },
  };
}

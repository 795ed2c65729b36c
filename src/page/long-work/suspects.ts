/** Which fault explains the readings, and where to measure next. */
import type { Conditions, Meter } from "../../bench/conditions.ts";
import type { Failure } from "../../bench/results.ts";
import type { SuspectsResult } from "../../bench/suspects/results.ts";
import { NoHealthyPoint } from "../../bench/suspects/stand.ts";
import { suspects } from "../../bench/suspects.ts";
import type { Circuit } from "../../circuit/circuit.ts";
import type { TakenReading } from "../../circuit/look.ts";
import type { Progress } from "./jobs.ts";

export interface SuspectsInput {
  readonly circuit: Circuit;
  readonly conditions: Conditions;
  readonly meter: Meter | undefined;
  /** At least one, each possible. */
  readonly readings: readonly TakenReading[];
}

export interface SuspectsOutput {
  readonly result?: SuspectsResult;
  readonly failure?: Failure;
}

/** Error of the instruments that people have, as a share of the reading; common practice, no source. */
export const ACCURACY = 0.03;

/** The circuit asked about last: what its faults do is found out once, as long as it is the same object. */
let last: { readonly key: string; readonly circuit: Circuit } | undefined;

export function suspectsJob(input: SuspectsInput, progress: Progress): SuspectsOutput {
  const { readings, meter, conditions } = input;
  const asked = { ...conditions, ...(meter !== undefined && { meter }), accuracy: ACCURACY };
  const key = JSON.stringify([input.circuit, asked]);
  const known = last?.key === key;
  if (!known) last = { key, circuit: input.circuit };
  const { circuit } = last!;
  try {
    // the first time takes long: the ranking is a stop on the way
    if (!known) suspects(circuit, readings, { ...asked, ranking: true });
    progress(0.4);
    return { result: suspects(circuit, readings, asked) };
  } catch (error) {
    if (!(error instanceof NoHealthyPoint)) throw error;
    return { failure: { kind: "no solution", mode: error.mode, message: error.message } };
  }
}

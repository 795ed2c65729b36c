/** Another type in the socket of a transistor. */
import type { Conditions } from "../../bench/conditions.ts";
import type { Failure } from "../../bench/results.ts";
import type { Substitution } from "../../bench/substitute/results.ts";
import { substitute } from "../../bench/substitute.ts";
import type { Circuit } from "../../circuit/circuit.ts";

export interface SubstituteInput {
  /** With the type among its types. */
  readonly circuit: Circuit;
  readonly conditions: Conditions;
  readonly part: string;
  /** Another that gets the same type with it; empty for none. */
  readonly also: string;
  /** Of the polarity of the part. */
  readonly type: string;
}

/** By mode: all are compared, since the socket is the same in each. */
export interface SubstituteOutput {
  readonly results: readonly Substitution[];
  readonly failures: readonly Failure[];
}

export const substituteJob = ({ circuit, conditions, part, also, type }: SubstituteInput): SubstituteOutput =>
  substitute(circuit, part, [type], { ...conditions, ...(also !== "" && { also: [also] }) });

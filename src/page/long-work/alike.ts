/** Which types are most like one; all of the library are measured, which takes its time. */
import type { AlikeType } from "../../bench/alike.ts";
import type { DeviceType } from "../../circuit/circuit.ts";
import { alikeTo } from "../compute/fitting.ts";

export interface AlikeInput {
  /** As JSON, so that the same question is known again whatever else is changed in the netlist. */
  readonly wanted: string;
  readonly types: string;
}

export type AlikeOutput = readonly Pick<AlikeType, "type" | "cautions">[];

export function alikeJob({ wanted, types }: AlikeInput): AlikeOutput {
  const own: Readonly<Record<string, DeviceType>> = JSON.parse(types);
  return alikeTo(JSON.parse(wanted), own).map(({ type, cautions }) => ({ type, cautions }));
}

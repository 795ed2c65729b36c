import type { Circuit } from "../../circuit/circuit.ts";
import type { Unit } from "../../parts/kind.ts";
import { positionOf } from "../../parts/switch.ts";
import type { Changes, Rig } from "./rig.ts";
import type { FaultKey } from "./weights.ts";

/** One way a fault may stand: what it changes, and its share among all ways of the same fault. */
export interface Way {
  readonly share: number;
  readonly changes: Changes;
  /** Stands so only while a switch stands in this position. */
  readonly only?: { readonly part: string; readonly position: string };
  /** How much, of a continuous fault: the natural unit, such as Ω of a drifted resistor. */
  readonly amount?: number;
}

/** Whether a way makes a difference in a circuit as it stands: the others need no thought there. */
export function acts({ only }: Way, { parts }: Circuit): boolean {
  if (only === undefined) return true;
  const part = parts.find(({ name }) => name === only.part);
  return part !== undefined && positionOf(part) === only.position;
}

/** What the faults of a kind are made from. */
export interface Bench {
  readonly rig: Rig;
  /** Without bridges and breaks: where the pins lie. */
  readonly circuit: Circuit;
}

/** A fault before it has its weight. */
export interface Draft {
  readonly key: FaultKey;
  readonly fault: string;
  readonly ways: readonly Way[];
  readonly unit?: Unit;
  /** Several faults share the weight of a key: this one's part of it. */
  readonly part?: number;
}

/** One way only. */
export const simple = (key: FaultKey, fault: string, changes: Changes): Draft => ({
  key,
  fault,
  ways: [{ share: 1, changes }],
});

/** A grid of amounts, alike in share if `shares` are not given. */
export function graded(
  key: FaultKey,
  fault: string,
  unit: Unit,
  amounts: readonly number[],
  changes: (amount: number) => Changes,
): Draft {
  const ways = amounts.map((amount) => ({ share: 1 / amounts.length, amount, changes: changes(amount) }));
  return { key, fault, unit, ways };
}

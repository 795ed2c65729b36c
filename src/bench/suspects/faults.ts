import type { Circuit, Part } from "../../circuit/circuit.ts";
import type { Unit } from "../../parts/kind.ts";
import type { Bench, Draft, Way } from "./draft.ts";
import { passiveFaults } from "./faults-passive.ts";
import { transistorFaults } from "./faults-transistor.ts";
import { woundAndContactFaults } from "./faults-wound.ts";
import type { Rig } from "./rig.ts";
import { COMMON_WEIGHTS, type FaultKey, type Weights } from "./weights.ts";

/** One thing that may be wrong with one part. */
export interface Fault {
  readonly part: string;
  readonly key: FaultKey;
  /** In words: `base-emitter short`, `contact of pole eq open`. */
  readonly fault: string;
  readonly weight: number;
  /** One way, or a grid of amounts from least to greatest. */
  readonly ways: readonly Way[];
  /** Of a continuous fault. */
  readonly unit?: Unit;
}

function draftsOf(part: Part, bench: Bench): readonly Draft[] {
  return [
    ...passiveFaults(part, bench),
    ...transistorFaults(part, bench),
    ...woundAndContactFaults(part, bench),
  ];
}

/** Every single fault of a circuit that has a weight, parts in file order. */
export function faultsOf(circuit: Circuit, rig: Rig, weights: Weights = {}): readonly Fault[] {
  const bench = { circuit, rig };
  return circuit.parts.flatMap((part) =>
    draftsOf(part, bench).flatMap(({ part: share = 1, ...draft }) => {
      const weight = share * (weights[draft.key] ?? COMMON_WEIGHTS[draft.key]);
      return weight > 0 ? [{ ...draft, part: part.name, weight }] : [];
    }),
  );
}

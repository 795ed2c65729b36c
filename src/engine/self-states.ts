import { kindOf } from "../parts/index.ts";
import type { StateEvent } from "../parts/kind.ts";
import { type Network, putInState } from "./network.ts";
import type { OperatingPoint } from "./operating-point.ts";

/** A part that changes state of its own accord and that no state leaves at rest. */
export interface Hunting {
  /** Index into `Circuit.parts`. */
  readonly part: number;
  /** The solutions between which it goes to and fro, by the state it was in. */
  readonly between: ReadonlyMap<string, Float64Array>;
}

/** An event at the part with this index. */
export interface PlacedEvent extends StateEvent {
  readonly part: number;
  readonly locals: Int32Array;
}

/** The events that may change the circuit's present state. */
export function stateEvents({ circuit, unknowns }: Network): PlacedEvent[] {
  return circuit.parts.flatMap((part, index) =>
    (kindOf(part).events?.(part) ?? []).map((event) => ({
      ...event,
      part: index,
      locals: unknowns.locals[index]!,
    })),
  );
}

/** The excess of an event at a state. */
export const excessAt = ({ locals, excess }: PlacedEvent, state: Float64Array): number =>
  excess(Float64Array.from(locals, (number) => state[number]!));

/** Changes of state a part is allowed before it is said to find no rest. */
const MOST_CHANGES = 3;

/**
 * The operating point in a state that it leaves all parts in: from the state at rest on, one part that is not
 * left there changes at a time. Parts that go on changing hunt; the point is then that with them at rest.
 */
export function settleStates(network: Network, solve: () => OperatingPoint): OperatingPoint {
  const own = [...new Set(stateEvents(network).map(({ part }) => part))];
  if (own.length === 0) return solve();
  const restore = (parts: Iterable<number>) => {
    for (const part of parts) putInState(network, part, undefined);
  };
  restore(own);
  const visited = new Map<number, Map<string, Float64Array>>();
  for (let change = 0; change < MOST_CHANGES * own.length; change++) {
    const point = solve();
    if (!("state" in point)) return point;
    const due = stateEvents(network).find((event) => excessAt(event, point.state) > 0);
    if (due === undefined) return point;
    const states = visited.get(due.part) ?? new Map<string, Float64Array>();
    visited.set(due.part, states.set(due.from, point.state));
    putInState(network, due.part, due.value);
  }
  const hunting = [...visited].filter(([, between]) => between.size > 1);
  restore(hunting.map(([part]) => part));
  const point = solve();
  if (!("state" in point)) return point;
  return { ...point, hunting: hunting.map(([part, between]) => ({ part, between })) };
}

import type { SignalPath } from "../circuit/circuit.ts";
import type { OutputPin } from "../engine/noise.ts";
import type { Phasor, SmallSignal, Term } from "../engine/small-signal.ts";

/** A path's output as a combination of unknowns, at the point linearised at: V, or A for a current. */
export function outputTerms(smallSignal: SmallSignal, { to }: SignalPath): Term[] {
  const { circuit, unknowns } = smallSignal.network;
  const between = (net: number, minus: number): Term[] => [
    { unknown: unknowns.net[net] ?? 0, conductance: 1, capacitance: 0 },
    { unknown: unknowns.net[minus] ?? 0, conductance: -1, capacitance: 0 },
  ];
  if ("net" in to) return between(to.net, to.minus ?? 0);
  const part = circuit.parts.findIndex(({ name }) => name === to.part);
  if (to.quantity === "current") return smallSignal.pinTerms(part, 0);
  const [first, second] = circuit.parts[part]?.pins ?? [];
  return between(first?.net ?? 0, second?.net ?? 0);
}

/** The pin that a path's output current flows into; nothing for a voltage. */
export function outputPin({ network }: SmallSignal, { to }: SignalPath): OutputPin | undefined {
  if ("net" in to || to.quantity === "voltage") return undefined;
  const part = network.circuit.parts.findIndex(({ name }) => name === to.part);
  return { part, unknown: network.unknowns.locals[part]![0]! };
}

/** Reads a path's output from the solution at the frequency tuned to, whatever has been retuned since. */
export function reader(smallSignal: SmallSignal, path: SignalPath): (lane?: 0 | 1) => Phasor {
  let terms = outputTerms(smallSignal, path);
  let { linearisations } = smallSignal;
  return (lane = 0) => {
    if (linearisations !== smallSignal.linearisations) {
      terms = outputTerms(smallSignal, path);
      linearisations = smallSignal.linearisations;
    }
    return smallSignal.combine(terms, lane);
  };
}

import type { SmallSignal } from "../../engine/small-signal.ts";
import type { LinearCircuit, PlacedTransistor } from "./linear-circuit.ts";
import { minus, ONE, over, type Phasor, size } from "./phasor.ts";

/** What a test current of 1 A into a pin's net finds: the whole net, the transistor, and the rest. */
export interface PinImpedance {
  readonly whole: Phasor;
  readonly transistor: Phasor;
  readonly outside: Phasor;
}

function impedances(solved: SmallSignal, { part, nodes }: PlacedTransistor, pin: number): PinImpedance {
  const volts = solved.at(nodes[pin]!);
  const into = solved.pinCurrent(part, pin);
  return { whole: volts, transistor: over(volts, into), outside: over(volts, minus(ONE, into)) };
}

/** Impedances at a pin of a transistor at the frequency tuned to, everything working. */
export const pinImpedance = (circuit: LinearCircuit, transistor: PlacedTransistor, pin: number) =>
  impedances(circuit.working([[transistor.nodes[pin]!, 1]]), transistor, pin);

/**
 * The same for a pair that works in push-pull: both pins driven at once, in opposite directions where
 * `sense` is −1, in the same where it is 1.
 */
export function pairImpedance(
  circuit: LinearCircuit,
  [first, second]: readonly [PlacedTransistor, PlacedTransistor],
  pin: number,
  sense: 1 | -1,
): PinImpedance {
  const solved = circuit.working([
    [first.nodes[pin]!, 1],
    [second.nodes[pin]!, sense],
  ]);
  return impedances(solved, first, pin);
}

/** Resistance of a two-pin part at the frequency tuned to, from its voltage and current in a solution. */
export function branchOhms(solved: SmallSignal, part: number): number {
  const [first, second] = solved.network.circuit.parts[part]!.pins;
  const volts = minus(solved.voltage(first!.net), solved.voltage(second!.net));
  return size(over(volts, solved.pinCurrent(part, 0)));
}

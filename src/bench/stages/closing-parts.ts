import { BASE, COLLECTOR, EMITTER, type LinearCircuit, type PlacedTransistor } from "./linear-circuit.ts";
import type { OpenedParts } from "./opened.ts";
import { minus, size } from "./phasor.ts";
import type { Wiring } from "./wiring.ts";

/** A part closes a way back if, opened, it takes more than this share of the transmission away. */
const BRIDGES = 0.3;
/** A part at the net itself counts from this share of the impedance there. */
const LEAST_SHARE = 0.2;
/** A way that gives less than this share of the strongest one is left out. */
const LEAST_WAY = 0.2;

/** One way from a pin of the transistor that acts to a pin of the one acted on. */
interface Way {
  readonly from: number;
  readonly to: number;
  readonly fromNet: number;
  readonly toNet: number;
}

/** From collector and from emitter, to whichever of base and emitter moves more, where it counts. */
function waysOf(
  circuit: LinearCircuit,
  wiring: Wiring,
  acting: PlacedTransistor,
  acted: PlacedTransistor,
): readonly Way[] {
  const found = [COLLECTOR, EMITTER].map((pin) => {
    const solved = circuit.resting([[acting.nodes[pin]!, 1]]);
    const control = acted.gm * size(minus(solved.at(acted.inner), solved.at(acted.nodes[EMITTER])));
    const [base, emitter] = [BASE, EMITTER].map((end) => size(solved.at(acted.nodes[end]!)));
    return { pin, control, end: base! > emitter! ? BASE : EMITTER };
  });
  const strongest = Math.max(...found.map(({ control }) => control));
  return found
    .filter(({ control }) => control >= LEAST_WAY * strongest)
    .map(({ pin, end }) => ({
      from: acting.nodes[pin]!,
      to: acted.nodes[end]!,
      fromNet: wiring.at(acting.part, pin),
      toNet: wiring.at(acted.part, end),
    }));
}

/**
 * The parts by which the current of one transistor acts back on another (or on itself), at the frequency
 * of `opened`: those that bridge the way between two nets, or those that make the impedance where it is one.
 */
export function closingParts(
  circuit: LinearCircuit,
  wiring: Wiring,
  opened: OpenedParts,
  acting: PlacedTransistor,
  acted: PlacedTransistor,
): readonly string[] {
  const found = waysOf(circuit, wiring, acting, acted).flatMap(({ from, to, fromNet, toNet }) => {
    if (fromNet !== toNet) return opened.bridging(from, to, 1 - BRIDGES);
    const near = wiring.partsAround(fromNet);
    return opened.sharing(from, LEAST_SHARE).filter((part) => near.has(part));
  });
  return [...new Set(found)].toSorted((a, b) => a - b).map((k) => wiring.circuit.parts[k]!.name);
}

import { BASE, COLLECTOR, EMITTER, type PlacedTransistor } from "./linear-circuit.ts";
import type { Wiring } from "./wiring.ts";

/** A smaller reactance than this at 1 kHz holds a net still for signals, Ω: 10 µF and more. */
const STILL = 16;

/** A capacitor of some size from the net to chassis or to a battery. */
export function isBypassed(wiring: Wiring, net: number): boolean {
  return wiring
    .capacitorsAt(net)
    .some(
      ({ part, far }) =>
        wiring.isSupply(far) && 1 / (2 * Math.PI * 1000 * (part.values.capacitance ?? 0)) < STILL,
    );
}

/** Whether signals cannot move the net: supply, or bypassed. */
export const isStill = (wiring: Wiring, net: number): boolean =>
  wiring.isSupply(net) || isBypassed(wiring, net);

/** What a transistor does for the supply, if that is its task. */
export type Service = "supply filter" | "series regulator";

/**
 * A follower from supply to supply: its collector is held still, and its emitter is too, or feeds other
 * transistors' collectors from a base that is held still.
 */
export function serviceOf(wiring: Wiring, { part }: PlacedTransistor): Service | undefined {
  const [emitter, base, collector] = [EMITTER, BASE, COLLECTOR].map((pin) => wiring.at(part, pin));
  if (!isStill(wiring, collector!) || wiring.isSupply(emitter!) || base === collector) return undefined;
  if (!suppliedFromBattery(wiring, collector!)) return undefined;
  const stillBase = isBypassed(wiring, base!);
  const feeds = [...wiring.reached(emitter!)].some(
    (net) => !wiring.isSupply(net) && wiring.transistorsAt(net, COLLECTOR).length > 0,
  );
  if (stillBase && (feeds || isBypassed(wiring, emitter!))) return "supply filter";
  const regulated = isBypassed(wiring, emitter!) && wiring.transistorsAt(base!, COLLECTOR).length > 0;
  return regulated ? "series regulator" : undefined;
}

const suppliedFromBattery = (wiring: Wiring, net: number): boolean =>
  [...wiring.reached(net)].some((reached) => reached !== 0 && wiring.isSupply(reached));

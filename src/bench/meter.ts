import { isSolved } from "../engine/operating-point.ts";
import type { Meter } from "./conditions.ts";
import type { SolvedMode } from "./run.ts";

/** Ranges of a service voltmeter, V; above the last it goes on in the same steps. */
const RANGES = [0.3, 1, 3, 10, 30, 100, 300, 1000];

/** Resistance of the meter on the smallest range that holds `volts`, Ω. */
export function meterResistance(meter: Meter, volts: number): number {
  if ("ohms" in meter) return meter.ohms;
  const range = RANGES.find((full) => Math.abs(volts) <= full) ?? RANGES.at(-1)!;
  return range * meter.ohmsPerVolt;
}

/**
 * What the meter shows at each net, the circuit solved anew with its resistance from that net to
 * chassis. Where the loaded circuit has no solution there is no reading.
 */
export function meterReadings({ point, solver }: SolvedMode, meter: Meter): (number | undefined)[] {
  const { network, state } = point;
  return network.circuit.nets.map((_, net) => {
    const node = network.unknowns.net[net]!;
    if (net === 0) return 0;
    // a free net is held by nothing else, so the meter's own resistance discharges it
    if (network.freeAtDc.nets.includes(net)) return 0;
    const ohms = meterResistance(meter, state[node]!);
    const loaded = solver.solveLoaded(net, 1 / ohms, state);
    return isSolved(loaded) ? loaded.state[node]! : undefined;
  });
}

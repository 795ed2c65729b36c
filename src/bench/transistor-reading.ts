import { ZERO_CELSIUS } from "../devices/constants.ts";
import { Transistor } from "../devices/transistor.ts";
import { currentInto } from "../engine/currents.ts";
import type { SolvedPoint } from "../engine/operating-point.ts";
import { sampleParameters } from "../parts/transistor.ts";
import type { Region, TransistorReading } from "./results.ts";

/** What a transistor (index into `Circuit.parts`) does at the operating point. */
export function transistorReading(
  { network, state, currents }: SolvedPoint,
  index: number,
): TransistorReading {
  const part = network.circuit.parts[index]!;
  const type = network.circuit.types[part.type ?? ""]!;
  const parameters = sampleParameters(part, network.circuit);
  const locals = network.unknowns.locals[index]!;
  const [e = 0, b = 0, c = 0] = Array.from(locals.subarray(0, 3), (k) => state[k]!);
  const inner = parameters.baseResistance > 0 ? state[locals[3]!]! : b;
  const kelvin = state[locals[locals.length - 1]!]!;
  const [ie, ib, ic] = [0, 1, 2].map((pin) => currentInto(currents, index, pin)) as [number, number, number];
  const p = parameters.polarity;
  const physics = new Transistor(parameters);
  const u = p * (inner - e);
  const w = p * (inner - c);
  const { collectorByU, collectorByW, transport, leakage } = physics.evaluate(u, w, kelvin);
  return {
    type: type.name,
    e_volts: e,
    b_volts: b,
    c_volts: c,
    ie_amps: ie,
    ib_amps: ib,
    ic_amps: ic,
    vbe_volts: b - e,
    vce_volts: c - e,
    // at constant V_CE both junction voltages follow the base
    gm_siemens: collectorByU + collectorByW,
    junction_celsius: kelvin - ZERO_CELSIUS,
    dissipation_watts: ie * e + ib * b + ic * c,
    region: regionOf(u, w, transport, leakage),
  };
}

/**
 * Emitter junction on: forward, and more than the leakage is transported. Collector junction on: forward.
 */
function regionOf(u: number, w: number, transport: number, leakage: number): Region {
  const emitterOn = u > 0 && transport > leakage;
  if (w > 0) return u > w ? "saturated" : "reverse";
  return emitterOn ? "active" : "cut off";
}

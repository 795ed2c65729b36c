import type { Circuit, DeviceType, Part } from "../circuit/circuit.ts";
import { thermalVoltage } from "../devices/constants.ts";
import { type DiodeParameters, diodeCurrent, diodeParameters, diodeSaturation } from "../devices/diode.ts";
import { junctionBend, temperedJunction } from "../devices/exponential.ts";
import { junctionCapacitance, junctionCharge } from "../devices/junction-capacitance.ts";
import { shotNoise } from "../devices/noise.ts";
import { type Bends, type Device, type DeviceNoise, type Load, type PartKind, resistance } from "./kind.ts";

const derived = new WeakMap<DeviceType, DiodeParameters>();

/** Parameters of a diode type. The reader has refused sheets that contradict themselves. */
export function diodeParametersOf(type: DeviceType): DiodeParameters {
  let found = derived.get(type);
  if (found === undefined) {
    const fresh = diodeParameters(type.material, type.figures);
    if ("problem" in fresh) throw new Error(`${type.name}: ${fresh.problem}`);
    found = fresh;
    derived.set(type, found);
  }
  return found;
}

function parametersIn(circuit: Circuit, part: Part): DiodeParameters {
  const type = circuit.types[part.type ?? ""];
  if (type === undefined) throw new Error(`${part.name} has no type`);
  return diodeParametersOf(type);
}

/** The junction between anode (or the node behind rs) and cathode. */
class DiodeDevice implements Device {
  readonly size: number;
  readonly pattern: Uint8Array;
  readonly chargePattern: Uint8Array;
  readonly junctions = 1;
  readonly bends: Bends;
  readonly #parameters: DiodeParameters;
  readonly #saturation: number;
  readonly #scale: number;
  readonly #inner: number;
  readonly #result = { current: 0, conductance: 0 };

  constructor(parameters: DiodeParameters, kelvin: number) {
    this.#parameters = parameters;
    this.#saturation = diodeSaturation(parameters, kelvin);
    this.#scale = parameters.ideality * thermalVoltage(kelvin);
    this.#inner = parameters.seriesResistance > 0 ? 2 : 0;
    this.size = this.#inner === 0 ? 2 : 3;
    this.bends = [[this.#inner, 1]];
    this.pattern = new Uint8Array(this.size * this.size);
    this.#fill(this.pattern, 1, 1);
    this.chargePattern = parameters.junction.farads > 0 ? this.pattern : new Uint8Array(this.pattern.length);
  }

  #fill(square: Uint8Array | Float64Array, own: number, cross: number): void {
    const n = this.size;
    const a = this.#inner;
    square[a * n + a] = own;
    square[a * n + 1] = cross;
    square[n + a] = cross;
    square[n + 1] = own;
  }

  evaluate(x: Float64Array, { current, slope }: Load, memory?: Float64Array): boolean {
    const wanted = x[this.#inner]! - x[1]!;
    let v = wanted;
    if (memory !== undefined) {
      v = temperedJunction(wanted, memory[0]!, this.#scale, this.#saturation);
      memory[0] = v;
    }
    diodeCurrent(this.#saturation, this.#scale, v, this.#result);
    const { conductance } = this.#result;
    current.fill(0);
    current[this.#inner] = this.#result.current + conductance * (wanted - v);
    current[1] = -current[this.#inner]!;
    slope.fill(0);
    this.#fill(slope, conductance, -conductance);
    return v === wanted;
  }

  noise(x: Float64Array): DeviceNoise[] {
    diodeCurrent(this.#saturation, this.#scale, x[this.#inner]! - x[1]!, this.#result);
    return [{ from: this.#inner, to: 1, white: shotNoise(this.#result.current), corner: 0, what: "current" }];
  }

  remember(x: Float64Array, memory: Float64Array): void {
    memory[0] = x[this.#inner]! - x[1]!;
  }

  bend(x: Float64Array, perVolt: Float64Array): void {
    const { potential } = this.#parameters.junction;
    perVolt[0] = junctionBend(x[this.#inner]! - x[1]!, this.#scale, potential);
  }

  charges(x: Float64Array, { current, slope }: Load): void {
    const reverse = x[1]! - x[this.#inner]!;
    const farads = junctionCapacitance(this.#parameters.junction, reverse);
    current.fill(0);
    current[this.#inner] = -junctionCharge(this.#parameters.junction, reverse);
    current[1] = -current[this.#inner]!;
    slope.fill(0);
    this.#fill(slope, farads, -farads);
  }
}

export const diode: PartKind = {
  keyword: "diode",
  letters: "D",
  summary: "diode of a named type",
  device: "diode",
  connection: { form: "labelled", pins: ["anode", "cathode"] },
  unknowns: (part, circuit) =>
    parametersIn(circuit, part).seriesResistance > 0 ? [{ kind: "node", name: "junction" }] : [],
  stamp(part, into, { circuit }) {
    const { seriesResistance } = parametersIn(circuit, part);
    if (seriesResistance > 0) resistance(into, 0, 2, seriesResistance);
  },
  equations: (part, { circuit, ambientKelvin }) =>
    new DiodeDevice(parametersIn(circuit, part), ambientKelvin),
  limits(part, circuit) {
    const { "limits.vr": vr, "limits.if": forward } = circuit.types[part.type ?? ""]?.figures ?? {};
    return [
      ...(vr === undefined
        ? []
        : [{ quantity: "volts" as const, least: -vr, meaning: "its reverse voltage" }]),
      ...(forward === undefined
        ? []
        : [{ quantity: "amps" as const, greatest: forward, meaning: "its forward current" }]),
    ];
  },
  conducts: () => [[0, 1]],
};

import type { Circuit, DeviceType, Part } from "../circuit/circuit.ts";
import { junctionBend, temperedJunction } from "../devices/exponential.ts";
import { shotNoise } from "../devices/noise.ts";
import { Transistor } from "../devices/transistor.ts";
import {
  sampleOf,
  type TransistorParameters,
  transistorParameters,
} from "../devices/transistor-parameters.ts";
import type { Bends, Device, DeviceNoise, Load, OwnUnknown, PartKind } from "./kind.ts";
import { resistance } from "./kind.ts";

/** Local unknowns: the pins, then b′ (the base pin itself where rbb is 0), then the junction's temperature. */
const E = 0;
const B = 1;
const C = 2;

/** Largest change of a junction's temperature that one Newton step may use, K. */
const LARGEST_WARMING = 15;

const derived = new WeakMap<DeviceType, TransistorParameters>();

/** Parameters of a transistor type. The reader has refused sheets that contradict themselves. */
export function parametersOf(type: DeviceType): TransistorParameters {
  let found = derived.get(type);
  if (found === undefined) {
    const fresh = transistorParameters(type.device === "npn" ? 1 : -1, type.material, type.figures);
    if ("problem" in fresh) throw new Error(`${type.name}: ${fresh.problem}`);
    found = fresh;
    derived.set(type, found);
  }
  return found;
}

/**
 * Parameters of a transistor as it stands in the circuit: those of its type, or of this very sample where
 * the part has an `hfe` or a `leakage` of its own.
 */
export function sampleParameters(part: Part, circuit: Circuit): TransistorParameters {
  const type = typeOf(part, circuit);
  const { hfe, leakage } = part.values;
  const parameters = parametersOf(type);
  return hfe === undefined && leakage === undefined
    ? parameters
    : sampleOf(parameters, type.figures, { hfe, leakage });
}

function typeOf(part: Part, circuit: Circuit): DeviceType {
  const type = circuit.types[part.type ?? ""];
  if (type === undefined) throw new Error(`${part.name} has no type`);
  return type;
}

/** Where a transistor's unknowns lie, and which of them act on which. */
interface Layout {
  /** Local numbers of b′ and the temperature. */
  readonly inner: number;
  readonly heat: number;
  /** The local unknowns that the device's own currents depend on. */
  readonly columns: readonly number[];
  readonly pattern: Uint8Array;
  readonly chargePattern: Uint8Array;
  /** The two junctions. */
  readonly bends: Bends;
}

function layoutWith(inner: number, heat: number): Layout {
  const nodes = [E, inner, C];
  const columns = [...nodes, heat];
  return {
    inner,
    heat,
    columns,
    pattern: square(heat + 1, columns),
    chargePattern: square(heat + 1, nodes),
    bends: [
      [inner, E],
      [inner, C],
    ],
  };
}

/** Square of 1 where both row and column are among `members`. */
function square(size: number, members: readonly number[]): Uint8Array {
  const pattern = new Uint8Array(size * size);
  for (const row of members) for (const column of members) pattern[row * size + column] = 1;
  return pattern;
}

const WITH_BASE_RESISTANCE = layoutWith(3, 4);
const WITHOUT_BASE_RESISTANCE = layoutWith(B, 3);

const layout = (baseResistance: number) =>
  baseResistance > 0 ? WITH_BASE_RESISTANCE : WITHOUT_BASE_RESISTANCE;

/** The transistor of `Transistor` between the nodes of the circuit, with its self-heating. */
class TransistorDevice implements Device {
  readonly size: number;
  readonly pattern: Uint8Array;
  readonly chargePattern: Uint8Array;
  readonly junctions = 3;
  readonly bends: Bends;
  readonly #physics: Transistor;
  readonly #ambient: number;
  readonly #inner: number;
  readonly #heat: number;
  /** The local unknowns that the device's own currents depend on. */
  readonly #columns: readonly number[];

  constructor(parameters: TransistorParameters, ambientKelvin: number) {
    this.#physics = new Transistor(parameters);
    this.#ambient = ambientKelvin;
    const { inner, heat, columns, pattern, chargePattern, bends } = layout(parameters.baseResistance);
    this.#inner = inner;
    this.#heat = heat;
    this.size = heat + 1;
    this.#columns = columns;
    this.pattern = pattern;
    this.chargePattern = chargePattern;
    this.bends = bends;
  }

  evaluate(x: Float64Array, load: Load, memory?: Float64Array): boolean {
    const { polarity, baseResistance } = this.#physics.parameters;
    const p = polarity;
    const inner = x[this.#inner]!;
    const uWanted = p * (inner - x[E]!);
    const wWanted = p * (inner - x[C]!);
    const tWanted = x[this.#heat]!;
    let u = uWanted;
    let w = wWanted;
    let t = tWanted;
    if (memory !== undefined) {
      t = temperedTemperature(tWanted, memory[2]!);
      this.#physics.warm(t);
      const { thermalVoltage, saturationCurrent } = this.#physics;
      u = temperedJunction(uWanted, memory[0]!, thermalVoltage, saturationCurrent);
      w = temperedJunction(wWanted, memory[1]!, thermalVoltage, saturationCurrent);
      memory[0] = u;
      memory[1] = w;
      memory[2] = t;
    }
    const s = this.#physics.evaluate(u, w, t);
    const du = uWanted - u;
    const dw = wWanted - w;
    const dt = tWanted - t;
    const collector = s.collector + s.collectorByU * du + s.collectorByW * dw + s.collectorByT * dt;
    const base = s.base + s.baseByU * du + s.baseByW * dw + s.baseByT * dt;
    this.#currents(p, collector, base, load);
    this.#heating(x, p, collector, base, baseResistance, load);
    return du === 0 && dw === 0 && dt === 0;
  }

  /** Node rows: currents into the device and their derivatives by v_e, v_b′, v_c and T. */
  #currents(p: number, collector: number, base: number, { current, slope }: Load): void {
    const s = this.#physics.state;
    const n = this.size;
    const inner = this.#inner;
    const heat = this.#heat;
    current[C] = p * collector;
    current[inner] = p * base;
    current[E] = -p * (collector + base);
    // p·∂/∂v = ∂/∂u·p² and so on: the signs of the polarity cancel in the conductances
    slope[C * n + E] = -s.collectorByU;
    slope[C * n + C] = -s.collectorByW;
    slope[C * n + inner] = s.collectorByU + s.collectorByW;
    slope[C * n + heat] = p * s.collectorByT;
    slope[inner * n + E] = -s.baseByU;
    slope[inner * n + C] = -s.baseByW;
    slope[inner * n + inner] = s.baseByU + s.baseByW;
    slope[inner * n + heat] = p * s.baseByT;
    for (const column of this.#columns) {
      slope[E * n + column] = -(slope[C * n + column]! + slope[inner * n + column]!);
    }
  }

  /** Temperature row: T − ambient − rth·P, with P = Σ v·i at the pins. */
  #heating(
    x: Float64Array,
    p: number,
    collector: number,
    base: number,
    rbb: number,
    { current, slope }: Load,
  ): void {
    const n = this.size;
    const heat = this.#heat;
    const inner = this.#inner;
    const rth = this.#physics.parameters.thermalResistance;
    // the base pin lies rbb·I_b away from b′
    const ic = p * collector;
    const ib = p * base;
    const vce = x[C]! - x[E]!;
    const vbe = x[inner]! + rbb * ib - x[E]!;
    const power = ic * vce + ib * vbe;
    current[heat] = x[heat]! - this.#ambient - rth * power;
    const row = heat * n;
    for (const column of this.#columns) {
      const byBase = slope[inner * n + column]!;
      slope[row + column] = -rth * (slope[C * n + column]! * vce + byBase * (vbe + rbb * ib));
    }
    slope[row + E]! += rth * (ic + ib);
    slope[row + C]! -= rth * ic;
    slope[row + inner]! -= rth * ib;
    slope[row + heat]! += 1;
  }

  noise(x: Float64Array): DeviceNoise[] {
    const { polarity: p, flickerCorner } = this.#physics.parameters;
    const inner = this.#inner;
    const s = this.#physics.evaluate(p * (x[inner]! - x[E]!), p * (x[inner]! - x[C]!), x[this.#heat]!);
    return [
      { from: C, to: E, white: shotNoise(s.transport), corner: 0, what: "collector current" },
      { from: inner, to: E, white: shotNoise(s.recombination), corner: flickerCorner, what: "base current" },
      { from: C, to: inner, white: shotNoise(s.leakage), corner: 0, what: "leakage" },
    ];
  }

  remember(x: Float64Array, memory: Float64Array): void {
    const p = this.#physics.parameters.polarity;
    memory[0] = p * (x[this.#inner]! - x[E]!);
    memory[1] = p * (x[this.#inner]! - x[C]!);
    memory[2] = x[this.#heat]!;
  }

  charges(x: Float64Array, { current, slope }: Load): void {
    const p = this.#physics.parameters.polarity;
    const n = this.size;
    const inner = this.#inner;
    const q = this.#physics.evaluateCharges(p * (x[inner]! - x[E]!), p * (x[inner]! - x[C]!), x[this.#heat]!);
    this.#blank(current, slope);
    current[inner] = p * (q.emitter + q.collector);
    current[E] = -p * q.emitter;
    current[C] = -p * q.collector;
    slope[inner * n + inner] = q.emitterByU + q.collectorByW;
    slope[inner * n + E] = -q.emitterByU;
    slope[inner * n + C] = -q.collectorByW;
    slope[E * n + E] = q.emitterByU;
    slope[E * n + inner] = -q.emitterByU;
    slope[C * n + C] = q.collectorByW;
    slope[C * n + inner] = -q.collectorByW;
  }

  bend(x: Float64Array, perVolt: Float64Array): void {
    const { polarity, material, earlyVoltage } = this.#physics.parameters;
    const { junctionPotential } = material;
    const vt = this.#physics.thermalVoltage;
    const inner = x[this.#inner]!;
    perVolt[0] = junctionBend(polarity * (inner - x[E]!), vt, junctionPotential);
    perVolt[1] = junctionBend(polarity * (inner - x[C]!), vt, junctionPotential) + 1 / earlyVoltage;
  }

  /** Zero where the currents may have left something that the charges do not overwrite. */
  #blank(current: Float64Array, slope: Float64Array): void {
    const n = this.size;
    const heat = this.#heat;
    current[heat] = 0;
    slope[E * n + C] = slope[C * n + E] = 0;
    for (const k of this.#columns) slope[heat * n + k] = slope[k * n + heat] = 0;
  }
}

const temperedTemperature = (wanted: number, present: number) =>
  present === 0 ? wanted : Math.min(present + LARGEST_WARMING, Math.max(present - LARGEST_WARMING, wanted));

export const transistor: PartKind = {
  keyword: "transistor",
  letters: "T",
  summary: "bipolar transistor of a named type",
  device: "transistor",
  connection: { form: "labelled", pins: ["e", "b", "c"], optional: true },
  aliases: { emitter: "e", base: "b", collector: "c" },
  unknowns(part, circuit): OwnUnknown[] {
    const { baseResistance, thermalResistance } = parametersOf(typeOf(part, circuit));
    const inner: OwnUnknown[] = baseResistance > 0 ? [{ kind: "node", name: "b′" }] : [];
    return [...inner, { kind: "temperature", of: part.name, ...(thermalResistance > 0 && { heats: true }) }];
  },
  stamp(part, into, { circuit }) {
    const { baseResistance } = parametersOf(typeOf(part, circuit));
    if (baseResistance <= 0) return;
    const { inner, heat } = layout(baseResistance);
    resistance(into, B, inner, baseResistance, "base resistance", heat);
  },
  equations: (part, { circuit, ambientKelvin }) =>
    new TransistorDevice(sampleParameters(part, circuit), ambientKelvin),
  conducts: () => [
    [E, B],
    [B, C],
  ],
};

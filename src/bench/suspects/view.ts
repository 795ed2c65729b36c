import type { Meter } from "../conditions.ts";
import { meterResistance } from "../meter.ts";
import { Gains } from "./gains.ts";
import type { Look } from "./looks.ts";
import type { Plant } from "./plant.ts";
import type { Pushes } from "./uncertain.ts";

/** What a look shows. */
export interface Shown {
  readonly mean: number;
  /** By variable: the effect of one standard deviation. Absent where not asked for. */
  readonly effects?: Float64Array;
  /** Share of the unloaded voltage that the meter leaves. */
  readonly share?: number;
}

/** Where the meter leaves less than this share of a voltage the loaded circuit is solved anew; less if it is looked at roughly. */
const HEAVILY = 0.98;
const VERY_HEAVILY = 0.85;

/** The last Newton step of a loaded circuit may be this long: what is left is its square over kT/q, V. */
const NEARLY = 1e-3;

/** One solved state, ready to be looked at; the plant must stay as it is meanwhile. */
export class View {
  readonly #plant: Plant;
  readonly #state: Float64Array;
  readonly #meter: Meter | undefined;
  readonly #pushesAt: ((state: Float64Array) => Pushes) | undefined;
  readonly #answer: Float64Array;
  readonly #gains: Gains;
  #pushes: Pushes | undefined;

  /** `pushesAt`: how the equations answer to what differs, where effects are asked for. */
  constructor(
    plant: Plant,
    state: Float64Array,
    meter: Meter | undefined,
    pushesAt?: (state: Float64Array) => Pushes,
  ) {
    this.#plant = plant;
    this.#state = state;
    this.#meter = meter;
    this.#pushesAt = pushesAt;
    this.#answer = new Float64Array(plant.network.unknowns.stateSize);
    this.#gains = new Gains(plant, state);
  }

  /**
   * Voltages, currents, logarithms of resistances, gains in dB. One transposed solution gives all effects. Where a
   * voltage lies near the end of a range of the meter, what the neighbouring range shows comes second: nobody knows
   * which one was taken. Roughly: but for heavy loads the circuit is taken to answer to the meter linearly.
   */
  show(look: Look, roughly = this.#pushesAt === undefined): readonly Shown[] {
    if (look.kind === "gain") return [{ mean: this.#gains.read(look.path, look.hertz) }];
    const weights = weightsOf(look, this.#plant, this.#state);
    this.#plant.adjoint(weights, this.#answer);
    if (look.kind === "current") {
      return [{ mean: this.#plant.pinCurrent(this.#state, look.part, look.pin), ...this.#effects(1) }];
    }
    const ohms = weights.reduce((sum, weight, n) => sum + (weight === 0 ? 0 : weight * this.#answer[n]!), 0);
    if (look.kind === "resistance") return [{ mean: Math.log(Math.max(1e-3, Math.abs(ohms))) }];
    const volts = voltsAt(look, this.#plant, this.#state);
    const meters = metersAt(volts, this.#meter).map((own) => ({
      own,
      share: own === undefined ? 1 : own / (own + Math.max(0, ohms)),
    }));
    const lightly = ({ share }: { share: number }) =>
      look.minus !== 0 || share >= (roughly ? VERY_HEAVILY : HEAVILY);
    // first those that need the transposed solution at hand
    const light = meters.map((each) =>
      lightly(each)
        ? { mean: each.share * volts, share: each.share, ...this.#effects(each.share) }
        : undefined,
    );
    const all = meters.map(({ own, share }, k) => light[k] ?? this.#loaded(look, own!, share));
    if (light.includes(undefined)) this.#plant.solve(this.#state, NEARLY);
    return all;
  }

  /** Of the transposed solution at hand, pushes being those at this view's state or at another. */
  #effects(scale: number, pushes?: Pushes): { effects?: Float64Array } {
    if (this.#pushesAt === undefined) return {};
    if (pushes === undefined) this.#pushes ??= this.#pushesAt(this.#state);
    const { size } = this.#plant.network.unknowns;
    return { effects: added(pushes ?? this.#pushes!, this.#answer, size, scale) };
  }

  #loaded(look: Look & { kind: "voltage" }, ohms: number, share: number): Shown {
    const plant = this.#plant;
    plant.system.connectMeter(look.net, 1 / ohms);
    const loaded = plant.solve(this.#state, NEARLY) ?? this.#state;
    const mean = voltsAt(look, plant, loaded);
    if (this.#pushesAt === undefined) {
      plant.system.connectMeter(look.net, 0);
      return { mean, share };
    }
    plant.adjoint(weightsOf(look, plant, loaded), this.#answer);
    const pushes = share < VERY_HEAVILY ? this.#pushesAt(loaded) : undefined;
    const effects = this.#effects(1, pushes);
    // the arrays are used again
    if (pushes !== undefined) this.#pushes = undefined;
    plant.system.connectMeter(look.net, 0);
    return { mean, share, ...effects };
  }
}

/** A voltage this much nearer to 0, or further, may have been read on the range that this would be read on. */
const NEARBY = 1.25;

/** Resistances that the meter may have had at a voltage, the usual one first; none if there is no meter. */
function metersAt(volts: number, meter: Meter | undefined): readonly (number | undefined)[] {
  if (meter === undefined) return [undefined];
  return [...new Set([1, 1 / NEARBY, NEARBY].map((by) => meterResistance(meter, volts * by)))];
}

/** The effect of each variable from its pushes and the answers of the equations. */
function added(
  { start, row, amount }: Pushes,
  answer: Float64Array,
  size: number,
  scale: number,
): Float64Array {
  const effects = new Float64Array(start.length - 1);
  for (let v = 0; v < effects.length; v++) {
    let sum = 0;
    for (let e = start[v]!; e < start[v + 1]!; e++) if (row[e]! < size) sum += amount[e]! * answer[row[e]!]!;
    effects[v] = scale * sum;
  }
  return effects;
}

/** Unloaded voltage at a state. */
export const voltsAt = (
  { net, minus }: { net: number; minus: number },
  { network: { unknowns } }: Plant,
  state: Float64Array,
) => (state[unknowns.net[net]!] ?? 0) - (state[unknowns.net[minus]!] ?? 0);

/** A small step to both sides of each unknown, for what is not a plain sum of them. */
const STEP = 1e-6;

/** What is looked at as a weighted sum of unknowns. */
function weightsOf(look: Exclude<Look, { kind: "gain" }>, plant: Plant, state: Float64Array): Float64Array {
  const { unknowns } = plant.network;
  const weights = new Float64Array(unknowns.stateSize);
  if (look.kind === "current") {
    const moved = state.slice();
    for (const n of unknowns.locals[look.part]!) {
      if (n >= unknowns.size) continue;
      moved[n] = state[n]! + STEP;
      const above = plant.pinCurrent(moved, look.part, look.pin);
      moved[n] = state[n]! - STEP;
      weights[n] = (above - plant.pinCurrent(moved, look.part, look.pin)) / (2 * STEP);
      moved[n] = state[n]!;
    }
    return weights;
  }
  const put = (net: number, weight: number) => {
    const n = unknowns.net[net]!;
    if (n < unknowns.size) weights[n] = weight;
  };
  put(look.net, 1);
  if (look.kind === "voltage") put(look.minus, -1);
  return weights;
}

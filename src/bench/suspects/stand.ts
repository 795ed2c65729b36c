import type { Circuit, Mode } from "../../circuit/circuit.ts";
import { withPartStates } from "../../circuit/conditions.ts";
import type { NetworkConditions } from "../../engine/network.ts";
import type { Meter } from "../conditions.ts";
import { meterResistance } from "../meter.ts";
import type { Variable } from "../spread/variables.ts";
import type { Way } from "./draft.ts";
import { Gains } from "./gains.ts";
import type { Look } from "./looks.ts";
import { Plant } from "./plant.ts";
import { changed, exchanged, type Rig } from "./rig.ts";
import { type Pushes, Uncertainty } from "./uncertain.ts";

/** The numbers that a row of looks would show, and what moves them. */
export interface Seen {
  readonly mean: Float64Array;
  /** By variable, then by look: the effect of one standard deviation. Absent where not asked for. */
  readonly effects?: Float64Array;
}

/** A circuit in one mode, batteries in or out, ready for one fault after the other. */
export class Stand {
  readonly plant: Plant;
  readonly healthy: Float64Array;
  readonly #base: Circuit;
  readonly #conditions: NetworkConditions;
  readonly #uncertainty: Uncertainty;
  readonly #shares = new Map<string, number>();
  readonly #known = new Map<string, Float64Array | undefined>();

  constructor(
    rig: Rig,
    mode: Mode,
    conditions: NetworkConditions & { readonly set?: Mode["states"]; readonly off?: boolean },
    variables: readonly Variable[],
  ) {
    const standing = withPartStates(rig.circuit, [...mode.states, ...(conditions.set ?? [])]);
    this.#base = conditions.off ? withoutBatteries(standing) : standing;
    this.#conditions = conditions;
    this.plant = new Plant(this.#base, conditions);
    const healthy = this.plant.solve();
    if (healthy === undefined) throw new NoHealthyPoint(mode.name);
    this.healthy = healthy;
    this.#uncertainty = new Uncertainty(this.plant.network, variables);
  }

  /** What would be seen with the fault standing this way; nothing where the circuit has no solution. */
  see(
    way: Way | undefined,
    looks: readonly Look[],
    meter: Meter | undefined,
    closeness: Closeness,
  ): Seen | undefined {
    const plant = way?.exchanged === undefined ? this.plant : undefined;
    const circuit = way === undefined ? this.#base : changed(this.#base, way.changes);
    if (plant === undefined) return this.#seeExchanged(way!, looks, meter, closeness);
    plant.tune(circuit);
    const key = JSON.stringify(way?.changes ?? {});
    const known = this.#known.get(key);
    const state = plant.solve(known ?? this.healthy, closeness === "passing" ? ROUGHLY : undefined);
    this.#known.set(key, state);
    return state && this.#read(plant, this.#uncertainty, state, way, looks, meter, closeness);
  }

  /** Share of the voltage that the meter leaves without a fault. */
  #usualShare(look: Look & { kind: "voltage" }): number {
    return this.#shares.get(keyOf(look)) ?? 1;
  }

  #seeExchanged(
    way: Way,
    looks: readonly Look[],
    meter: Meter | undefined,
    closeness: Closeness,
  ): Seen | undefined {
    const { part, pins } = way.exchanged!;
    const plant = new Plant(exchanged(this.#base, part, ...pins), this.#conditions);
    const state = plant.solve(this.healthy);
    if (state === undefined) return undefined;
    const uncertainty =
      closeness === "spread"
        ? new Uncertainty(plant.network, this.#uncertainty.variables)
        : this.#uncertainty;
    return this.#read(plant, uncertainty, state, way, looks, meter, closeness);
  }

  /** One transposed solution a look gives what the meter sees there, and the effect of every variable. */
  #read(
    plant: Plant,
    uncertainty: Uncertainty,
    state: Float64Array,
    way: Way | undefined,
    looks: readonly Look[],
    meter: Meter | undefined,
    closeness: Closeness,
  ): Seen {
    const { unknowns } = plant.network;
    const gains = new Gains(plant, state);
    const mean = new Float64Array(looks.length);
    const answer = new Float64Array(unknowns.stateSize);
    const { variables } = uncertainty;
    const pushes = closeness === "spread" ? uncertainty.pushes(state, skipping(way)) : undefined;
    const effects = new Float64Array(pushes !== undefined ? variables.length * looks.length : 0);
    const heavy: number[] = [];
    looks.forEach((look, k) => {
      if (closeness === "passing" && look.kind === "voltage") {
        mean[k] = this.#usualShare(look) * voltsAt(look, plant, state);
        return;
      }
      if (look.kind === "gain") {
        mean[k] = gains.read(look.path, look.hertz);
        return;
      }
      const weights = weightsOf(look, plant, state);
      plant.adjoint(weights, answer);
      const ohms = weights.reduce((sum, weight, n) => sum + (weight === 0 ? 0 : weight * answer[n]!), 0);
      if (look.kind === "resistance") {
        mean[k] = Math.log(Math.max(1e-3, Math.abs(ohms)));
        return;
      }
      const share = look.kind === "voltage" ? shareOf(look, state, plant, meter, Math.max(0, ohms)) : 1;
      if (way === undefined && look.kind === "voltage") this.#shares.set(keyOf(look), share);
      if (look.kind === "voltage" && look.minus === 0 && share < HEAVILY) {
        heavy.push(k);
        return;
      }
      mean[k] =
        look.kind === "voltage"
          ? share * voltsAt(look, plant, state)
          : plant.pinCurrent(state, look.part, look.pin);
      if (pushes !== undefined)
        addUp(pushes, answer, unknowns.size, (v, sum) => {
          effects[v * looks.length + k] = share * sum;
        });
    });
    for (const k of heavy) {
      const look = looks[k] as Look & { kind: "voltage" };
      const own = meterResistance(meter!, voltsAt(look, plant, state));
      plant.system.connectMeter(look.net, 1 / own);
      const loaded = plant.solve(state) ?? state;
      mean[k] = voltsAt(look, plant, loaded);
      if (pushes !== undefined) {
        plant.adjoint(weightsOf(look, plant, loaded), answer);
        addUp(uncertainty.pushes(loaded, skipping(way)), answer, unknowns.size, (v, sum) => {
          effects[v * looks.length + k] = sum;
        });
      }
      plant.system.connectMeter(look.net, 0);
    }
    return pushes === undefined ? { mean } : { mean, effects };
  }
}

/**
 * How closely a fault is looked at: `passing` takes the meter to load each point as it does without a fault,
 * `loaded` as it does with it, `spread` finds the effects of tolerances as well.
 */
export type Closeness = "passing" | "loaded" | "spread";

/** In passing, the last Newton step may be this long: what is left is its square over kT/q, V. */
const ROUGHLY = 1e-3;

/** Where the meter leaves less than this share of a voltage the loaded circuit is solved anew. */
const HEAVILY = 0.85;

/** The effect of each variable from its pushes and the answers of the equations. */
function addUp(
  { start, row, amount }: Pushes,
  answer: Float64Array,
  size: number,
  each: (variable: number, effect: number) => void,
): void {
  for (let v = 0; v + 1 < start.length; v++) {
    let sum = 0;
    for (let e = start[v]!; e < start[v + 1]!; e++) if (row[e]! < size) sum += amount[e]! * answer[row[e]!]!;
    each(v, sum);
  }
}

/** Variables of a part that the fault has taken over. */
const skipping =
  (way: Way | undefined) =>
  ({ part, values }: Variable): boolean => {
    const own = way?.changes[part];
    return own !== undefined && values.some(({ key }) => own[key] !== undefined);
  };

const keyOf = ({ net, minus }: { net: number; minus: number }) => `${net} ${minus}`;

const voltsAt = (
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

/** Share of the unloaded voltage that the meter leaves, `ohms` being the circuit's own resistance there. */
function shareOf(
  look: { net: number; minus: number },
  state: Float64Array,
  plant: Plant,
  meter: Meter | undefined,
  ohms: number,
): number {
  if (meter === undefined) return 1;
  const own = meterResistance(meter, voltsAt(look, plant, state));
  return own / (own + ohms);
}

const withoutBatteries = (circuit: Circuit): Circuit => ({
  ...circuit,
  parts: circuit.parts.map((part) =>
    part.kind === "battery" ? { ...part, values: { ...part.values, emf: 0, internal: 3e7 } } : part,
  ),
});

/** The circuit as it should be has no operating point: nothing can be said of faults. */
export class NoHealthyPoint extends Error {
  readonly mode: string;

  constructor(mode: string) {
    super(`mode ${mode} has no operating point without a fault`);
    this.mode = mode;
  }
}

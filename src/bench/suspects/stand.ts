import type { Circuit, Mode } from "../../circuit/circuit.ts";
import { withPartStates } from "../../circuit/conditions.ts";
import type { NetworkConditions } from "../../engine/network.ts";
import type { Meter } from "../conditions.ts";
import type { Variable } from "../spread/variables.ts";
import { acts, type Way } from "./draft.ts";
import { keyOf, type Look } from "./looks.ts";
import { Plant } from "./plant.ts";
import { type Changes, changed, type Rig } from "./rig.ts";
import { Uncertainty, valuesAt } from "./uncertain.ts";
import { type Shown, View, voltsAt } from "./view.ts";

/** The numbers that a row of looks would show, and what moves them. */
export interface Seen {
  readonly mean: Float64Array;
  /** By look, then by variable: the effect of one standard deviation. Absent where not asked for. */
  readonly effects?: readonly Float64Array[];
}

/**
 * How closely a fault is looked at: `passing` takes the meter to load each point as it does without a fault,
 * `loaded` as it does with it, `spread` finds the effects of tolerances as well.
 */
export type Closeness = "passing" | "loaded" | "spread";

/** In passing, the last Newton step may be this long: what is left is its square over kT/q, V. */
const ROUGHLY = 1e-3;
/** Effects kept, in rows of one look: when there are more all are forgotten. */
const MOST_KEPT = 40e3;

export interface StandConditions extends NetworkConditions {
  readonly set?: Mode["states"];
  readonly meter?: Meter;
  /** Batteries out. */
  readonly off?: boolean;
}

/** A way as it was seen: its state, and what its looks show. */
interface Sight {
  state: Float64Array | undefined;
  readonly shown: Map<string, readonly Shown[]>;
}

/** A circuit in one mode, batteries in or out, ready for one fault after the other. What was seen is kept. */
export class Stand {
  readonly healthy: Float64Array;
  readonly #base: Circuit;
  readonly #conditions: StandConditions;
  readonly #variables: readonly Variable[];
  readonly #plant: Plant;
  readonly #uncertainty: Uncertainty;
  readonly #shares = new Map<string, number>();
  readonly #sights = new WeakMap<Way, Sight>();
  readonly #sound: Sight;
  /** Those whose effects are kept, and how many rows they are. */
  readonly #keeping = new Set<Sight>();
  #kept = 0;

  constructor(rig: Rig, mode: Mode, conditions: StandConditions, variables: readonly Variable[]) {
    const standing = withPartStates(rig.circuit, [...mode.states, ...(conditions.set ?? [])]);
    this.#base = conditions.off ? withoutBatteries(standing) : standing;
    this.#conditions = conditions;
    this.#variables = variables;
    const plant = new Plant(this.#base, conditions);
    const healthy = plant.solve();
    if (healthy === undefined) throw new NoHealthyPoint(mode.name);
    this.healthy = healthy;
    this.#plant = plant;
    this.#uncertainty = new Uncertainty(plant.network, variables);
    this.#sound = { state: healthy, shown: new Map() };
  }

  /**
   * What would be seen with the fault standing this way; nothing where the circuit has no solution. `taken`: what was
   * read there, which tells the meter's range where two are possible; NaN where nothing was read.
   */
  see(
    fault: Way | undefined,
    looks: readonly Look[],
    closeness: Closeness,
    taken?: Float64Array,
  ): Seen | undefined {
    const acting = this.#acting(fault);
    const sight = this.#sightOf(acting);
    if (sight.state === undefined) return undefined;
    if (closeness === "passing" && looks.every(({ kind }) => kind === "voltage")) {
      return { mean: Float64Array.from(looks, (look) => this.#inPassing(look as VoltageLook, sight.state!)) };
    }
    const spread = closeness === "spread";
    if (spread) this.#makeRoom(sight, looks.length);
    const missing = looks.filter((look) => {
      const [known] = sight.shown.get(keyOf(look)) ?? [];
      return known === undefined || (spread && known.effects === undefined);
    });
    if (missing.length > 0) this.#look(acting, sight, missing, spread);
    const shown = looks.map((look, k) => nearest(sight.shown.get(keyOf(look))!, taken?.[k]));
    return {
      mean: Float64Array.from(shown, ({ mean }) => mean),
      ...(spread && { effects: shown.map(({ effects }) => effects!) }),
    };
  }

  /**
   * What would be seen with the fault in a specimen: its variables and, last, the fault's amount go `shifts`
   * standard deviations up. Effects have the amount's as their last.
   */
  seeSpecimen(
    fault: Way | undefined,
    faultAmount: Variable | undefined,
    shifts: Float64Array,
    looks: readonly Look[],
    taken?: Float64Array,
  ): Seen | undefined {
    const way = this.#acting(fault);
    const amount = way === undefined ? undefined : faultAmount;
    const [plant, usual] = [this.#plant, this.#uncertainty];
    const variables = amount === undefined ? this.#variables : [...this.#variables, amount];
    const skip = skipping(way, amount);
    plant.tune(changed(this.#base, merged(valuesAt(variables, shifts, skip), way, amount)));
    const state = plant.solve((way && this.#sights.get(way))?.state ?? this.healthy);
    if (state === undefined) return undefined;
    const uncertainty = new Uncertainty(plant.network, variables, { shifts, usual });
    const view = new View(plant, state, this.#conditions.meter, (at) => uncertainty.pushes(at, skip));
    // what was not read need not be exact
    const shown = looks.map((look, k) => nearest(view.show(look, Number.isNaN(taken?.[k])), taken?.[k]));
    return {
      mean: Float64Array.from(shown, ({ mean }) => mean),
      effects: shown.map(({ effects }) => atLength(effects, shifts.length)),
    };
  }

  /** The fault, where it makes a difference in this mode. */
  #acting(fault: Way | undefined): Way | undefined {
    return fault === undefined || acts(fault, this.#base) ? fault : undefined;
  }

  #inPassing(look: VoltageLook, state: Float64Array): number {
    const share = this.#shares.get(keyOf(look)) ?? 1;
    return share * voltsAt(look, this.#plant, state);
  }

  #sightOf(way: Way | undefined): Sight {
    return way === undefined ? this.#sound : (this.#sights.get(way) ?? this.#meet(way));
  }

  #meet(way: Way): Sight {
    const plant = this.#plant;
    plant.tune(changed(this.#base, way.changes));
    const sight: Sight = {
      state: plant.solve(this.healthy, ROUGHLY),
      shown: new Map(),
    };
    this.#sights.set(way, sight);
    return sight;
  }

  /** Looks again where the way's state has been left, and keeps what is shown. */
  #look(way: Way | undefined, sight: Sight, looks: readonly Look[], withEffects: boolean): void {
    const [plant, uncertainty] = [this.#plant, this.#uncertainty];
    plant.tune(way === undefined ? this.#base : changed(this.#base, way.changes));
    sight.state = plant.solve(sight.state) ?? sight.state!;
    const skip = skipping(way, undefined);
    const view = new View(
      plant,
      sight.state,
      this.#conditions.meter,
      withEffects ? (state) => uncertainty.pushes(state, skip) : undefined,
    );
    for (const look of looks) {
      const all = view.show(look);
      const blank = withEffects && { effects: new Float64Array(this.#variables.length) };
      sight.shown.set(
        keyOf(look),
        all.map((each) => ({ ...blank, ...each })),
      );
      const [{ share } = {}] = all;
      if (way === undefined && share !== undefined) this.#shares.set(keyOf(look), share);
    }
  }

  #makeRoom(sight: Sight, rows: number): void {
    if (this.#kept > MOST_KEPT) {
      for (const each of this.#keeping) each.shown.clear();
      this.#keeping.clear();
      this.#kept = 0;
    }
    this.#kept += Math.max(0, rows - sight.shown.size);
    this.#keeping.add(sight);
  }
}

/** Effects with nothing for what has none. */
function atLength(effects: Float64Array | undefined, length: number): Float64Array {
  if (effects?.length === length) return effects;
  const all = new Float64Array(length);
  if (effects !== undefined) all.set(effects);
  return all;
}

/** What is nearest to what was read, if anything was. */
function nearest(all: readonly Shown[], taken: number | undefined): Shown {
  if (taken === undefined || Number.isNaN(taken)) return all[0]!;
  return all.reduce((a, b) => (Math.abs(b.mean - taken) < Math.abs(a.mean - taken) ? b : a));
}

type VoltageLook = Look & { kind: "voltage" };

/** Variables of a part that the fault has taken over. */
const skipping =
  (way: Way | undefined, amount: Variable | undefined) =>
  (variable: Variable): boolean => {
    const own = variable === amount ? undefined : way?.changes[variable.part];
    return own !== undefined && variable.values.some(({ key }) => own[key] !== undefined);
  };

/** The specimen's values under those of the fault, and the amount's over them. */
function merged(specimen: Changes, way: Way | undefined, amount: Variable | undefined): Changes {
  const all: Record<string, Readonly<Record<string, number>>> = { ...specimen };
  for (const [part, values] of Object.entries(way?.changes ?? {})) {
    const over = part === amount?.part ? specimen[part] : undefined;
    all[part] = { ...all[part], ...values, ...over };
  }
  return all;
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

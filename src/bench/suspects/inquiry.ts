import type { Circuit } from "../../circuit/circuit.ts";
import { modesOf } from "../../circuit/conditions.ts";
import type { Conditions, Meter } from "../conditions.ts";
import { chosenModes } from "../run.ts";
import type { Way } from "./draft.ts";
import { type Fault, faultsOf } from "./faults.ts";
import { type Fit, fitOf } from "./likelihood.ts";
import type { Look, Reading } from "./looks.ts";
import { noiseOf } from "./noise.ts";
import { refined } from "./refine.ts";
import { Rig } from "./rig.ts";
import { type Closeness, type Seen, Stand } from "./stand.ts";
import { uncertainties } from "./uncertain.ts";
import { NO_FAULT_SHARE, type Weights } from "./weights.ts";

export interface SuspectsConditions extends Conditions {
  /** None: as if nothing loaded the circuit. */
  readonly meter?: Meter;
  /** Error of the instrument, as a share of the reading. */
  readonly accuracy: number;
  readonly weights?: Weights;
  /** The best pairs of faults as well. */
  readonly pairs?: boolean;
}

/** One way that things may stand: a fault with its amount, or none. */
export interface Hypothesis {
  readonly fault?: Fault;
  readonly way?: Way;
  readonly logPrior: number;
  /** What the readings taken would show. */
  mean: Float64Array;
  /** Change of `mean` for an amount e-fold greater, and the standard deviation of the amount's logarithm within this way. */
  readonly slope?: Float64Array;
  readonly within?: number;
  fit?: Fit;
  /** ln(prior · likelihood). */
  logWeight: number;
  /** How much greater than the way's own the amount is, to fit best. */
  shift: number;
}

/** A place to look, in a mode. */
export interface Place {
  readonly mode: string;
  readonly look: Look;
}

const OFF = " off";

/** Ways that are looked at closely, those that come nearest to the readings. */
const NEARLY = 260;
const CLOSELY = 110;
/** A reading so many standard deviations off is simply wrong when ways are compared in passing. */
const WRONG = 25;

/** Readings against all faults of a circuit. */
export class Inquiry {
  readonly circuit: Circuit;
  readonly conditions: SuspectsConditions;
  readonly readings: readonly Reading[];
  readonly faults: readonly Fault[];
  /** Largest voltage that any net may have, V. */
  readonly rail: number;
  readonly values: Float64Array;
  readonly #rig: Rig;
  readonly #variables;
  readonly #stands = new Map<string, Stand>();
  #healthy: Float64Array;
  #all: readonly Hypothesis[] | undefined;

  constructor(circuit: Circuit, readings: readonly Reading[], conditions: SuspectsConditions) {
    this.circuit = circuit;
    this.conditions = conditions;
    this.#rig = new Rig(circuit);
    this.faults = faultsOf(circuit, this.#rig, conditions.weights);
    this.#variables = uncertainties(circuit);
    this.rail =
      circuit.parts.reduce(
        (sum, { kind, values }) => sum + (kind === "battery" ? (values.emf ?? 0) : 0),
        0,
      ) || 1;
    this.#healthy = this.see(undefined, readings, "loaded")!.mean;
    this.readings = readings.map((reading, k) => turned(reading, this.#healthy[k]!));
    this.values = Float64Array.from(this.readings, ({ look, value }) =>
      look.kind === "resistance" ? Math.log(value) : value,
    );
  }

  get healthy(): Float64Array {
    return this.#healthy;
  }

  /** Names of the modes asked for. */
  get modes(): readonly string[] {
    return chosenModes(this.circuit, this.conditions).map(({ name }) => name);
  }

  stand(mode: string): Stand {
    let found = this.#stands.get(mode);
    if (found !== undefined) return found;
    const name = mode.endsWith(OFF) ? mode.slice(0, -OFF.length) : mode;
    const { ambientCelsius = this.circuit.ambientCelsius, isothermal = false, set = [] } = this.conditions;
    const own = modesOf(this.circuit).find((each) => each.name === name)!;
    found = new Stand(
      this.#rig,
      own,
      { ambientCelsius, isothermal, set, off: name !== mode },
      this.#variables,
    );
    this.#stands.set(mode, found);
    return found;
  }

  /** What would be seen at places, whatever their modes. */
  see(way: Way | undefined, places: readonly Place[], closeness: Closeness): Seen | undefined {
    const mean = new Float64Array(places.length);
    const variables = this.#variables.length;
    const withEffects = closeness === "spread";
    const effects = new Float64Array(withEffects ? variables * places.length : 0);
    for (const mode of new Set(places.map((place) => place.mode))) {
      const own = places.flatMap((place, k) => (place.mode === mode ? [k] : []));
      const looks = own.map((k) => places[k]!.look);
      const seen = this.stand(mode).see(way, looks, this.conditions.meter, closeness);
      if (seen === undefined) return undefined;
      own.forEach((k, m) => {
        mean[k] = seen.mean[m]!;
        for (let v = 0; seen.effects !== undefined && v < variables; v++) {
          effects[v * places.length + k] = seen.effects[v * own.length + m]!;
        }
      });
    }
    return withEffects ? { mean, effects } : { mean };
  }

  /** Covariance of what is seen: parts and samples, the meter, and how far the amount is open. */
  covariance(
    places: readonly Place[],
    seen: Seen,
    values: Float64Array,
    healthy: Float64Array,
    open?: Hypothesis,
  ): Float64Array {
    const n = places.length;
    const sum = new Float64Array(n * n);
    const add = (effect: Float64Array, from: number, scale: number) => {
      for (let i = 0; i < n; i++) {
        const share = scale * effect[from + i]!;
        if (share !== 0) for (let j = 0; j <= i; j++) sum[i * n + j]! += share * effect[from + j]!;
      }
    };
    const effects = seen.effects ?? new Float64Array(0);
    for (let v = 0; v * n < effects.length; v++) add(effects, v * n, 1);
    const noise = places.map(({ look }, k) =>
      noiseOf(look, values[k]!, seen.mean[k]!, healthy[k]!, this.conditions.accuracy),
    );
    add(
      Float64Array.from(noise, ({ common }, k) => common * Math.sign(seen.mean[k]!)),
      0,
      1,
    );
    noise.forEach(({ own }, k) => {
      sum[k * n + k]! += own ** 2;
    });
    if (open?.slope !== undefined && open.within !== undefined) add(open.slope, 0, open.within ** 2);
    for (let i = 0; i < n; i++) for (let j = 0; j < i; j++) sum[j * n + i] = sum[i * n + j]!;
    return sum;
  }

  /** No fault, and every fault in every way, seen in passing. */
  get hypotheses(): readonly Hypothesis[] {
    this.#all ??= this.#hypotheses();
    return this.#all;
  }

  /** No fault, and every fault in every way, the nearest to the readings weighed closely; likeliest first. */
  weigh(): readonly Hypothesis[] {
    const all = this.hypotheses;
    const none = all[0]!;
    const [silent, visible] = [
      all.filter((each) => this.#isSilent(each)),
      all.filter((each) => !this.#isSilent(each)),
    ];
    const near = this.#nearest(visible, NEARLY);
    for (const hypothesis of near)
      hypothesis.mean = this.see(hypothesis.way, this.readings, "loaded")?.mean ?? hypothesis.mean;
    const nearest = this.#nearest(near, CLOSELY);
    const between = refined(nearest, all, (way) => this.see(way, this.readings, "loaded")?.mean);
    for (const hypothesis of [none, ...nearest, ...between]) this.weighClosely(hypothesis);
    for (const hypothesis of silent) {
      if (none.fit === undefined) continue;
      hypothesis.fit = none.fit;
      hypothesis.logWeight = hypothesis.logPrior + none.fit.logLikelihood;
    }
    return [...all, ...between]
      .filter(({ fit }) => fit !== undefined)
      .sort((a, b) => b.logWeight - a.logWeight);
  }

  /** Changes of capacitance alone move no direct voltage. */
  #onlyGainsShow({ changes, exchanged }: Way): boolean {
    if (exchanged !== undefined || this.readings.some(({ look }) => look.kind === "gain")) return false;
    return Object.values(changes).every((own) => Object.keys(own).every((key) => key === "capacitance"));
  }

  /** Those nearest to the readings. */
  #nearest(all: readonly Hypothesis[], most: number): readonly Hypothesis[] {
    return all
      .map((hypothesis) => ({ hypothesis, distance: this.#inPassing(hypothesis) }))
      .sort((a, b) => a.distance - b.distance)
      .slice(0, most)
      .map(({ hypothesis }) => hypothesis);
  }

  #hypotheses(): Hypothesis[] {
    const total = this.faults.reduce((sum, { weight }) => sum + weight, 0);
    const blank = { logWeight: Number.NEGATIVE_INFINITY, shift: 0 };
    const none: Hypothesis = { ...blank, logPrior: Math.log(NO_FAULT_SHARE), mean: this.#healthy };
    return [
      none,
      ...this.faults.flatMap((fault) => this.#ways(fault, total).map((way) => ({ ...blank, ...way }))),
    ];
  }

  #ways(fault: Fault, total: number) {
    const seen = fault.ways.flatMap((way) => {
      if (this.#onlyGainsShow(way)) return [{ way, mean: this.#healthy }];
      const mean = this.see(way, this.readings, "passing")?.mean;
      return mean === undefined ? [] : [{ way, mean }];
    });
    return seen.map(({ way, mean }, k) => {
      const logPrior = Math.log(((1 - NO_FAULT_SHARE) * fault.weight * way.share) / total);
      return { fault, way, mean, logPrior, ...slopeAt(seen, k) };
    });
  }

  #inPassing({ mean, slope, within = 0 }: Hypothesis): number {
    return this.passingParts(mean, slope, within).reduce((sum, each) => sum + each, 0);
  }

  /** Squared distance of each reading with nothing but the meter's error, usual tolerances and a tenth of the change. */
  passingParts = (mean: Float64Array, slope?: Float64Array, within = 0): Float64Array =>
    mean.map((middle, k) => {
      const [look, value, healthy] = [this.readings[k]!.look, this.values[k]!, this.#healthy[k]!];
      const { own } = noiseOf(look, value, middle, healthy, this.conditions.accuracy);
      const open = (slope?.[k] ?? 0) * within;
      const loose = Math.hypot(own, 0.06 * middle, 0.1 * (middle - healthy), open);
      return Math.min(WRONG, ((value - middle) / loose) ** 2);
    });

  passingDistance = (mean: Float64Array): number =>
    this.passingParts(mean).reduce((sum, each) => sum + each, 0);

  /** Puts a hypothesis' fit and weight into it, spreads at its own point included. */
  weighClosely(hypothesis: Hypothesis): void {
    const seen = this.see(hypothesis.way, this.readings, "spread");
    if (seen === undefined) return;
    const covariance = this.covariance(this.readings, seen, this.values, this.#healthy, hypothesis);
    const r = this.values.map((value, k) => value - seen.mean[k]!);
    const fit = fitOf(r, covariance, this.#ranges());
    if (fit === undefined) return;
    hypothesis.fit = fit;
    hypothesis.logWeight = hypothesis.logPrior + fit.logLikelihood;
    const { slope, within } = hypothesis;
    if (slope === undefined || within === undefined) return;
    const shift = within ** 2 * slope.reduce((sum, each, k) => sum + each * fit.weighted[k]!, 0);
    hypothesis.shift = Math.max(-FURTHEST * within, Math.min(FURTHEST * within, shift));
  }

  /** Where a slip may put a reading. */
  #ranges(): Float64Array {
    return Float64Array.from(this.readings, ({ look }, k) => {
      if (look.kind === "voltage") return 1.2 * this.rail;
      return look.kind === "current" ? 10 * Math.abs(this.values[k]!) + 1e-3 : look.kind === "gain" ? 60 : 10;
    });
  }

  /** Whether none of the readings moves by what a meter shows: such a fault fits as nothing does. */
  #isSilent({ mean }: Hypothesis): boolean {
    return mean.every((value, k) => {
      const healthy = this.#healthy[k]!;
      const { own } = noiseOf(
        this.readings[k]!.look,
        this.values[k]!,
        healthy,
        healthy,
        this.conditions.accuracy,
      );
      return Math.abs(value - healthy) < SILENT * own;
    });
  }
}

/** Share of the meter's error below which a reading counts as unmoved. */
const SILENT = 0.05;
/** With the sign that a healthy specimen gives, where its own says nothing. */
const turned = (reading: Reading, healthy: number): Reading =>
  reading.unsigned ? { ...reading, value: Math.abs(reading.value) * (healthy < 0 ? -1 : 1) } : reading;

/** Beyond so many deviations a neighbour on the grid takes over. */
const FURTHEST = 1.6;
/** How much wider than an even spread over its cell an amount is taken to be: cells then leave no gap. */
const WITHIN = 0.36;

/** Slope of what is seen over the logarithm of the amount, by its neighbours on the grid. */
function slopeAt(seen: readonly { readonly way: Way; readonly mean: Float64Array }[], k: number) {
  const amount = (at: number) => seen[at]?.way.amount ?? Number.NaN;
  const [before, after] = [Math.max(0, k - 1), Math.min(seen.length - 1, k + 1)];
  const width = Math.log(amount(after) / amount(before));
  if (!(Math.abs(width) > 1e-6)) return {};
  const [low, high] = [seen[before]!.mean, seen[after]!.mean];
  return {
    slope: high.map((value, i) => (value - low[i]!) / width),
    within: (WITHIN * Math.abs(width)) / (after - before),
  };
}

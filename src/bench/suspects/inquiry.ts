import type { Circuit } from "../../circuit/circuit.ts";
import { chosenModes } from "../run.ts";
import type { Variable } from "../spread/variables.ts";
import { bringCloser } from "./closer.ts";
import type { Way } from "./draft.ts";
import type { Fault } from "./faults.ts";
import { type Fit, fitOf } from "./likelihood.ts";
import type { Look, Reading } from "./looks.ts";
import { noiseOf } from "./noise.ts";
import type { Closeness, Seen } from "./stand.ts";
import { NO_FAULT_SHARE } from "./weights.ts";
import { type Workshop, type WorkshopConditions, workshopFor } from "./workshop.ts";

export interface SuspectsConditions extends WorkshopConditions {
  /** Error of the instrument, as a share of the reading. */
  readonly accuracy: number;
  /** The best pairs of faults as well. */
  readonly pairs?: boolean;
  /** The ranking alone, without where to probe next. */
  readonly ranking?: boolean;
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
  /** How much greater than the way's own the amount is, to fit best; its logarithm. */
  shift: number;
  /** The specimen that explains the readings best, where it has been looked for; `fit` is then the fit about it. */
  specimen?: Specimen;
}

/** One of many sets: how far its variables and, last, the amount of its fault lie above their middles. */
export interface Specimen {
  /** In standard deviations. */
  readonly shifts: Float64Array;
  readonly amount?: Variable;
}

/** A place to look, in a mode, and what was read there if anything was. */
export interface Place {
  readonly mode: string;
  readonly look: Look;
  readonly value?: number;
}

/** Ways that are looked at closely, those that come nearest to the readings. */
const NEARLY = 120;
const CLOSELY = 56;
/** A reading so many standard deviations off is simply wrong when ways are compared in passing. */
const WRONG = 25;

/** Readings against all faults of a circuit. */
export class Inquiry {
  readonly circuit: Circuit;
  readonly conditions: SuspectsConditions;
  readonly readings: readonly Reading[];
  readonly workshop: Workshop;
  readonly values: Float64Array;
  readonly healthy: Float64Array;
  #all: readonly Hypothesis[] | undefined;

  constructor(circuit: Circuit, readings: readonly Reading[], conditions: SuspectsConditions) {
    this.circuit = circuit;
    this.conditions = conditions;
    this.workshop = workshopFor(circuit, conditions);
    this.healthy = this.see(undefined, readings, "loaded")!.mean;
    this.readings = readings.map((reading, k) => turned(reading, this.healthy[k]!));
    this.values = Float64Array.from(this.readings, ({ look, value }) =>
      look.kind === "resistance" ? Math.log(value) : value,
    );
  }

  get faults(): readonly Fault[] {
    return this.workshop.faults;
  }

  /** Names of the modes asked for. */
  get modes(): readonly string[] {
    return chosenModes(this.circuit, this.conditions).map(({ name }) => name);
  }

  /** What would be seen at places, whatever their modes. */
  see(way: Way | undefined, places: readonly Place[], closeness: Closeness): Seen | undefined {
    return inAllModes(places, (mode, looks, taken) =>
      this.workshop.stand(mode).see(way, looks, closeness, taken),
    );
  }

  /** What would be seen at places in a specimen with a fault. */
  seeSpecimen(
    way: Way | undefined,
    { amount, shifts }: Specimen,
    places: readonly Place[],
  ): Seen | undefined {
    return inAllModes(places, (mode, looks, taken) =>
      this.workshop.stand(mode).seeSpecimen(way, amount, shifts, looks, taken),
    );
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
    const sum = products(seen.effects ?? [], n);
    const noise = places.map(({ look }, k) =>
      noiseOf(look, values[k]!, seen.mean[k]!, healthy[k]!, this.conditions.accuracy),
    );
    const common = noise.map((each, k) => each.common * Math.sign(seen.mean[k]!));
    const { slope, within = 0 } = open ?? {};
    for (let i = 0; i < n; i++) {
      sum[i * n + i]! += noise[i]!.own ** 2;
      for (let j = 0; j <= i; j++) {
        const own = slope === undefined ? 0 : within ** 2 * slope[i]! * slope[j]!;
        sum[i * n + j]! += own + common[i]! * common[j]!;
        sum[j * n + i] = sum[i * n + j]!;
      }
    }
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
    const visible = all.filter((each) => !this.#isSilent(each));
    const near = this.#nearest(visible, NEARLY);
    for (const hypothesis of near)
      hypothesis.mean = this.see(hypothesis.way, this.readings, "loaded")?.mean ?? hypothesis.mean;
    const closely = new Set([none, ...this.#nearest(near, CLOSELY)]);
    for (const hypothesis of closely) this.weighClosely(hypothesis);
    bringCloser(this, [...closely]);
    for (const hypothesis of all) {
      if (closely.has(hypothesis) || none.fit === undefined || !this.#isSilent(hypothesis)) continue;
      hypothesis.fit = none.fit;
      hypothesis.logWeight = hypothesis.logPrior + none.fit.logLikelihood;
    }
    return all.filter(({ fit }) => fit !== undefined).sort((a, b) => b.logWeight - a.logWeight);
  }

  /** Changes of capacitance alone move no direct voltage. */
  #onlyGainsShow({ changes }: Way): boolean {
    if (this.readings.some(({ look }) => look.kind === "gain")) return false;
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
    const none: Hypothesis = { ...blank, logPrior: Math.log(NO_FAULT_SHARE), mean: this.healthy };
    return [
      none,
      ...this.faults.flatMap((fault) => this.#ways(fault, total).map((way) => ({ ...blank, ...way }))),
    ];
  }

  #ways(fault: Fault, total: number) {
    const seen = fault.ways.flatMap((way) => {
      if (this.#onlyGainsShow(way)) return [{ way, mean: this.healthy }];
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
      const [look, value, healthy] = [this.readings[k]!.look, this.values[k]!, this.healthy[k]!];
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
    const covariance = this.covariance(this.readings, seen, this.values, this.healthy, hypothesis);
    const r = this.values.map((value, k) => value - seen.mean[k]!);
    const fit = fitOf(r, covariance, this.ranges());
    if (fit === undefined) return;
    hypothesis.fit = fit;
    hypothesis.logWeight = hypothesis.logPrior + fit.logLikelihood;
    const { slope, within } = hypothesis;
    if (slope === undefined || within === undefined) return;
    const shift = within ** 2 * slope.reduce((sum, each, k) => sum + each * fit.weighted[k]!, 0);
    hypothesis.shift = Math.max(-FURTHEST * within, Math.min(FURTHEST * within, shift));
  }

  /** Where a slip may put a reading. */
  ranges(): Float64Array {
    return Float64Array.from(this.readings, ({ look }, k) => {
      if (look.kind === "voltage") return 1.2 * this.workshop.rail;
      return look.kind === "current" ? 10 * Math.abs(this.values[k]!) + 1e-3 : look.kind === "gain" ? 60 : 10;
    });
  }

  /** Whether none of the readings moves by what a meter shows: such a fault fits as nothing does. */
  #isSilent({ mean }: Hypothesis): boolean {
    return mean.every((value, k) => {
      const healthy = this.healthy[k]!;
      const { look } = this.readings[k]!;
      const { own } = noiseOf(look, this.values[k]!, healthy, healthy, this.conditions.accuracy);
      return Math.abs(value - healthy) < SILENT * own;
    });
  }
}

/** Sums of products of the effects, look by look: a square of side n. */
function products(effects: readonly Float64Array[], n: number): Float64Array {
  const sum = new Float64Array(n * n);
  effects.forEach((own, i) => {
    for (let j = 0; j <= i; j++) {
      const other = effects[j]!;
      let total = 0;
      for (let v = 0; v < own.length; v++) total += own[v]! * other[v]!;
      sum[i * n + j] = total;
    }
  });
  return sum;
}

/** What a look at each mode shows, in the order of the places; nothing if a mode shows nothing. */
function inAllModes(
  places: readonly Place[],
  see: (mode: string, looks: readonly Look[], taken: Float64Array) => Seen | undefined,
): Seen | undefined {
  const mean = new Float64Array(places.length);
  const effects: Float64Array[] = [];
  let spread = false;
  for (const mode of new Set(places.map((place) => place.mode))) {
    const own = places.flatMap((place, k) => (place.mode === mode ? [k] : []));
    const seen = see(
      mode,
      own.map((k) => places[k]!.look),
      Float64Array.from(own, (k) => places[k]!.value ?? Number.NaN),
    );
    if (seen === undefined) return undefined;
    spread = seen.effects !== undefined;
    own.forEach((k, m) => {
      mean[k] = seen.mean[m]!;
      if (seen.effects !== undefined) effects[k] = seen.effects[m]!;
    });
  }
  return spread ? { mean, effects } : { mean };
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

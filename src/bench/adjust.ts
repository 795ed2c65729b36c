import type { Circuit, Mode } from "../circuit/circuit.ts";
import { withPartStates } from "../circuit/conditions.ts";
import { ZERO_CELSIUS } from "../devices/constants.ts";
import { isSolved, OperatingPointSolver } from "../engine/operating-point.ts";
import { atOscillation, type Condition, type Looked, lookedWith, unitOf } from "./adjust/condition.ts";
import { Gauge } from "./adjust/gauge.ts";
import { type Knob, placeOf, valueAt } from "./adjust/knob.ts";
import { least, roots, type Sample, scan } from "./adjust/search.ts";
import type { Conditions } from "./conditions.ts";
import { oscillationFrequency } from "./oscillation.ts";
import { nearestPreferred, type Series } from "./preferred-values.ts";
import type { Failure } from "./results.ts";
import type { Read } from "./root.ts";
import { type Answer, chosenModes, networkIn } from "./run.ts";

/** A preferred value and what it gives. */
export interface PreferredValue {
  readonly series: Series;
  readonly value: number;
  /** Undefined where there is no operating point. */
  readonly achieved?: number;
}

/** What an adjustment found in one mode. `unit` is that of `achieved`, `target` and `curve.y`. */
export interface Adjustment {
  readonly mode: string;
  readonly part: string;
  readonly key: string;
  readonly condition: string;
  /** Where the condition is looked at, if that is where the circuit oscillates, Hz. */
  readonly oscillation_hertz?: number;
  /** Whether the condition is met; otherwise setting or value is where it comes nearest. */
  readonly met: boolean;
  /** As a share of the turn, 0 … 1. */
  readonly setting?: number;
  /** SI units. */
  readonly value?: number;
  readonly unit: string;
  readonly value_unit: string;
  readonly target?: number;
  readonly achieved: number;
  /** Other places that meet the condition as well. */
  readonly others: readonly number[];
  /** Of the E12 series, where the part comes in preferred values. */
  readonly preferred_value?: number;
  readonly preferred?: readonly PreferredValue[];
  /** The condition's quantity over the whole range; null where there is no operating point. */
  readonly curve: {
    readonly scale: Knob["scale"];
    readonly x: readonly number[];
    readonly y: readonly (number | null)[];
  };
}

/** Samples over the range: settings change slowly, decades take more. */
const SAMPLES = { linear: 101, logarithmic: 161 } as const;
/** How near a condition is met, relative to its target. */
const ACCURACY = 1e-9;
const ACCEPTED = 1e-6;
/** Where the target is 0, to so much of the unit. */
const ZERO = 1e-12;

/**
 * Turns `knob` until `condition` is met, in every mode asked for. A condition at the oscillation is looked at
 * where the circuit oscillates as it stands before the knob is turned; if no modes are named, in those that do.
 */
export function adjust(
  circuit: Circuit,
  knob: Knob,
  condition: Condition,
  conditions: Conditions = {},
): Answer<Adjustment> {
  const modes = chosenModes(circuit, conditions).map((mode) => ({
    mode,
    oscillation: atOscillation(condition.looked)
      ? oscillationFrequency(circuit, mode.name, conditions)
      : undefined,
  }));
  const oscillating = modes.filter(({ oscillation }) => oscillation !== undefined);
  const chosen = conditions.modes === undefined && oscillating.length > 0 ? oscillating : modes;
  const answers = chosen.map(({ mode, oscillation }): Found => {
    const looked = lookedWith(condition.looked, oscillation);
    if (looked === undefined) return { failure: still(mode, condition) };
    return new Bench(circuit, mode, knob, { ...condition, looked }, conditions, oscillation).answer();
  });
  return {
    results: answers.flatMap(({ result }) => (result === undefined ? [] : [result])),
    failures: answers.flatMap(({ failure }) => (failure === undefined ? [] : [failure])),
  };
}

interface Found {
  readonly result?: Adjustment;
  readonly failure?: Failure;
}

const still = (mode: Mode, { text }: Condition): Failure => ({
  kind: "no solution",
  mode: mode.name,
  message: `mode ${mode.name}: nothing oscillates, so ${text} has no frequency`,
  hint: "oscillation shows what grows in each mode; or write the frequency, as in at 52kHz",
});

/** One mode's circuit, with the knob and the gauge at hand. */
class Bench {
  readonly #mode: Mode;
  readonly #knob: Knob;
  readonly #condition: Condition;
  readonly #gauge: Gauge;
  readonly #base: Circuit;
  readonly #celsius: number;
  readonly #oscillation: number | undefined;
  readonly #solver: OperatingPointSolver;
  #last: Float64Array | undefined;

  constructor(
    circuit: Circuit,
    mode: Mode,
    knob: Knob,
    condition: Condition & { readonly looked: Looked<number> },
    conditions: Conditions,
    oscillation: number | undefined,
  ) {
    this.#mode = mode;
    this.#oscillation = oscillation;
    this.#knob = knob;
    this.#condition = condition;
    this.#gauge = new Gauge(condition.looked);
    // the structure must be that of a circuit in which the knob has a value
    const set = [...(conditions.set ?? []), { part: knob.part, key: knob.key, value: valueAt(knob, 0.5) }];
    this.#solver = new OperatingPointSolver(networkIn(circuit, mode, { ...conditions, set }));
    this.#base = this.#solver.network.circuit;
    this.#celsius = this.#solver.network.ambientKelvin - ZERO_CELSIUS;
  }

  /** What the gauge shows with the knob at `value`, found from the last point or, `cold`, from rest. */
  #shown(value: number, cold = false): number | undefined {
    const { part, key } = this.#knob;
    this.#solver.retune(withPartStates(this.#base, [{ part, key, value }]), this.#celsius);
    const point = this.#solver.solve(cold ? undefined : this.#last);
    if (!isSolved(point)) return undefined;
    this.#last = point.state.slice();
    const shown = this.#gauge.read(point);
    return Number.isFinite(shown) ? shown : undefined;
  }

  answer(): Found {
    const at = (x: number) => this.#shown(valueAt(this.#knob, x));
    const curve = scan(at, SAMPLES[this.#knob.scale]);
    if (curve.every(({ y }) => y === undefined)) return { failure: this.#nothing() };
    const condition = this.#condition;
    if (condition.aim !== "equal") {
      const sign = condition.aim === "least" ? 1 : -1;
      const best = least(signed(at, sign, 0), through(curve, sign, 0))!;
      return { result: this.#result(curve, best, true, []) };
    }
    return this.#meet(at, curve, condition.target);
  }

  #meet(at: (x: number) => number | undefined, curve: readonly Sample[], target: number): Found {
    const scale = Math.abs(target);
    const gap = signed(at, 1, target);
    const all = roots(gap, through(curve, 1, target), Math.max(ZERO, ACCURACY * scale));
    const met = all.filter((x) => {
      // what was found from its neighbour must also be found from rest, as after switch-on
      const shown = this.#shown(valueAt(this.#knob, x), true);
      return shown !== undefined && Math.abs(shown - target) <= Math.max(ZERO, ACCEPTED * scale);
    });
    const { present } = this.#knob;
    const from = present === undefined || !(present > 0) ? 0.5 : placeOf(this.#knob, present);
    const [nearest, ...others] = met.toSorted((a, b) => Math.abs(a - from) - Math.abs(b - from));
    if (nearest !== undefined) return { result: this.#result(curve, nearest, true, others) };
    const distance = (x: number) => {
      const y = gap(x);
      return y === undefined ? undefined : Math.abs(y);
    };
    const away = through(curve, 1, target).map(({ x, y }) => ({ x, y: y === undefined ? y : Math.abs(y) }));
    const result = this.#result(curve, least(distance, away)!, false, []);
    return { result, failure: this.#unmet() };
  }

  #result(curve: readonly Sample[], x: number, met: boolean, others: readonly number[]): Adjustment {
    const { part, key, scale, unit } = this.#knob;
    const value = valueAt(this.#knob, x);
    const condition = this.#condition;
    return {
      mode: this.#mode.name,
      part,
      key,
      condition: condition.text,
      ...(this.#oscillation !== undefined && { oscillation_hertz: this.#oscillation }),
      met,
      ...(key === "setting" ? { setting: value } : { value }),
      value_unit: unit,
      unit: unitOf(condition.looked),
      ...(condition.aim === "equal" && { target: condition.target }),
      achieved: this.#shown(value, true) ?? this.#shown(value)!,
      others: others.map((other) => valueAt(this.#knob, other)),
      ...(met && this.#preferred(value)),
      curve: {
        scale,
        x: curve.map((each) => valueAt(this.#knob, each.x)),
        y: curve.map(({ y }) => y ?? null),
      },
    };
  }

  /** The nearest preferred values, for what comes in such. */
  #preferred(value: number): Partial<Adjustment> {
    const { key } = this.#knob;
    const kind = this.#base.parts.find(({ name }) => name === this.#knob.part)?.kind ?? "";
    const sold = ["resistor", "capacitor", "electrolytic", "inductor", "potentiometer", "trimmer"].includes(
      kind,
    );
    if (!sold || !["resistance", "capacitance", "inductance"].includes(key)) return {};
    const preferred = (["E6", "E12", "E24"] as const).map((series): PreferredValue => {
      const nearest = nearestPreferred(value, series);
      const achieved = this.#shown(nearest, true);
      return { series, value: nearest, ...(achieved !== undefined && { achieved }) };
    });
    return { preferred, preferred_value: preferred[1]!.value };
  }

  #nothing(): Failure {
    const { part } = this.#knob;
    return {
      kind: "no solution",
      mode: this.#mode.name,
      message: `mode ${this.#mode.name}: nowhere in the range of ${part} is there anything to read for ${this.#condition.text}`,
      hint: "look at the mode with voltages or check first",
      part,
    };
  }

  #unmet(): Failure {
    const { part } = this.#knob;
    return {
      kind: "no solution",
      mode: this.#mode.name,
      message: `mode ${this.#mode.name}: nothing in the range of ${part} meets ${this.#condition.text}`,
      hint: "where it comes nearest is shown; another part may be at fault, or --from and --to widen the range",
      part,
    };
  }
}

const signed =
  (f: Read, sign: number, target: number): Read =>
  (x) => {
    const y = f(x);
    return y === undefined ? undefined : sign * (y - target);
  };

const through = (samples: readonly Sample[], sign: number, target: number): Sample[] =>
  samples.map(({ x, y }) => ({ x, y: y === undefined ? undefined : sign * (y - target) }));

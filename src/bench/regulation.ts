import type { Circuit, Mode, PartState } from "../circuit/circuit.ts";
import { withPartStates } from "../circuit/conditions.ts";
import type { Conditions } from "./conditions.ts";
import { failureOf } from "./failure.ts";
import { type Regulator, regulationPoint, speedAtRest, workingSpeed } from "./regulation/point.ts";
import type { RegulationCurve, RegulationPoint } from "./regulation/results.ts";
import type { Failure } from "./results.ts";
import { type Answer, chosenModes } from "./run.ts";
import type { Range } from "./spread/variables.ts";

export interface RegulationConditions extends Conditions {
  /** How many values of each quantity. */
  readonly points: number;
  /** EMF by battery, V; the first battery from half to full if there is none. */
  readonly batteries: Readonly<Record<string, Range>>;
  /** N·m; from nothing to four times the load (or drag) if not given. */
  readonly load?: Range;
}

/** How far a chart has come. */
export interface RegulationProgress {
  readonly mode: string;
  readonly against: string;
  readonly done: number;
  readonly of: number;
}

interface Sweep {
  readonly state: (value: number) => PartState;
  readonly against: string;
  readonly unit: RegulationCurve["unit"];
  readonly range: Range;
}

/**
 * Speed of a governed motor against battery voltage and against load, by runs in time, in every mode that
 * does not hold the governor. Yields now and then; whoever answers true ends it with what there is.
 */
export function* regulation(
  circuit: Circuit,
  conditions: RegulationConditions,
): Generator<RegulationProgress, Answer<RegulationCurve>, boolean | undefined> {
  const results: RegulationCurve[] = [];
  const failures: Failure[] = [];
  for (const mode of chosenModes(circuit, conditions)) {
    const found = regulatorIn(circuit, mode, conditions);
    if (found === undefined) continue;
    for (const sweep of sweeps(found, conditions)) {
      const curve = yield* follow(found, mode.name, sweep, conditions.points);
      if ("kind" in curve) failures.push(curve);
      else results.push(curve);
      if ("points" in curve && curve.points.length < conditions.points) return { results, failures };
    }
  }
  return { results, failures };
}

/** The first governor of the circuit that this mode leaves to its motor. */
function regulatorIn(circuit: Circuit, mode: Mode, conditions: RegulationConditions): Regulator | undefined {
  const standing = withPartStates(circuit, [...mode.states, ...(conditions.set ?? [])]);
  const governor = standing.parts.find(
    ({ kind, choices }) => kind === "governor" && choices.state === undefined,
  );
  if (governor?.choices.of === undefined) return undefined;
  const ambientCelsius = conditions.ambientCelsius ?? circuit.ambientCelsius;
  return {
    circuit: standing,
    motor: governor.choices.of,
    governor,
    conditions: { ambientCelsius, isothermal: conditions.isothermal ?? false },
  };
}

function sweeps({ circuit, motor }: Regulator, { batteries, load }: RegulationConditions): Sweep[] {
  const first = circuit.parts.find(({ kind }) => kind === "battery");
  const full = first?.values.emf ?? 0;
  const usual = first === undefined ? {} : { [first.name]: { from: full / 2, to: full } };
  const chosen = Object.keys(batteries).length > 0 ? batteries : usual;
  const { load: own = 0, drag = 0 } = circuit.parts.find(({ name }) => name === motor)?.values ?? {};
  return [
    ...Object.entries(chosen).map(
      ([part, range]): Sweep => ({
        state: (value) => ({ part, key: "emf", value }),
        against: part,
        unit: "volt",
        range,
      }),
    ),
    {
      state: (value) => ({ part: motor, key: "load", value }),
      against: `load of ${motor}`,
      unit: "newton-metre",
      range: load ?? { from: 0, to: 4 * (own || drag || 1e-3) },
    },
  ];
}

const withValue = (regulator: Regulator, sweep: Sweep, value: number): Regulator => ({
  ...regulator,
  circuit: withPartStates(regulator.circuit, [sweep.state(value)]),
});

function* follow(
  regulator: Regulator,
  mode: string,
  sweep: Sweep,
  count: number,
): Generator<RegulationProgress, RegulationCurve | Failure, boolean | undefined> {
  const { from, to } = sweep.range;
  const points: RegulationPoint[] = [];
  for (let k = 0; k < count; k++) {
    const value = from + ((to - from) * k) / (count - 1);
    const work = regulationPoint(withValue(regulator, sweep, value), value);
    let next = work.next();
    while (next.done !== true) {
      next = work.next(yield { mode, against: sweep.against, done: k, of: count });
    }
    if (next.value === undefined) break;
    if ("failure" in next.value) return failureOf(next.value, mode);
    points.push(next.value);
  }
  const { motor, governor } = regulator;
  const limit = limitOf(regulator, sweep);
  const said = { mode, motor, governor: governor.name, against: sweep.against, unit: sweep.unit };
  return { ...said, points, ...(limit !== undefined && { limit }) };
}

const HALVINGS = 40;

/** Where the speed with the contact as at rest passes the one that works it, by halving. */
function limitOf(regulator: Regulator, sweep: Sweep): number | undefined {
  const reaches = (value: number): boolean | undefined => {
    const speed = speedAtRest(withValue(regulator, sweep, value));
    return typeof speed === "number" ? Math.abs(speed) > workingSpeed(regulator.governor) : undefined;
  };
  let { from, to } = sweep.range;
  const [low, high] = [reaches(from), reaches(to)];
  if (low === undefined || high === undefined || low === high) return undefined;
  for (let k = 0; k < HALVINGS; k++) {
    const middle = (from + to) / 2;
    if (reaches(middle) === low) from = middle;
    else to = middle;
  }
  return (from + to) / 2;
}

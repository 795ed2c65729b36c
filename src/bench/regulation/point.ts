import type { Circuit, Part } from "../../circuit/circuit.ts";
import { withPartStates } from "../../circuit/conditions.ts";
import { growingFrequencies, pencilOf } from "../../engine/natural-frequencies.ts";
import { type Network, network, restingState } from "../../engine/network.ts";
import {
  isSolved,
  operatingPoint,
  type SolvedPoint,
  type UnsolvedPoint,
} from "../../engine/operating-point.ts";
import { SmallSignal } from "../../engine/small-signal.ts";
import { TimeRun } from "../../engine/time/run.ts";
import { isClosed } from "../../parts/governor.ts";
import { isStalled, RPM } from "../../parts/motor.ts";
import type { RegulationPoint } from "./results.ts";

/** A circuit with the motor and the governor looked at. */
export interface Regulator {
  readonly circuit: Circuit;
  readonly motor: string;
  readonly governor: Part;
  readonly conditions: { readonly ambientCelsius: number; readonly isothermal: boolean };
}

/** Whole periods of the contact that are averaged. */
const PERIODS = 2;
/** Share of its swing by which a voltage may be off: the speed comes out within hundredths of a revolution. */
const TOLERANCE = 3e-4;
/** So many steps at least while what grows goes through a radian: longer ones would step over a small swing. */
const STEPS_PER_RADIAN = 2;
/** Longest step, and longest run up to the first working of the contact, s. */
const LONGEST = 0.02;
const LONGEST_START = 60;
/** Once worked, the contact must come back within this share of the time that it took to be worked, or this, s. */
const PATIENCE = 1;
const LEAST_PATIENCE = 0.05;

/** Speed with the contact held as at rest, rpm, at direct current. */
export function speedAtRest(regulator: Regulator): number | UnsolvedPoint {
  const point = pointAtRest(regulator);
  return isSolved(point) ? speedIn(point.network, point.state, regulator.motor) : point;
}

const speedIn = ({ unknowns }: Network, state: Float64Array, motor: string): number =>
  (state[unknowns.speed.get(motor) ?? -1] ?? 0) / RPM;

const pointAtRest = (regulator: Regulator) => pointHeld(regulator, isClosed(regulator.governor));

function pointHeld(
  { circuit, governor, conditions }: Regulator,
  closed: boolean,
): SolvedPoint | UnsolvedPoint {
  const state = { part: governor.name, key: "state", value: closed ? "closed" : "open" };
  return operatingPoint(network(withPartStates(circuit, [state]), conditions));
}

/** Longest step while the contact is worked, s: what then begins to oscillate must be seen to begin. */
function longestWorked(regulator: Regulator): number {
  const point = pointHeld(regulator, !isClosed(regulator.governor));
  if (!isSolved(point)) return LONGEST;
  const growing = growingFrequencies(pencilOf(new SmallSignal(point)));
  const fastest = Math.max(
    0,
    ...growing.filter(({ im }) => im !== 0).map(({ re, im }) => Math.hypot(re, im)),
  );
  return Math.min(LONGEST, 1 / (STEPS_PER_RADIAN * fastest));
}

/** Speed that works the contact of a governor, rpm: the higher of its two. */
export const workingSpeed = ({ values }: Part): number => Math.max(values.opens ?? 0, values.closes ?? 0);

/** One point of the chart. Yields now and then; whoever answers true ends it, without a result. */
export function* regulationPoint(
  regulator: Regulator,
  value: number,
): Generator<undefined, RegulationPoint | UnsolvedPoint | undefined, boolean | undefined> {
  const { motor, governor } = regulator;
  const point = pointAtRest(regulator);
  if (!isSolved(point)) return point;
  const rpm = speedIn(point.network, point.state, motor);
  // in either direction of rotation
  if (Math.abs(rpm) > workingSpeed(governor)) return yield* watched(regulator, value);
  const index = point.network.circuit.parts.findIndex(({ name }) => name === motor);
  const amps = point.currents.amps[point.currents.start[index]!]!;
  const stalled = isStalled(point.network.circuit.parts[index]!, amps, rpm * RPM);
  return { value, rpm, held: stalled ? "stalled" : "too slow" };
}

/** Time and speed as they go, added up between the workings of the contact. */
class Log {
  least = Number.POSITIVE_INFINITY;
  greatest = 0;
  /** Revolutions, in rpm·s, since the contact was first worked, and their sum when it last was. */
  area = 0;
  areaAtWorking = 0;
  worked: number[] = [];
  back: number[] = [];

  step(seconds: number, rpm: number, before: { seconds: number; rpm: number }): void {
    if (this.worked.length === 0) return;
    this.area += ((rpm + before.rpm) / 2) * (seconds - before.seconds);
    this.least = Math.min(this.least, rpm);
    this.greatest = Math.max(this.greatest, rpm);
  }
}

/** Runs from rest until the contact has been worked often enough. */
function* watched(
  regulator: Regulator,
  value: number,
): Generator<undefined, RegulationPoint | undefined, boolean | undefined> {
  const { circuit, motor, governor, conditions } = regulator;
  const net = network(circuit, conditions);
  const longest = longestWorked(regulator);
  const options = { tolerance: TOLERANCE, longest: LONGEST, drive() {} };
  const run = new TimeRun(net, restingState(net), options);
  const rest = isClosed(governor) ? "opens" : "closes";
  const speed = () => Math.abs(speedIn(net, run.state, motor));
  const log = new Log();
  if (!run.turn([])) return undefined;
  for (let before = { seconds: 0, rpm: 0 }; log.worked.length <= PERIODS; ) {
    const first = log.worked[0] ?? 0;
    const last = Math.max(log.worked.at(-1) ?? 0, log.back.at(-1) ?? 0);
    const patience = first === 0 ? LONGEST_START : Math.max(LEAST_PATIENCE, PATIENCE * first);
    if (run.seconds - last > patience) return { value, held: "runs away", rpm: speed() };
    if (!run.step(last + 2 * patience)) return undefined;
    const now = { seconds: run.seconds, rpm: speed() };
    log.step(now.seconds, now.rpm, before);
    before = now;
    for (const { what, seconds } of run.happenings.splice(0)) {
      const isWorked = what === `${governor.name} ${rest}`;
      options.longest = isWorked ? longest : LONGEST;
      if (isWorked) log.areaAtWorking = log.area;
      (isWorked ? log.worked : log.back).push(seconds);
    }
    if ((yield undefined) === true) return undefined;
  }
  return regulated(log, value);
}

function regulated({ worked, back, areaAtWorking, least, greatest }: Log, value: number): RegulationPoint {
  const span = worked.at(-1)! - worked[0]!;
  const open = worked.slice(0, -1).reduce((sum, seconds, k) => sum + back[k]! - seconds, 0);
  return {
    value,
    held: "regulated",
    rpm: areaAtWorking / span,
    least_rpm: least,
    greatest_rpm: greatest,
    worked_share: open / span,
    periods_per_second: (worked.length - 1) / span,
  };
}

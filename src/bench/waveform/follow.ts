import type { Circuit, Mode } from "../../circuit/circuit.ts";
import { TimeRun } from "../../engine/time/run.ts";
import type { Failure } from "../results.ts";
import { networkIn } from "../run.ts";
import { brokenBy } from "./broken.ts";
import { type PlannedEvent, type Shown, TOLERANCE, type WaveformConditions } from "./conditions.ts";
import { Contacts } from "./contacts.ts";
import { pathReadings, Snapshots } from "./gain.ts";
import { LongestStep } from "./longest.ts";
import { readTrace } from "./readings.ts";
import { Recorder } from "./recorder.ts";
import type { Mark, TraceEnvelope, Waveform } from "./results.ts";
import { Sources } from "./sources.ts";
import { powerBefore, startState } from "./start.ts";
import { traceOf } from "./traces.ts";

/** How far a run has come, told after every step. */
export interface Progress {
  readonly mode: string;
  readonly seconds: number;
  readonly of: number;
}

/**
 * Runs a circuit in one mode from start to end. Yields after every step; whoever answers true stops it, and
 * gets what has been computed so far.
 */
export function* follow(
  circuit: Circuit,
  mode: Mode,
  conditions: WaveformConditions,
): Generator<Progress, Waveform | Failure, boolean | undefined> {
  const events = conditions.events.toSorted((a, b) => a.seconds - b.seconds);
  const set = [...(conditions.set ?? []), ...powerBefore(circuit, events)];
  const network = networkIn(circuit, mode, { ...conditions, set });
  const state = startState(network, conditions.start, mode.name);
  if (!(state instanceof Float64Array)) return state;
  const sources = new Sources(network.circuit, conditions.tones, events);
  const steps = { tolerance: conditions.tolerance ?? TOLERANCE, longest: 0, drive: sources.drive };
  const run = new TimeRun(network, state, steps);
  return yield* new Course(run, steps, sources, events, mode.name, conditions).run();
}

/** One run with its events, and what is written down of it. */
class Course {
  readonly #run: TimeRun;
  readonly #steps: { longest: number };
  readonly #longest: LongestStep;
  readonly #sources: Sources;
  readonly #events: readonly PlannedEvent[];
  readonly #mode: string;
  readonly #conditions: WaveformConditions;
  readonly #recorder: Recorder;
  readonly #contacts: Contacts;
  readonly #snapshots: Snapshots;
  readonly #marks: Mark[] = [];
  readonly #isothermal: boolean;
  #next = 0;

  constructor(
    run: TimeRun,
    steps: { longest: number },
    sources: Sources,
    events: readonly PlannedEvent[],
    mode: string,
    conditions: WaveformConditions,
  ) {
    const { network } = run;
    this.#run = run;
    this.#steps = steps;
    this.#longest = new LongestStep(conditions);
    this.#sources = sources;
    this.#events = events;
    this.#mode = mode;
    this.#conditions = conditions;
    // what starts cold stays cold, and is compared with the same
    this.#isothermal = conditions.isothermal === true || conditions.start.from === "rest";
    const shown = conditions.shown.length > 0 ? conditions.shown : everything(network.circuit);
    const count = Math.round(conditions.seconds / conditions.every);
    this.#recorder = new Recorder(
      network,
      shown.map((each) => traceOf(network, each)),
      conditions.seconds / count,
      count,
    );
    this.#contacts = new Contacts(network);
    this.#snapshots = new Snapshots(run, mode, conditions.seconds);
    run.witness = (points) => {
      this.#recorder.take(points);
      this.#contacts.step(points);
    };
  }

  *run(): Generator<Progress, Waveform | Failure, boolean | undefined> {
    const { seconds: end } = this.#conditions;
    if (!this.#takeEvents()) return this.#stuck();
    while (this.#run.seconds < end) {
      const until = Math.min(end, this.#events[this.#next]?.seconds ?? end);
      if (!this.#run.step(until)) return this.#stuck();
      this.#takeHappenings();
      if (this.#conditions.tones.length === 0) this.#snapshots.take();
      if (this.#run.seconds >= until && until < end && !this.#takeEvents()) return this.#stuck();
      const stopped = yield { mode: this.#mode, seconds: this.#run.seconds, of: end };
      if (stopped === true && this.#run.seconds < end) return this.#result(this.#run.seconds);
    }
    this.#recorder.finish(this.#run.integrator.points);
    return this.#result();
  }

  /** Does what is planned for now, in the order given; at the start, connects the circuit. */
  #takeEvents(): boolean {
    const now = this.#run.seconds;
    const due = this.#events.slice(this.#next).filter(({ seconds }) => seconds <= now);
    for (const event of due) {
      this.#sources.happen(event, this.#run.circuit);
      this.#marks.push({ what: event.what, seconds: event.seconds });
    }
    this.#next += due.length;
    if (due.length > 0) this.#contacts.restart();
    const { done, parts } = brokenBy(this.#run, () => this.#run.turn(due.flatMap(({ states }) => states)));
    this.#marks.push(...parts.map((part) => ({ what: `current of ${part} breaks off`, seconds: now })));
    this.#steps.longest = this.#longest.in(this.#run.circuit, this.#next);
    this.#takeHappenings();
    if (due.length > 0) this.#snapshots.restart();
    return done;
  }

  #takeHappenings(): void {
    const { happenings } = this.#run;
    if (happenings.length === 0) return;
    this.#marks.push(...happenings);
    this.#contacts.take(happenings);
    this.#run.happenings = [];
    this.#steps.longest = this.#longest.in(this.#run.circuit, this.#next);
  }

  #stuck(): Failure {
    const { seconds, contradictory } = this.#run;
    // what was done just before is named, with its part for the place in the netlist
    const done = this.#events.findLast((event, k) => k < this.#next && event.seconds === seconds);
    const part = done?.keyed?.part ?? done?.states[0]?.part;
    const when = `at t = ${Number(seconds.toPrecision(6))}${seconds === 0 ? "" : " s"}${done ? `, after ${done.what}` : ""}`;
    const displaced = seconds === 0 && this.#conditions.start.displaced.length > 0;
    const nearer = displaced ? "displace the nets by less" : "ask for a larger --tolerance";
    return {
      kind: "no solution",
      mode: this.#mode,
      message: contradictory
        ? `mode ${this.#mode}: the circuit has no solution ${when}`
        : `mode ${this.#mode}: no solution was found ${when}`,
      hint: contradictory
        ? "look for sources and contacts without resistance across each other, or a part that switches to and fro at once"
        : `the circuit may have one all the same: ${nearer}`,
      ...(part !== undefined && { part }),
    };
  }

  #result(interrupted?: number): Waveform {
    const { seconds, length } = this.#recorder.outputs;
    const [currents, speeds] = [this.#written("current"), this.#written("speed")];
    const envelopes = this.#envelopes();
    const contacts = this.#contacts.readings(this.#run.circuit);
    return {
      mode: this.#mode,
      seconds: [...seconds.subarray(0, length)],
      nets: this.#written("net"),
      ...(Object.keys(currents).length > 0 && { currents }),
      ...(Object.keys(speeds).length > 0 && { speeds_rpm: speeds }),
      marks: this.#marks,
      readings: this.#readings(),
      ...(Object.keys(envelopes).length > 0 && { envelopes }),
      ...(contacts.length > 0 && { contacts }),
      paths: pathReadings(this.#snapshots, this.#isothermal),
      ...(interrupted !== undefined && { interrupted_seconds: interrupted }),
    };
  }

  /** Values written down of all traces of a kind: nets by shown name, others by part. */
  #written(kind: Shown["kind"]): Record<string, readonly number[]> {
    const { traces, outputs } = this.#recorder;
    return Object.fromEntries(
      traces.flatMap(({ shown }, k) => {
        if (shown.kind !== kind) return [];
        const name = "part" in shown ? shown.part : shown.name;
        return [[name, [...outputs.values[k]!.subarray(0, outputs.length)]]];
      }),
    );
  }

  #readings(): Waveform["readings"] {
    const { traces, points, envelopes } = this.#recorder;
    const { tones } = this.#conditions;
    const since = this.#events[this.#next - 1]?.seconds;
    return Object.fromEntries(
      traces.map(({ shown }, k) => [shown.name, readTrace(points, k, envelopes[k]!.extremes, tones, since)]),
    );
  }

  #envelopes(): Record<string, TraceEnvelope> {
    const { traces, outputs, envelopes, every } = this.#recorder;
    return Object.fromEntries(
      traces.flatMap(({ shown }, k) => {
        const { isCoarse, least, greatest, mostTurns } = envelopes[k]!;
        if (!isCoarse) return [];
        const list = (values: Float64Array) => [...values.subarray(0, outputs.length)];
        const about = mostTurns > 1 && { about_hertz: mostTurns / (2 * every) };
        return [[shown.name, { least: list(least), greatest: list(greatest), ...about }]];
      }),
    );
  }
}

/** All nets, and the speed of every motor. */
const everything = ({ nets, parts }: Circuit): Shown[] => [
  ...nets.flatMap(({ name }, net) => (net === 0 ? [] : [{ kind: "net" as const, net, name }])),
  ...parts.flatMap(({ name, kind }) =>
    kind === "motor" ? [{ kind: "speed" as const, part: name, name: `${name} speed` }] : [],
  ),
];

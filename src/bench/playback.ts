import type { Circuit, Part } from "../circuit/circuit.ts";
import { modesOf, withPartStates } from "../circuit/conditions.ts";
import { amplifierDecibels, riseDecibels, type TimeConstants } from "../tape/equalisation.ts";
import { limitsAt, type Placed, place, type ToleranceField } from "../tape/fields.ts";
import { headDecibels } from "../tape/head-losses.ts";
import type { Conditions } from "./conditions.ts";
import { type ResponseConditions, response } from "./response.ts";
import type { Failure, PathResponse } from "./results.ts";
import type { Answer } from "./run.ts";

/** A tape: what is recorded on it, and how fast it runs. */
export interface PlaybackConditions extends ResponseConditions {
  readonly standard: TimeConstants & { readonly name: string };
  /** Tape speed, m/s. Without one no length of the head is taken into account. */
  readonly speed?: number;
  /** The frequency that deviations refer to, Hz. */
  readonly reference: number;
  readonly field: ToleranceField;
}

/** How a playback path does with a tape. Lists are as long as `hertz`; dB. */
export interface PlaybackOfTape {
  readonly standard: string;
  /** null: the standard has no bass term. */
  readonly low_seconds: number | null;
  readonly high_seconds: number;
  readonly metres_per_second: number | null;
  readonly reference_hertz: number;
  /** What gap, spacing and coating lose; 0 without them. */
  readonly head_db: readonly number[];
  /** The gain from the head's EMF at which the tape would play back flat. */
  readonly target_db: readonly number[];
  /** What the tape plays back, re the reference frequency: gain less target. */
  readonly deviation_db: readonly number[];
  readonly field: {
    readonly name: string;
    readonly source: string;
    /** By how much the field is shifted to suit the curve; 0 where its place is fixed. */
    readonly shift_db: number;
    /** Its limits for the deviation; null outside its range. */
    readonly least_db: readonly (number | null)[];
    readonly greatest_db: readonly (number | null)[];
  };
  /** Inside the field at all the frequencies that lie in its range; null if none does. */
  readonly within: boolean | null;
  /** The frequency that limits: there the curve is nearest to an edge, or farthest outside. */
  readonly limiting_hertz: number | null;
  /** From the curve to that edge; below 0 outside. */
  readonly margin_db: number | null;
}

/** A path from a head, fed with recorded flux. */
export interface PlaybackResponse extends PathResponse {
  readonly tape: PlaybackOfTape;
}

/** Whether a path starts at a tape head. */
export const startsAtHead = (circuit: Circuit, from: string): boolean =>
  circuit.parts.some(({ name, kind }) => name === from && kind === "head");

/**
 * Every path that starts at a head, played from a tape recorded by a standard: flux falls as the standard
 * says, EMF rises with frequency, and gap, spacing and coating lose what they lose. What the inductance of
 * the head does with the capacitances and resistances about it is in the circuit's own solution.
 */
export function playback(
  circuit: Circuit,
  conditions: PlaybackConditions,
  hertz: readonly number[],
): Answer<PlaybackResponse> {
  const paths = circuit.paths
    .filter(({ name, from }) => (conditions.paths?.includes(name) ?? true) && startsAtHead(circuit, from))
    .map(({ name }) => name);
  const { results, failures } = response(circuit, { ...conditions, paths }, [...hertz, conditions.reference]);
  const heard = results.filter((path) => path.gain_db.at(-1)! > SILENT_DB);
  const silent = results.filter((path) => !heard.includes(path));
  return {
    results: heard.map((path) => withTape(path, headOf(circuit, path, conditions), conditions)),
    failures: [...failures, ...silent.map((path) => nothingHeard(path, conditions.reference))],
  };
}

/** Nobody calls this an output, dB. */
const SILENT_DB = -300;

/** The head as it stands in the mode of the path, with what was set. */
function headOf(circuit: Circuit, { from, mode }: PathResponse, { set = [] }: Conditions): Part | undefined {
  const states = modesOf(circuit).find(({ name }) => name === mode)?.states ?? [];
  return withPartStates(circuit, [...states, ...set]).parts.find(({ name }) => name === from);
}

function nothingHeard({ path, mode, from, to }: PathResponse, reference: number): Failure {
  return {
    kind: "no solution",
    mode,
    message: `mode ${mode}: nothing of ${from} arrives at ${to} at ${reference} Hz, so that ${path} has no level to refer to`,
    hint: "look at the switches and the contacts between them",
    part: from,
  };
}

/** The last frequency of `path` is the reference; it is taken off again. */
function withTape(
  path: PathResponse,
  head: Part | undefined,
  conditions: PlaybackConditions,
): PlaybackResponse {
  const { standard, speed, reference } = conditions;
  const lost = (f: number) => (speed === undefined ? 0 : headDecibels(head?.values ?? {}, f, speed));
  const target = (f: number) => amplifierDecibels(standard, f) - lost(f);
  const offset = path.gain_db.at(-1)! - target(reference);
  const own = withoutLast(path);
  const targets = own.hertz.map((f) => target(f) + offset);
  const deviations = own.gain_db.map((gain, i) => gain - targets[i]!);
  return {
    ...own,
    tape: {
      standard: standard.name,
      low_seconds: Number.isFinite(standard.low) ? standard.low : null,
      high_seconds: standard.high,
      metres_per_second: speed ?? null,
      reference_hertz: reference,
      head_db: own.hertz.map((f) => lost(f)),
      target_db: targets,
      deviation_db: deviations,
      ...placed(conditions.field, own.hertz, deviations),
    },
  };
}

function withoutLast(path: PathResponse): PathResponse {
  const { hertz, gain_db, phase_degrees, real, imag } = path;
  return {
    ...path,
    hertz: hertz.slice(0, -1),
    gain_db: gain_db.slice(0, -1),
    phase_degrees: phase_degrees.slice(0, -1),
    real: real.slice(0, -1),
    imag: imag.slice(0, -1),
  };
}

function placed(field: ToleranceField, hertz: readonly number[], deviations: readonly number[]) {
  const points = hertz.map((f, i) => ({ hertz: f, decibels: deviations[i]! }));
  const where: Placed | undefined = place(field, points);
  const shift = where?.shift ?? 0;
  const limits = hertz.map((f) => limitsAt(field, f));
  return {
    field: {
      name: field.name,
      source: field.source,
      shift_db: shift,
      least_db: limits.map((band) => (band === undefined ? null : band.least + shift)),
      greatest_db: limits.map((band) => (band === undefined ? null : band.greatest + shift)),
    },
    within: where === undefined ? null : where.margin >= 0,
    limiting_hertz: where?.hertz ?? null,
    margin_db: where?.margin ?? null,
  };
}

/**
 * A response that is solved already, as the tape sees it; undefined where the reference frequency is not among its
 * own or nothing is heard there.
 */
export function asPlayed(
  path: PathResponse,
  head: Part | undefined,
  conditions: PlaybackConditions,
): PlaybackResponse | undefined {
  const at = path.hertz.indexOf(conditions.reference);
  if (at < 0 || !(path.gain_db[at]! > SILENT_DB)) return undefined;
  const more = (list: readonly number[]) => [...list, list[at]!];
  const { hertz, gain_db, phase_degrees, real, imag } = path;
  const whole = { phase_degrees: more(phase_degrees), real: more(real), imag: more(imag) };
  return withTape({ ...path, hertz: more(hertz), gain_db: more(gain_db), ...whole }, head, conditions);
}

/** What a path that starts at this head adds to its own curve when flux is the input, dB re 1 kHz. */
export const fluxToEmfDecibels = (head: Part, hertz: number, speed: number | undefined): number =>
  riseDecibels(hertz) + (speed === undefined ? 0 : headDecibels(head.values, hertz, speed));

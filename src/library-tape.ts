/** The library's questions about tape. */
import { compare as against, type Comparison, type PathInMode } from "./bench/compare.ts";
import type { Conditions } from "./bench/conditions.ts";
import { type PlaybackResponse, playback as played, startsAtHead } from "./bench/playback.ts";
import { preferredFrequencies } from "./bench/response.ts";
import type { Answer } from "./bench/run.ts";
import type { Circuit } from "./circuit/circuit.ts";
import { modesOf } from "./circuit/conditions.ts";
import { checkNames, checkPositive } from "./library-names.ts";
import { PORTABLE, type ToleranceField } from "./tape/fields.ts";
import type { LossCurve } from "./tape/loss-curve.ts";
import { preferredBetween } from "./tape/preferred.ts";
import { findStandard, namesAt, readTimeConstants } from "./tape/standards.ts";

const REFERENCE = 1000;

export interface PlaybackOptions extends Conditions {
  /** A standard by name, with `speed`, or time constants in microseconds: `3180/120`, `inf/70`. */
  readonly standard: string;
  /** Tape speed, m/s: 0.0953. Without it neither names of standards nor losses of the head. */
  readonly speed?: number;
  /** Deviations refer to it, Hz; 1 kHz if not given. */
  readonly reference?: number;
  /** ±3 dB if not given. */
  readonly field?: ToleranceField;
  /** Hz; the preferred frequencies from 20 Hz to 20 kHz if not given. */
  readonly hertz?: readonly number[];
  /** Names of paths that start at a head; all if not given. */
  readonly paths?: readonly string[];
}

/**
 * Every path from a head, played from a tape recorded by a standard: gain, the gain that would play it flat,
 * deviation in dB, and what limits. Throws a RangeError on a mode, a path or a standard that there is not.
 */
export function playback(circuit: Circuit, options: PlaybackOptions): Answer<PlaybackResponse> {
  const { speed, reference = REFERENCE, field = PORTABLE, hertz = preferredBetween(20, 20_000) } = options;
  checkNames("mode", options.modes, modesOf(circuit));
  const heads = circuit.paths.filter(({ from }) => startsAtHead(circuit, from));
  checkNames("path from a head called", options.paths, heads);
  checkPositive("a frequency", [reference, ...hertz]);
  if (speed !== undefined) checkPositive("a speed", [speed]);
  const standard = standardOf(options.standard, speed);
  return played(circuit, { ...options, standard, reference, field }, hertz);
}

function standardOf(name: string, speed: number | undefined) {
  const constants = readTimeConstants(name);
  const found =
    constants === undefined ? speed !== undefined && findStandard(name, speed) : { name, ...constants };
  if (found) return found;
  if (speed === undefined) throw new RangeError(`the standard "${name}" needs the speed of the tape`);
  const known = namesAt(speed).join(", ") || "none";
  throw new RangeError(`there is no standard "${name}" at ${speed} m/s; known there: ${known}`);
}

export interface ComparisonOptions extends Omit<Conditions, "modes"> {
  /** Every curve is 0 dB there, Hz; 1 kHz if not given. */
  readonly reference?: number;
  /** Tape speed, m/s, for the losses of a head. */
  readonly speed?: number;
  /** What the medium loses, dB, in ascending frequency. */
  readonly tapeLoss?: LossCurve;
  /** Hz; 20 Hz to 20 kHz, six to the octave, if not given. */
  readonly hertz?: readonly number[];
}

/** A path by name, and its mode where it does not name one itself. */
export interface ComparedOption {
  readonly path: string;
  readonly mode?: string;
}

/**
 * Two paths against each other, their sum, the whole pass, and what each switched part does to both. Throws a
 * RangeError on a path or mode there is not, and on a path that leaves its mode open.
 */
export function compare(
  circuit: Circuit,
  pair: readonly [ComparedOption, ComparedOption],
  options: ComparisonOptions = {},
): Answer<Comparison> {
  const { reference = REFERENCE, hertz } = options;
  const at = hertz ?? preferredFrequencies({ from: 20, to: 20_000, pointsPerOctave: 6 });
  checkPositive("a frequency", [reference, ...at]);
  if (options.speed !== undefined) checkPositive("a speed", [options.speed]);
  const [first, second] = pair;
  const both = [inMode(circuit, first), inMode(circuit, second)] as const;
  return against(circuit, both, { ...options, reference }, at);
}

function inMode(circuit: Circuit, { path: name, mode: asked }: ComparedOption): PathInMode {
  checkNames("path", [name], circuit.paths);
  const path = circuit.paths.find((each) => each.name === name)!;
  const modes = modesOf(circuit);
  const mode = asked ?? path.mode ?? (modes.length === 1 ? modes[0]!.name : undefined);
  if (mode === undefined) throw new RangeError(`${name} is followed in every mode: name one`);
  checkNames("mode", [mode], modes);
  if (path.mode !== undefined && path.mode !== mode)
    throw new RangeError(`${name} is followed in mode ${path.mode}, not in ${mode}`);
  return { path, mode };
}

import type { Circuit, SignalPath } from "../circuit/circuit.ts";
import { type LossCurve, lossAt } from "../tape/loss-curve.ts";
import { effectsOf, LEAST_DB, type Side, type SwitchedEffect } from "./compare/effects.ts";
import type { Conditions } from "./conditions.ts";
import { fluxToEmfDecibels, startsAtHead } from "./playback.ts";
import { sweepPaths } from "./response.ts";
import type { Failure, PathResponse } from "./results.ts";
import { type Answer, inEachMode } from "./run.ts";

/** A path in a mode. */
export interface PathInMode {
  readonly path: SignalPath;
  readonly mode: string;
}

export interface CompareConditions extends Conditions {
  /** The frequency at which every curve is 0 dB, Hz. */
  readonly reference: number;
  /** Tape speed, m/s: counts the lengths of a head that a path starts from. */
  readonly speed?: number;
  readonly tapeLoss?: LossCurve;
}

/** One of the two curves, dB re the reference frequency. */
export interface ComparedPath {
  readonly path: string;
  readonly mode: string;
  readonly from: string;
  readonly to: string;
  readonly quantity: PathResponse["quantity"];
  /** Gain at the reference frequency, dB. */
  readonly reference_db: number;
  readonly gain_db: readonly number[];
}

/** Two paths against each other. Lists are as long as `hertz`; dB re the reference frequency. */
export interface Comparison {
  readonly paths: readonly [ComparedPath, ComparedPath];
  readonly reference_hertz: number;
  readonly hertz: readonly number[];
  /** First less second. */
  readonly difference_db: readonly number[];
  /** First and second: the equalisation of a whole pass. */
  readonly sum_db: readonly number[];
  /** EMF of the heads that paths start from, for constant flux: 6 dB an octave, less their losses. */
  readonly head_db: readonly number[];
  /** Of the medium, from the file; null outside it. Without a file there is none. */
  readonly tape_loss_db?: readonly (number | null)[];
  /** Sum and head, less the loss of the medium: what a recording plays back. */
  readonly whole_pass_db: readonly (number | null)[];
  /** Where the curves lie farthest apart, the farthest first. */
  readonly apart: readonly { readonly hertz: number; readonly difference_db: number }[];
  readonly switched: readonly SwitchedEffect[];
}

/** Two paths, their sum, and what the parts between which the modes switch do to each. */
export function compare(
  circuit: Circuit,
  pair: readonly [PathInMode, PathInMode],
  conditions: CompareConditions,
  hertz: readonly number[],
): Answer<Comparison> {
  const modes = [...new Set(pair.map(({ mode }) => mode))];
  const { results, failures } = inEachMode(circuit, { ...conditions, modes }, (solved) => ({
    results: [solved],
    failures: [],
  }));
  const solved = pair.map(({ mode }) => results.find((each) => each.mode.name === mode));
  const [first, second] = solved;
  if (first === undefined || second === undefined) return { results: [], failures };
  const sides = [
    { ...pair[0], solved: first },
    { ...pair[1], solved: second },
  ] as const;
  return comparison(sides, conditions, hertz);
}

type Sides = readonly [Side, Side];

function comparison(
  sides: Sides,
  conditions: CompareConditions,
  hertz: readonly number[],
): Answer<Comparison> {
  const curves: ComparedPath[] = [];
  for (const side of sides) {
    const curve = curveOf(side, conditions.reference, hertz);
    if ("message" in curve) return { results: [], failures: [curve] };
    curves.push(curve);
  }
  const [a, b] = [curves[0]!, curves[1]!];
  const difference = a.gain_db.map((gain, i) => gain - b.gain_db[i]!);
  const sum = a.gain_db.map((gain, i) => gain + b.gain_db[i]!);
  const head = headOf(sides, conditions, hertz);
  const loss = lossOf(conditions, hertz);
  return {
    results: [
      {
        paths: [a, b],
        reference_hertz: conditions.reference,
        hertz: [...hertz],
        difference_db: difference,
        sum_db: sum,
        head_db: head,
        ...(loss !== undefined && { tape_loss_db: loss }),
        whole_pass_db: sum.map((level, i) => less(level + head[i]!, loss === undefined ? 0 : loss[i]!)),
        apart: farthest(hertz, difference),
        switched: effectsOf(sides, conditions.reference, hertz),
      },
    ],
    failures: [],
  };
}

const less = (level: number, loss: number | null): number | null => (loss === null ? null : level - loss);

/** Below this there is no output, dB. */
const SILENT_DB = -300;

/** A path re its own gain at the reference; a failure where it has none. */
function curveOf(
  { path, mode, solved }: Side,
  reference: number,
  hertz: readonly number[],
): ComparedPath | Failure {
  const { results, failures } = sweepPaths(solved, [path], [...hertz, reference]);
  const [result] = results;
  if (result === undefined) return failures[0]!;
  const level = result.gain_db.at(-1)!;
  if (level <= SILENT_DB) {
    const message = `mode ${mode}: ${path.name} has no output at ${reference} Hz to compare`;
    return { kind: "no solution", mode, message, part: path.from };
  }
  return {
    path: path.name,
    mode,
    from: result.from,
    to: result.to,
    quantity: result.quantity,
    reference_db: level,
    gain_db: result.gain_db.slice(0, -1).map((gain) => gain - level),
  };
}

/** Flux to EMF of every head that a path starts from, dB re the reference. */
function headOf(sides: Sides, { reference, speed }: CompareConditions, hertz: readonly number[]): number[] {
  const heads = sides.flatMap(({ path, solved: { circuit } }) =>
    startsAtHead(circuit, path.from) ? circuit.parts.filter(({ name }) => name === path.from) : [],
  );
  const level = (f: number) => heads.reduce((sum, head) => sum + fluxToEmfDecibels(head, f, speed), 0);
  return hertz.map((f) => level(f) - level(reference));
}

/** What the medium loses, dB re the reference, or re its nearest frequency if it does not reach so far. */
function lossOf({ tapeLoss, reference }: CompareConditions, hertz: readonly number[]) {
  if (tapeLoss === undefined) return undefined;
  const nearest = [...tapeLoss].sort(
    (a, b) => Math.abs(Math.log(a.hertz / reference)) - Math.abs(Math.log(b.hertz / reference)),
  )[0];
  const zero = lossAt(tapeLoss, reference) ?? nearest?.decibels ?? 0;
  return hertz.map((f) => {
    const loss = lossAt(tapeLoss, f);
    return loss === undefined ? null : loss - zero;
  });
}

/** How many frequencies are named at which two curves lie apart. */
const NAMED = 3;

/** Peaks of the distance between two curves, the farthest first; none nearer than a tenth of a decibel. */
function farthest(hertz: readonly number[], difference: readonly number[]) {
  const order = hertz.map((_, i) => i).sort((a, b) => hertz[a]! - hertz[b]!);
  const size = (k: number) => Math.abs(difference[order[k] ?? -1] ?? 0);
  return order
    .map((i, k) => ({ i, k }))
    .filter(({ k }) => size(k) >= LEAST_DB && size(k) > size(k - 1) && size(k) >= size(k + 1))
    .sort((a, b) => size(b.k) - size(a.k))
    .slice(0, NAMED)
    .map(({ i }) => ({ hertz: hertz[i]!, difference_db: difference[i]! }));
}

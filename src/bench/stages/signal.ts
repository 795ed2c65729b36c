/** Where the signals of the paths go: into which pin of each transistor, out of which, and in what order. */
import type { Circuit, PathEnd, SignalPath } from "../../circuit/circuit.ts";
import type { SmallSignal } from "../../engine/small-signal.ts";
import { kindOf } from "../../parts/index.ts";
import {
  BASE,
  COLLECTOR,
  controlVoltage,
  EMITTER,
  type LinearCircuit,
  type PlacedTransistor,
} from "./linear-circuit.ts";
import { minus, type Phasor, plus, scaled, size, times, ZERO } from "./phasor.ts";
import type { Transmission } from "./transmission.ts";

/** The sources whose signals are followed: those of the mode's paths, or else all there are. */
export function signalSources(circuit: Circuit, paths: readonly SignalPath[]): readonly number[] {
  const named = new Set(paths.map(({ from }) => from));
  return circuit.parts.flatMap((part, k) =>
    (named.size > 0 ? named.has(part.name) : kindOf(part).source === true) ? [k] : [],
  );
}

/** What moves a transistor's generator: its place in the order of the signal. */
export interface Drive {
  /** The source that moves it most (index into `Circuit.parts`); none where no signal comes. */
  readonly source?: number;
  /** The generator's current for 1 V of EMF there, A. */
  readonly current: Phasor;
  /** Place in the order: 0 where the source itself drives it. */
  readonly rank: number;
}

/** Less than this of the EMF at b′ to e is no signal. */
const LEAST_SIGNAL = 1e-9;

/** Generator currents a that the source alone would drive, and those that flow: (1 + L)·I = a. */
function currents(circuit: LinearCircuit, { inverse }: Transmission, source: number) {
  const solved = circuit.restingSource(source);
  const alone = circuit.transistors.map((one) => scaled(controlVoltage(solved, one), one.gm));
  const flowing = inverse.map((row) => row.reduce((sum, b, k) => plus(sum, times(b, alone[k]!)), ZERO));
  return { source, alone, flowing };
}

/** Which generator (or the source, −1) contributes most to that of transistor `k`, itself left out. */
function predecessor(k: number, links: Transmission["links"], alone: Phasor[], flowing: Phasor[]): number {
  let best = -1;
  let most = size(alone[k]!);
  links[k]!.forEach((link, j) => {
    const contribution = size(times(link, flowing[j]!));
    if (j !== k && contribution > most) [best, most] = [j, contribution];
  });
  return best;
}

/** How many transistors stand before `k`; in a ring, as many as there are in it. */
function rankOf(k: number, before: readonly number[]): number {
  const seen = new Set<number>();
  let at = k;
  while (before[at]! >= 0 && !seen.has(at)) {
    seen.add(at);
    at = before[at]!;
  }
  return seen.size;
}

/** For each transistor, its drive by the sources at the frequency of `at`. */
export function drives(circuit: LinearCircuit, at: Transmission, sources: readonly number[]): Drive[] {
  const cases = sources.map((source) => {
    const found = currents(circuit, at, source);
    const before = circuit.transistors.map((_, k) => predecessor(k, at.links, found.alone, found.flowing));
    return { ...found, before };
  });
  return circuit.transistors.map(({ gm }, k) => {
    const best = cases.toSorted((a, b) => size(b.flowing[k]!) - size(a.flowing[k]!))[0];
    if (best === undefined || size(best.flowing[k]!) < LEAST_SIGNAL * gm) return { current: ZERO, rank: 0 };
    return { source: best.source, current: best.flowing[k]!, rank: rankOf(k, best.before) };
  });
}

export type Entry = "base" | "emitter";
export type Exit = "collector" | "emitter";

/** With signals this much greater at its collector than at base and emitter, a transistor passes none. */
const ONLY_COLLECTOR = 30;

/** The pin at which the source moves a transistor whose own generator rests. */
export function entryOf(solved: SmallSignal, { nodes }: PlacedTransistor): Entry | undefined {
  const [emitter, base, collector] = nodes.map((node) => size(solved.at(node)));
  const most = Math.max(emitter!, base!);
  if (most === 0 || collector! > ONLY_COLLECTOR * most) return undefined;
  return base! >= emitter! ? "base" : "emitter";
}

/** What a path reads. */
export function outputOf(solved: SmallSignal, to: PathEnd): Phasor {
  if ("net" in to) return minus(solved.voltage(to.net), solved.voltage(to.minus ?? 0));
  const { parts } = solved.network.circuit;
  const part = parts.findIndex(({ name }) => name === to.part);
  if (to.quantity === "current") return solved.pinCurrent(part, 0);
  const [first, second] = parts[part]?.pins ?? [];
  return minus(solved.voltage(first?.net ?? 0), solved.voltage(second?.net ?? 0));
}

/**
 * The pin by which a transistor, its own generator at rest, would move the path's output more; where it
 * moves none, the pin that its generator moves more itself.
 */
export function exitOf(circuit: LinearCircuit, transistor: PlacedTransistor, to: PathEnd | undefined): Exit {
  const [emitter, , collector] = transistor.nodes;
  const from = (node: number, read: (solved: SmallSignal) => Phasor) =>
    size(read(circuit.working([[node, 1]])));
  if (to !== undefined) {
    const byEmitter = from(emitter, (solved) => outputOf(solved, to));
    const byCollector = from(collector, (solved) => outputOf(solved, to));
    if (byEmitter + byCollector > 1e-9) return byCollector >= byEmitter ? "collector" : "emitter";
  }
  const own = (pin: number) => from(transistor.nodes[pin]!, (solved) => solved.at(transistor.nodes[pin]!));
  return own(COLLECTOR) >= own(EMITTER) ? "collector" : "emitter";
}

/** The pin a test current enters to stand for the signal. */
export const pinOf = (entry: Entry): number => (entry === "base" ? BASE : EMITTER);

import type { Circuit } from "../../circuit/circuit.ts";
import { explaining, leftOver, middleOf } from "./closer.ts";
import type { Fault } from "./faults.ts";
import type { Hypothesis, Inquiry, Place } from "./inquiry.ts";
import { fitOf } from "./likelihood.ts";
import type { Look } from "./looks.ts";
import { solveCholesky } from "./matrix.ts";
import { noiseOf } from "./noise.ts";
import type { Weighed } from "./posterior.ts";

/** A point worth measuring next. */
export interface Probe {
  readonly mode: string;
  /** Where the probe goes: a net's name, or its handiest pin. */
  readonly point: string;
  readonly look: Look;
  /** What its reading is expected to tell about the fault. */
  readonly bits: number;
}

/** Ways of faults that take part, and the share of the whole that the others may have. */
const MOST_WAYS = 24;
const NEGLIGIBLE = 1e-4;
/** Points whose bits come to this share of the best are nearly equal: the handier comes first. */
const NEARLY = 0.9;
const WORTH_NAMING = 0.02;

/** Points not yet measured, by the bits that their readings are expected to tell about the fault. */
export function nextProbes(
  inquiry: Inquiry,
  faults: readonly Weighed[],
  most: number,
  mostWays = MOST_WAYS,
): readonly Probe[] {
  const ways = faults
    .flatMap(({ fault, ways }) =>
      ways.map(({ hypothesis, probability }) => ({ fault, hypothesis, probability })),
    )
    .filter(({ probability }) => probability > NEGLIGIBLE)
    .sort((a, b) => b.probability - a.probability)
    .slice(0, mostWays);
  const candidates = candidatesOf(inquiry);
  const seen = ways.flatMap((way) => {
    const expected = expectedAt(inquiry, way.hypothesis, candidates);
    return expected === undefined ? [] : [{ ...way, ...expected }];
  });
  const probes = candidates.map(({ mode, look, point, effort }, k) => ({
    probe: {
      mode,
      look,
      point,
      bits: informationOf(
        seen.map((each) => ({ ...each, middle: each.mean[k]!, deviation: each.deviation[k]! })),
      ),
    },
    effort,
  }));
  return handiestFirst(probes, most);
}

interface Candidate extends Place {
  readonly point: string;
  /** 1 for what a probe reaches without looking for it, more for the rest. */
  readonly effort: number;
}

function candidatesOf(inquiry: Inquiry): readonly Candidate[] {
  const { circuit, readings, modes } = inquiry;
  const taken = new Set(readings.map(({ mode, look }) => `${mode} ${JSON.stringify(look)}`));
  const usual = readings[0]?.mode ?? modes[0];
  return modes.flatMap((mode) =>
    circuit.nets.flatMap((_, net): Candidate[] => {
      const look: Look = { kind: "voltage", net, minus: 0 };
      if (net === 0 || taken.has(`${mode} ${JSON.stringify(look)}`)) return [];
      const { point, effort } = handiest(circuit, net);
      return [{ mode, look, point, effort: effort + (mode === usual ? 0 : 0.2) }];
    }),
  );
}

/** Effort by what is to be touched: large terminals first; a base is loaded by the meter and easily shorted. */
const EFFORT: readonly (readonly [kinds: readonly string[], effort: number])[] = [
  [["battery", "switch", "loudspeaker", "potentiometer", "electrolytic"], 1],
  [["transformer", "trimmer", "lamp", "meter", "motor", "head"], 1.1],
  [["resistor", "capacitor", "inductor", "diode", "thermistor", "generator"], 1.3],
];
const EFFORT_OF_PIN: Readonly<Record<string, number>> = { c: 1.1, e: 1.1, b: 1.4 };

/** The name under which a net is probed, and how handy it is. */
export function handiest(circuit: Circuit, net: number): { readonly point: string; readonly effort: number } {
  const { name, points } = circuit.nets[net]!;
  const efforts = points.map((point) => {
    const [owner = "", pin = ""] = [point.slice(0, point.indexOf(".")), point.slice(point.indexOf(".") + 1)];
    const kind = circuit.parts.find((part) => part.name === owner)?.kind ?? "";
    return (
      EFFORT_OF_PIN[kind === "transistor" ? pin : ""] ??
      EFFORT.find(([kinds]) => kinds.includes(kind))?.[1] ??
      1.5
    );
  });
  const transistor = points.find((point) => /^T\w*\.[ebc]$/.test(point));
  return {
    point: name.includes(".") ? (transistor ?? points[0] ?? name) : name,
    effort: Math.min(1.5, ...efforts),
  };
}

interface Outlook {
  readonly mean: Float64Array;
  readonly deviation: Float64Array;
}

const known = new WeakMap<Hypothesis, Outlook>();

function expectedAt(inquiry: Inquiry, hypothesis: Hypothesis, candidates: readonly Candidate[]) {
  const found = known.get(hypothesis) ?? outlookOf(inquiry, hypothesis, candidates);
  if (found !== undefined) known.set(hypothesis, found);
  return found;
}

/** What a way lets expect at the candidates after the readings taken: middle and standard deviation of each. */
function outlookOf(
  inquiry: Inquiry,
  hypothesis: Hypothesis,
  candidates: readonly Candidate[],
): Outlook | undefined {
  const { readings, values, healthy, conditions } = inquiry;
  const specimen = hypothesis.specimen ?? middleOf(inquiry, hypothesis);
  const seen = inquiry.seeSpecimen(hypothesis.way, specimen, [...readings, ...candidates]);
  if (seen?.effects === undefined) return undefined;
  const m = readings.length;
  const taken = { mean: seen.mean.subarray(0, m), effects: seen.effects.slice(0, m) };
  const factor = inquiry.covariance(readings, taken, values, healthy);
  const fit = fitOf(leftOver(values, taken, specimen.shifts), factor, inquiry.ranges());
  if (fit === undefined) return undefined;
  const moved = explaining(taken, fit, specimen.shifts.length).map((goal, v) => goal - specimen.shifts[v]!);
  const mean = new Float64Array(candidates.length);
  const deviation = new Float64Array(candidates.length);
  candidates.forEach(({ look }, c) => {
    const own = seen.effects![m + c]!;
    const shared = Float64Array.from(taken.effects, (each) => product(own, each));
    const weighed = shared.slice();
    solveCholesky(factor, m, weighed);
    mean[c] = seen.mean[m + c]! + product(own, moved);
    const variance = product(own, own) - product(shared, weighed);
    const noise = noiseOf(look, mean[c]!, mean[c]!, mean[c]!, conditions.accuracy);
    deviation[c] = Math.sqrt(Math.max(0, variance) + noise.own ** 2 + noise.common ** 2);
  });
  return { mean, deviation };
}

function product(a: Float64Array, b: Float64Array): number {
  let sum = 0;
  for (let v = 0; v < a.length; v++) sum += a[v]! * b[v]!;
  return sum;
}

interface Expected {
  readonly fault: Fault | undefined;
  readonly probability: number;
  readonly middle: number;
  readonly deviation: number;
}

const STEPS = 240;
const REACH = 4;

/** Mutual information between fault and reading, bits: Σ p(f)·∫ p(x|f)·log2(p(x|f)/p(x)) dx. */
export function informationOf(expected: readonly Expected[]): number {
  const total = expected.reduce((sum, { probability }) => sum + probability, 0);
  const low = Math.min(...expected.map(({ middle, deviation }) => middle - REACH * deviation));
  const high = Math.max(...expected.map(({ middle, deviation }) => middle + REACH * deviation));
  const step = (high - low) / STEPS;
  if (!(total > 0) || !(step > 0)) return 0;
  const byFault = new Map<Fault | undefined, Float64Array>();
  const all = new Float64Array(STEPS);
  for (const { fault, probability, middle, deviation } of expected) {
    const own = byFault.get(fault) ?? new Float64Array(STEPS);
    byFault.set(fault, own);
    // no narrower than the grid can hold
    const wide = Math.max(deviation, 0.8 * step);
    const scale = (probability / total) * (step / (wide * Math.sqrt(2 * Math.PI)));
    for (let k = 0; k < STEPS; k++) {
      const share = scale * Math.exp(-0.5 * ((low + (k + 0.5) * step - middle) / wide) ** 2);
      own[k]! += share;
      all[k]! += share;
    }
  }
  let bits = 0;
  for (const own of byFault.values()) {
    const whole = own.reduce((sum, each) => sum + each, 0);
    for (let k = 0; k < STEPS; k++)
      if (own[k]! > 1e-15) bits += own[k]! * Math.log2(own[k]! / (whole * all[k]!));
  }
  return Math.max(0, bits);
}

function handiestFirst(
  probes: readonly { readonly probe: Probe; readonly effort: number }[],
  most: number,
): readonly Probe[] {
  const left = probes.filter(({ probe }) => probe.bits > WORTH_NAMING);
  const chosen: Probe[] = [];
  while (chosen.length < most && left.length > 0) {
    const best = Math.max(...left.map(({ probe }) => probe.bits));
    const near = left.filter(({ probe }) => probe.bits >= NEARLY * best);
    const next = near.reduce((a, b) =>
      b.effort < a.effort || (b.effort === a.effort && b.probe.bits > a.probe.bits) ? b : a,
    );
    chosen.push(next.probe);
    left.splice(left.indexOf(next), 1);
  }
  return chosen;
}

const MOST_MEMBERS = 5;

/** The point whose reading parts two groups of predictions best: for faults that no reading taken tells apart. */
export function partingProbe(inquiry: Inquiry, members: readonly Weighed[]): Probe | undefined {
  if (members.length < 2) return undefined;
  return nextProbes(inquiry, members.slice(0, MOST_MEMBERS), 1, 2 * MOST_MEMBERS)[0];
}

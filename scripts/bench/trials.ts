import { LuDecomposition } from "ml-matrix";
import { Specimens } from "../../src/bench/spread/specimen.ts";
import type { Variable } from "../../src/bench/spread/variables.ts";
import type { Circuit, DeviceType, Part } from "../../src/circuit/circuit.ts";
import { costOf } from "../../src/engine/kernel/elimination.ts";
import { kindOf } from "../../src/parts/index.ts";
import { frequencies, type Standing, solveAt, solved, solverOf, sweepOf } from "./demonstrations.ts";
import type { MultiplyAdd } from "./loops.ts";
import { type Findings, mustAgree } from "./results.ts";
import { seeded, timing } from "./sampling.ts";
import { denseMatrix, denseRightSide, taskOf } from "./task.ts";

const TRIALS = 10_000;
const BATCHES = 10;
const POINTS = 31;
const SEED = 1964;
/** The last trial of each batch is compared with a fresh cold solution and a dense one of a frequency. */
const ALLOWED = 1e-7;

/**
 * (c) Samples of the recorder, parts anywhere within their tolerance and transistors within their type's
 * spread and leakage: operating point of both modes, each mode's response at 31 frequencies. In seconds of
 * processor time of this process, its compiler and garbage collector included.
 */
export async function trials(standings: readonly Standing[], multiplyAdd: MultiplyAdd): Promise<Findings> {
  const variables = scattersOf(standings[0]!.circuit);
  const rooms = standings.map(
    (standing): Room => ({
      standing,
      specimens: new Specimens(standing.circuit, variables, standing.circuit.ambientCelsius),
      gains: new Float64Array(2 * POINTS),
      steps: 0,
    }),
  );
  const { seconds, worst } = batches(rooms, variables.length);
  const total = seconds.reduce((sum, one) => sum + one, 0);
  const each = seconds.map((one) => one / (TRIALS / BATCHES));
  const { min, median } = timing("", each);
  const steps = rooms.reduce((sum, room) => sum + room.steps, 0) / TRIALS;
  return {
    lines: [
      {
        item: "trials",
        what: `both modes: operating point and ${POINTS} points of the response`,
        per: "trial",
        min,
        median,
        limit: limitOf(rooms, multiplyAdd),
        difference: mustAgree("a trial", worst, ALLOWED),
        note: `${steps.toFixed(1)} Newton steps a trial`,
      },
    ],
    demands: [
      {
        item: "trials",
        what: `${TRIALS} trials, processor time`,
        found: total,
        wanted: 3,
        sense: "at most",
        unit: "s",
      },
    ],
  };
}

/** Runs all trials; seconds of processor time by batch, and the largest difference to a reference. */
function batches(rooms: readonly Room[], variables: number) {
  const random = seeded(SEED);
  const hertz = frequencies(POINTS);
  const shares = new Float64Array(variables);
  const seconds: number[] = [];
  let worst = 0;
  for (let batch = 0; batch < BATCHES; batch++) {
    const before = process.cpuUsage();
    for (let trial = 0; trial < TRIALS / BATCHES; trial++) {
      for (let k = 0; k < shares.length; k++) shares[k] = random();
      for (const room of rooms) tryOut(room, shares, hertz);
    }
    const { user, system } = process.cpuUsage(before);
    seconds.push((user + system) * 1e-6);
    worst = Math.max(worst, ...rooms.map((room) => distance(room, hertz)));
  }
  return { seconds, worst };
}

interface Room {
  readonly standing: Standing;
  readonly specimens: Specimens;
  /** Real and imaginary part of the gain, by frequency. */
  readonly gains: Float64Array;
  steps: number;
}

/** A value of one part that differs from sample to sample: anywhere between `low` and `high`. */
const scatter = (part: Part, index: number, key: string, low: number, high: number): Variable => ({
  part: part.name,
  quantity: key,
  index,
  values: [{ key, at: (share) => low + (high - low) * share }],
});

function scattersOf(circuit: Circuit): Variable[] {
  return circuit.parts.flatMap((part, k) => [...toleranceOf(part, k), ...spreadOf(part, k, circuit.types)]);
}

function toleranceOf(part: Part, index: number): Variable[] {
  const key = kindOf(part).bare?.[0]?.key;
  const nominal = part.values[key ?? ""];
  if (part.tolerance === undefined || key === undefined || nominal === undefined) return [];
  const { low, high } = part.tolerance;
  return [scatter(part, index, key, nominal * (1 + low), nominal * (1 + high))];
}

function spreadOf(part: Part, index: number, types: Circuit["types"]): Variable[] {
  const figures: DeviceType["figures"] = types[part.type ?? ""]?.figures ?? {};
  if (part.kind !== "transistor") return [];
  const { leakage } = figures;
  const [least, greatest] = [figures["spread.least"], figures["spread.greatest"]];
  return [
    ...(least && greatest ? [scatter(part, index, "hfe", least, greatest)] : []),
    ...(leakage ? [scatter(part, index, "leakage", leakage / 2, figures["leakage.max"] ?? leakage)] : []),
  ];
}

function tryOut(room: Room, shares: Float64Array, hertz: readonly number[]): void {
  const { standing, specimens, gains } = room;
  const { solver, smallSignal, point } = standing;
  const { circuit, ambientCelsius } = specimens.at(shares);
  if (!solver.retune(circuit, ambientCelsius)) {
    throw new Error("a sample is not of the recorder's structure");
  }
  const found = solved(solver, point.state);
  room.steps += found.steps;
  smallSignal.linearise(found.state);
  sweepOf(standing, hertz, (k, { re, im }) => {
    gains[2 * k] = re;
    gains[2 * k + 1] = im;
  });
}

/** Difference of the last trial to a cold solution of its own, and of its gains to a dense one's. */
function distance({ standing, gains }: Room, hertz: readonly number[]): number {
  const { solver, smallSignal } = standing;
  const warm = solved(solver, standing.point.state).state;
  const cold = solved(solverOf(solver.network.circuit)).state;
  const apart = warm.map((value, k) => Math.abs(value - cold[k]!) / Math.max(1e-3, Math.abs(cold[k]!)));
  const task = taskOf(smallSignal, standing.source, hertz);
  const last = hertz.length - 1;
  const x = new LuDecomposition(denseMatrix(task, task.omega[last]!)).solve(denseRightSide(task)).to1DArray();
  solveAt(standing, hertz[last]!);
  const { net } = smallSignal.network.unknowns;
  let [difference, largest] = [0, 0];
  for (let n = 1; n < net.length; n++) {
    const { re, im } = smallSignal.voltage(n);
    const [a, b] = [x[net[n]!]!, x[net[n]! + task.size]!];
    difference = Math.max(difference, Math.hypot(re - a, im - b));
    largest = Math.max(largest, Math.hypot(a, b));
  }
  if (!gains.every(Number.isFinite)) return Number.NaN;
  return Math.max(...apart, difference / largest);
}

function limitOf(rooms: readonly Room[], { real, complex }: MultiplyAdd): number {
  return rooms.reduce((sum, { standing, steps }) => {
    const dc = costOf(standing.solver.system.jacobian.elimination!);
    const ac = costOf(standing.smallSignal.elimination!);
    const point = dc.fixedFactor + (steps / TRIALS) * (dc.factor + dc.solve);
    return (
      sum + (point + ac.fixedFactor) * real + POINTS * (ac.factor + standing.smallSignal.solveCost) * complex
    );
  }, 0);
}

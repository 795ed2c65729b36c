import { readFileSync } from "node:fs";
import { setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";
import { describe, expect, it } from "vitest";
import type { Circuit } from "../../src/circuit/circuit.ts";
import { inMode, modesOf, withPartStates } from "../../src/circuit/conditions.ts";
import { WHOLE } from "../../src/engine/dc-system.ts";
import { type Cost, costOf } from "../../src/engine/kernel/elimination.ts";
import { network } from "../../src/engine/network.ts";
import { isSolved, OperatingPointSolver, type SolvedPoint } from "../../src/engine/operating-point.ts";
import { SmallSignal } from "../../src/engine/small-signal.ts";
import { readNetlist } from "../../src/language/index.ts";

/**
 * Counts on the demonstration recorder, where seconds would depend on the machine. Each bound is a little
 * above what is needed today. If a change of the netlist or of the models moves a count, put in the new
 * value (the failing test prints it) and 5 %; if a change of the engine raises one, find out why first.
 */
const BOUNDS: Readonly<Record<string, { readonly dc: Cost; readonly ac: Cost }>> = {
  play: {
    dc: { fixedFactor: 400, factor: 340, solve: 230, fill: 120 },
    ac: { fixedFactor: 235, factor: 910, solve: 535, fill: 255 },
  },
  record: {
    dc: { fixedFactor: 400, factor: 350, solve: 235, fill: 120 },
    ac: { fixedFactor: 235, factor: 870, solve: 525, fill: 245 },
  },
};

/** Newton steps, the last ones that only polish included. */
const STEPS = { cold: 13, warm: 4 };

/**
 * Bytes that one of each may allocate. At a frequency and in a Newton step that is boxed numbers, handed from
 * function to function (16 bytes each, more of them before the compiler has had its turn), and no array: the
 * smallest working vector has 130 doubles. A trial leaves its result and its devices.
 */
const BYTES = { frequency: 1_000, step: 1_000, linearisation: 2_000, trial: 30_000 };

const text = readFileSync(new URL("../../netlists/recorder.netlist", import.meta.url), "utf8");
const recorder = readNetlist(text).circuit!;
const AMBIENT = 25;

const solverOf = (circuit: Circuit) =>
  new OperatingPointSolver(network(circuit, { ambientCelsius: AMBIENT, isothermal: false }));

function solved(solver: OperatingPointSolver, from?: Float64Array): SolvedPoint {
  const point = solver.solve(from);
  if (!isSolved(point)) throw new Error(point.failure);
  return point;
}

/** The recorder in one mode, solved cold, and with a battery a little down. */
function standing(mode: string) {
  const circuit = inMode(recorder, modesOf(recorder).find(({ name }) => name === mode)!);
  const sagging = withPartStates(circuit, [{ part: "B1", key: "emf", value: 8.9 }]);
  const solver = solverOf(circuit);
  return { circuit, sagging, solver, point: solved(solver) };
}

/** The head is a source in either mode. */
const source = recorder.parts.findIndex(({ name }) => name === "K1");

const POINTS = 400;

function swept(point: SolvedPoint): SmallSignal {
  const smallSignal = new SmallSignal(point);
  for (let k = 0; k < POINTS; k++) {
    expect(smallSignal.tune(20 * 1000 ** (k / (POINTS - 1)))).toBeUndefined();
    smallSignal.drive(source);
  }
  return smallSignal;
}

function expectWithin(cost: Cost, bounds: Cost): void {
  for (const key of ["fixedFactor", "factor", "solve", "fill"] as const) {
    expect(cost[key], `${key}: ${JSON.stringify(cost)}`).toBeLessThanOrEqual(bounds[key]);
  }
}

describe.each(Object.keys(BOUNDS))("the recorder in %s", (mode) => {
  const { dc, ac } = BOUNDS[mode]!;

  it("needs no more fill and multiply-adds for a Newton step than it did", () => {
    const { solver } = standing(mode);
    expectWithin(costOf(solver.system.jacobian.elimination!), dc);
  });

  it("needs no more fill and multiply-adds for a frequency than it did", () => {
    expectWithin(costOf(swept(standing(mode).point).elimination!), ac);
  });

  it("needs a third of the multiply-adds of a whole solution for the one output that a sweep asks for", () => {
    const { circuit, point } = standing(mode);
    const smallSignal = new SmallSignal(point);
    const net = circuit.parts.find(({ name }) => name === "LS1")!.pins[0]!.net;
    for (let k = 0; k < POINTS; k++) {
      smallSignal.tune(20 * 1000 ** (k / (POINTS - 1)));
      smallSignal.drive(source);
      smallSignal.voltage(net);
    }
    expect(smallSignal.compiled).toBe(true);
    expect(smallSignal.solveCost).toBeLessThan(costOf(smallSignal.elimination!).solve / 3);
  });

  it("is put in order once for an operating point, and once for a sweep from 20 Hz to 20 kHz", () => {
    const { solver, point } = standing(mode);
    expect(solver.system.jacobian.orderings).toBe(1);
    expect(swept(point).orderings).toBe(1);
  });

  it("takes few Newton steps from rest, and fewer from a neighbouring point, without a new order", () => {
    const { solver, sagging, point } = standing(mode);
    expect(point.steps).toBeLessThanOrEqual(STEPS.cold);
    expect(solver.retune(sagging, AMBIENT)).toBe(true);
    expect(solved(solver, point.state).steps).toBeLessThanOrEqual(STEPS.warm);
    expect(solver.system.jacobian.orderings).toBe(1);
  });
});

const WARM_UP = 5000;
const WINDOWS = 21;
const WINDOW = 100;

/**
 * Bytes allocated by one run: the lower quartile over windows short enough that hardly any has a collection
 * in it, after the optimising compiler has had its turn.
 */
function bytesOf(run: (k: number) => void): number {
  setFlagsFromString("--expose-gc");
  const collect = runInNewContext("gc") as () => void;
  const used = () => {
    const { heapUsed, arrayBuffers } = process.memoryUsage();
    return heapUsed + arrayBuffers;
  };
  for (let k = 0; k < WARM_UP; k++) run(k);
  // the second waits for what the first frees behind the scenes
  collect();
  collect();
  const grown = Array.from({ length: WINDOWS }, () => {
    const before = used();
    for (let k = 0; k < WINDOW; k++) run(k);
    return (used() - before) / WINDOW;
  });
  return grown.toSorted((a, b) => a - b)[Math.floor(WINDOWS / 4)]!;
}

describe("memory on the way of the solvers", () => {
  const { circuit, sagging, solver, point } = standing("play");
  const smallSignal = swept(point);

  it("is seen to grow where something is allocated", () => {
    const kept: Float64Array[] = [];
    expect(bytesOf(() => (kept[0] = new Float64Array(100)))).toBeGreaterThan(800);
  });

  it("does not grow with the frequencies of a sweep", () => {
    const bytes = bytesOf((k) => {
      smallSignal.tune(100 + (k % POINTS));
      smallSignal.drive(source);
    });
    expect(bytes).toBeLessThan(BYTES.frequency);
  });

  it("grows by no array with a Newton step", () => {
    const dx = new Float64Array(solver.network.unknowns.size);
    const bytes = bytesOf(() => {
      solver.system.evaluate(point.state, WHOLE, false);
      solver.system.step(dx);
    });
    expect(bytes).toBeLessThan(BYTES.step);
  });

  it("grows with a new linearisation, and with a trial, by little more than the result", () => {
    expect(bytesOf(() => smallSignal.linearise(point.state))).toBeLessThan(BYTES.linearisation);
    const both = [circuit, sagging];
    const bytes = bytesOf((k) => {
      solver.retune(both[k % 2]!, AMBIENT);
      solved(solver, point.state);
    });
    expect(bytes).toBeLessThan(BYTES.trial);
  });
});

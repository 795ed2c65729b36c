import { LuDecomposition, Matrix } from "ml-matrix";
import type { Circuit } from "../../src/circuit/circuit.ts";
import { withPartStates } from "../../src/circuit/conditions.ts";
import { WHOLE } from "../../src/engine/dc-system.ts";
import { costOf } from "../../src/engine/kernel/elimination.ts";
import type { OperatingPointSolver, SolvedPoint } from "../../src/engine/operating-point.ts";
import { type Standing, solved, solverOf } from "./demonstrations.ts";
import type { MultiplyAdd } from "./loops.ts";
import { type Findings, type Line, mustAgree } from "./results.ts";
import { inProcess, interleave, type Timing } from "./sampling.ts";

const ALLOWED = 1e-9;
/** A warm start comes from the solution at another voltage of the battery, a hundredth off. */
const OTHER_BATTERY = 0.99;

/** (b) The operating point of one mode, cold and warm, beside one factorisation and solve of its Jacobian. */
export async function points(standing: Standing, multiplyAdd: MultiplyAdd): Promise<Findings> {
  const { circuit, mode, point } = standing;
  const rested = solverOf(circuit);
  const { solver, warm } = dragging(circuit);
  const worst = Math.max(denseCorrection(solver, warm()), denseCorrection(solver, warm()));
  const { whole, again } = factorings(solverOf(circuit), point.state);
  const [cold, kept, dragged, one, step] = await interleave([
    inProcess("cold: network built, ordered and solved", 1, () => solved(solverOf(circuit))),
    inProcess("from rest, network and order kept", 1, () => solved(rested)),
    inProcess("warm: battery changed by 1 %, from the point before", 1, warm),
    inProcess("one factorisation and solve", 1, whole),
    inProcess("one factorisation and solve, linear part kept", 1, again),
  ]);
  const { fixedFactor, factor, solve } = costOf(solver.system.jacobian.elimination!);
  const limit = (count: number) => ({ limit: count * multiplyAdd.real });
  const { steps } = warm();
  const difference = mustAgree("a warm operating point", worst, ALLOWED);
  const line = ({ name, min, median }: Timing, per: string, more: Partial<Line> = {}): Line => ({
    ...{ item: "point", what: `${mode}: ${name}`, per, min, median },
    ...more,
  });
  return {
    lines: [
      line(cold!, "operating point"),
      line(kept!, "operating point", { note: `${solved(rested).steps} Newton steps` }),
      line(dragged!, "operating point", {
        ...limit(fixedFactor + steps * (factor + solve)),
        ...{ difference, note: `${steps} Newton steps` },
      }),
      line(one!, "solve", limit(fixedFactor + factor + solve)),
      line(step!, "solve", limit(factor + solve)),
    ],
    demands: [
      {
        item: "point",
        what: `${mode}: warm operating point, in factorisations and solves`,
        found: dragged!.min / one!.min,
        wanted: 12,
        sense: "at most",
        unit: "times",
      },
    ],
  };
}

/** A solver that goes to and fro between two voltages of the battery, from one's solution to the other's. */
function dragging(circuit: Circuit) {
  const both = [circuit, withOtherBattery(circuit)];
  const solver = solverOf(circuit);
  const starts = both.map((one) => {
    solver.retune(one, one.ambientCelsius);
    return solved(solver).state;
  });
  let turn = 0;
  const warm = () => {
    turn = 1 - turn;
    solver.retune(both[turn]!, circuit.ambientCelsius);
    return solved(solver, starts[1 - turn]!);
  };
  return { solver, warm };
}

function withOtherBattery(circuit: Circuit): Circuit {
  const battery = circuit.parts.find(({ kind }) => kind === "battery");
  const value = OTHER_BATTERY * (battery?.values.emf ?? 0);
  return withPartStates(circuit, [{ part: battery?.name ?? "", key: "emf", value }]);
}

/** The Jacobian at a state, factored as a whole, and with its linear part kept. */
function factorings({ system }: OperatingPointSolver, state: Float64Array) {
  const dx = new Float64Array(system.network.unknowns.size);
  system.evaluate(state, WHOLE, false);
  const again = () => {
    system.step(dx);
  };
  const whole = () => {
    system.jacobian.touch();
    system.step(dx);
  };
  return { again, whole };
}

/**
 * What a dense solution of the same Newton step would still change at a point, relative to each unknown
 * (and to a millivolt, a microampere): the distance to the solution, by arithmetic of its own.
 */
function denseCorrection({ system }: OperatingPointSolver, { state }: SolvedPoint): number {
  system.evaluate(state, WHOLE, false);
  const { jacobian, residual, network } = system;
  const elimination = jacobian.elimination!;
  const { size, start, column, entryOfSlot, pivotRow, pivotColumn } = elimination;
  const rowOf = new Int32Array(column.length);
  for (let i = 0; i < size; i++) rowOf.fill(pivotRow[i]!, start[i], start[i + 1]);
  const values = jacobian.constant.slice();
  jacobian.varyingSlots.forEach((slot, k) => {
    values[slot]! += jacobian.varying[k]!;
  });
  const matrix = Matrix.zeros(size, size);
  entryOfSlot.forEach((entry, slot) => {
    const [i, j] = [rowOf[entry]!, pivotColumn[column[entry]!]!];
    matrix.set(i, j, matrix.get(i, j) + values[slot]!);
  });
  const b = Matrix.columnVector(residual.slice(0, size));
  const dx = new LuDecomposition(matrix).solve(b).to1DArray();
  const least = network.unknowns.list.map(({ kind }) => (kind === "branch" ? 1e-6 : 1e-3));
  return Math.max(...dx.map((change, k) => Math.abs(change) / Math.max(least[k]!, Math.abs(state[k]!))));
}

/** One mode of the circuit, solved again and again: what was built for one setting serves the next. */

import type { Conditions } from "../../bench/conditions.ts";
import { failureOf } from "../../bench/failure.ts";
import { runsIn, sweepPaths } from "../../bench/response.ts";
import type { Failure, PathResponse } from "../../bench/results.ts";
import { networkIn, type SolvedMode } from "../../bench/run.ts";
import type { Circuit, Mode } from "../../circuit/circuit.ts";
import { withPartStates } from "../../circuit/conditions.ts";
import { isSolved, OperatingPointSolver, type SolvedPoint } from "../../engine/operating-point.ts";
import { SmallSignal } from "../../engine/small-signal.ts";
import { kindOf } from "../../parts/index.ts";

export class WarmMode {
  readonly mode: Mode;
  readonly #circuit: Circuit;
  /** Parts that change state of their own accord change what is free at a frequency. */
  readonly #changesState: boolean;
  #solver: OperatingPointSolver | undefined;
  #smallSignal: SmallSignal | undefined;
  #last: SolvedPoint | undefined;

  constructor(circuit: Circuit, mode: Mode) {
    this.#circuit = circuit;
    this.mode = mode;
    this.#changesState = circuit.parts.some((part) => kindOf(part).events !== undefined);
  }

  /**
   * The operating point under these conditions. `warm`: from the last one, for a control in motion; else from
   * rest, so that what is shown at last does not depend on the way there.
   */
  solve(conditions: Conditions, warm: boolean): SolvedMode | Failure {
    const solver = this.#solverFor(conditions);
    const point = solver.solve(warm ? this.#last?.state : undefined);
    if (!isSolved(point)) return failureOf(point, this.mode.name);
    this.#last = point;
    return { mode: this.mode, circuit: solver.network.circuit, point, solver };
  }

  #solverFor(conditions: Conditions): OperatingPointSolver {
    const { set = [], ambientCelsius = this.#circuit.ambientCelsius } = conditions;
    const standing = withPartStates(this.#circuit, [...this.mode.states, ...set]);
    if (this.#solver?.retune(standing, ambientCelsius)) return this.#solver;
    this.#smallSignal = undefined;
    this.#last = undefined;
    this.#solver = new OperatingPointSolver(networkIn(this.#circuit, this.mode, conditions));
    return this.#solver;
  }

  /** Gain and phase of the mode's paths at these frequencies, Hz, at the point solved last. */
  respond(solved: SolvedMode, hertz: readonly number[]): readonly PathResponse[] {
    const paths = this.#circuit.paths.filter((path) => runsIn(path, this.mode.name));
    if (paths.length === 0) return [];
    if (this.#changesState) this.#smallSignal = undefined;
    if (this.#smallSignal === undefined) this.#smallSignal = new SmallSignal(solved.point);
    else this.#smallSignal.linearise(solved.point.state);
    return sweepPaths(solved, paths, hertz, this.#smallSignal).results;
  }
}

/** The circuit solved in every mode as it stands: charts and responses, as plain data. */
import type { Conditions, Meter } from "../../bench/conditions.ts";
import { preferredFrequencies } from "../../bench/response.ts";
import type { Failure, PathResponse, VoltageChart } from "../../bench/results.ts";
import { chartOf } from "../../bench/voltages.ts";
import type { Circuit } from "../../circuit/circuit.ts";
import { modesOf } from "../../circuit/conditions.ts";
import { WarmMode } from "./warm-mode.ts";

/** Some two hundred frequencies from 20 Hz to 20 kHz, 1 kHz among them. */
export const HERTZ = preferredFrequencies({ from: 20, to: 20_000, pointsPerOctave: 20 });

export interface ModeSolution {
  readonly mode: string;
  readonly chart: VoltageChart;
  readonly responses: readonly PathResponse[];
  /** Why there is nothing for the present settings: chart and responses are then those of the last good ones. */
  readonly failure?: Failure;
}

export interface Solution {
  readonly circuit: Circuit;
  /** In the netlist's order; modes that were never solved are missing. */
  readonly modes: readonly ModeSolution[];
  readonly failures: readonly Failure[];
}

export interface Asked {
  readonly conditions: Conditions;
  /** Read with it in `meteredMode`. */
  readonly meter?: Meter;
  readonly meteredMode: string;
  /** A control is in motion. */
  readonly warm: boolean;
}

/** Solves one circuit under changing conditions; keeps what was good. */
export class SolutionKeeper {
  readonly circuit: Circuit;
  readonly #modes: readonly WarmMode[];
  readonly #good = new Map<string, ModeSolution>();

  constructor(circuit: Circuit) {
    this.circuit = circuit;
    this.#modes = modesOf(circuit).map((mode) => new WarmMode(circuit, mode));
  }

  solve(asked: Asked): Solution {
    const failures: Failure[] = [];
    const modes = this.#modes.flatMap((mode) => {
      const found = this.#solveMode(mode, asked);
      if (!("kind" in found)) return [found];
      failures.push(found);
      const last = this.#good.get(mode.mode.name);
      return last === undefined ? [] : [{ ...last, failure: found }];
    });
    return { circuit: this.circuit, modes, failures };
  }

  #solveMode(mode: WarmMode, { conditions, meter, meteredMode, warm }: Asked): ModeSolution | Failure {
    const solved = mode.solve(conditions, warm);
    if ("kind" in solved) return solved;
    const { name } = mode.mode;
    const solution = {
      mode: name,
      chart: chartOf(solved, name === meteredMode ? meter : undefined),
      responses: mode.respond(solved, HERTZ),
    };
    this.#good.set(name, solution);
    return solution;
  }
}

/** The quiescent currents of a push-pull pair against temperature and against mismatch of its halves. */
import type { Circuit, PartState } from "../../circuit/circuit.ts";
import { withPartStates } from "../../circuit/conditions.ts";
import { MATERIALS } from "../../devices/material.ts";
import { DEFAULT_HFE } from "../../devices/transistor-parameters.ts";
import { currentInto } from "../../engine/currents.ts";
import { type Network, network } from "../../engine/network.ts";
import { isSolved, OperatingPointSolver } from "../../engine/operating-point.ts";
import type { QuiescentCurrents, QuiescentPoint } from "./results.ts";

const CELSIUS = [-10, 0, 10, 20, 25, 30, 40, 50, 60];
const HFE_SHARES = [0.5, 0.7, 1, 1.4, 2];
const VBE_SHIFTS = [-0.02, -0.01, 0, 0.01, 0.02];

/** How the circuit stands in the mode, and under what conditions. */
export interface Standing {
  readonly circuit: Circuit;
  readonly ambientCelsius: number;
  readonly isothermal: boolean;
}

const COLLECTOR = 2;

/** A state of before, with the junctions that do not heat at the ambient temperature of now. */
function atAmbient(state: Float64Array, { unknowns, ambientKelvin }: Network): Float64Array {
  const now = state.slice();
  for (const number of unknowns.temperature.values())
    if (number >= unknowns.size) now[number] = ambientKelvin;
  return now;
}

/** Solves one circuit after the other, each from the solution before where the structure allows. */
class Bench {
  #solver: OperatingPointSolver | undefined;
  #last: Float64Array | undefined;
  readonly #isothermal: boolean;

  constructor(isothermal: boolean) {
    this.#isothermal = isothermal;
  }

  at(at: number, circuit: Circuit, ambientCelsius: number, pair: readonly [string, string]): QuiescentPoint {
    if (!this.#solver?.retune(circuit, ambientCelsius)) {
      this.#last = undefined;
      this.#solver = new OperatingPointSolver(
        network(circuit, { ambientCelsius, isothermal: this.#isothermal }),
      );
    }
    const point = this.#solver.solve(this.#last && atAmbient(this.#last, this.#solver.network));
    if (!isSolved(point)) {
      return { at, failure: point.failure === "undetermined" ? "no solution" : point.failure };
    }
    this.#last = point.state;
    const amps = (name: string) => {
      const part = circuit.parts.findIndex((each) => each.name === name);
      return Math.abs(currentInto(point.currents, part, COLLECTOR));
    };
    return { at, amps: [amps(pair[0]), amps(pair[1])] };
  }
}

function typeFigure(circuit: Circuit, name: string) {
  const part = circuit.parts.find((each) => each.name === name);
  const type = circuit.types[part?.type ?? ""];
  return { part, type };
}

/** The circuit with so many times the hfe in one transistor. */
function withHfe(circuit: Circuit, name: string, share: number): Circuit {
  const { part, type } = typeFigure(circuit, name);
  const hfe = (part?.values.hfe ?? type?.figures.hfe ?? DEFAULT_HFE) * share;
  return withPartStates(circuit, [{ part: name, key: "hfe", value: hfe } satisfies PartState]);
}

/** The circuit with a sample in the place of `name` whose V_BE is so many volts greater at the same current. */
export function withVbeShift(circuit: Circuit, name: string, volts: number): Circuit {
  const { type } = typeFigure(circuit, name);
  if (type === undefined || volts === 0) return circuit;
  const { vbe } = MATERIALS[type.material];
  const { figures } = type;
  const shifted = {
    ...type,
    name: `${type.name} in ${name}`,
    figures: { ...figures, "vbe.at": figures["vbe.at"] ?? vbe.at, vbe: (figures.vbe ?? vbe.volts) + volts },
  };
  const types = { ...circuit.types, [shifted.name]: shifted };
  return withPartStates({ ...circuit, types }, [{ part: name, key: "type", value: shifted.name }]);
}

/** The pair's quiescent currents: both halves alike at several temperatures, then its first half changed. */
export function quiescentCurrents(
  standing: Standing,
  pair: readonly [first: string, second: string],
): QuiescentCurrents {
  const [first] = pair;
  const { circuit, ambientCelsius, isothermal } = standing;
  const bench = new Bench(isothermal);
  const changed = (other: Circuit, at: number) => bench.at(at, other, ambientCelsius, pair);
  return {
    pair,
    hfe_share: HFE_SHARES.map((share) => changed(withHfe(circuit, first, share), share)),
    vbe_shift_volts: VBE_SHIFTS.map((volts) => changed(withVbeShift(circuit, first, volts), volts)),
    ambient_celsius: CELSIUS.map((at) => bench.at(at, circuit, at, pair)),
  };
}

import type { Circuit } from "../circuit/circuit.ts";
import { ZERO_CELSIUS } from "../devices/constants.ts";
import { WHOLE } from "./dc-system.ts";
import type { Network } from "./network.ts";
import type { Newton } from "./newton.ts";

/** Above this no alloyed (or diffused) junction survives, whatever the sheet leaves out, °C. */
const SURVIVES_CELSIUS = { germanium: 150, silicon: 250 } as const;

/**
 * A balance found directly is the first one if it lies no further than this above what the dissipation at
 * ambient alone would give: a share of it, and so many kelvins. Beyond, heat feeds on itself, and the
 * warming is followed step by step.
 */
const RISE_SHARE = 1.3;
const SMALL_RISE = 1;
/** Largest change of a junction's temperature in one stride of the warming, K. */
const RISE_PER_STRIDE = 6;
/** Strides are counted in thermal time constants, all junctions having the same. */
const FIRST_STRIDE = 0.05;
const LEAST_STRIDE = 1e-9;
/** After so long a stride, with so little change, nothing more happens. */
const LONG_STRIDE = 50;
const SETTLED = 1e-2;
const MOST_STRIDES = 500;
const MOST_STEPS = 40;

/** The transistor that the heat runs away with. */
export interface Runaway {
  readonly transistor: string;
  /** Where its temperature stood when the balance was lost, °C. */
  readonly celsius: number;
  /** The limit it passed, °C; none where the balance was lost below it. */
  readonly limitCelsius?: number;
}

function junctionLimit(circuit: Circuit, part: number): number {
  const type = circuit.types[circuit.parts[part]?.type ?? ""];
  if (type === undefined) return Number.POSITIVE_INFINITY;
  return (type.figures["limits.tj"] ?? SURVIVES_CELSIUS[type.material]) + ZERO_CELSIUS;
}

interface Junction {
  readonly transistor: string;
  /** Index into `Circuit.parts`. */
  readonly part: number;
  /** State number of its temperature. */
  readonly number: number;
  /** K; a limit below ambient is none. */
  limit: number;
}

/** Junctions that heat, their limits still to be set. */
function junctionsOf({ circuit, unknowns }: Network): Junction[] {
  return [...unknowns.temperature]
    .filter(([, number]) => number < unknowns.size)
    .map(([transistor, number]) => {
      const part = circuit.parts.findIndex(({ name }) => name === transistor);
      return { transistor, part, number, limit: Number.POSITIVE_INFINITY };
    });
}

/** The self-heating of one network's junctions. */
export class Heating {
  readonly #newton: Newton;
  readonly #junctions: readonly Junction[];

  constructor(newton: Newton) {
    this.#newton = newton;
    this.#junctions = junctionsOf(newton.system.network);
    this.refresh();
  }

  /** Takes over types and ambient of a retuned network. */
  refresh(): void {
    const { circuit, ambientKelvin } = this.#newton.system.network;
    for (const junction of this.#junctions) {
      const limit = junctionLimit(circuit, junction.part);
      junction.limit = limit > ambientKelvin ? limit : Number.POSITIVE_INFINITY;
    }
  }

  /** Whether any junction of a state is past its limit. */
  pastLimit(state: Float64Array): boolean {
    return this.#junctions.some(({ number, limit }) => !(state[number]! <= limit));
  }

  /**
   * Takes a solution with all junctions at ambient to the one with their own heat, in place. The balance
   * wanted is the first that the circuit reaches as it warms up after switch-on, so a direct solution is
   * taken only when it is surely that one. Returns the transistor that runs away, if one does.
   */
  heat(state: Float64Array): Runaway | undefined {
    const junctions = this.#junctions;
    const newton = this.#newton;
    const { system } = newton;
    if (junctions.length === 0) return undefined;
    const start = state.slice();
    system.evaluate(state, WHOLE, false);
    const nearest = junctions.map(({ number }) => -system.residual[number]!);
    const direct = newton.solve(state, WHOLE, MOST_STEPS);
    const rise = ({ number }: Junction) => Math.abs(state[number]! - system.network.ambientKelvin);
    const first = junctions.every((junction, k) => rise(junction) <= RISE_SHARE * nearest[k]! + SMALL_RISE);
    if (direct.end === "converged" && first && !this.pastLimit(state)) return undefined;
    state.set(start);
    return warmUp(newton, junctions, state);
  }
}

/**
 * Follows dT/dt = ambient + rth·P − T for every junction by implicit Euler, strides growing as the
 * change slows down, until the balance is reached or a junction passes its limit.
 */
function warmUp(newton: Newton, junctions: readonly Junction[], state: Float64Array): Runaway | undefined {
  const trial = new Float64Array(state.length);
  const rise = () => Math.max(...junctions.map(({ number }) => Math.abs(trial[number]! - state[number]!)));
  let stride = FIRST_STRIDE;
  for (let count = 0; count < MOST_STRIDES && stride > LEAST_STRIDE; count++) {
    trial.set(state);
    newton.system.warmFrom(state, stride);
    const { end } = newton.solve(trial, WHOLE, MOST_STEPS);
    newton.system.warmFrom(state, Number.POSITIVE_INFINITY);
    const change = rise();
    if (end !== "converged" || !(change < RISE_PER_STRIDE)) {
      stride /= 2;
      continue;
    }
    state.set(trial);
    const passed = junctions.find(({ number, limit }) => !(state[number]! <= limit));
    if (passed !== undefined) return past(passed);
    if (stride >= LONG_STRIDE && change < SETTLED) {
      const settled = newton.solve(state, WHOLE, MOST_STEPS);
      return settled.end === "converged" ? undefined : unbalanced(newton, junctions, state);
    }
    stride *= 2;
  }
  return unbalanced(newton, junctions, state);
}

const past = ({ transistor, limit }: Junction): Runaway => ({
  transistor,
  celsius: limit - ZERO_CELSIUS,
  limitCelsius: limit - ZERO_CELSIUS,
});

/** The junction that its dissipation would lift furthest from where it is. */
function unbalanced(newton: Newton, junctions: readonly Junction[], state: Float64Array): Runaway {
  const { system } = newton;
  system.evaluate(state, WHOLE, false);
  const unmet = ({ number }: { number: number }) => -system.residual[number]!;
  const worst = junctions.reduce((a, b) => (unmet(b) > unmet(a) ? b : a));
  return { transistor: worst.transistor, celsius: state[worst.number]! - ZERO_CELSIUS };
}

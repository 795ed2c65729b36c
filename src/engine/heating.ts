import type { Circuit } from "../circuit/circuit.ts";
import { ZERO_CELSIUS } from "../devices/constants.ts";
import { ramp, risingHeat } from "./continuation.ts";
import { WHOLE } from "./dc-system.ts";
import type { Network } from "./network.ts";
import type { Newton } from "./newton.ts";

/** Above this no alloyed (or diffused) junction survives, whatever the sheet leaves out, °C. */
const SURVIVES_CELSIUS = { germanium: 150, silicon: 250 } as const;

/** Rise at which a solution found directly is looked at more closely, K. */
const SMALL_RISE = 3;
/** Largest change of a junction's temperature from one point of the heating ramp to the next, K. */
const RISE_PER_POINT = 6;
const LEAST_HEATING_STRIDE = 1e-4;
const MOST_STEPS = 40;

/** The transistor that the heat runs away with. */
export interface Runaway {
  readonly transistor: string;
  /** Where its temperature stood when the balance was lost, °C. */
  readonly celsius: number;
  /** The limit it passed, °C; none where the balance was lost below it. */
  readonly limitCelsius?: number;
}

function junctionLimit(circuit: Circuit, transistor: string): number {
  const part = circuit.parts.find(({ name }) => name === transistor);
  const type = circuit.types[part?.type ?? ""];
  if (type === undefined) return Number.POSITIVE_INFINITY;
  return (type.figures["limits.tj"] ?? SURVIVES_CELSIUS[type.material]) + ZERO_CELSIUS;
}

/** Junctions that heat, with their unknown and limit; a limit below ambient is none. */
function junctions({ circuit, unknowns, ambientKelvin }: Network) {
  return [...unknowns.temperature]
    .filter(([, number]) => number < unknowns.size)
    .map(([transistor, number]) => {
      const limit = junctionLimit(circuit, transistor);
      return { transistor, number, limit: limit > ambientKelvin ? limit : Number.POSITIVE_INFINITY };
    });
}

/**
 * Takes a solution with all junctions at ambient to the one with their own heat, in place. The balance
 * wanted is the one that the warming circuit reaches first, so a direct solution is taken only when
 * the rise is small; otherwise the share of self-heating is raised step by step. Returns the
 * transistor that runs away, if one does.
 */
export function heat(newton: Newton, state: Float64Array): Runaway | undefined {
  const { network } = newton.system;
  const heated = junctions(network);
  if (heated.length === 0) return undefined;
  const tooHot = (at: Float64Array) => heated.find(({ number, limit }) => !(at[number]! <= limit));
  const start = state.slice();
  const direct = newton.solve(state, WHOLE, MOST_STEPS);
  const small = heated.every(({ number }) => Math.abs(state[number]! - network.ambientKelvin) < SMALL_RISE);
  if (direct.end === "converged" && small && !tooHot(state)) return undefined;

  state.set(start);
  let passed: (typeof heated)[number] | undefined;
  const { reached } = ramp(
    newton,
    state,
    risingHeat,
    (from, to) => {
      passed = tooHot(to) ?? passed;
      return (
        !tooHot(to) && heated.every(({ number }) => Math.abs(to[number]! - from[number]!) < RISE_PER_POINT)
      );
    },
    LEAST_HEATING_STRIDE,
  );
  if (reached === 1) return undefined;
  return namedRunaway(heated, passed, state, network.ambientKelvin);
}

function namedRunaway(
  heated: ReturnType<typeof junctions>,
  passed: ReturnType<typeof junctions>[number] | undefined,
  state: Float64Array,
  ambientKelvin: number,
): Runaway {
  if (passed !== undefined && state[passed.number]! > passed.limit - 2 * RISE_PER_POINT) {
    const limitCelsius = passed.limit - ZERO_CELSIUS;
    return { transistor: passed.transistor, celsius: limitCelsius, limitCelsius };
  }
  const rise = ({ number }: { number: number }) => state[number]! - ambientKelvin;
  const hottest = heated.reduce((a, b) => (rise(b) > rise(a) ? b : a));
  return { transistor: hottest.transistor, celsius: state[hottest.number]! - ZERO_CELSIUS };
}

import type { Circuit, Part } from "../../circuit/circuit.ts";
import type { Variable } from "./variables.ts";

type Loose = { -readonly [Key in keyof Part]: Part[Key] } & { values: Record<string, number> };

/** One set of parts whose values are written over and over. */
interface Tray {
  readonly circuit: Circuit;
  readonly parts: readonly Part[];
  readonly values: readonly Record<string, number>[];
}

/**
 * Specimens of a circuit, one after the other. Two sets of parts are written in turn, as the solver knows a
 * changed part by its being another object; nothing is allocated from specimen to specimen.
 */
export class Specimens {
  readonly #variables: readonly Variable[];
  readonly #trays: readonly [Tray, Tray];
  readonly #ambientCelsius: number;
  #turn: 0 | 1 = 0;

  constructor(circuit: Circuit, variables: readonly Variable[], ambientCelsius: number) {
    this.#variables = variables;
    this.#ambientCelsius = ambientCelsius;
    this.#trays = [trayOf(circuit, variables), trayOf(circuit, variables)];
  }

  /** The specimen whose variables stand at `t`; it holds until the one after the next. */
  at(t: Float64Array): { readonly circuit: Circuit; readonly ambientCelsius: number } {
    this.#turn = this.#turn === 0 ? 1 : 0;
    const { circuit, values } = this.#trays[this.#turn];
    let ambientCelsius = this.#ambientCelsius;
    for (let k = 0; k < this.#variables.length; k++) {
      const variable = this.#variables[k]!;
      for (const { key, at } of variable.values) {
        if (variable.index < 0) ambientCelsius = at(t[k]!);
        else values[variable.index]![key] = at(t[k]!);
      }
    }
    return { circuit, ambientCelsius };
  }
}

function trayOf(circuit: Circuit, variables: readonly Variable[]): Tray {
  const varied = new Set(variables.map(({ index }) => index));
  const parts = circuit.parts.map((part, k): Part => {
    if (!varied.has(k)) return part;
    const own: Loose = { ...part, values: { ...part.values } };
    return own;
  });
  return { circuit: { ...circuit, parts }, parts, values: parts.map(({ values }) => values) };
}

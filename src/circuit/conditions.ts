import type { Circuit, Mode, Part, PartState } from "./circuit.ts";

const SINGLE_MODE = "as-drawn";

/**
 * The circuit's modes: those the netlist names, else the positions of the first switch, else one,
 * `as-drawn`.
 */
export function modesOf(circuit: Circuit): readonly Mode[] {
  if (circuit.modes.length > 0) return circuit.modes;
  const first = circuit.parts.find((part) => part.positions !== undefined);
  if (first?.positions === undefined) return [{ name: SINGLE_MODE, states: [] }];
  return first.positions.map((position) => ({
    name: position,
    states: [{ part: first.name, key: "position", value: position }],
  }));
}

function withStates(part: Part, states: readonly PartState[]): Part {
  const numbers = states.filter((state) => typeof state.value === "number");
  const words = states.filter((state) => typeof state.value === "string");
  return {
    ...part,
    values: {
      ...part.values,
      ...Object.fromEntries(numbers.map(({ key, value }) => [key, value as number])),
    },
    choices: {
      ...part.choices,
      ...Object.fromEntries(words.map(({ key, value }) => [key, value as string])),
    },
  };
}

/** The circuit with these states applied, later ones over earlier ones. Parts not named are shared. */
export function withPartStates(circuit: Circuit, states: readonly PartState[]): Circuit {
  if (states.length === 0) return circuit;
  return {
    ...circuit,
    parts: circuit.parts.map((part) => {
      const own = states.filter((state) => state.part === part.name);
      return own.length === 0 ? part : withStates(part, own);
    }),
  };
}

/** The circuit as it stands in `mode`. */
export const inMode = (circuit: Circuit, mode: Mode): Circuit => withPartStates(circuit, mode.states);

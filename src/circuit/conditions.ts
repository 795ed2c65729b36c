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

/** A number goes to the part's values, a word to its choices; `type` is the device type. */
function withStates(part: Part, states: readonly PartState[]): Part {
  const values = { ...part.values };
  const choices = { ...part.choices };
  let { type } = part;
  for (const { key, value } of states) {
    if (typeof value === "number") values[key] = value;
    else if (key === "type") type = value;
    else choices[key] = value;
  }
  return { ...part, values, choices, ...(type !== undefined && { type }) };
}

/** The circuit with these states applied, later ones over earlier ones. Parts not named are shared. */
export function withPartStates(circuit: Circuit, states: readonly PartState[]): Circuit {
  if (states.length === 0) return circuit;
  const byPart = new Map<string, PartState[]>();
  for (const state of states) {
    const own = byPart.get(state.part);
    if (own === undefined) byPart.set(state.part, [state]);
    else own.push(state);
  }
  const parts = circuit.parts.map((part) => {
    const own = byPart.get(part.name);
    return own === undefined ? part : withStates(part, own);
  });
  return { ...circuit, parts };
}

/** The circuit as it stands in `mode`. */
export const inMode = (circuit: Circuit, mode: Mode): Circuit => withPartStates(circuit, mode.states);

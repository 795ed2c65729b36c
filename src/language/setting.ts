/** Values given on the command line. */
import type { Circuit, Part, PartState } from "../circuit/circuit.ts";
import { withPartStates } from "../circuit/conditions.ts";
import { kindOf } from "../parts/index.ts";
import { Complaints } from "./complaints.ts";
import { Cursor } from "./cursor.ts";
import { readMeasure } from "./measure.ts";
import { meant } from "./nearest.ts";
import { Scanner } from "./scan.ts";
import { takeState } from "./states.ts";
import type { AnyUnit } from "./units.ts";

/** Why a text given on the command line was refused. */
export interface Refused {
  readonly message: string;
  readonly hint?: string;
}

/**
 * Reads `P1=30%`, `R4=4k7`, `S1=record`, `B1=5.2V`, `C4.esr=10 ohm`; several may follow each other, with
 * blanks or commas between. What is read but hardly meant so is added to `doubts`.
 */
export function readSetting(circuit: Circuit, text: string, doubts: Refused[] = []): PartState[] | Refused {
  const states: PartState[] = [];
  const items = text.split(/[\s,]+(?=[^\s=,]+\s*=)/).filter((item) => item.trim() !== "");
  if (items.length === 0) return refused("A part and what it is set to are expected", "write P1=30%");
  for (const item of items) {
    const state = readItem(circuit, item.trim(), doubts);
    if ("message" in state) return state;
    states.push(state);
  }
  return contradictionOf(circuit, states) ?? states;
}

/** Why a part cannot stand so, if its kind knows a reason. */
function contradictionOf(circuit: Circuit, states: readonly PartState[]): Refused | undefined {
  const standing = withPartStates(circuit, states);
  const set = new Set(states.map(({ part }) => part));
  const found = standing.parts
    .filter(({ name }) => set.has(name))
    .flatMap((part) => kindOf(part).check?.(part, standing) ?? [])
    .find(({ severity }) => severity === undefined);
  return found && refused(found.message, found.hint);
}

const refused = (message: string, hint?: string): Refused => ({
  message,
  ...(hint !== undefined && { hint }),
});

function readItem(circuit: Circuit, item: string, doubts: Refused[]): PartState | Refused {
  const equals = item.indexOf("=");
  if (equals <= 0) return refused(`"${item}" does not say what is set to what`, "write P1=30% or S1=record");
  const [name = "", ...key] = item.slice(0, equals).trim().split(".");
  const part = circuit.parts.find((candidate) => candidate.name === name);
  if (part === undefined) {
    return refused(
      `There is no part ${name} to be set`,
      meant(
        name,
        circuit.parts.map((candidate) => candidate.name),
      ),
    );
  }
  return readState(part, [...key, item.slice(equals + 1)].join(" "), doubts);
}

function readState(part: Part, text: string, doubts: Refused[]): PartState | Refused {
  const complaints = new Complaints();
  const [line] = new Scanner("", text, complaints).lines();
  const before = { text: part.name, first: true, file: "", line: 1, column: 1, length: 1 };
  const cursor = new Cursor(line?.words ?? [], before);
  const { name, positions, values } = part;
  const settable = { name, kind: kindOf(part), values, ...(positions && { positions }) };
  const state = takeState(cursor, settable, complaints);
  const found = complaints.sorted([]);
  const first = found.find(({ severity }) => severity === "error");
  if (first !== undefined) return refused(first.message, first.hint);
  if (state === undefined) return refused(`${part.name} cannot be set to "${text}"`);
  const surplus = cursor.peek();
  if (surplus !== undefined)
    return refused(`${part.name}: "${surplus.text}" is not expected behind the value`);
  doubts.push(...found.map(({ message, hint }) => refused(message, hint)));
  return state;
}

/** Reads one value, such as `35C`, `20Hz` or `5 ms`, in SI units (°C, percentages as fractions). */
export function readQuantity(text: string, unit: AnyUnit): number | Refused {
  const plain = text.trim();
  const found = readMeasure(plain, unit);
  if ("why" in found) return refused(`"${plain}" ${found.why}`, found.hint);
  return found.value;
}

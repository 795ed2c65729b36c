/** The device library that ships with the tool. Its types are read one by one, when they are asked for. */
import library from "../../netlists/library.netlist";
import type { DeviceType } from "../circuit/circuit.ts";
import { Complaints } from "./complaints.ts";
import type { DraftType } from "./draft.ts";
import { readType } from "./read-type.ts";
import { Scanner } from "./scan.ts";
import { statements } from "./statements.ts";

/** The name of the library's file in diagnostics and places. */
export const LIBRARY_FILE = "library.netlist";
export const LIBRARY_TEXT: string = library;

interface Block {
  readonly from: number;
  readonly to: number;
  readonly line: number;
}

let blocks: Map<string, Block> | undefined;
const read = new Map<string, DraftType>();

/** Where each type stands in the text: a line that begins with `type`, to the next of them. */
function index(): Map<string, Block> {
  if (blocks !== undefined) return blocks;
  blocks = new Map();
  let line = 1;
  let open: { name: string; from: number; line: number } | undefined;
  for (let from = 0; from <= LIBRARY_TEXT.length; line++) {
    const newline = LIBRARY_TEXT.indexOf("\n", from);
    const end = newline < 0 ? LIBRARY_TEXT.length : newline;
    if (LIBRARY_TEXT.startsWith("type ", from)) {
      if (open !== undefined) blocks.set(open.name, { from: open.from, to: from - 1, line: open.line });
      open = { name: nameBehind(from + 5, end), from, line };
    }
    from = end + 1;
  }
  if (open !== undefined)
    blocks.set(open.name, { from: open.from, to: LIBRARY_TEXT.length, line: open.line });
  return blocks;
}

function nameBehind(from: number, end: number): string {
  let start = from;
  while (start < end && LIBRARY_TEXT[start] === " ") start += 1;
  const blank = LIBRARY_TEXT.indexOf(" ", start);
  return LIBRARY_TEXT.slice(start, blank < 0 || blank > end ? end : blank);
}

/** The names of all types of the library. */
export const libraryNames = (): string[] => [...index().keys()];

/** A type of the library, if it has one of that name. */
export function libraryType(name: string): DraftType | undefined {
  const known = read.get(name);
  const block = index().get(name);
  if (known !== undefined || block === undefined) return known;
  // the library itself is checked by the tests: nothing can be wrong with it here
  const complaints = new Complaints();
  const lines = new Scanner(LIBRARY_FILE, LIBRARY_TEXT, complaints).lines(block.from, block.to, block.line);
  const [statement] = statements(lines, complaints);
  const type = statement && readType(statement, complaints);
  if (type !== undefined) read.set(name, type);
  return type;
}

/** All types of the library, by name. */
export function libraryTypes(): Readonly<Record<string, DeviceType>> {
  const entries = libraryNames().flatMap((name) => {
    const found = libraryType(name);
    return found === undefined ? [] : [[name, found.type] as const];
  });
  return Object.fromEntries(entries);
}

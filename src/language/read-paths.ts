/** `path`: what refers to modes, sources and nets. */
import type { Circuit, PathEnd, SignalPath } from "../circuit/circuit.ts";
import { modesOf } from "../circuit/conditions.ts";
import { Cursor } from "./cursor.ts";
import type { Draft, Pending } from "./draft.ts";
import { listed, withArticle } from "./names.ts";
import { meant } from "./nearest.ts";
import type { NetTable } from "./nets.ts";
import type { Word } from "./scan.ts";
import { placeOf } from "./span.ts";

const USAGE = "write it as path NAME in MODE from SOURCE to NET, or … to PART voltage";

/** What statements that refer to others may name. */
export interface Names {
  readonly draft: Draft;
  /** Names of the modes there are. */
  readonly modes: readonly string[];
  /** The modes come from a switch whose statement failed, or a file with more of them is missing. */
  readonly modesDoubtful: boolean;
  readonly table: NetTable;
}

export function namesOf(draft: Draft, circuit: Circuit, table: NetTable): Names {
  const failed = [...draft.parts.values()].some((part) => part.failed && part.positions !== undefined);
  const lost = draft.lost.size > 0 && draft.parts.size > 0 && circuit.parts.every((part) => !part.positions);
  const modes = modesOf(circuit).map((mode) => mode.name);
  const modesDoubtful = draft.incomplete || (circuit.modes.length === 0 && (failed || lost));
  return { draft, modes, modesDoubtful, table };
}

export function readPaths(draft: Draft, circuit: Circuit, table: NetTable): SignalPath[] {
  const names = namesOf(draft, circuit, table);
  return draft.pending
    .filter(({ keyword }) => keyword.text === "path")
    .map((pending) => readPath(pending, names))
    .filter((path) => path !== undefined);
}

function readPath({ name, words }: Pending, names: Names): SignalPath | undefined {
  const cursor = new Cursor(words, name!);
  const { complaints } = names.draft;
  const before = complaints.errors;
  const mode = cursor.takeIf("in") && takeMode(cursor, names);
  const from = expectWord(cursor, "from", names) ? takeSource(cursor, names) : undefined;
  if (complaints.errors > before && from === undefined) return undefined;
  const end = expectWord(cursor, "to", names) ? takeEnd(cursor, names) : undefined;
  const surplus = cursor.peek();
  if (end !== undefined && surplus !== undefined) {
    complaints.error(surplus, `"${surplus.text}" is not expected at the end of a path`, USAGE);
  }
  if (complaints.errors > before || from === undefined || end === undefined) return undefined;
  return {
    name: name!.text,
    ...(mode !== undefined && { mode }),
    from,
    to: end.end,
    toText: end.text,
    place: placeOf(name!),
  };
}

function expectWord(cursor: Cursor, text: string, { draft }: Names): boolean {
  if (cursor.takeIf(text)) return true;
  const found = cursor.peek();
  draft.complaints.error(
    cursor.here,
    `"${text}" is expected here, but ${found === undefined ? "nothing follows" : `"${found.text}" stands there`}`,
    USAGE,
  );
  return false;
}

/** A mode's name; complains if there is none of that name. */
export function takeMode(cursor: Cursor, { draft, modes, modesDoubtful }: Names): string | undefined {
  const word = cursor.take();
  if (word === undefined) {
    draft.complaints.error(cursor.last, "The name of a mode is expected here");
    return undefined;
  }
  if (modes.includes(word.text) || modesDoubtful || draft.lost.has(word.text)) return word.text;
  const isPoint = word.text.includes(".");
  draft.complaints.error(
    word,
    isPoint
      ? `The name of a mode is expected here, but "${word.text}" is a pin`
      : `There is no mode "${word.text}"`,
    (isPoint ? undefined : meant(word.text, modes)) ??
      `${modes.length === 1 ? "the only mode is" : "the modes are"} ${listed(modes)}`,
  );
  return undefined;
}

function takeSource(cursor: Cursor, { draft }: Names): string | undefined {
  const word = cursor.take();
  const part = draft.parts.get(word?.text ?? "");
  const sources = [...draft.parts.values()].filter(({ kind }) => kind.source).map(({ name }) => name.text);
  const known =
    sources.length > 0 ? `the sources are ${listed(sources)}` : "the netlist has no generator or head";
  if (word === undefined) {
    draft.complaints.error(cursor.last, "A generator or a head is expected here", known);
  } else if (part === undefined) {
    if (draft.lost.has(word.text) || draft.incomplete) return word.text;
    draft.complaints.error(word, `There is no part ${word.text}`, meant(word.text, sources) ?? known);
  } else if (part.kind.source === undefined) {
    draft.complaints.error(
      word,
      `A path begins at a generator or a head, but ${word.text} is ${withArticle(part.kind.keyword)}`,
      known,
    );
  } else return word.text;
  return undefined;
}

interface End {
  readonly end: PathEnd;
  readonly text: string;
}

/** `NET`, `NET minus NET`, `PART voltage` or `PART current`. */
function takeEnd(cursor: Cursor, names: Names): End | undefined {
  const word = cursor.take();
  const { draft, table } = names;
  if (word === undefined) {
    draft.complaints.error(cursor.last, "The end of the path is expected here", USAGE);
    return undefined;
  }
  const quantity = cursor.takeIf("voltage") ?? cursor.takeIf("current");
  if (quantity !== undefined) return partEnd(word, quantity.text as "voltage" | "current", names);
  const net = netOf(word, table);
  if (net === undefined) return complainOfEnd(word, cursor.take(), names);
  if (!cursor.takeIf("minus")) return { end: { net }, text: word.text };
  const other = cursor.take();
  if (other === undefined) {
    draft.complaints.error(cursor.last, 'A net or pin is expected after "minus"', USAGE);
    return undefined;
  }
  const minus = netOf(other, table);
  if (minus === undefined) return complainOfNet(other, names, false);
  return { end: { net, minus }, text: `${word.text} minus ${other.text}` };
}

/** An end that is no net: a part's name, perhaps with `voltage` mistyped behind it. */
function complainOfEnd(word: Word, next: Word | undefined, names: Names): undefined {
  if (next === undefined || !names.draft.parts.has(word.text)) return complainOfNet(word, names, true);
  names.draft.complaints.error(
    next,
    `"voltage" or "current" is expected behind the part ${word.text}, but "${next.text}" stands there`,
    meant(next.text, ["voltage", "current"]),
  );
  return undefined;
}

function partEnd(word: Word, quantity: "voltage" | "current", { draft }: Names): End | undefined {
  const part = draft.parts.get(word.text);
  if (part === undefined && !draft.lost.has(word.text) && !draft.incomplete) {
    const pin = word.text.split(".")[0] ?? "";
    draft.complaints.error(
      word,
      `There is no part ${word.text} whose ${quantity} could be taken`,
      draft.parts.has(pin) ? `did you mean "${pin} ${quantity}"?` : meant(word.text, draft.parts.keys()),
    );
    return undefined;
  }
  return { end: { part: word.text, quantity }, text: `${word.text} ${quantity}` };
}

export const netOf = (word: Word, table: NetTable) => (word.quoted ? undefined : table.find(word.text));

/** A point that no statement has connected. */
export function complainOfNet(word: Word, { draft, table }: Names, atEnd: boolean): undefined {
  const { parts, complaints, incomplete, lost, uncertain } = draft;
  const dot = word.text.indexOf(".");
  const owner = dot < 0 ? word.text : word.text.slice(0, dot);
  const part = parts.get(owner);
  if (incomplete || lost.has(owner) || uncertain.has(word.text)) return undefined;
  if (dot < 0 && part !== undefined) {
    const hint = atEnd
      ? `write "${owner} voltage" or "${owner} current", or name a pin such as ${owner}.${part.joints[0]?.pin ?? 1}`
      : `name a pin, such as ${owner}.${part.joints[0]?.pin ?? 1}`;
    complaints.error(word, `${owner} is a part, not a net`, hint);
  } else if (dot < 0) {
    complaints.error(word, `There is no net "${word.text}"`, meant(word.text, table.names));
  } else if (part === undefined) {
    complaints.error(word, `There is no part ${owner}`, meant(owner, parts.keys()));
  } else if (!part.failed) {
    const pins = part.joints.map(({ pin }) => pin);
    complaints.error(
      word,
      `${owner} has no pin "${word.text.slice(dot + 1)}"; its pins are ${listed(pins.map((pin) => `${owner}.${pin}`))}`,
      meant(word.text.slice(dot + 1), pins),
    );
  }
  return undefined;
}

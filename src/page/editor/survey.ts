/** What a netlist names, gathered from its words however wrong they are: for completion. */
import { Complaints } from "../../language/complaints.ts";
import { isNetName } from "../../language/names.ts";
import { Scanner, type Word } from "../../language/scan.ts";
import { type Statement, statements } from "../../language/statements.ts";
import { partKind } from "../../parts/index.ts";
import type { PartKind } from "../../parts/kind.ts";

export interface NamedPart {
  readonly kind: PartKind;
  /** As behind the dot: `b`, `primary.1`, `eq.common`. */
  readonly pins: readonly string[];
  /** Of a switch. */
  readonly positions: readonly string[];
}

export interface Survey {
  readonly parts: ReadonlyMap<string, NamedPart>;
  readonly nets: ReadonlySet<string>;
  readonly modes: ReadonlySet<string>;
  /** Types that the netlist itself describes. */
  readonly types: ReadonlySet<string>;
}

/** Words with a point behind them, whatever the part. */
const BEFORE_POINT = new Set(["to", "plus", "minus", "anode", "cathode", "e", "b", "c"]);

/** All statements of a text. Never throws. */
export function statementsOf(text: string): readonly Statement[] {
  const complaints = new Complaints();
  return statements(new Scanner("", text, complaints).lines(), complaints);
}

/** What these texts name. */
export function survey(texts: readonly string[]): Survey {
  const found = {
    parts: new Map<string, NamedPart>(),
    nets: new Set(["chassis"]),
    modes: new Set<string>(),
    types: new Set<string>(),
  };
  for (const text of texts) {
    for (const { keyword, words } of statementsOf(text)) {
      const [name] = words;
      const kind = partKind(keyword.text);
      if (kind !== undefined && name !== undefined) found.parts.set(name.text, partOf(kind, words));
      if (keyword.text === "mode" && name !== undefined) found.modes.add(name.text);
      if (keyword.text === "type" && name !== undefined) found.types.add(name.text);
      if (kind !== undefined || keyword.text === "wire") for (const net of netsIn(words)) found.nets.add(net);
    }
  }
  // without a mode of its own each position of the first switch is one
  const [first] = [...found.parts.values()].filter(({ positions }) => positions.length > 0);
  if (found.modes.size === 0) for (const position of first?.positions ?? []) found.modes.add(position);
  return found;
}

/** The points before and behind words such as `to`, and those of a switch's poles, that are nets. */
function netsIn(words: readonly Word[]): string[] {
  const poles = words.flatMap(({ text }, k) => (text === "pole" ? [k] : []));
  return words.flatMap((word, k) => {
    const pole = poles.findLast((start) => start < k);
    const onPole = pole !== undefined && (k - pole === 2 || (k - pole > 2 && (k - pole) % 2 === 0));
    const joined = BEFORE_POINT.has(words[k - 1]?.text ?? "") || words[k + 1]?.text === "to";
    return (onPole || joined) && !word.quoted && isNetName(word.text) ? [word.text] : [];
  });
}

function partOf(kind: PartKind, words: readonly Word[]): NamedPart {
  const { connection } = kind;
  if (connection.form === "labelled") return { kind, pins: connection.pins, positions: [] };
  if (connection.form === "windings") return { kind, pins: windingPins(words), positions: [] };
  if (connection.form === "poles") return switchOf(kind, words);
  const points = 1 + words.filter(({ text }) => text === "to").length;
  const pins = connection.pins.find((list) => list.length === points) ?? connection.pins[0] ?? [];
  return { kind, pins, positions: [] };
}

const namesBehind = (label: string, words: readonly Word[]): readonly string[] =>
  words.flatMap(({ text }, k) => (text === label && words[k + 1] ? [words[k + 1]!.text] : []));

const windingPins = (words: readonly Word[]): string[] =>
  namesBehind("winding", words).flatMap((name) => [`${name}.1`, `${name}.2`, `${name}.tap`]);

function switchOf(kind: PartKind, words: readonly Word[]): NamedPart {
  const end = words.findIndex(({ first }, k) => k > 0 && first);
  const positions = words.slice(1, end < 0 ? undefined : end).map(({ text }) => text);
  const pins = namesBehind("pole", words).flatMap((pole) =>
    ["common", ...positions].map((contact) => `${pole}.${contact}`),
  );
  return { kind, pins, positions };
}

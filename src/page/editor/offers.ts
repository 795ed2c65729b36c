/** What may stand at a place of the netlist, for completion. Plain data, no editor. */
import { DIODE_FIGURES, DIODE_LIMITS, TRANSISTOR_FIGURES, TRANSISTOR_LIMITS } from "../../devices/sheet.ts";
import { libraryTypes } from "../../language/index.ts";
import { vocabulary } from "../../language/part-words.ts";
import { OTHER_KEYWORDS } from "../../language/statements.ts";
import { PART_KINDS, partKind } from "../../parts/index.ts";
import type { PartKind } from "../../parts/kind.ts";
import { type NamedPart, type Survey, statementsOf } from "./survey.ts";

export interface Offer {
  readonly label: string;
  /** What it is, in a few words. */
  readonly detail?: string;
}

export interface Offers {
  /** Where the word begun stands, an offset into the text. */
  readonly from: number;
  readonly offers: readonly Offer[];
}

const MEANINGS: Readonly<Record<(typeof OTHER_KEYWORDS)[number], string>> = {
  circuit: "title",
  ambient: "temperature of the surroundings",
  use: "types from the library or a file",
  tolerance: "of all parts that name none",
  wire: "joins points without a part",
  mode: "named state of switches and settings",
  path: "signal path",
  reading: "what a meter showed",
  printed: "what the service sheet gives",
  type: "device type",
};

const plain = (labels: Iterable<string>, detail?: string): Offer[] =>
  [...labels].map((label) => ({ label, ...(detail !== undefined && { detail }) }));

const KEYWORD_OFFERS: readonly Offer[] = [
  ...PART_KINDS.map(({ keyword, summary }) => ({ label: keyword, detail: summary })),
  ...OTHER_KEYWORDS.map((keyword) => ({ label: keyword, detail: MEANINGS[keyword] })),
];

/** The statement up to the cursor, words that are complete only; undefined in a comment or in quotes. */
function wordsBefore(text: string, at: number) {
  const lineStart = text.lastIndexOf("\n", at - 1) + 1;
  const line = text.slice(lineStart, at);
  const unquoted = line.replace(/"[^"]*"/g, '""');
  if (/[#"]/.test(unquoted.replaceAll('""', ""))) return undefined;
  const begun = /[^\s",]*$/.exec(line)?.[0] ?? "";
  const indented = /^\s/.test(line);
  const above = indented ? text.slice(0, lineStart) : "";
  const statement = statementsOf(`${above}${line.slice(0, line.length - begun.length)}`).at(-1);
  const own = line.trim() !== begun || indented;
  const words = own && statement !== undefined ? [statement.keyword, ...statement.words] : [];
  return { begun, words: words.map(({ text }) => text), opensLine: line.trim() === begun };
}

/** What may stand at the offset `at`; undefined where nothing is to be offered. */
export function offersAt(text: string, at: number, names: Survey): Offers | undefined {
  const before = wordsBefore(text, at);
  if (before === undefined) return undefined;
  const { begun, words, opensLine } = before;
  const dot = begun.indexOf(".");
  const offers = dot > 0 ? pinOffers(begun.slice(0, dot), names) : wordOffers(words, opensLine, names);
  const other = offers.filter(({ label }) => label !== begun);
  return other.length === 0 ? undefined : { from: at - begun.length, offers: unique(other) };
}

const unique = (offers: readonly Offer[]): Offer[] =>
  [...new Map(offers.toReversed().map((offer) => [offer.label, offer])).values()].reverse();

const pinOffers = (owner: string, { parts }: Survey): Offer[] =>
  plain(
    (parts.get(owner)?.pins ?? []).map((pin) => `${owner}.${pin}`),
    parts.get(owner)?.kind.keyword,
  );

/** Nets, and the pins of transistors and of whatever a circuit is looked at by. */
function pointOffers({ nets, parts }: Survey): Offer[] {
  const pins = [...parts].flatMap(([name, { kind, pins }]) =>
    plain(
      pins.map((pin) => `${name}.${pin}`),
      kind.keyword,
    ),
  );
  return [...plain(nets, "net"), ...pins];
}

const partOffers = ({ parts }: Survey, is: (part: NamedPart) => boolean = () => true): Offer[] =>
  [...parts].flatMap(([label, part]) => (is(part) ? [{ label, detail: part.kind.keyword }] : []));

function wordOffers(words: readonly string[], opensLine: boolean, names: Survey): readonly Offer[] {
  const [keyword, ...rest] = words;
  if (keyword === undefined) return KEYWORD_OFFERS;
  const kind = partKind(keyword);
  if (kind !== undefined) return partWords(kind, rest, opensLine, names);
  return STATEMENTS[keyword as keyof typeof STATEMENTS]?.(rest, names) ?? [];
}

const STATEMENTS: Readonly<
  Partial<Record<(typeof OTHER_KEYWORDS)[number], (words: readonly string[], names: Survey) => Offer[]>>
> = {
  use: (words) =>
    words.length === 0 ? [{ label: "library", detail: "the types that come with the tool" }] : [],
  tolerance: () => plain(PART_KINDS.filter(({ tolerance }) => tolerance).map(({ keyword }) => keyword)),
  wire: (words, names) => (words.length % 2 === 0 ? pointOffers(names) : plain(["to"])),
  mode: modeWords,
  path: pathWords,
  reading: givenWords,
  printed: givenWords,
  type: typeWords,
};

function modeWords([name, ...states]: readonly string[], names: Survey): Offer[] {
  if (name === undefined) return [];
  const part = states.length % 2 === 0 ? undefined : names.parts.get(states.at(-1)!);
  if (part === undefined) {
    return partOffers(names, ({ kind, positions }) => positions.length > 0 || settable(kind));
  }
  return plain([...part.positions, ...(part.kind.states ?? [])]);
}

const settable = ({ keyword, words = {}, states }: PartKind): boolean =>
  keyword === "battery" || "setting" in words || states !== undefined;

const BEHIND_PATH: Readonly<Record<string, (names: Survey) => Offer[]>> = {
  in: ({ modes }) => plain(modes, "mode"),
  from: (names) => partOffers(names, ({ kind }) => kind.source === true),
  to: (names) => [...pointOffers(names), ...partOffers(names)],
  minus: pointOffers,
};

function pathWords(words: readonly string[], names: Survey): Offer[] {
  if (words.length === 0) return [];
  const last = words.at(-1)!;
  const behind = BEHIND_PATH[last];
  if (behind !== undefined && words.length > 1) return behind(names);
  const next = ["in", "from", "to"].filter((word) => !words.includes(word));
  if (words.includes("to")) return plain(names.parts.has(last) ? ["voltage", "current"] : ["minus"]);
  return plain(words.includes("from") ? ["to"] : next.filter((word) => word !== "to"));
}

function givenWords(words: readonly string[], names: Survey): Offer[] {
  if (words.length === 0) return plain(names.modes, "mode");
  return words.length === 1 ? [...pointOffers(names), ...partOffers(names)] : [];
}

const figures = (list: readonly { readonly key: string; readonly meaning: string }[]): Offer[] =>
  list.map(({ key, meaning }) => ({ label: key, detail: meaning }));

function typeWords(words: readonly string[]): Offer[] {
  if (words.length === 0) return [];
  if (words.length === 1) return plain(["pnp", "npn", "diode"]);
  if (words.length === 2) return plain(["germanium", "silicon"]);
  const diode = words.includes("diode");
  const limits = figures(diode ? DIODE_LIMITS : TRANSISTOR_LIMITS);
  if (words.includes("limits")) return limits;
  const own = figures(diode ? DIODE_FIGURES : TRANSISTOR_FIGURES);
  return [...own, ...plain(["limits", "source", "case", "leads", ...(diode ? [] : ["spread"])])];
}

/** The next designator that is free: `R24`. */
function nextName({ letters, keyword }: PartKind, { parts }: Survey): Offer {
  const numbers = [...parts.keys()].flatMap((name) =>
    name.startsWith(letters) ? [Number(name.slice(letters.length))] : [],
  );
  const label = `${letters}${1 + Math.max(0, ...numbers.filter(Number.isInteger))}`;
  return { label, detail: `next ${keyword}` };
}

function deviceOffers(device: "transistor" | "diode", { types }: Survey): Offer[] {
  const library = Object.values(libraryTypes())
    .filter((type) => (type.device === "diode") === (device === "diode"))
    .map((type) => ({ label: type.name, detail: `${type.device} ${type.material}` }));
  return [...plain(types, "described in this netlist"), ...library];
}

/** Words behind which a point stands, in a part of this kind. */
function asksForPoint({ connection, aliases = {} }: PartKind, last: string): boolean {
  const labels = connection.form === "labelled" ? connection.pins : ["to"];
  return labels.includes(aliases[last] ?? last);
}

function partWords(
  kind: PartKind,
  words: readonly string[],
  opensLine: boolean,
  names: Survey,
): readonly Offer[] {
  const last = words.at(-1);
  if (last === undefined) return [nextName(kind, names)];
  if (kind.device !== undefined && words.length === 1) return deviceOffers(kind.device, names);
  if (asksForPoint(kind, last)) return pointOffers(names);
  if (last === "on") return plain(windingNames(words), "winding");
  const reference = kind.references?.[last];
  if (reference !== undefined) return partOffers(names, (part) => part.kind.keyword === reference.kind);
  return [...lineWords(kind, words, opensLine, names), ...described(kind), ...loosePoints(kind, names)];
}

const windingNames = (words: readonly string[]) =>
  words.flatMap((word, k) => (word === "winding" && words[k + 1] !== undefined ? [words[k + 1]!] : []));

/** Lines of its own of transformers and switches; on a pole's line its positions. */
function lineWords(kind: PartKind, words: readonly string[], opensLine: boolean, names: Survey): Offer[] {
  const { form } = kind.connection;
  if (form === "windings") return opensLine ? plain(["winding"]) : plain(["turns", "dcr"]);
  if (form !== "poles") return [];
  if (opensLine) return plain(["pole"]);
  return words.includes("pole") ? plain(names.parts.get(words[0]!)?.positions ?? [], "position") : [];
}

const described = (kind: PartKind): Offer[] =>
  vocabulary(kind).map((label) => {
    const meaning = kind.words?.[label]?.meaning ?? kind.references?.[label]?.meaning;
    return meaning === undefined ? { label } : { label, detail: meaning };
  });

/** A part joined by `to` has its first point without a word before it. */
const loosePoints = ({ connection }: PartKind, names: Survey): Offer[] =>
  connection.form === "labelled" ? [] : pointOffers(names);

/** Types that may be fitted in place of a transistor's, and the netlist with one of them fitted. */
import { type AlikeType, typesLike } from "../../bench/alike.ts";
import type { Circuit, DeviceType, Part } from "../../circuit/circuit.ts";
import { libraryTypes, nearestWord } from "../../language/index.ts";
import { readFiles } from "./netlist.ts";

/** The circuit's own types and those of the library. */
export const allTypes = (circuit: Circuit): Readonly<Record<string, DeviceType>> => ({
  ...libraryTypes(),
  ...circuit.types,
});

/** Compared at the current of the sheet's hfe, as `types --like` does, A. */
const USUAL_AMPS = 1e-3;

/** Types of the polarity of one, the most alike first, itself left out; `own` are those of the circuit. */
export function alikeTo(wanted: DeviceType, own: Readonly<Record<string, DeviceType>>): readonly AlikeType[] {
  const all = Object.values({ ...libraryTypes(), ...own });
  const same = all.filter(({ device }) => device === wanted.device);
  return typesLike(wanted, same, wanted.figures["hfe.at"] ?? USUAL_AMPS).slice(1);
}

/** Why a type cannot be tried in place of a part's; undefined if it can. */
export function typeProblem(circuit: Circuit, part: Part, name: string): string | undefined {
  const types = new Map(Object.entries(allTypes(circuit)));
  const [own, type] = [circuit.types[part.type ?? ""], types.get(name)];
  if (own === undefined) return `${part.name} has no type`;
  if (type === undefined) {
    const near = nearestWord(
      name,
      [...types.values()].flatMap((one) => (one.device === own.device ? [one.name] : [])),
    );
    const hint = near === undefined ? "" : `; did you mean ${near}?`;
    return `neither the netlist nor the library has a type “${name}”${hint}`;
  }
  if (type.device === own.device) return undefined;
  return `${name} is ${type.device === "diode" ? "a diode" : type.device}, but ${part.name} is ${own.device}`;
}

/** Nets of a part's collector, through the contacts of `switches` as well, however they stand. */
function collectorNets(switches: readonly Part[], { pins }: Part): ReadonlySet<number> {
  const own = pins.find(({ name }) => name === "c")?.net ?? 0;
  const beyond = switches.flatMap(({ pins: contacts, poles = [] }) =>
    poles
      .filter(({ common }) => contacts[common]?.net === own)
      .flatMap(({ throws }) => Object.values(throws).flatMap((pin) => contacts[pin]?.net ?? [])),
  );
  return new Set([own, ...beyond]);
}

/** The transistor that takes turns with one on a transformer: of its type, at the other end of the same windings. */
export function otherHalf(circuit: Circuit, part: Part): Part | undefined {
  const transformers = circuit.parts.filter(({ kind }) => kind === "transformer");
  if (transformers.length === 0) return undefined;
  const switches = circuit.parts.filter(({ poles = [] }) => poles.length > 0);
  const mine = collectorNets(switches, part);
  const takesTurns = (theirs: ReadonlySet<number>): boolean =>
    transformers.some(({ pins }) => {
      const [here, there] = [mine, theirs].map((nets) => pins.filter(({ net }) => nets.has(net)));
      return here!.some(({ net }) => there!.some((other) => other.net !== net));
    });
  return circuit.parts.find(
    (each) =>
      each.kind === part.kind &&
      each.name !== part.name &&
      each.type === part.type &&
      takesTurns(collectorNets(switches, each)),
  );
}

/** A file of the sheet with another text. */
export interface Refitted {
  readonly file: string;
  readonly text: string;
}

/** What a netlist parts its words by: blanks of every kind, remarks, and the beginning of a line that goes on. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: in a netlist they are blanks
const BETWEEN = /(?:[\s\u200b\0-\x1f\x7f]|#[^\n]*)*/y;

const lineStart = (text: string, line: number): number =>
  text.split("\n", line - 1).reduce((sum, each) => sum + each.length + 1, 0);

/** Where the type of a part begins in the text of its file; undefined where it does not stand behind its name. */
function typeStart(text: string, { name, type = "", place }: Part): number | undefined {
  const at = lineStart(text, place.line) + place.column - 1;
  if (type === "" || !text.startsWith(name, at)) return undefined;
  BETWEEN.lastIndex = at + name.length;
  BETWEEN.test(text);
  const start = BETWEEN.lastIndex;
  return start > at + name.length && text.startsWith(type, start) ? start : undefined;
}

/** With another type; what stands behind in the line keeps its column. */
function withType(text: string, start: number, own: string, wanted: string): string {
  const rest = text.slice(start + own.length);
  const blanks = /^ */.exec(rest)![0].length;
  const ends = /^\s*(?:\n|$)/.test(rest);
  const gap = ends ? "" : " ".repeat(Math.max(1, blanks + own.length - wanted.length));
  return text.slice(0, start) + wanted + gap + rest.slice(ends ? 0 : blanks);
}

/** With the library asked for in a line of its own, before the statement in which a part stands. */
function withLibrary(text: string, { line }: Part["place"]): string {
  const lines = text.split("\n");
  let before = line - 1;
  while (before > 0 && /^(\s|#|$)/.test(lines[before] ?? "")) before--;
  return lines.toSpliced(before, 0, "use library").join("\n");
}

/** Why a type cannot be written in the place of a part's. */
function whyNot(texts: Readonly<Record<string, string>>, { name, place }: Part, sound: boolean): string {
  if (!Object.hasOwn(texts, place.file))
    return `${name} stands in ${place.file}, which is no file of this sheet`;
  if (!sound) return "the netlist has an error; mend it first";
  return `the line of ${name} is not as it was read`;
}

/**
 * The netlist with another type in the statements of some parts, the library asked for if it was not; or why it
 * cannot be written so, a sentence without its full stop.
 */
export function refitted(
  texts: Readonly<Record<string, string>>,
  main: string,
  parts: readonly Part[],
  wanted: string,
): readonly Refitted[] | { readonly message: string } {
  const sound = readFiles(texts, main).circuit !== undefined;
  const changed = new Map<string, string>();
  for (const part of parts) {
    const { file } = part.place;
    const text = changed.get(file) ?? (Object.hasOwn(texts, file) ? texts[file]! : undefined);
    const start = text === undefined || !sound ? undefined : typeStart(text, part);
    if (text === undefined || start === undefined) return { message: whyNot(texts, part, sound) };
    changed.set(file, withType(text, start, part.type ?? "", wanted));
  }
  const [first] = parts;
  if (first === undefined) return [];
  const asked = new Map(changed).set(
    first.place.file,
    withLibrary(changed.get(first.place.file)!, first.place),
  );
  const good = [changed, asked].find(
    (each) => readFiles({ ...texts, ...Object.fromEntries(each) }, main).circuit !== undefined,
  );
  if (good === undefined) return { message: `with ${wanted} there the netlist could not be read` };
  return [...good].map(([file, text]) => ({ file, text }));
}

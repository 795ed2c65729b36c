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

/** A file of the sheet with another text. */
export interface Refitted {
  readonly file: string;
  readonly text: string;
}

const WORDS = /^(\s*transistor\s+)(\S+)(\s+)(\S+)(.*)$/;

/** The line with another type, as far as it is the line of that part; what stands behind keeps its column. */
function refittedLine(line: string, { name, type }: Part, wanted: string): string | undefined {
  const [, keyword, found, gap, own = "", rest = ""] = WORDS.exec(line) ?? [];
  if (found !== name || own !== type) return undefined;
  const blanks = /^ */.exec(rest)![0].length;
  const left = rest === "" ? "" : " ".repeat(Math.max(1, blanks + own.length - wanted.length));
  return `${keyword}${found}${gap}${wanted}${rest.trim() === "" ? "" : left + rest.slice(blanks)}`;
}

/**
 * The netlist with another type in the line of a part, the library asked for if it was not; undefined where the
 * line is not one that could be changed so.
 */
export function refitted(
  texts: Readonly<Record<string, string>>,
  main: string,
  part: Part,
  wanted: string,
): Refitted | undefined {
  const { file, line } = part.place;
  const own = Object.hasOwn(texts, file) ? texts[file] : undefined;
  if (own === undefined) return undefined;
  const lines = own.split("\n");
  const changed = refittedLine(lines[line - 1] ?? "", part, wanted);
  if (changed === undefined) return undefined;
  const plain = lines.with(line - 1, changed).join("\n");
  const tries = [
    plain,
    [...lines.slice(0, line - 1), "use library", changed, ...lines.slice(line)].join("\n"),
  ];
  const text = tries.find((each) => readFiles({ ...texts, [file]: each }, main).circuit !== undefined);
  return text === undefined ? undefined : { file, text };
}

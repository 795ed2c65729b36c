/** What each word of a line is, for the eye: keyword, name, value, small word, remark. */
import { StreamLanguage, type StreamParser } from "@codemirror/language";
import { Tag } from "@lezer/highlight";
import { vocabulary } from "../../language/part-words.ts";
import { KEYWORDS } from "../../language/statements.ts";
import { PART_KINDS, partKind } from "../../parts/index.ts";

export type WordKind = "keyword" | "name" | "value" | "small" | "quoted" | "remark";

/** Words that only join others. */
const SMALL = new Set([
  ...PART_KINDS.flatMap(vocabulary),
  ..."in from to minus at on max voltage current off gain winding turns pole limits library".split(" "),
  ..."pnp npn diode germanium silicon case leads source spread".split(" "),
]);

/** Statements whose second word is a name of its own. */
const named = (keyword: string) =>
  partKind(keyword) !== undefined || ["mode", "path", "type"].includes(keyword);

export interface Within {
  readonly keyword: string;
  readonly count: number;
}

/** What a word is, the `count`-th behind the keyword of its statement; undefined for nothing in particular. */
export function wordKind(word: string, { keyword, count }: Within): WordKind | undefined {
  if (word.startsWith("#")) return "remark";
  if (word.startsWith('"')) return "quoted";
  if (count === 0) return KEYWORDS.has(word) ? "keyword" : undefined;
  if (count === 1 && named(keyword)) return "name";
  if (keyword === "tolerance" && KEYWORDS.has(word)) return "small";
  if (/^[+\-−±]?[\d.,]*\d/.test(word)) return "value";
  return SMALL.has(word) ? "small" : undefined;
}

export const TAGS: Readonly<Record<WordKind, Tag>> = {
  keyword: Tag.define(),
  name: Tag.define(),
  value: Tag.define(),
  small: Tag.define(),
  quoted: Tag.define(),
  remark: Tag.define(),
};

/** As the reader parts words: at blanks, quotes, commas, `±` and a remark. */
const WORD = /^(#.*|"[^"]*"?|±?[^\s"#,±]+|[,±])/;

const PARSER: StreamParser<Within> = {
  startState: () => ({ keyword: "", count: 0 }),
  token(stream, state) {
    // the state is the parser's own: it copies it before each line
    const own = state as { keyword: string; count: number };
    if (stream.sol() && !/\s/.test(stream.peek() ?? " ") && stream.peek() !== "#") own.count = 0;
    if (stream.eatSpace()) return null;
    const found = stream.match(WORD) as RegExpMatchArray | null;
    if (found === null) {
      stream.next();
      return null;
    }
    const kind = wordKind(found[0], own);
    if (own.count === 0 && kind !== "remark") own.keyword = found[0];
    if (kind !== "remark") own.count += 1;
    return kind ?? null;
  },
  tokenTable: TAGS,
  languageData: { commentTokens: { line: "#" } },
};

/** The netlist's language for the editor. */
export const netlistLanguage = StreamLanguage.define(PARSER);

import { PART_KINDS } from "../parts/index.ts";
import type { Complaints } from "./complaints.ts";
import type { Line, Word } from "./scan.ts";

/** A statement with the lines that continue it. Commas are left out of `words`. */
export interface Statement {
  readonly keyword: Word;
  /** All words behind the keyword. */
  readonly words: readonly Word[];
  readonly lines: readonly Line[];
}

/** Statements that are not parts. */
export const OTHER_KEYWORDS = [
  "circuit",
  "ambient",
  "use",
  "tolerance",
  "wire",
  "mode",
  "path",
  "reading",
  "printed",
  "type",
] as const;

export const KEYWORDS: ReadonlySet<string> = new Set([
  ...PART_KINDS.map((kind) => kind.keyword),
  ...OTHER_KEYWORDS,
]);

/** A line that only looks as if it continued the statement above: it begins with a keyword of its own. */
function startsAnew(line: Line, above: readonly Line[]): boolean {
  const first = line.words[0];
  if (first === undefined || line.words.length < 3 || !KEYWORDS.has(first.text) || first.quoted) return false;
  const keyword = above[0]?.words[0]?.text;
  // here the kind of a part is a word of the statement itself
  if (keyword === "tolerance") return false;
  return above.at(-1)?.words.at(-1)?.text !== "to" && line.words[1]?.text !== "to";
}

const isComma = (word: Word) => word.text === "," && word.quoted === undefined;

function statement(lines: readonly Line[]): Statement {
  const all = lines.length === 1 ? lines[0]!.words : lines.flatMap((line) => line.words);
  const [keyword, ...rest] = all;
  return {
    keyword: keyword!,
    words: rest.some(isComma) ? rest.filter((word) => !isComma(word)) : rest,
    lines,
  };
}

/** Groups lines into statements: a line that begins with blanks continues the one above. */
export function statements(lines: readonly Line[], complaints: Complaints): Statement[] {
  const groups: Line[][] = [];
  for (const line of lines) {
    const first = line.words[0];
    if (first === undefined) continue;
    const above = groups.at(-1);
    if (line.indented && above !== undefined && !startsAnew(line, above)) {
      above.push(line);
      continue;
    }
    if (line.indented) complainOfBlanks(first, above === undefined, complaints);
    groups.push([line]);
  }
  return groups.map(statement);
}

function complainOfBlanks(first: Word, nothingAbove: boolean, complaints: Complaints): void {
  const message = nothingAbove
    ? "This line begins with blanks, so it should continue a statement above, but there is none"
    : `The line begins with blanks, so it continues the statement above, where "${first.text}" cannot stand`;
  complaints.error(first, message, "let the line begin in the first column");
}

/** Statements of a file and of the files it uses, into a draft. */
import { partKind } from "../parts/index.ts";
import type { Complaints } from "./complaints.ts";
import { Draft } from "./draft.ts";
import { beside, isReadable, unified } from "./files.ts";
import { meant } from "./nearest.ts";
import { readAmbient, readNamed, readTitle, readTolerances, readWire } from "./read-general.ts";
import { elsewhere, readPart } from "./read-part.ts";
import { readType } from "./read-type.ts";
import { Scanner } from "./scan.ts";
import { KEYWORDS, OTHER_KEYWORDS, type Statement, statements } from "./statements.ts";

/** Deeper than any sensible chain of files. */
const DEEPEST = 16;

/** Why a file that is there cannot be used. */
export interface Unusable {
  readonly message: string;
  readonly hint?: string | undefined;
}

/**
 * Gives the text of a file named in `use "FILE"`, as written in the file `from`; nothing if there is none,
 * or why what is there cannot be used.
 */
export type Files = (name: string, from: string) => string | Unusable | undefined;

type Reading = (statement: Statement) => void;

/** Reads one netlist with everything it uses. */
export class Reader {
  readonly draft: Draft;
  readonly sources = new Map<string, string>();
  readonly #complaints: Complaints;
  readonly #files: Files | undefined;
  readonly #chain: string[] = [];
  readonly #readings: Readonly<Record<(typeof OTHER_KEYWORDS)[number], Reading>>;

  constructor(complaints: Complaints, files: Files | undefined) {
    this.#complaints = complaints;
    this.#files = files;
    this.draft = new Draft(complaints);
    const { draft } = this;
    const keep: Reading = ({ keyword, words }) => draft.pending.push({ keyword, words });
    this.#readings = {
      circuit: (statement) => readTitle(statement, draft),
      ambient: (statement) => readAmbient(statement, draft),
      use: (statement) => this.#use(statement),
      tolerance: (statement) => readTolerances(statement, draft),
      wire: (statement) => readWire(statement, draft),
      mode: (statement) => readNamed(statement, draft),
      path: (statement) => readNamed(statement, draft),
      reading: keep,
      printed: keep,
      type: (statement) => this.#type(statement),
    };
  }

  /** Reads the text of one file. */
  file(file: string, text: string): void {
    const plain = unified(text);
    this.sources.set(file, plain);
    if (!isReadable(file, plain, this.#complaints)) {
      this.draft.incomplete = true;
      return;
    }
    this.draft.main ??= file;
    this.#chain.push(file);
    const lines = new Scanner(file, plain, this.#complaints).lines();
    for (const statement of statements(lines, this.#complaints)) {
      if (this.#complaints.isFull("error")) break;
      this.#statement(statement);
    }
    if (this.#complaints.isFull("error")) this.draft.incomplete = true;
    this.#chain.pop();
  }

  #statement(statement: Statement): void {
    const { keyword } = statement;
    const kind = keyword.quoted ? undefined : partKind(keyword.text);
    const other = keyword.quoted ? undefined : OTHER_KEYWORDS.find((word) => word === keyword.text);
    if (kind !== undefined) readPart(statement, kind, this.draft);
    else if (other !== undefined) this.#readings[other](statement);
    else this.#unknown(statement);
  }

  #unknown(statement: Statement): void {
    const { keyword } = statement;
    this.#complaints.error(
      keyword,
      `"${keyword.text}" is no kind of part and no other statement`,
      meant(keyword.text, KEYWORDS) ?? lineHint(statement),
    );
    this.draft.doubt(statement.words);
    // the name is the second word, or the first where the keyword was forgotten
    for (const word of [keyword, ...statement.words.slice(0, 1)]) this.draft.lost.add(word.text);
  }

  #type(statement: Statement): void {
    const found = readType(statement, this.#complaints);
    if (found === undefined) {
      const name = statement.words[0];
      if (name !== undefined) this.draft.lost.add(name.text);
      return;
    }
    const name = statement.words[0]!;
    const first = this.draft.types.get(found.type.name);
    if (first === undefined) this.draft.types.set(found.type.name, found);
    else {
      this.#complaints.error(
        name,
        `There is already a type ${name.text}, in line ${first.at.line}${elsewhere(first.at, name)}`,
        "give one of them another name",
      );
    }
  }

  #use({ keyword, words }: Statement): void {
    const [name, surplus] = words;
    if (name === undefined) {
      this.#complaints.error(
        keyword,
        "A file in quotes is expected here",
        'write use "FILE", or use library',
      );
    } else if (name.quoted) {
      this.#useFile(name.text, name);
    } else if (name.text === "library") {
      this.draft.usesLibrary = true;
    } else {
      this.#complaints.error(
        name,
        `The file to be used is expected in quotes, or the word library`,
        meant(name.text, ["library"]) ?? `write use "${name.text}"`,
      );
      this.draft.incomplete = true;
    }
    if (surplus !== undefined && name !== undefined) {
      this.#complaints.error(
        surplus,
        "Nothing is expected behind the file",
        "give each file a line of its own",
      );
    }
  }

  #useFile(name: string, at: Statement["keyword"]): void {
    const file = beside(name, at.file);
    const round = this.#chain.indexOf(file);
    if (round >= 0 || this.#chain.length >= DEEPEST) {
      const chain = [...this.#chain.slice(Math.max(0, round)), file].join(" uses ");
      this.#complaints.error(
        at,
        round >= 0 ? `The files use each other in a circle: ${chain}` : `Files use files ${DEEPEST} deep`,
        "put what both need into a third file",
      );
      return;
    }
    if (this.sources.has(file)) return;
    const text = name === "" ? undefined : this.#files?.(name, at.file);
    if (typeof text === "string") {
      this.file(file, text);
      return;
    }
    this.draft.incomplete = true;
    if (text === undefined) this.#complaints.error(at, ...this.#missing(name, at.file));
    else this.#complaints.error(at, text.message, text.hint);
  }

  #missing(name: string, from: string): [string, string | undefined] {
    if (this.#files === undefined) return [`The file "${name}" cannot be reached from here`, undefined];
    if (name.toLowerCase() === "library") {
      return [
        `There is no file "${name}"`,
        "the library that ships with the tool is: use library, without quotes",
      ];
    }
    const other = [`${name}.netlist`, name.toLowerCase(), `${name.toLowerCase()}.netlist`].find(
      (candidate) => candidate !== name && typeof this.#files?.(candidate, from) === "string",
    );
    const hint = other === undefined ? `it is looked for beside ${from}` : `did you mean "${other}"?`;
    return [`There is no file "${name}"`, hint];
  }
}

/** What parts are called in the trade, beside their word in the language. */
const TRADE_NAMES: ReadonlyMap<string, string> = new Map([
  ["bulb", "lamp"],
  ["cell", "battery"],
  ["choke", "inductor"],
  ["coil", "inductor"],
  ["ntc", "thermistor"],
  ["preset", "trimmer"],
  ["rectifier", "diode"],
  ["speaker", "loudspeaker"],
  ["trafo", "transformer"],
]);

/** A comment in another manner, a part's other name, or its own name with the keyword forgotten. */
function lineHint({ keyword }: Statement): string {
  if (/^(\/\/|\*|;|--|%)/.test(keyword.text)) return "a comment begins with #";
  const named = TRADE_NAMES.get(keyword.text.toLowerCase());
  if (named !== undefined) return `write ${named}`;
  const letters = /^([A-Z]+)\d/.exec(keyword.text)?.[1];
  const kinds =
    letters === undefined ? [] : [...KEYWORDS].filter((word) => partKind(word)?.letters === letters);
  if (kinds.length > 0) return `say first what it is: ${kinds.join(" or ")} ${keyword.text} …`;
  return "every line begins with the kind of part, or with circuit, wire, mode, path, type …";
}

/** A part's statement, read from the words its kind declares. */
import type { PartKind, Property, Tail } from "../parts/kind.ts";
import type { Complaints } from "./complaints.ts";
import { Cursor } from "./cursor.ts";
import type { Draft, DraftPart } from "./draft.ts";
import { looksLikeValue, readMeasure } from "./measure.ts";
import { isLooseName, isPartName, isPoint, withArticle } from "./names.ts";
import { meant } from "./nearest.ts";
import { interpret, type Setting, takeQuantity, takeWritten } from "./quantity.ts";
import { readPoles } from "./read-poles.ts";
import { readWindings } from "./read-windings.ts";
import type { Word } from "./scan.ts";
import type { Statement } from "./statements.ts";
import { isTolerance, takeTolerance } from "./tolerance.ts";
import { UNITS } from "./units.ts";

/** Reads one part statement into the draft. */
export function readPart(statement: Statement, kind: PartKind, draft: Draft): void {
  const before = draft.complaints.errors;
  const part = new PartReader(statement, kind, draft.complaints).read();
  const failed = draft.complaints.errors > before;
  if (failed) draft.doubt(statement.words);
  if (part === undefined) return;
  part.failed = failed;
  declare(part, statement, draft);
}

function declare(part: DraftPart, statement: Statement, draft: Draft): void {
  const first = draft.parts.get(part.name.text);
  if (first === undefined) {
    draft.parts.set(part.name.text, part);
    draft.joins.push(part);
    return;
  }
  draft.complaints.error(
    part.name,
    `There is already a part ${part.name.text}, in line ${first.name.line}${elsewhere(first.name, part.name)}`,
    `give this ${part.kind.keyword} a name of its own`,
  );
  draft.doubt(statement.words);
}

/** ` of FILE` where the two do not stand in the same file. */
export const elsewhere = (first: Word, second: Word): string =>
  first.file === second.file ? "" : ` of ${first.file}`;

/** Where the connection of a part begins: for the formatter's columns. */
export function connectionWord(
  statement: Statement,
  kind: PartKind,
  complaints: Complaints,
): Word | undefined {
  const reader = new PartReader(statement, kind, complaints);
  reader.read();
  return reader.connection;
}

class PartReader {
  /** The first word of the connection. */
  connection: Word | undefined;
  readonly #kind: PartKind;
  readonly #complaints: Complaints;
  readonly #cursor: Cursor;
  readonly #clauses: readonly (readonly Word[])[];
  readonly #joins: boolean;
  #part!: DraftPart;
  #puzzled = false;

  constructor(statement: Statement, kind: PartKind, complaints: Complaints) {
    this.#kind = kind;
    this.#complaints = complaints;
    const { head, own } = clausesOf(statement.words, kind);
    this.#clauses = own;
    this.#cursor = new Cursor(head, statement.keyword);
    this.#joins = kind.connection.form === "to";
  }

  read(): DraftPart | undefined {
    const name = this.#name();
    if (name === undefined) return undefined;
    this.#part = {
      kind: this.#kind,
      name,
      joints: [],
      values: {},
      choices: {},
      spans: new Map(),
      failed: false,
    };
    this.#type();
    if (this.#kind.connection.form === "poles") this.#positions();
    while (!this.#cursor.done) this.#next();
    if (this.#kind.connection.form === "windings") readWindings(this.#part, this.#clauses, this.#complaints);
    if (this.#kind.connection.form === "poles") readPoles(this.#part, this.#clauses, this.#complaints);
    this.#complete();
    return this.#part;
  }

  #setting(): Setting {
    return { owner: this.#part.name.text, complaints: this.#complaints, joins: this.#joins };
  }

  #name(): Word | undefined {
    const { keyword, letters } = this.#kind;
    const word = this.#cursor.peek();
    if (word !== undefined && !word.quoted && isPartName(word.text)) return this.#cursor.take();
    const found = word === undefined ? "nothing follows" : `"${word.text}" stands there`;
    this.#complaints.error(
      this.#cursor.here,
      `A name for the ${keyword} is expected here, but ${found}`,
      `a name begins with a letter, such as ${letters}1`,
    );
    return undefined;
  }

  #type(): void {
    if (this.#kind.device === undefined) return;
    const word = this.#cursor.peek();
    const next = this.#cursor.peek(1);
    const labelFollows = word !== undefined && this.#pinOf(word.text) !== undefined;
    // `T1 e A` lacks its type, `T1 e e A` has one called "e"
    const missing = word === undefined || (labelFollows && this.#pinOf(next?.text ?? "") === undefined);
    if (!missing && !word.quoted && isLooseName(word.text)) {
      this.#part.type = this.#cursor.take()!;
      return;
    }
    this.#complaints.error(
      this.#cursor.here,
      `${this.#part.name.text} has no type: the ${this.#kind.device}'s type is expected behind its name`,
      `write it as ${this.#kind.keyword} ${this.#part.name.text} TYPE …`,
    );
    if (!missing) this.#cursor.take();
  }

  #positions(): void {
    const positions: string[] = [];
    for (let word = this.#cursor.peek(); word !== undefined; word = this.#cursor.peek()) {
      if (Object.hasOwn(this.#kind.words ?? {}, word.text)) break;
      this.#cursor.take();
      this.#checkPosition(word, positions);
      positions.push(word.text);
    }
    this.#part.positions = positions;
  }

  #checkPosition(word: Word, before: readonly string[]): void {
    if (word.quoted || !isLooseName(word.text) || word.text === "common") {
      const hint =
        word.text === "common" ? '"common" is the name of the contact that all positions share' : undefined;
      this.#complaints.error(word, `"${word.text}" cannot be the name of a switch's position`, hint);
    } else if (before.includes(word.text)) {
      this.#complaints.error(word, `${this.#part.name.text} has the position "${word.text}" twice`);
    }
  }

  /** One item of the statement: points, a labelled pin, a property, a choice, a tolerance, a bare value. */
  #next(): void {
    const word = this.#cursor.peek()!;
    if (word.quoted) return this.#unexpected();
    if (this.#joins && this.#cursor.peek(1)?.text === "to") return this.#points();
    if (this.#kind.connection.form === "labelled" && this.#pinOf(word.text) !== undefined)
      return this.#label();
    const { words = {}, references = {} } = this.#kind;
    if (Object.hasOwn(words, word.text)) {
      this.#cursor.take();
      return this.#property(words[word.text]!, word);
    }
    if (Object.hasOwn(references, word.text)) return this.#reference();
    if (this.#choice(word)) return;
    if (isTolerance(this.#cursor)) return this.#tolerance();
    if (looksLikeValue(word.text) && (this.#openBare().length > 0 || /^[-+.,\d]/.test(word.text)))
      return this.#bare();
    this.#unexpected();
  }

  #points(): void {
    const points = [this.#cursor.take()!];
    while (this.#cursor.takeIf("to")) {
      const point = this.#cursor.take();
      if (point === undefined) {
        this.#complaints.error(
          this.#cursor.last,
          `${this.#part.name.text}: a connection point is expected after "to"`,
          "name a net, or a pin such as T1.b",
        );
        this.#puzzled = true;
        break;
      }
      points.push(point);
    }
    if (!points.every((point) => checkPoint(point, this.#complaints))) this.#puzzled = true;
    this.#connect(points);
  }

  #connect(points: readonly Word[]): void {
    if (this.connection !== undefined) {
      this.#complaints.error(
        points[0]!,
        `${this.#part.name.text} is connected twice in one statement`,
        "keep one of the two",
      );
      return;
    }
    this.connection = points[0];
    const { connection } = this.#kind;
    if (connection.form !== "to") return;
    const pins = connection.pins.find((list) => list.length === points.length);
    if (pins !== undefined) {
      this.#part.joints.push(...pins.map((pin, k) => ({ pin, point: points[k]! })));
      return;
    }
    if (this.#puzzled) return;
    const wanted = connection.pins.map((list) => list.length).join(" or ");
    this.#complaints.error(
      points[0]!,
      `${this.#part.name.text} is joined to ${points.length} points, but ${withArticle(this.#kind.keyword)} has ${wanted} ends`,
      `write it as ${usage(this.#kind)}`,
    );
  }

  /** The pin that a label names. */
  #pinOf(text: string): string | undefined {
    const { connection, aliases = {} } = this.#kind;
    if (connection.form !== "labelled") return undefined;
    const pin = Object.hasOwn(aliases, text) ? aliases[text] : text;
    return pin !== undefined && connection.pins.includes(pin) ? pin : undefined;
  }

  #label(): void {
    const label = this.#cursor.take()!;
    this.connection ??= label;
    const pin = this.#pinOf(label.text)!;
    const point = this.#cursor.take();
    if (point === undefined) {
      this.#complaints.error(
        label,
        `${this.#part.name.text}: a connection point is expected after "${label.text}"`,
        "name a net, or a pin such as T1.b",
      );
    } else if (this.#part.joints.some((joint) => joint.pin === pin)) {
      this.#complaints.error(label, `${this.#part.name.text} has "${pin}" connected twice in one statement`);
    } else {
      checkPoint(point, this.#complaints);
      this.#part.joints.push({ pin, point });
    }
  }

  #property(property: Property, word: Word): void {
    const found = takeQuantity(this.#cursor, property, this.#setting());
    if (found === undefined) {
      this.#part.spans.set(property.key, word);
      this.#puzzled = true;
    } else if (this.#part.spans.has(property.key)) {
      this.#complaints.error(word, `${this.#part.name.text} has "${word.text}" twice`, "keep one of the two");
    } else {
      this.#part.values[property.key] = found.value;
      this.#part.spans.set(property.key, found);
    }
    this.#tails(property, word);
  }

  #tails(property: Property, behind: Word): void {
    const tails = property.tails ?? [];
    const open = [...tails];
    while (open.length > 0) {
      const next = this.#cursor.peek()?.text;
      const tail = open.find(({ word }) => word === next);
      const isPoint = this.#joins && next !== "to" && this.#cursor.peek(1)?.text === "to";
      if (tail === undefined || isPoint) break;
      open.splice(open.indexOf(tail), 1);
      this.#tail(tail, open);
    }
    const missing = open.find((tail) => tail.optional === undefined);
    if (missing === undefined || this.#puzzled) return;
    const what = "names" in missing ? `a ${missing.names}` : `the ${missing.meaning}`;
    this.#complaints.error(
      behind,
      `${this.#part.name.text}: behind "${behind.text}", ${what} is missing`,
      `add "${missing.word} ${"names" in missing ? missing.names.toUpperCase() : UNITS[missing.unit].example.split(" or ")[0]}"`,
    );
  }

  #tail(tail: Tail, stillOpen: readonly Tail[]): void {
    this.#cursor.take();
    if (!("names" in tail)) {
      // `from 3 mH to 7 mH`: here the word before "to" is a unit
      const joins = this.#joins && !stillOpen.some(({ word }) => word === "to");
      const found = takeQuantity(this.#cursor, tail, { ...this.#setting(), joins });
      if (found === undefined) this.#puzzled = true;
      else this.#part.values[tail.key] = found.value;
      return;
    }
    const name = this.#cursor.take();
    if (name === undefined) {
      this.#complaints.error(
        this.#cursor.last,
        `${this.#part.name.text}: the name of a ${tail.names} is expected here`,
      );
    } else {
      this.#part.choices[tail.key] = name.text;
      this.#part.spans.set(tail.key, name);
    }
  }

  #reference(): void {
    const word = this.#cursor.take()!;
    const name = this.#cursor.take();
    if (name === undefined) {
      const meaning = this.#kind.references?.[word.text]?.meaning ?? "part";
      this.#complaints.error(
        word,
        `${this.#part.name.text}: the name of a ${meaning} is expected after "${word.text}"`,
      );
    } else {
      this.#part.choices[word.text] = name.text;
      this.#part.spans.set(word.text, name);
    }
  }

  #choice(word: Word): boolean {
    for (const [key, choices] of Object.entries(this.#kind.choices ?? {})) {
      if (!choices.includes(word.text)) continue;
      const before = this.#part.choices[key];
      if (before !== undefined) {
        this.#complaints.error(word, `${this.#part.name.text} is already said to be ${before}`);
      }
      this.#cursor.take();
      this.#part.choices[key] = word.text;
      return true;
    }
    return false;
  }

  #tolerance(): void {
    const { text } = this.#part.name;
    const found = takeTolerance(this.#cursor, text, this.#complaints);
    if (found === undefined) return;
    const { at, low, high } = found;
    if (this.#kind.tolerance === undefined) {
      const hint = Object.hasOwn(this.#kind.words ?? {}, "setting") ? `write "setting" before it` : undefined;
      this.#complaints.error(at, `${text}: ${withArticle(this.#kind.keyword)} takes no tolerance`, hint);
    } else if (this.#part.spans.has("tolerance")) {
      this.#complaints.error(at, `${text} has a tolerance twice`, "keep one of the two");
    } else {
      this.#part.tolerance = { low, high };
      this.#part.spans.set("tolerance", at);
    }
  }

  #openBare() {
    return (this.#kind.bare ?? []).filter((property) => !this.#part.spans.has(property.key));
  }

  /** A value without a word before it: the first that is still open and has its unit. */
  #bare(): void {
    const open = this.#openBare();
    const first = open[0];
    const word = this.#cursor.peek()!;
    if (first === undefined) return this.#surplus();
    const written = takeWritten(this.#cursor, first.unit, this.#joins)!;
    const fitting = open.find(({ unit }) => {
      const measure = readMeasure(written.text, unit);
      return !("why" in measure) && (measure.unit || unit === first.unit);
    });
    const property = fitting ?? first;
    const found = interpret(written, property, this.#setting());
    this.#part.spans.set(property.key, found ?? written);
    if (found === undefined) this.#puzzled = true;
    else this.#part.values[property.key] = found.value;
    if (found?.tolerance !== undefined && this.#kind.tolerance) {
      this.#part.tolerance = found.tolerance;
      this.#part.spans.set("tolerance", found);
    }
    this.#tails(property, word);
  }

  #surplus(): void {
    const written = takeWritten(this.#cursor, "number", this.#joins)!;
    if (this.#puzzled) return;
    this.#puzzled = true;
    this.#complaints.error(
      written,
      `${this.#part.name.text}: it is not clear what "${written.text}" is`,
      (this.#kind.bare ?? []).length === 0
        ? `${withArticle(this.#kind.keyword)} has no value of that kind: ${usage(this.#kind)}`
        : `a value of its own needs its word before it: ${usage(this.#kind)}`,
    );
  }

  /** A word that fits nowhere. Only the first is reported; what is recognised again behind it is read. */
  #unexpected(): void {
    const word = this.#cursor.take()!;
    if (this.#puzzled) return;
    this.#puzzled = true;
    const known = vocabulary(this.#kind);
    this.#complaints.error(
      word,
      `${this.#part.name.text}: "${word.text}" is not expected in the statement of ${withArticle(this.#kind.keyword)}`,
      meant(word.text, known) ?? `write it as ${usage(this.#kind)}`,
    );
  }

  #complete(): void {
    this.#required();
    this.#defaults();
    const { connection } = this.#kind;
    if (connection.form === "to" && this.connection === undefined && !this.#puzzled) {
      this.#complaints.error(
        this.#cursor.last,
        `${this.#part.name.text} is not connected: its two ends are expected, as "A to B"`,
        `write it as ${usage(this.#kind)}`,
      );
    }
    if (connection.form === "labelled") this.#labels(connection.pins, connection.optional === true);
  }

  #required(): void {
    if (this.#puzzled) return;
    for (const property of this.#openBare()) {
      if (property.optional) continue;
      const first = this.#part.joints[0]?.point;
      const swallowed = first !== undefined && !("why" in readMeasure(first.text, property.unit));
      this.#complaints.error(
        this.#part.name,
        `${this.#part.name.text} has no ${property.meaning}`,
        swallowed
          ? `"${first.text}" stands before "to" and so counts as a connection point`
          : `write it as ${usage(this.#kind)}`,
      );
    }
  }

  /** Pins not named here stand at the end, unconnected so far, in the kind's order. */
  #labels(pins: readonly string[], optional: boolean): void {
    const { joints } = this.#part;
    const missing = pins.filter((pin) => joints.every((joint) => joint.pin !== pin));
    if (missing.length > 0 && !optional && !this.#puzzled) {
      this.#complaints.error(
        this.#cursor.last,
        `${this.#part.name.text}: "${missing.join('" and "')}" ${missing.length > 1 ? "are" : "is"} not connected`,
        `write it as ${usage(this.#kind)}`,
      );
    }
    joints.push(...missing.map((pin) => ({ pin })));
    joints.sort((a, b) => pins.indexOf(a.pin) - pins.indexOf(b.pin));
  }

  #defaults(): void {
    const { bare = [], words = {}, choices = {} } = this.#kind;
    for (const property of [...bare, ...Object.values(words)]) {
      const { key, tails = [] } = property;
      if (property.default !== undefined) this.#part.values[key] ??= property.default;
      if (this.#part.values[key] === undefined) continue;
      for (const tail of tails) {
        if (!("names" in tail) && tail.default !== undefined) this.#part.values[tail.key] ??= tail.default;
      }
    }
    for (const [key, [first = ""]] of Object.entries(choices)) this.#part.choices[key] ??= first;
  }
}

interface Clauses {
  readonly head: readonly Word[];
  readonly own: readonly (readonly Word[])[];
}

/** Words of the head, and those of each line of its own (`winding …`, `pole …`). */
function clausesOf(words: readonly Word[], kind: PartKind): Clauses {
  const { form } = kind.connection;
  const start = form === "windings" ? "winding" : form === "poles" ? "pole" : undefined;
  const head: Word[] = [];
  const own: Word[][] = [];
  let into = head;
  for (const word of words) {
    if (word.text === start && (word.first || into === head) && word !== words[0]) {
      into = [];
      own.push(into);
    } else if (start !== undefined && word.first && Object.hasOwn(kind.words ?? {}, word.text)) into = head;
    into.push(word);
  }
  return { head, own };
}

/** Complains of a word that can be neither net nor pin. */
export function checkPoint(word: Word, complaints: Complaints): boolean {
  if (!word.quoted && isPoint(word.text)) return true;
  complaints.error(
    word,
    `"${word.text}" is neither a net nor a pin`,
    "a net's name has letters, digits and _ only; a pin is written T1.b",
  );
  return false;
}

function vocabulary({
  words = {},
  references = {},
  choices = {},
  connection,
  aliases = {},
}: PartKind): string[] {
  const labels = connection.form === "labelled" ? connection.pins : ["to"];
  return [
    ...labels,
    ...Object.keys(words),
    ...Object.keys(references),
    ...Object.values(choices).flat(),
    ...Object.keys(aliases),
  ];
}

const EXAMPLES: Readonly<Record<string, string>> = {
  resistor: "4k7 A to B",
  capacitor: "22n A to B",
  electrolytic: "100µ 10 V plus A minus B",
  inductor: "4.7mH A to B",
  potentiometer: "10k log A to WIPER to B",
  trimmer: "500R A to B",
  thermistor: "130R at 25 °C A to B",
  diode: "TYPE anode A cathode B",
  transistor: "TYPE e A b B c C",
  battery: "6 V plus A minus B",
  generator: "1 mV A to B",
  head: "80mH A to B",
  loudspeaker: "8 ohm A to B",
  meter: "650R plus A minus B",
  lamp: "6 V 50 mA A to B",
  transformer: "with a line for each winding",
  switch: "POSITION POSITION, then a line for each pole",
};

/** A statement of this kind as one would write it. */
export function usage(kind: PartKind): string {
  return `${kind.keyword} ${kind.letters}1 ${EXAMPLES[kind.keyword] ?? "…"}`;
}

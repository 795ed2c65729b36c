/** The `winding` lines of a transformer. */
import { DCR } from "../parts/coil.ts";
import type { Complaints } from "./complaints.ts";
import { Cursor } from "./cursor.ts";
import type { DraftPart } from "./draft.ts";
import { isPartName } from "./names.ts";
import { meant } from "./nearest.ts";
import { checkPoint } from "./part-points.ts";
import { takeQuantity } from "./quantity.ts";
import type { Word } from "./scan.ts";

const USAGE = "write it as winding NAME 1200 turns dcr 95 ohm A to B";
const TURNS = /^-?\d+([.,]\d+)?(\+\d+([.,]\d+)?)*(turns?)?$/;

/** Reads each `winding` line into pins and windings of the part. */
export function readWindings(
  part: DraftPart,
  clauses: readonly (readonly Word[])[],
  complaints: Complaints,
): void {
  part.windings = [];
  for (const clause of clauses) new WindingReader(part, clause, complaints).read();
  if (clauses.length === 0) {
    complaints.error(
      part.name,
      `${part.name.text} has no windings`,
      "write each on an indented line: winding NAME 1200 turns A to B",
    );
  }
  checkReferences(
    part,
    clauses.map(([, name]) => name?.text ?? ""),
    complaints,
  );
}

/** `on NAME` must name a winding, be its own line sound or not. */
function checkReferences(part: DraftPart, names: readonly string[], complaints: Complaints): void {
  for (const key of ["magnetising.on", "loss.on"]) {
    const name = part.choices[key];
    const at = part.spans.get(key);
    if (name === undefined || at === undefined || names.includes(name)) continue;
    complaints.error(
      at,
      `${part.name.text} has no winding "${name}"`,
      meant(name, names) ?? `its windings are ${names.join(", ")}`,
    );
  }
}

class WindingReader {
  readonly #part: DraftPart;
  readonly #cursor: Cursor;
  readonly #complaints: Complaints;
  readonly #line: Word;

  constructor(part: DraftPart, clause: readonly Word[], complaints: Complaints) {
    this.#part = part;
    this.#line = clause[0]!;
    this.#cursor = new Cursor(clause.slice(1), this.#line);
    this.#complaints = complaints;
  }

  read(): void {
    const name = this.#cursor.take();
    if (name === undefined || name.quoted || !isPartName(name.text)) {
      this.#complaints.error(name ?? this.#line, "A name for the winding is expected here", USAGE);
      return;
    }
    if (this.#part.windings?.some((winding) => winding.name === name.text)) {
      this.#complaints.error(name, `${this.#part.name.text} has a winding "${name.text}" already`);
      return;
    }
    const turns = this.#turns(name);
    if (turns === undefined) return;
    const { dcr, points } = this.#rest();
    if (points !== undefined) this.#add(name, turns, dcr, points);
  }

  get #owner(): string {
    return this.#part.name.text;
  }

  #turns(name: Word): number[] | undefined {
    const word = this.#cursor.peek();
    if (word === undefined || word.quoted || !TURNS.test(word.text)) {
      const found = word === undefined ? "nothing follows" : `"${word.text}" stands there`;
      this.#complaints.error(
        this.#cursor.here,
        `${this.#owner}: the number of turns of "${name.text}" is expected here, but ${found}`,
        "write it as 1200 turns, or as 300+100 turns for a tapped winding",
      );
      return undefined;
    }
    this.#cursor.take();
    if (!word.text.includes("t")) this.#cursor.takeIf("turns") ?? this.#cursor.takeIf("turn");
    const turns = word.text
      .replace(/turns?$/, "")
      .split("+")
      .map((n) => Number(n.replace(",", ".")));
    if (turns.every((n) => n > 0 && n < 1e9)) return turns;
    this.#complaints.error(word, `${this.#owner}: a winding of "${word.text}" turns cannot be`, USAGE);
    return undefined;
  }

  /** `dcr` and the points, in any order. */
  #rest(): { dcr: number; points: Word[] | undefined } {
    let dcr = DCR.default ?? 0;
    let points: Word[] | undefined;
    while (!this.#cursor.done) {
      if (this.#cursor.peek(1)?.text === "to" && points === undefined) points = this.#points();
      else if (this.#cursor.takeIf("dcr")) {
        const setting = { owner: this.#owner, complaints: this.#complaints, joins: true };
        dcr = takeQuantity(this.#cursor, DCR, setting)?.value ?? dcr;
      } else {
        this.#unexpected();
        return { dcr, points: undefined };
      }
    }
    if (points === undefined) {
      this.#complaints.error(this.#cursor.last, `${this.#owner}: this winding is not connected`, USAGE);
    }
    return {
      dcr,
      points: points?.every((point) => checkPoint(point, this.#complaints)) ? points : undefined,
    };
  }

  #points(): Word[] {
    const points = [this.#cursor.take()!];
    while (this.#cursor.takeIf("to")) {
      const point = this.#cursor.take();
      if (point !== undefined) points.push(point);
      else {
        this.#complaints.error(
          this.#cursor.last,
          `${this.#owner}: a connection point is expected after "to"`,
          USAGE,
        );
      }
    }
    return points;
  }

  #unexpected(): void {
    const word = this.#cursor.take()!;
    this.#complaints.error(
      word,
      `${this.#owner}: "${word.text}" is not expected in the line of a winding`,
      meant(word.text, ["dcr", "to", "turns"]) ?? USAGE,
    );
  }

  #add(name: Word, given: readonly number[], dcr: number, points: readonly Word[]): void {
    const sections = points.length - 1;
    const [total = 0] = given;
    const turns = given.length === 1 ? points.slice(1).map(() => total / sections) : given;
    if (sections < 1 || turns.length !== sections) {
      this.#complaints.error(
        points[0]!,
        `${this.#owner}: "${name.text}" has ${given.length} sections of turns, so ${given.length + 1} points, but ${points.length} are given`,
        "give one point more than there are sections",
      );
      return;
    }
    const { joints, windings } = this.#part;
    const pins = points.map((_, k) => joints.length + k);
    joints.push(...points.map((point, k) => ({ pin: `${name.text}.${endName(k, sections)}`, point })));
    windings?.push({ name: name.text, turns, pins, dcr });
  }
}

/** `1`, `2` at the ends, `tap` between, or `tap1`, `tap2` … */
function endName(k: number, sections: number): string {
  if (k === 0) return "1";
  if (k === sections) return "2";
  return sections === 2 ? "tap" : `tap${k}`;
}

/** Points to nets: what is joined or bears the same name is one conductor. */
import type { Net } from "../circuit/circuit.ts";
import type { Draft, DraftPart } from "./draft.ts";
import { listed } from "./names.ts";
import { meant } from "./nearest.ts";
import type { Word } from "./scan.ts";

export const CHASSIS = "chassis";

/** Sets of numbers that are joined pairwise. */
export class Joined {
  readonly #above: number[] = [];

  add(): number {
    return this.#above.push(this.#above.length) - 1;
  }

  root(k: number): number {
    let top = k;
    while (this.#above[top] !== top) {
      this.#above[top] = this.#above[this.#above[top]!]!;
      top = this.#above[top]!;
    }
    return top;
  }

  /** Joins two; false if they were one already. */
  join(a: number, b: number): boolean {
    const [one, other] = [this.root(a), this.root(b)];
    this.#above[Math.max(one, other)] = Math.min(one, other);
    return one !== other;
  }

  static of(size: number): Joined {
    const joined = new Joined();
    for (let k = 0; k < size; k++) joined.add();
    return joined;
  }
}

/** All pins that a part may have: those connected, or those of its kind where the statement failed. */
export function pinsOf(part: DraftPart): readonly string[] {
  const { connection } = part.kind;
  const own = part.joints.map((joint) => joint.pin);
  if (!part.failed || own.length > 0) return own;
  if (connection.form === "to") return connection.pins.at(-1) ?? [];
  return connection.form === "labelled" ? connection.pins : [];
}

/** The nets of a draft, and how to find one by a point. */
export class NetTable {
  readonly nets: readonly Net[];
  /** Where each net is first named, or its first pin stands. */
  readonly places: readonly Word[];
  /** Nets that something in error may touch. */
  readonly uncertain: ReadonlySet<number>;
  readonly #draft: Draft;
  readonly #joined = new Joined();
  readonly #nodes = new Map<string, number>();
  readonly #first: Word[] = [];
  readonly #net = new Map<number, number>();
  readonly #doubted = new Set<string>();
  #names: readonly string[] | undefined;

  constructor(draft: Draft) {
    this.#draft = draft;
    this.#node(CHASSIS, { text: CHASSIS, file: "", line: 0, column: 0, length: 0, first: false });
    for (const join of draft.joins) {
      if ("kind" in join) this.#part(join);
      else this.#wire(join);
    }
    const { nets, places } = this.#collect();
    this.nets = nets;
    this.places = places;
    const doubts = [...draft.uncertain, ...this.#doubted].map((text) => this.find(text));
    this.uncertain = new Set(doubts.filter((net) => net !== undefined));
  }

  /** Whether anything is connected to chassis. */
  get grounded(): boolean {
    return this.#first[0]?.line !== 0;
  }

  /** The net of a net's name or a pin. */
  find(text: string): number | undefined {
    const node = this.#nodes.get(this.#canonical(text) ?? text);
    return node === undefined ? undefined : this.#net.get(this.#joined.root(node));
  }

  /** Net names as given in the netlist. */
  get names(): readonly string[] {
    this.#names ??= [...this.#nodes.keys()].filter((name) => !name.includes("."));
    return this.#names;
  }

  #node(key: string, at: Word): number {
    const known = this.#nodes.get(key);
    if (known === undefined) {
      const node = this.#joined.add();
      this.#nodes.set(key, node);
      this.#first.push(at);
      return node;
    }
    if (this.#first[known]?.line === 0) this.#first[known] = at;
    return known;
  }

  #part(part: DraftPart): void {
    const owner = part.name.text;
    for (const { pin, point } of part.joints) {
      const node = this.#node(`${owner}.${pin}`, part.name);
      const other = point && this.#point(point);
      if (other !== undefined) this.#joined.join(node, other);
      if (part.failed || (point !== undefined && other === undefined)) this.#doubted.add(`${owner}.${pin}`);
    }
  }

  #wire(points: readonly Word[]): void {
    const nodes = points.map((point) => this.#point(point));
    const first = nodes.find((node) => node !== undefined);
    for (const node of nodes) {
      if (node !== undefined && first !== undefined) this.#joined.join(first, node);
    }
    if (nodes.includes(undefined)) for (const point of points) this.#doubted.add(point.text);
  }

  /** `T1.base` as `T1.b`; nothing for a pin that does not exist. */
  #canonical(text: string): string | undefined {
    const dot = text.indexOf(".");
    if (dot < 0) return text;
    const part = this.#draft.parts.get(text.slice(0, dot));
    const written = text.slice(dot + 1);
    const aliases = part?.kind.aliases ?? {};
    const pin = Object.hasOwn(aliases, written) ? aliases[written]! : written;
    return part !== undefined && pinsOf(part).includes(pin) ? `${part.name.text}.${pin}` : undefined;
  }

  #point(word: Word): number | undefined {
    const key = this.#canonical(word.text);
    if (key !== undefined) {
      if (!word.text.includes(".")) this.#warnOfPart(word);
      return this.#node(key, word);
    }
    this.#complainOfPin(word);
    return undefined;
  }

  /** A part's name alone where a point stands is taken for a net's, but hardly meant so. */
  #warnOfPart(word: Word): void {
    const part = this.#draft.parts.get(word.text);
    if (part === undefined || this.#nodes.has(word.text)) return;
    this.#doubted.add(word.text);
    this.#draft.complaints.warning(
      word,
      `"${word.text}" is the name of a part; as a connection point it is taken for a net of that name`,
      `name the pin: ${listed(
        pinsOf(part).map((pin) => `${word.text}.${pin}`),
        "or",
      )}`,
    );
  }

  #complainOfPin(word: Word): void {
    const { parts, lost, incomplete, complaints } = this.#draft;
    const dot = word.text.indexOf(".");
    const [owner, pin] = [word.text.slice(0, dot), word.text.slice(dot + 1)];
    const part = parts.get(owner);
    if (complaints.isFull("error")) return;
    if (part === undefined) {
      if (lost.has(owner) || incomplete) return;
      const near = meant(owner, parts.keys());
      complaints.error(
        { ...word, length: owner.length },
        `There is no part ${owner}`,
        near ??
          (parts.size === 0 || parts.size > MOST_LISTED
            ? undefined
            : `the netlist has ${listed([...parts.keys()])}`),
      );
      this.#doubt(near?.split('"')[1]);
      return;
    }
    if (part.failed) return;
    const pins = pinsOf(part);
    this.#doubt(owner);
    complaints.error(
      word,
      `${owner} has no pin "${pin}"; its pins are ${listed(pins.map((name) => `${owner}.${name}`))}`,
      meant(pin, [...pins, ...Object.keys(part.kind.aliases ?? {})]),
    );
  }

  #doubt(owner: string | undefined): void {
    const part = this.#draft.parts.get(owner ?? "");
    for (const pin of part === undefined ? [] : pinsOf(part)) this.#doubted.add(`${owner}.${pin}`);
  }

  #collect(): { nets: Net[]; places: Word[] } {
    const groups = new Map<number, { given: string[]; points: string[] }>();
    const group = (node: number) => {
      const root = this.#joined.root(node);
      const known = groups.get(root) ?? { given: [], points: [] };
      groups.set(root, known);
      return known;
    };
    for (const [key, node] of this.#nodes) {
      const own = group(node);
      if (!key.includes(".")) own.given.push(key);
    }
    for (const part of this.#draft.parts.values()) {
      for (const { pin } of part.joints) {
        const point = `${part.name.text}.${pin}`;
        group(this.#nodes.get(point)!).points.push(point);
      }
    }
    const nets: Net[] = [];
    const places: Word[] = [];
    for (const [root, { given: names, points }] of groups) {
      const [given, ...otherNames] = names;
      this.#net.set(root, nets.length);
      const transistor = points.find((point) => this.#isTransistor(point));
      nets.push({
        name: given ?? transistor ?? points[0] ?? CHASSIS,
        points,
        ...(otherNames.length > 0 && { otherNames }),
      });
      places.push(this.#first[this.#nodes.get(given ?? points[0] ?? CHASSIS) ?? 0]!);
    }
    return { nets, places };
  }

  #isTransistor(point: string): boolean {
    return this.#draft.parts.get(point.slice(0, point.indexOf(".")))?.kind.keyword === "transistor";
  }
}

/** A hint that lists more names than this does not help. */
const MOST_LISTED = 8;

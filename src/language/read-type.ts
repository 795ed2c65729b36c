/** `type NAME pnp germanium` and the figures behind it. */
import type { DeviceType } from "../circuit/circuit.ts";
import { diodeParameters } from "../devices/diode.ts";
import {
  DIODE_FIGURES,
  DIODE_LIMITS,
  type Figure,
  TRANSISTOR_FIGURES,
  TRANSISTOR_LIMITS,
} from "../devices/sheet.ts";
import { transistorParameters } from "../devices/transistor-parameters.ts";
import type { Complaints } from "./complaints.ts";
import { Cursor } from "./cursor.ts";
import type { DraftType } from "./draft.ts";
import { beginsWithDigit } from "./measure.ts";
import { isLooseName } from "./names.ts";
import { meant } from "./nearest.ts";
import { takeQuantity } from "./quantity.ts";
import type { Word } from "./scan.ts";
import type { Statement } from "./statements.ts";
import { writeValue } from "./units.ts";

const DEVICES = ["pnp", "npn", "diode"] as const;
const MATERIALS = ["germanium", "silicon"] as const;

/** What is said in quotes: what is expected, and how it is written. */
const QUOTED = {
  source: ["the source of the figures", 'source "TITLE, YEAR"'],
  case: ["the case", 'case "TO-1"'],
  leads: ["the order of the leads", 'leads "from below e b c"'],
} as const;
type Quoted = keyof typeof QUOTED;
const isQuoted = (text: string): text is Quoted => Object.hasOwn(QUOTED, text);

/** What is taken where a figure's condition is left out. */
const ASSUMED: ReadonlyMap<string, string> = new Map([
  ["hfe.at", "1 mA"],
  ["vbe.at", "1 mA"],
  ["h22.at", "1 mA"],
  ["vf.at", "1 mA"],
  ["ccb.at", "6 V"],
  ["ceb.at", "0 V"],
  ["cj.at", "0 V"],
]);

/** Reads a `type` block; gives nothing where it has no usable name. */
export function readType(statement: Statement, complaints: Complaints): DraftType | undefined {
  return new TypeReader(statement, complaints).read();
}

class TypeReader {
  readonly #cursor: Cursor;
  readonly #complaints: Complaints;
  readonly #figures: Record<string, number> = {};
  readonly #seen = new Map<string, Word>();
  #name = "";
  #diode = false;
  readonly #quoted: Partial<Record<Quoted, string>> = {};

  constructor(statement: Statement, complaints: Complaints) {
    this.#cursor = new Cursor(statement.words, statement.keyword);
    this.#complaints = complaints;
  }

  read(): DraftType | undefined {
    const name = this.#cursor.take();
    if (name === undefined || name.quoted || !isLooseName(name.text)) {
      this.#complaints.error(
        name ?? this.#cursor.here,
        "A name for the device type is expected here",
        "write it as type NAME pnp germanium",
      );
      return undefined;
    }
    this.#name = name.text;
    const kind = this.#kind(name);
    const before = this.#complaints.errors;
    this.#diode = kind?.device === "diode";
    while (!this.#cursor.done) this.#figure();
    if (kind === undefined) return undefined;
    const type: DeviceType = {
      name: name.text,
      ...kind,
      figures: this.#figures,
      ...this.#quoted,
      place: { file: name.file, line: name.line, column: name.column },
    };
    if (this.#complaints.errors === before) this.#contradictions(type, name);
    return { type, at: name };
  }

  /** `pnp germanium`, in either order. */
  #kind(name: Word): Pick<DeviceType, "device" | "material"> | undefined {
    let device: DeviceType["device"] | undefined;
    let material: DeviceType["material"] | undefined;
    for (let k = 0; k < 2; k++) {
      const text = this.#cursor.peek()?.text;
      const asDevice = DEVICES.find((word) => word === text);
      const asMaterial = MATERIALS.find((word) => word === text);
      if (asDevice === undefined && asMaterial === undefined) break;
      device ??= asDevice;
      material ??= asMaterial;
      this.#cursor.take();
    }
    if (device !== undefined && material !== undefined) return { device, material };
    const next = this.#cursor.peek();
    const close = next && meant(next.text, [...DEVICES, ...MATERIALS]);
    const what = device === undefined ? "pnp, npn or diode" : "germanium or silicon";
    this.#complaints.error(
      close === undefined ? name : next!,
      `${name.text}: ${what} is expected behind the name of the type`,
      close ?? `write it as type ${name.text} ${device ?? "pnp"} ${material ?? "germanium"}`,
    );
    if (close !== undefined || (next !== undefined && !next.first)) this.#skip();
    return undefined;
  }

  get #list(): readonly Figure[] {
    return this.#diode ? DIODE_FIGURES : TRANSISTOR_FIGURES;
  }

  /** Words to the next that may begin a figure again. */
  #skip(): void {
    do this.#cursor.take();
    while (!this.#cursor.done && !this.#cursor.peek()!.first && !this.#begins(this.#cursor.peek()!.text));
  }

  #begins(text: string): boolean {
    return text === "limits" || isQuoted(text) || this.#list.some(({ key }) => key === text);
  }

  #figure(): void {
    const word = this.#cursor.take()!;
    const figure = word.quoted ? undefined : this.#list.find(({ key }) => key === word.text);
    if (figure !== undefined) this.#given(figure, word);
    else if (isQuoted(word.text) && !word.quoted) this.#quote(word, word.text);
    else if (word.text === "limits") this.#limits();
    else if (word.text === "spread" && !this.#diode) this.#spread(word);
    else if (beginsWithDigit(word.text)) this.#astray(word);
    else this.#unknown(word);
  }

  #given(figure: Figure, word: Word): void {
    this.#repeated(word);
    if (!this.#value(figure, figure.key, word)) return;
    this.#tails(figure, figure.key, word);
    const next = this.#cursor.peek();
    if (figure.key !== "hfe" || next === undefined || !beginsWithDigit(next.text)) return;
    if (this.#value(figure, "hfe2", word)) this.#tails(figure, "hfe2", word);
  }

  #repeated(word: Word): void {
    const first = this.#seen.get(word.text);
    if (first === undefined) this.#seen.set(word.text, word);
    else this.#complaints.error(word, `${this.#name} has "${word.text}" already, in line ${first.line}`);
  }

  #value(figure: Figure, key: string, behind: Word): boolean {
    const setting = { owner: `${this.#name} ${behind.text}`, complaints: this.#complaints };
    const found = takeQuantity(this.#cursor, figure, setting);
    if (found === undefined) {
      if (!this.#cursor.done && !this.#begins(this.#cursor.peek()!.text)) this.#skip();
      return false;
    }
    this.#figures[key] = found.value;
    return true;
  }

  #tails(figure: Figure, key: string, behind: Word): void {
    const open = [...(figure.tails ?? [])];
    for (;;) {
      const next = this.#cursor.peek()?.text;
      const tail = open.find(({ word }) => word === next);
      if (tail === undefined) break;
      this.#cursor.take();
      open.splice(open.indexOf(tail), 1);
      const expected = tail.unit === "celsius" ? { ...tail, signed: true as const } : tail;
      if (!this.#value(expected, `${key}.${tail.key}`, behind)) return;
    }
    for (const tail of open) {
      const assumed = tail.optional ? undefined : ASSUMED.get(`${figure.key}.${tail.key}`);
      if (assumed !== undefined) this.#assumption(tail, behind, assumed);
    }
  }

  #assumption(tail: Figure, behind: Word, assumed: string): void {
    this.#complaints.warning(
      behind,
      `${this.#name}: the ${tail.meaning} that "${behind.text}" holds for is not given; ${assumed} is taken`,
      `add "at ${assumed}", or what the sheet says`,
    );
  }

  #spread(word: Word): void {
    this.#repeated(word);
    const expected = { unit: "number", meaning: "hfe of a sample", plausible: [1, 3000] } as const;
    const setting = { owner: `${this.#name} spread`, complaints: this.#complaints };
    const least = takeQuantity(this.#cursor, expected, setting);
    const greatest =
      least !== undefined && this.#dots(least.value)
        ? takeQuantity(this.#cursor, expected, setting)
        : undefined;
    if (least === undefined || greatest === undefined) {
      if (!this.#cursor.done && !this.#begins(this.#cursor.peek()!.text)) this.#skip();
      return;
    }
    if (least.value > greatest.value) {
      this.#complaints.error(
        least,
        `${this.#name} spread: the weakest sample has a higher hfe than the strongest`,
        "exchange the two",
      );
    }
    this.#figures["spread.least"] = least.value;
    this.#figures["spread.greatest"] = greatest.value;
  }

  #dots(least: number): boolean {
    if (this.#cursor.takeIf("..") !== undefined) return true;
    this.#complaints.error(
      this.#cursor.here,
      `${this.#name} spread: ".." and the hfe of the strongest sample are expected here`,
      `write it as spread ${writeValue(least, "number")} .. ${writeValue(3 * least, "number")}`,
    );
    return false;
  }

  #limits(): void {
    const limits = this.#diode ? DIODE_LIMITS : TRANSISTOR_LIMITS;
    let any = false;
    for (;;) {
      const next = this.#cursor.peek();
      const limit = next && limits.find(({ key }) => key === next.text);
      if (next === undefined || limit === undefined) break;
      any = true;
      this.#cursor.take();
      this.#repeated({ ...next, text: `limits ${next.text}` });
      if (!this.#value(limit, `limits.${limit.key}`, next)) return;
    }
    const next = this.#cursor.peek();
    const known = limits.map(({ key }) => key);
    if (next === undefined ? any : this.#begins(next.text)) return;
    if (next?.first && any) return;
    this.#complaints.error(
      this.#cursor.here,
      `${this.#name} limits: ${next === undefined ? "nothing follows" : `"${next.text}" is no limit`}; there are ${known.join(", ")}`,
      next && meant(next.text, known),
    );
    this.#skip();
  }

  #quote(word: Word, key: Quoted): void {
    this.#repeated(word);
    const text = this.#cursor.peek();
    if (text?.quoted) {
      this.#cursor.take();
      this.#quoted[key] = text.text;
      return;
    }
    const [what, example] = QUOTED[key];
    this.#complaints.error(
      text ?? word,
      `${this.#name}: ${what} is expected in quotes`,
      `write it as ${example}`,
    );
    this.#skip();
  }

  /** A value that no word stands before. */
  #astray(word: Word): void {
    this.#complaints.error(
      word,
      `${this.#name}: it is not clear what "${word.text}" belongs to`,
      "a condition needs its word before it, such as at 1 mA or at 25 °C",
    );
    if (!this.#cursor.done && !this.#cursor.peek()!.first) this.#skip();
  }

  #unknown(word: Word): void {
    const known = [
      ...this.#list.map(({ key }) => key),
      "limits",
      ...Object.keys(QUOTED),
      ...(this.#diode ? [] : ["spread"]),
    ];
    const other = this.#diode ? TRANSISTOR_FIGURES : DIODE_FIGURES;
    const belongs = other.some(({ key }) => key === word.text);
    this.#complaints.error(
      word,
      belongs
        ? `"${word.text}" is a figure of a ${this.#diode ? "transistor" : "diode"}, but ${this.#name} is a ${this.#diode ? "diode" : "transistor"}`
        : `${this.#name}: "${word.text}" is no figure of a ${this.#diode ? "diode" : "transistor"}`,
      meant(word.text, known) ?? `there are ${known.join(", ")}`,
    );
    if (!this.#cursor.done && !this.#cursor.peek()!.first) this.#skip();
  }

  #contradictions(type: DeviceType, name: Word): void {
    const found =
      type.device === "diode"
        ? diodeParameters(type.material, type.figures)
        : transistorParameters(type.device === "npn" ? 1 : -1, type.material, type.figures);
    if ("problem" in found) this.#complaints.error(name, `${type.name}: ${found.problem}`, found.hint);
  }
}

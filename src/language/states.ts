/** Positions, settings and values that a mode or the command line fixes. */
import type { PartState } from "../circuit/circuit.ts";
import type { PartKind, Property } from "../parts/kind.ts";
import type { Complaints } from "./complaints.ts";
import type { Cursor } from "./cursor.ts";
import { looksLikeValue, readMeasure } from "./measure.ts";
import { listed, withArticle } from "./names.ts";
import { meant } from "./nearest.ts";
import { interpret, takeQuantity, takeWritten, type Written } from "./quantity.ts";
import type { Word } from "./scan.ts";
import { UNITS } from "./units.ts";

/** What must be known of a part to set it. */
export interface Settable {
  readonly name: string;
  readonly kind: PartKind;
  readonly positions?: readonly string[];
  /** Properties that the part has. */
  readonly values: Readonly<Record<string, number>>;
}

const properties = (kind: PartKind): readonly Property[] => [
  ...(kind.bare ?? []),
  ...Object.values(kind.words ?? {}),
];

/** Reads `record`, `70%`, `5.2 V` or `esr 10 ohm`, whatever part's name stood before it. */
export function takeState(cursor: Cursor, part: Settable, complaints: Complaints): PartState | undefined {
  const next = cursor.peek();
  if (next === undefined) {
    complaints.error(cursor.last, `${part.name}: what it is set to is expected here`, example(part));
    return undefined;
  }
  if (part.positions !== undefined) return takePosition(cursor, next, part, part.positions, complaints);
  const { words = {}, states } = part.kind;
  if (states !== undefined && !Object.hasOwn(words, next.text)) {
    return takeWord(cursor, next, part, states, complaints);
  }
  if (Object.hasOwn(words, next.text)) {
    cursor.take();
    return takeValue(cursor, part, words[next.text]!, complaints);
  }
  const chosen = Object.entries(part.kind.choices ?? {}).find(([, among]) => among.includes(next.text));
  if (chosen !== undefined) {
    cursor.take();
    return { part: part.name, key: chosen[0], value: next.text };
  }
  return takeBare(cursor, next, part, complaints);
}

function takePosition(
  cursor: Cursor,
  word: Word,
  part: Settable,
  positions: readonly string[],
  complaints: Complaints,
): PartState | undefined {
  cursor.take();
  if (positions.includes(word.text)) return { part: part.name, key: "position", value: word.text };
  complaints.error(
    word,
    `${part.name} has no position "${word.text}"`,
    meant(word.text, positions) ?? `its positions are ${listed(positions)}`,
  );
  return undefined;
}

/** `open`, `closed`: a word that a mode may say of the part. */
function takeWord(
  cursor: Cursor,
  word: Word,
  part: Settable,
  states: readonly string[],
  complaints: Complaints,
): PartState | undefined {
  cursor.take();
  if (states.includes(word.text)) return { part: part.name, key: "state", value: word.text };
  complaints.error(
    word,
    `${part.name} cannot be "${word.text}"`,
    meant(word.text, [...states, ...Object.keys(part.kind.words ?? {})]) ??
      `it can be ${listed(states, "or")}`,
  );
  return undefined;
}

function takeValue(
  cursor: Cursor,
  part: Settable,
  property: Property,
  complaints: Complaints,
): PartState | undefined {
  const found = takeQuantity(cursor, property, { owner: part.name, complaints });
  return found && { part: part.name, key: property.key, value: found.value };
}

/** A percentage is the setting; anything else the first value without a word that has its unit. */
function takeBare(cursor: Cursor, word: Word, part: Settable, complaints: Complaints): PartState | undefined {
  const setting = part.kind.words?.setting;
  const bare = part.kind.bare ?? [];
  const first = bare[0];
  if (first === undefined) {
    cursor.take();
    complaints.error(
      word,
      `${part.name} is ${withArticle(part.kind.keyword)}: "${word.text}" cannot be set`,
      properties(part.kind).length > 0 ? example(part) : undefined,
    );
    return undefined;
  }
  if (!looksLikeValue(word.text)) return complainOfWord(cursor, word, part, complaints);
  const written = takeWritten(cursor, first.unit, false)!;
  const percent = written.text.endsWith("%");
  if (part.values.setting !== undefined && /^[\d.,]+$/.test(written.text)) {
    return complainOfNumber(written, part, first, complaints);
  }
  const fits = (property: Property) => {
    const measure = readMeasure(written.text, property.unit);
    return !("why" in measure) && (measure.unit || property === first);
  };
  const property = percent ? setting : (bare.find(fits) ?? first);
  if (property === undefined || (percent && part.values.setting === undefined)) {
    complaints.error(
      written,
      `${part.name} has no setting, so "${written.text}" says nothing`,
      example(part),
    );
    return undefined;
  }
  if (!percent && property === first && part.values["setting.from"] !== undefined) {
    complaints.error(written, `${part.name} has a core to be set: give the setting in per cent`, "write 50%");
    return undefined;
  }
  const found = interpret(written, property, { owner: part.name, complaints });
  return found && { part: part.name, key: property.key, value: found.value };
}

function complainOfWord(cursor: Cursor, word: Word, part: Settable, complaints: Complaints): undefined {
  cursor.take();
  complaints.error(
    word,
    `${part.name} has nothing called "${word.text}" to be set`,
    meant(word.text, Object.keys(part.kind.words ?? {})) ?? example(part),
  );
}

/** On a part with a setting, 0.7 may be meant as 70 % or as ohms. */
function complainOfNumber(
  written: Written,
  part: Settable,
  first: Property,
  complaints: Complaints,
): undefined {
  const share = Number(written.text.replace(",", ".")) * 100;
  complaints.error(
    written,
    `${part.name}: "${written.text}" can be a setting or ${UNITS[first.unit].noun}`,
    `write ${share > 0 && share <= 100 ? Number(share.toPrecision(6)) : written.text}% for the setting`,
  );
}

/** How to set a part of this kind. */
function example(part: Settable): string {
  if (part.positions !== undefined) return `its positions are ${listed(part.positions)}`;
  if (part.kind.states !== undefined) return `${part.name} can be ${listed(part.kind.states, "or")}`;
  if (part.values.setting !== undefined) return `write ${part.name} 50%`;
  const [first] = properties(part.kind);
  if (first === undefined) return `nothing of ${withArticle(part.kind.keyword)} can be set`;
  const word = part.kind.bare?.includes(first as never) ? "" : `${first.key} `;
  return `write ${part.name} ${word}${UNITS[first.unit].example.split(/,| or /)[0]}`;
}

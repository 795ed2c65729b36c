/** The values in a part's statement: with their word, without one, choices, references, tolerance. */
import type { PartKind, Property, Tail } from "../parts/kind.ts";
import { readMeasure } from "./measure.ts";
import { withArticle } from "./names.ts";
import type { PartContext } from "./part-context.ts";
import { usage } from "./part-words.ts";
import { interpret, takeQuantity, takeWritten } from "./quantity.ts";
import type { Word } from "./scan.ts";
import { takeTolerance } from "./tolerance.ts";
import { UNITS } from "./units.ts";

/** Values without a word that the part has not been given yet. */
export const openBare = ({ kind, part }: PartContext) =>
  (kind.bare ?? []).filter((property) => !part.spans.has(property.key));

/** Takes the value behind `word`, with its tails. */
export function takeProperty(context: PartContext, property: Property, word: Word): void {
  const { part, owner, complaints } = context;
  const found = takeQuantity(context.cursor, property, context.setting);
  if (found === undefined) {
    part.spans.set(property.key, word);
    context.puzzled = true;
  } else if (part.spans.has(property.key)) {
    complaints.error(word, `${owner} has "${word.text}" twice`, "keep one of the two");
  } else {
    part.values[property.key] = found.value;
    part.spans.set(property.key, found);
  }
  takeTails(context, property, word);
}

function takeTails(context: PartContext, property: Property, behind: Word): void {
  const open = [...(property.tails ?? [])];
  while (open.length > 0) {
    const next = context.cursor.peek()?.text;
    const tail = open.find(({ word }) => word === next);
    if (tail === undefined || (next !== "to" && context.pointIsNext)) break;
    context.cursor.take();
    open.splice(open.indexOf(tail), 1);
    takeTail(context, tail, open);
  }
  const missing = open.find((tail) => tail.optional === undefined);
  if (missing === undefined || context.puzzled) return;
  const [what, example] =
    "names" in missing
      ? [`a ${missing.names}`, missing.names.toUpperCase()]
      : [`the ${missing.meaning}`, UNITS[missing.unit].example.split(" or ")[0]];
  context.complaints.error(
    behind,
    `${context.owner}: behind "${behind.text}", ${what} is missing`,
    `add "${missing.word} ${example}"`,
  );
}

function takeTail(context: PartContext, tail: Tail, stillOpen: readonly Tail[]): void {
  const { part, cursor, owner, complaints } = context;
  if ("names" in tail) {
    const name = cursor.take();
    if (name === undefined) {
      complaints.error(cursor.last, `${owner}: the name of a ${tail.names} is expected here`);
    } else choose(context, tail.key, name);
    return;
  }
  // `from 3 mH to 7 mH`: here the word before "to" is a unit
  const joins = context.joins && !stillOpen.some(({ word }) => word === "to");
  const found = takeQuantity(cursor, tail, { ...context.setting, joins });
  if (found === undefined) context.puzzled = true;
  else part.values[tail.key] = found.value;
}

function choose({ part }: PartContext, key: string, name: Word): void {
  part.choices[key] = name.text;
  part.spans.set(key, name);
}

/** Takes the name of another part behind its word: `tracks T6`. */
export function takeReference(context: PartContext): void {
  const { cursor, kind, owner } = context;
  const word = cursor.take()!;
  const name = cursor.take();
  if (name !== undefined) choose(context, word.text, name);
  else {
    const meaning = kind.references?.[word.text]?.meaning ?? "part";
    context.complaints.error(word, `${owner}: the name of a ${meaning} is expected after "${word.text}"`);
  }
}

/** Takes a word that is one of the kind's choices; false if the next is none. */
export function takeChoice({ kind, part, cursor, owner, complaints }: PartContext): boolean {
  const word = cursor.peek()!;
  for (const [key, choices] of Object.entries(kind.choices ?? {})) {
    if (!choices.includes(word.text)) continue;
    const before = part.choices[key];
    if (before !== undefined) complaints.error(word, `${owner} is already said to be ${before}`);
    cursor.take();
    part.choices[key] = word.text;
    return true;
  }
  return false;
}

/** Takes the tolerance that stands next. */
export function takePartTolerance({ kind, part, cursor, owner, complaints }: PartContext): void {
  const found = takeTolerance(cursor, owner, complaints);
  if (found === undefined) return;
  const { at, low, high } = found;
  if (kind.tolerance === undefined) {
    const hint = Object.hasOwn(kind.words ?? {}, "setting") ? `write "setting" before it` : undefined;
    complaints.error(at, `${owner}: ${withArticle(kind.keyword)} takes no tolerance`, hint);
  } else if (part.spans.has("tolerance")) {
    complaints.error(at, `${owner} has a tolerance twice`, "keep one of the two");
  } else {
    part.tolerance = { low, high };
    part.spans.set("tolerance", at);
  }
}

/** Takes a value without a word before it: the first that is still open and has its unit. */
export function takeBare(context: PartContext): void {
  const open = openBare(context);
  const [first] = open;
  const { part, cursor, kind } = context;
  const word = cursor.peek()!;
  if (first === undefined) {
    takeSurplus(context);
    return;
  }
  const written = takeWritten(cursor, first.unit, context.joins)!;
  const fitting = open.find(({ unit }) => {
    const measure = readMeasure(written.text, unit);
    return !("why" in measure) && (measure.unit || unit === first.unit);
  });
  const property = fitting ?? first;
  const found = interpret(written, property, context.setting);
  part.spans.set(property.key, found ?? written);
  if (found === undefined) context.puzzled = true;
  else part.values[property.key] = found.value;
  if (found?.tolerance !== undefined && kind.tolerance) {
    part.tolerance = found.tolerance;
    part.spans.set("tolerance", found);
  }
  takeTails(context, property, word);
}

function takeSurplus(context: PartContext): void {
  const { kind, owner, complaints } = context;
  const written = takeWritten(context.cursor, "number", context.joins)!;
  if (context.puzzled) return;
  context.puzzled = true;
  complaints.error(
    written,
    `${owner}: it is not clear what "${written.text}" is`,
    wordFor(kind, written.text) ?? usage(kind, owner),
  );
}

/** The word that a value of this unit stands behind, in this kind's statement. */
function wordFor({ words = {}, bare = [] }: PartKind, text: string): string | undefined {
  const fits = (candidate: Property | Tail) => {
    const measure = "names" in candidate ? undefined : readMeasure(text, candidate.unit);
    return measure !== undefined && !("why" in measure) && measure.unit;
  };
  const tail = bare.flatMap(({ tails = [] }) => tails).find(fits);
  const property = Object.entries(words).find(([, candidate]) => fits(candidate));
  const word = tail?.word ?? property?.[0];
  return word === undefined ? undefined : `did you mean "${word} ${text}"?`;
}

/** Complains of values that must be given and are not, and fills in what is taken where nothing is said. */
export function completeValues(context: PartContext): void {
  const { part, kind, owner } = context;
  for (const property of context.puzzled ? [] : openBare(context)) {
    if (property.optional) continue;
    const first = part.joints[0]?.point;
    const swallowed = first !== undefined && !("why" in readMeasure(first.text, property.unit));
    context.complaints.error(
      part.name,
      `${owner} has no ${property.meaning}`,
      swallowed
        ? `"${first.text}" stands before "to" and so counts as a connection point`
        : usage(kind, owner),
    );
  }
  const { bare = [], words = {}, choices = {} } = kind;
  for (const property of bare) fillIn(part.values, property);
  for (const property of Object.values(words)) fillIn(part.values, property);
  for (const [key, [first = ""]] of Object.entries(choices)) part.choices[key] ??= first;
}

function fillIn(values: Record<string, number>, property: Property): void {
  if (property.default !== undefined) values[property.key] ??= property.default;
  if (values[property.key] === undefined || property.tails === undefined) return;
  for (const tail of property.tails) {
    if (!("names" in tail) && tail.default !== undefined) values[tail.key] ??= tail.default;
  }
}

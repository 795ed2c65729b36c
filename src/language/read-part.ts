/** A part's statement, read from the words its kind declares. */
import type { PartKind } from "../parts/kind.ts";
import type { Complaints } from "./complaints.ts";
import type { Draft, DraftPart } from "./draft.ts";
import { looksLikeValue } from "./measure.ts";
import { isLooseName, isPartName, isPoint, withArticle } from "./names.ts";
import { meant } from "./nearest.ts";
import { PartContext } from "./part-context.ts";
import { completePoints, labelledPin, takeLabelled, takePoints } from "./part-points.ts";
import {
  completeValues,
  openBare,
  takeBare,
  takeChoice,
  takePartTolerance,
  takeProperty,
  takeReference,
} from "./part-values.ts";
import { clausesOf, usage, vocabulary } from "./part-words.ts";
import { readPoles, takePositions } from "./read-poles.ts";
import { readWindings } from "./read-windings.ts";
import type { Word } from "./scan.ts";
import type { Statement } from "./statements.ts";
import { isTolerance } from "./tolerance.ts";

/** Reads one part statement into the draft. */
export function readPart(statement: Statement, kind: PartKind, draft: Draft): void {
  const before = draft.complaints.errors;
  const part = readStatement(statement, kind, draft.complaints)?.part;
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
export const elsewhere = (first: { readonly file: string }, second: { readonly file: string }): string =>
  first.file === second.file ? "" : ` of ${first.file}`;

/** The first word of a part's connection: for the formatter's columns. */
export function connectionWord(
  statement: Statement,
  kind: PartKind,
  complaints: Complaints,
): Word | undefined {
  return readStatement(statement, kind, complaints)?.connection;
}

/** Reads a statement that names a part; complains and gives nothing if it does not. */
function readStatement(
  statement: Statement,
  kind: PartKind,
  complaints: Complaints,
): PartContext | undefined {
  const { head, own } = clausesOf(statement.words, kind);
  const [name, ...words] = head;
  if (name === undefined || name.quoted || !isPartName(name.text)) {
    const found = name === undefined ? "nothing follows" : `"${name.text}" stands there`;
    complaints.error(
      name ?? statement.keyword,
      `A name for the ${kind.keyword} is expected here, but ${found}`,
      nameHint(name?.text ?? "", kind),
    );
    return undefined;
  }
  const context = new PartContext(kind, name, words, complaints);
  const { form } = kind.connection;
  if (kind.device !== undefined) takeType(context);
  if (form === "poles") takePositions(context);
  while (!context.cursor.done) takeNext(context);
  if (form === "windings" && (own.length > 0 || !context.puzzled))
    readWindings(context.part, own, complaints);
  if (form === "poles") readPoles(context.part, own, complaints);
  completeValues(context);
  completePoints(context);
  return context;
}

function nameHint(written: string, kind: PartKind): string {
  const name = written.replace(/[:=.,;]+$/, "");
  if (name !== written && isPartName(name)) return `write ${name} alone`;
  return `a name begins with a letter, such as ${kind.letters}1`;
}

/** The device type, which stands behind the name. */
function takeType(context: PartContext): void {
  const { cursor, kind, owner } = context;
  const word = cursor.peek();
  const next = cursor.peek(1)?.text ?? "";
  // `T1 e A` lacks its type, `T1 e e A` has one called "e"
  const isLabel = labelledPin(kind, word?.text ?? "") !== undefined && labelledPin(kind, next) === undefined;
  const missing = word === undefined || isLabel || next === "to";
  if (!missing && !word.quoted && isLooseName(word.text)) {
    context.part.type = cursor.take()!;
    return;
  }
  context.complaints.error(
    cursor.here,
    `${owner} has no type: the ${kind.device}'s type is expected behind its name`,
    `write it as ${kind.keyword} ${owner} TYPE …`,
  );
  context.puzzled = true;
  if (!missing) cursor.take();
}

/** One item of the statement: points, a labelled pin, a property, a choice, a tolerance, a bare value. */
function takeNext(context: PartContext): void {
  const { cursor, kind } = context;
  const word = cursor.peek()!;
  const { words = {}, references = {} } = kind;
  if (word.quoted) takeUnexpected(context);
  else if (context.pointIsNext) takePoints(context);
  else if (labelledPin(kind, word.text) !== undefined) takeLabelled(context);
  else if (Object.hasOwn(words, word.text)) {
    cursor.take();
    takeProperty(context, words[word.text]!, word);
  } else if (Object.hasOwn(references, word.text)) takeReference(context);
  else if (takeChoice(context)) return;
  else if (isTolerance(cursor)) takePartTolerance(context);
  else if (isBareValue(context, word)) takeBare(context);
  else takeUnexpected(context);
}

/** `R47` is a value only where one is still missing; what begins with a digit is one anyway. */
const isBareValue = (context: PartContext, word: Word) =>
  looksLikeValue(word.text) && (openBare(context).length > 0 || /^[-+.,\d]/.test(word.text));

/** A word that fits nowhere. Only the first is reported; what is recognised again behind it is read. */
function takeUnexpected(context: PartContext): void {
  const { kind, cursor, owner, complaints } = context;
  const word = cursor.take()!;
  if (context.puzzled) return;
  context.puzzled = true;
  const slip = connectionSlip(context, word);
  if (slip !== undefined) {
    complaints.error(slip.at, slip.message, slip.hint);
    cursor.rest();
    return;
  }
  complaints.error(
    word,
    `${owner}: "${word.text}" is not expected in the statement of ${withArticle(kind.keyword)}`,
    meant(word.text, vocabulary(kind)) ?? usage(kind, owner),
  );
}

/** What stands for `to` in haste. */
const ALMOST_TO: ReadonlySet<string> = new Set("t o ot too tto tot To TO - -> → – and &".split(" "));

/** A connection that is nearly one: `A too B`, `A` alone, `plus` on a part without poles. */
function connectionSlip({ kind, cursor, joins, owner, connection }: PartContext, word: Word) {
  const next = cursor.peek();
  const hint = usage(kind, owner);
  if (kind.connection.form === "labelled" && next?.text === "to") {
    const message = `${owner}: "${word.text} to" does not say which end of the ${kind.keyword} is connected`;
    return { at: word, message, hint };
  }
  if (!joins || connection !== undefined || !isPoint(word.text)) return undefined;
  if (word.text === "plus" || word.text === "minus") {
    const other = kind.keyword === "capacitor" ? "; one with a plus end is an electrolytic" : "";
    return {
      at: word,
      message: `${owner}: ${withArticle(kind.keyword)} has no "${word.text}" end`,
      hint: hint + other,
    };
  }
  if (next === undefined)
    return { at: word, message: `${owner}: "${word.text}" is one end; the other is missing`, hint };
  if (!ALMOST_TO.has(next.text)) return undefined;
  return { at: next, message: `${owner}: "to" is expected between two points, not "${next.text}"`, hint };
}

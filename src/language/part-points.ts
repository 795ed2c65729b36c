/** Where a part's statement says it is connected: `A to B`, `plus A minus B`. */
import type { PartKind } from "../parts/kind.ts";
import type { Complaints } from "./complaints.ts";
import { isPoint, withArticle } from "./names.ts";
import type { PartContext } from "./part-context.ts";
import { usage } from "./part-words.ts";
import type { Word } from "./scan.ts";

const NAME_ONE = "name a net, or a pin such as T1.b";

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

/** Takes `A to B to C`. */
export function takePoints(context: PartContext): void {
  const { cursor, complaints, owner } = context;
  const points = [cursor.take()!];
  while (cursor.takeIf("to")) {
    const point = cursor.take();
    if (point !== undefined) points.push(point);
    else {
      complaints.error(cursor.last, `${owner}: a connection point is expected after "to"`, NAME_ONE);
      context.puzzled = true;
    }
  }
  if (!points.every((point) => checkPoint(point, complaints))) context.puzzled = true;
  connect(points, context);
}

function connect(points: readonly Word[], context: PartContext): void {
  const { owner, complaints, kind, part } = context;
  if (context.connection !== undefined) {
    complaints.error(points[0]!, `${owner} is connected twice in one statement`, "keep one of the two");
    return;
  }
  context.connection = points[0];
  if (kind.connection.form !== "to") return;
  const pins = kind.connection.pins.find((list) => list.length === points.length);
  if (pins !== undefined) {
    part.joints.push(...pins.map((pin, k) => ({ pin, point: points[k]! })));
    return;
  }
  if (context.puzzled) return;
  const wanted = kind.connection.pins.map((list) => list.length).join(" or ");
  complaints.error(
    points[0]!,
    `${owner} is joined to ${points.length} points, but ${withArticle(kind.keyword)} has ${wanted} ends`,
    usage(kind, owner),
  );
}

/** The pin that a label names. */
export function labelledPin({ connection, aliases = {} }: PartKind, text: string): string | undefined {
  if (connection.form !== "labelled") return undefined;
  const pin = Object.hasOwn(aliases, text) ? aliases[text] : text;
  return pin !== undefined && connection.pins.includes(pin) ? pin : undefined;
}

/** Takes a label and its point. */
export function takeLabelled(context: PartContext): void {
  const { cursor, complaints, owner, part, kind } = context;
  const label = cursor.take()!;
  context.connection ??= label;
  const pin = labelledPin(kind, label.text)!;
  const point = cursor.take();
  if (point === undefined) {
    complaints.error(label, `${owner}: a connection point is expected after "${label.text}"`, NAME_ONE);
    context.puzzled = true;
  } else if (part.joints.some((joint) => joint.pin === pin)) {
    complaints.error(label, `${owner} has "${pin}" connected twice in one statement`, "keep one of the two");
  } else {
    checkPoint(point, complaints);
    part.joints.push({ pin, point });
  }
}

/** Complains of ends that are not connected, and adds pins that may be wired elsewhere. */
export function completePoints(context: PartContext): void {
  const { connection } = context.kind;
  if (connection.form === "labelled") completeLabels(context, connection.pins, connection.optional === true);
  if (connection.form !== "to" || context.connection !== undefined || context.puzzled) return;
  context.complaints.error(
    context.cursor.last,
    `${context.owner} is not connected: its ends are expected, as "A to B"`,
    usage(context.kind, context.owner),
  );
}

/** Pins not named here are unconnected so far; all stand in the kind's order. */
function completeLabels(context: PartContext, pins: readonly string[], optional: boolean): void {
  const { joints } = context.part;
  const missing = pins.filter((pin) => joints.every((joint) => joint.pin !== pin));
  if (missing.length > 0 && !optional && !context.puzzled) {
    context.complaints.error(
      context.cursor.last,
      `${context.owner}: "${missing.join('" and "')}" ${missing.length > 1 ? "are" : "is"} not connected`,
      usage(context.kind, context.owner),
    );
  }
  joints.push(...missing.map((pin) => ({ pin })));
  joints.sort((a, b) => pins.indexOf(a.pin) - pins.indexOf(b.pin));
}

/** Tolerances: `±10%`, `10%`, `-20% +100%`. */
import type { Tolerance } from "../circuit/circuit.ts";
import type { Complaints } from "./complaints.ts";
import type { Cursor } from "./cursor.ts";
import { normalised } from "./measure.ts";
import { across, type Span } from "./span.ts";

const PERCENT = /^(±|\+\/-|\+-|[+-])?\d*([.,]?\d+)%?$/;
const EVEN = /^(?:±|\+\/-|\+-)?(\d*[.,]?\d+)%$/;
const UNEVEN = /^([+-])(\d*[.,]?\d+)%?\/?([+-])(\d*[.,]?\d+)%$/;

const SIGN = /^(±|\+\/-|\+-)/;

/** Whether a tolerance stands next. */
export function isTolerance(cursor: Cursor): boolean {
  const written = cursor.peek()?.text ?? "";
  if (!/^[±+−-]|%$/.test(written) && cursor.peek(1)?.text !== "%") return false;
  const text = normalised(written);
  if (SIGN.test(text) || UNEVEN.test(text)) return true;
  return PERCENT.test(text) && (text.endsWith("%") || cursor.peek(1)?.text === "%");
}

/** One percentage: its sign, number and `%` may be words of their own. */
function takePercentage(cursor: Cursor): { text: string; at: Span } {
  const first = cursor.take()!;
  let text = normalised(first.text);
  let last = first;
  const next = cursor.peek();
  if (/^(±|\+\/-|\+-)$/.test(text) && next !== undefined && PERCENT.test(next.text)) {
    text += next.text;
    last = cursor.take()!;
  }
  if (!text.endsWith("%") && cursor.peek()?.text === "%") {
    last = cursor.take()!;
    text += "%";
  }
  return { text, at: across(first, last) };
}

const share = (digits: string) => Number(`${digits.replace(",", ".")}e-2`);

function understood(text: string): Tolerance | undefined {
  const even = EVEN.exec(text);
  if (even?.[1] !== undefined) return { low: -share(even[1]), high: share(even[1]) };
  const [, sign, one = "", other, two = ""] = UNEVEN.exec(text) ?? [];
  if (sign === undefined || sign === other) return undefined;
  return sign === "-" ? { low: -share(one), high: share(two) } : { low: -share(two), high: share(one) };
}

/** Takes the tolerance that stands next; complains and gives nothing if it is not whole. */
export function takeTolerance(
  cursor: Cursor,
  owner: string,
  complaints: Complaints,
): (Tolerance & { at: Span }) | undefined {
  let { text, at } = takePercentage(cursor);
  if (
    /^[+-][^/-]*%?$/.test(text) &&
    /^[+-]/.test(normalised(cursor.peek()?.text ?? "")) &&
    isTolerance(cursor)
  ) {
    const other = takePercentage(cursor);
    text += other.text;
    at = across(at, other.at);
  }
  const found = understood(text);
  if (found === undefined) {
    complaints.error(
      at,
      `${owner}: "${text}" is not a whole tolerance`,
      "write it as ±10%, or as -20% +100%",
    );
    return undefined;
  }
  if (found.low <= -1) {
    complaints.error(at, `${owner}: a tolerance of ${text} would leave nothing of the value`);
    return undefined;
  }
  return { ...found, at };
}

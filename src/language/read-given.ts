/** `reading` and `printed`: what was measured, and what the service sheet prints. */
import type { Circuit, GivenVoltage } from "../circuit/circuit.ts";
import type { TakenReading } from "../circuit/look.ts";
import { Cursor } from "./cursor.ts";
import type { Draft, Pending } from "./draft.ts";
import { beginsWithDigit, looksLikeValue } from "./measure.ts";
import type { NetTable } from "./nets.ts";
import { takeQuantity } from "./quantity.ts";
import { complainOfNet, type Names, namesOf, netOf, takeMode } from "./read-paths.ts";
import { readingAt } from "./read-reading.ts";
import type { Word } from "./scan.ts";
import { across, placeOf } from "./span.ts";

const VOLTAGE = { unit: "volt", meaning: "voltage against chassis", zero: true, signed: true } as const;

/** `reading MODE POINT VOLTS`, and `printed` likewise. */
export function readGiven(
  keyword: "reading" | "printed",
  draft: Draft,
  circuit: Circuit,
  table: NetTable,
): GivenVoltage[] {
  const names = namesOf(draft, circuit, table);
  return draft.pending
    .filter((pending) => pending.keyword.text === keyword && !isOther(pending))
    .map((pending) => readVoltage(pending, names))
    .filter((given) => given !== undefined);
}

function readVoltage({ keyword, words }: Pending, names: Names): GivenVoltage | undefined {
  const { draft, table } = names;
  const cursor = new Cursor(words, keyword);
  const before = draft.complaints.errors;
  const mode = takeMode(cursor, names);
  if (mode === undefined) return undefined;
  const point = cursor.take();
  if (point === undefined) {
    draft.complaints.error(
      cursor.last,
      "The net or pin is expected here",
      `write it as ${keyword.text} ${mode} T1.c -3.2 V`,
    );
    return undefined;
  }
  const net = netOf(point, table) ?? complainOfNet(point, names, false);
  const found = takeQuantity(cursor, VOLTAGE, { owner: point.text, complaints: draft.complaints });
  const surplus = cursor.peek();
  if (found !== undefined && surplus !== undefined) {
    draft.complaints.error(
      surplus,
      `"${surplus.text}" is not expected behind the voltage`,
      `write a line for each ${keyword.text === "reading" ? "reading" : "printed voltage"}`,
    );
  }
  if (draft.complaints.errors > before || net === undefined || found === undefined) return undefined;
  return { mode, net, point: point.text, volts: found.value, place: placeOf(keyword) };
}

/** More than a point and a voltage behind the mode: `R7 voltage 1.2 V`, `off T1.c 4k7`, `T1.ic 1.2 mA`. */
function isOther({ keyword, words: [, point, next] }: Pending): boolean {
  if (keyword.text !== "reading" || point === undefined || next === undefined) return false;
  // a net may be called so
  if (LEADING.test(point.text)) return !beginsWithDigit(next.text);
  return ONE_WORD.test(point.text) || FOLLOWING.test(next.text);
}

/** Words that tell a reading of another kind: in front of the point, behind it, or as its pin. */
const LEADING = /^(off|gain)$/;
const FOLLOWING = /^(voltage|volts|current|amps|minus)$/;
const ONE_WORD = /^[^.]+\.(ic|ib|ie|voltage|volts|current|amps)$/;

/** `reading MODE WHAT VALUE` where WHAT is no single point. `circuit` has its paths. */
export function readOtherReadings(draft: Draft, circuit: Circuit, table: NetTable): TakenReading[] {
  const names = namesOf(draft, circuit, table);
  return draft.pending
    .filter((pending) => pending.keyword.text === "reading" && isOther(pending))
    .map((pending) => readOther(pending, circuit, names))
    .filter((taken) => taken !== undefined);
}

function readOther({ keyword, words }: Pending, circuit: Circuit, names: Names): TakenReading | undefined {
  const { draft } = names;
  const cursor = new Cursor(words, keyword);
  const mode = takeMode(cursor, names);
  if (mode === undefined) return undefined;
  const off = cursor.takeIf("off") !== undefined;
  const what = cursor.rest();
  const split = what.findLastIndex(({ text }, k) => k > 0 && looksLikeValue(text));
  const said = (list: readonly Word[]) => list.map(({ text }) => text).join(" ");
  const [point, value] = split < 0 ? [what, []] : [what.slice(0, split), what.slice(split)];
  if (doubtful(point, draft)) return undefined;
  const first = what[0] ?? cursor.last;
  const place = across(first, what.at(-1) ?? first);
  if (value.length === 0) {
    draft.complaints.error(place, "A value is expected behind what was measured", EXAMPLE);
    return undefined;
  }
  const taken = readingAt(circuit, off ? `${mode} off` : mode, said(point), said(value));
  if (!("message" in taken)) return taken;
  draft.complaints.error(place, taken.message, taken.hint);
  return undefined;
}

const EXAMPLE = "write it as reading play B1 current 12 mA, or reading play R7 voltage 1.2 V";

/** Names something whose own statement failed or is missing. */
function doubtful(point: readonly Word[], { incomplete, lost, parts, uncertain }: Draft): boolean {
  return point.some(({ text }) => {
    const owner = text.split(".")[0] ?? "";
    return incomplete || lost.has(owner) || uncertain.has(text) || parts.get(owner)?.failed === true;
  });
}

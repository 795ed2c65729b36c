/** Readings taken, beside those of healthy specimens and those that the best suspects predict. */
import type { JudgedReading, Suspect, SuspectsResult } from "../bench/suspects/results.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { type Column, harmless, layOut, unbound, wrap } from "./columns.ts";
import type { Ink } from "./ink.ts";
import { readingText } from "./suspects-words.ts";

const LEFT: Column = { align: "left" };
const RIGHT: Column = { align: "right" };

/** A drop or a current is taken with the leads either way round, and its size shown; that of a battery has a sign. */
function turnedBy({ point, unit, taken }: JudgedReading, { parts }: Circuit): 1 | -1 {
  if (taken >= 0) return 1;
  const [owner, what] = point.split(/[ .]/);
  if (unit === "V") return what === "voltage" || what === "volts" ? -1 : 1;
  return unit === "A" && parts.find(({ name }) => name === owner)?.kind !== "battery" ? -1 : 1;
}

function rowOf(reading: JudgedReading, n: number, best: readonly Suspect[], circuit: Circuit): string[] {
  const { mode, point, unit, taken, least, greatest, outside } = reading;
  const turn = turnedBy(reading, circuit);
  const text = (value: number) => readingText(turn * value, unit);
  const [low, high] = turn > 0 ? [least, greatest] : [greatest, least];
  return [
    harmless(mode),
    harmless(point),
    text(taken),
    `${text(low)} … ${text(high)}`,
    outside ? "outside" : "",
    ...best.map(({ predicted, slip }) => text(predicted[n]!) + (slip === n ? " ?" : "")),
  ];
}

/** A row a reading; `best` are the suspects whose predictions stand beside it. */
export function readingLines(
  circuit: Circuit,
  { readings }: SuspectsResult,
  best: readonly Suspect[],
  width: number,
  ink: Ink,
): readonly string[] {
  const head = ["", "", "taken", "healthy", "", ...best.map(({ part }, k) => `${k + 1}. ${harmless(part)}`)];
  const rows = readings.map((reading, n) => rowOf(reading, n, best, circuit));
  const columns = [LEFT, LEFT, RIGHT, RIGHT, LEFT, ...best.map(() => RIGHT)];
  const [first = "", ...rest] = layOut([head, ...rows], columns).map((line) => unbound(line.trimEnd()));
  const slips = best.some(({ slip }) => slip !== undefined);
  return [
    ink.faint(first),
    ...rest.map((line, n) => (readings[n]!.outside ? ink.accent(line) : line)),
    ...(slips ? wrap("? fits only if this reading is a slip: take it again", width) : []),
  ];
}

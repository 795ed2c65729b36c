/** The readings of the sheet as they were taken: those typed, and those of the netlist where none is typed. */
import { computed } from "@preact/signals";
import { impossibleReadings } from "../../bench/suspects/impossible.ts";
import type { Circuit } from "../../circuit/circuit.ts";
import { modesOf } from "../../circuit/conditions.ts";
import { statedReadings, type TakenReading } from "../../circuit/look.ts";
import { readingAt } from "../../language/index.ts";
import { ACCURACY } from "../long-work/suspects.ts";
import type { Readings } from "../state/document.ts";
import { readingVolts } from "../state/marks.ts";
import { readings } from "../state/store.ts";
import { pointWords, withHint } from "../words.ts";
import { conditions, solution } from "./live.ts";
import { circuit } from "./netlist.ts";

/** What a reading is, or why it does not count. */
type Tried = TakenReading | { readonly message: string; readonly hint?: string };

export interface Taken {
  readonly readings: readonly TakenReading[];
  /** What was typed and cannot be: sentences. */
  readonly problems: readonly string[];
}

/** Volts expected at a net in a mode, if they are known: only the sign is needed. */
export type ExpectedVolts = (mode: string, net: string) => number | undefined;

const OFF = / off$/;

function tried(
  now: Circuit,
  mode: string,
  point: string,
  text: string,
  expected: ExpectedVolts,
): Tried | undefined {
  if (!modesOf(now).some(({ name }) => name === mode.replace(OFF, ""))) return undefined;
  const net = now.nets.findIndex(({ name }) => name === point);
  const where = `${mode}: ${pointWords(point)}`;
  if (net > 0 && !OFF.test(mode)) {
    const value = readingVolts(text, expected(mode, point));
    if (typeof value === "number") return { mode, point, look: { kind: "voltage", net, minus: 0 }, value };
    return { message: `${where}: ${value?.message ?? "nothing"}` };
  }
  const found = readingAt(now, mode, point, text);
  return "mode" in found ? found : { ...found, message: `${where}: ${found.message}` };
}

const keyOf = ({ mode, look }: TakenReading): string => `${mode} ${JSON.stringify(look)}`;

/** Readings typed over those of the netlist; an empty text takes the netlist's back. */
export function takenReadings(now: Circuit, typed: Readings, expected: ExpectedVolts): Taken {
  const entries = Object.entries(typed).flatMap(([mode, ofMode]) =>
    Object.entries(ofMode).map(([point, text]) => ({ mode, point, text: text.trim() })),
  );
  const emptied = new Set(entries.flatMap(({ mode, point }) => `${mode} ${point}`));
  const stated = statedReadings(now).filter(({ mode, point, look }) => {
    const net = look.kind === "voltage" && look.minus === 0 ? now.nets[look.net]?.name : point;
    return !emptied.has(`${mode} ${net}`);
  });
  const all = entries
    .filter(({ text }) => text !== "")
    .flatMap(({ mode, point, text }) => tried(now, mode, point, text, expected) ?? []);
  const good = [...stated, ...all.flatMap((each) => ("mode" in each ? [each] : []))];
  return {
    readings: [...new Map(good.map((each) => [keyOf(each), each])).values()],
    problems: all.flatMap((each) => ("mode" in each ? [] : [withHint(each)])),
  };
}

const expectedNow: ExpectedVolts = (mode, net) => {
  const nets = solution.value?.modes.find((each) => each.mode === mode)?.chart.nets ?? {};
  return Object.hasOwn(nets, net) ? nets[net]?.volts : undefined;
};

let before: readonly TakenReading[] = [];

/** What counts, and what does not; the same list of readings as long as they say the same. */
export const taken = computed((): Taken => {
  const now = circuit.value;
  if (now === undefined) return { readings: [], problems: [] };
  const all = takenReadings(now, readings.value, expectedNow);
  const wrong = impossibleReadings(now, all.readings, ACCURACY, conditions.value);
  const left = all.readings.filter((each) => !wrong.some(({ reading }) => reading === each));
  if (JSON.stringify(left) !== JSON.stringify(before)) before = left;
  return { readings: before, problems: [...all.problems, ...wrong.map(withHint)] };
});

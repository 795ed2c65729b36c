/** Suspects as the readings are typed, whether or not somebody looks at them: the next point is read off them. */
import { effect, type ReadonlySignal, signal } from "@preact/signals";
import type { SuspectsResult } from "../../bench/suspects/results.ts";
import { type Followed, follow } from "../long-work/follow.ts";
import type { SuspectsOutput } from "../long-work/suspects.ts";
import { nextPoint, type PointToMeasure } from "../state/hand.ts";
import { conditions, meter, mode } from "./live.ts";
import { circuit } from "./netlist.ts";
import { taken } from "./taken.ts";

const NOTHING: Followed<SuspectsOutput> = {
  value: undefined,
  stale: false,
  progress: undefined,
  failure: undefined,
};

const found = signal<ReadonlySignal<Followed<SuspectsOutput>>>(signal(NOTHING));

/** What is known of the suspects; nothing without a reading. */
export const suspected = (): Followed<SuspectsOutput> =>
  taken.value.readings.length === 0 ? NOTHING : found.value.value;

/** A point in the mode looked at is taken for another that tells hardly more: no switch has to be turned. */
const HARDLY_MORE = 0.97;

/**
 * Where to measure next: nowhere while every reading is where healthy specimens have it, nor where a reading has
 * been typed since.
 */
export function nextOf(
  result: SuspectsResult | undefined,
  inMode: string,
  isRead: (probe: PointToMeasure) => boolean = () => false,
): PointToMeasure | undefined {
  if (result === undefined || !result.readings.some(({ outside }) => outside)) return undefined;
  const open = result.next.filter((probe) => !isRead(probe));
  const [best] = open;
  const here = open.find((each) => each.mode === inMode && each.bits >= HARDLY_MORE * best!.bits);
  const { mode: name, point } = here ?? best ?? {};
  return name === undefined || point === undefined ? undefined : { mode: name, point };
}

/** Whether a point has a reading. */
function isRead({ mode: name, point }: PointToMeasure): boolean {
  const net = circuit.value?.nets.findIndex((each) => each.name === point || each.points.includes(point));
  return taken.value.readings.some(
    (each) =>
      each.mode === name && each.look.kind === "voltage" && each.look.minus === 0 && each.look.net === net,
  );
}

/** From here on every reading is followed. */
export function startSuspecting(): void {
  found.value = follow("suspects", "suspects", () => {
    const { readings } = taken.value;
    if (circuit.value === undefined || readings.length === 0) return undefined;
    return { circuit: circuit.value, conditions: conditions.value, meter: meter.value, readings };
  }).state;
  effect(() => {
    nextPoint.value = nextOf(suspected().value?.result, mode.value, isRead);
  });
}

/** Where a trace can be drawn as a line, and where only as the band that it moves in. */
import type { Strip } from "./waveform-words.ts";

/** A band is drawn where the extremes lie beyond the neighbouring values by this share of all travel. */
const SHARE = 0.01;

/** Neighbouring intervals of one kind: from one index of the values to another. */
export interface Stretch {
  readonly kind: "line" | "band";
  readonly from: number;
  readonly to: number;
}

/** Every interval between neighbouring values belongs to one stretch. */
export function stretchesOf(strip: Strip): Stretch[] {
  const last = strip.values.length - 1;
  if (last < 1) return [];
  const isBand = bandTest(strip);
  const stretches: Stretch[] = [];
  let from = 0;
  for (let k = 1; k <= last; k++) {
    if (k < last && isBand(k + 1) === isBand(k)) continue;
    stretches.push({ kind: isBand(k) ? "band" : "line", from, to: k });
    from = k;
  }
  return stretches;
}

/** Whether the interval before this value is one in which the trace goes farther than its ends. */
function bandTest({ values, envelope }: Strip): (k: number) => boolean {
  if (envelope === undefined) return () => false;
  const { least, greatest } = envelope;
  const worth = SHARE * (highest(greatest) - lowest(least));
  return (k) => {
    const [a, b] = [values[k - 1]!, values[k]!];
    return Math.min(a, b) - least[k]! > worth || greatest[k]! - Math.max(a, b) > worth;
  };
}

const lowest = (values: readonly number[]) => values.reduce((low, value) => Math.min(low, value), Infinity);
const highest = (values: readonly number[]) =>
  values.reduce((high, value) => Math.max(high, value), -Infinity);

/** Least and greatest value of a trace, between the values written down as well. */
export function extremesOf({ values, envelope }: Strip): readonly [least: number, greatest: number] {
  if (values.length === 0) return [0, 0];
  return [lowest(envelope?.least ?? values), highest(envelope?.greatest ?? values)];
}

/** Figures of the voltage chart as they are written. */
import type { Influence } from "../../bench/influences.ts";
import type { Circuit } from "../../circuit/circuit.ts";
import { amps, decimal, plain, volts } from "../../report/numbers.ts";
import type { PointFigure } from "../compute/figures.ts";
import type { Band, Mark } from "../state/marks.ts";

/** A band without signs where they are all the same: `1.18…1.45`; the smaller figure first. */
export function bandText({ least, greatest }: Band): string {
  if (least < 0 && greatest > 0) return `${plain(least)}…${plain(greatest)}`;
  const [low, high] = [Math.abs(least), Math.abs(greatest)].sort((a, b) => a - b) as [number, number];
  return `${plain(low)}…${plain(high)}`;
}

/** What a figure was before, if it has moved by more than a digit as written; else empty. */
export function wasText(before: number | undefined, now: number | undefined): string {
  if (before === undefined || now === undefined) return "";
  const [old, next] = [plain(before), plain(now)];
  if (old === next) return "";
  const decimals = Math.max(...[old, next].map((text) => /\.(\d+)/.exec(text)?.[1]?.length ?? 0));
  return Math.abs(before - now) < 1.5 * 10 ** -decimals ? "" : old;
}

/** What a figure was and what it is, `0.019 → 0.039`: without signs where they are the same, as bands are written. */
export function changeText(was: string, now: string): string {
  const [old, next] =
    was.startsWith("\u2212") && now.startsWith("\u2212") ? [was.slice(1), now.slice(1)] : [was, now];
  return `${old}\u2009→\u2009${next}`;
}

/** What a mark says to those who do not see it. */
export function markWords(mark: Mark, { least, greatest }: Band, unit: string): string {
  if (mark === "inside") return "within the band";
  return `${mark} the band of ${plain(least)} to ${plain(greatest)} ${unit}`;
}

/** A reading that the netlist gives, as one would type it. */
export const readText = (value: number): string =>
  String(Number(value.toPrecision(6))).replace("-", "\u2212");

/** At which end of its tolerance a part makes a change. */
function endOf({ part, quantity }: Influence, circuit: Circuit): string {
  if (quantity === "hfe") return `${part} with the greatest hfe`;
  if (quantity === "leakage") return `${part} with the greatest leakage`;
  const { tolerance } = circuit.parts.find(({ name }) => name === part) ?? {};
  if (tolerance === undefined) return part;
  return `${part} +${decimal(100 * tolerance.high, 0)} %`;
}

/** `R7 +10 %: −0.42 V`, one after the other. */
export function influencesText(list: readonly Influence[], unit: "V" | "A", circuit: Circuit): string {
  if (list.length === 0) return "no tolerance of any part moves it";
  const text = unit === "V" ? volts : amps;
  return list
    .map((each) => `${endOf(each, circuit)}: ${each.change > 0 ? "+" : ""}${text(each.change)}`)
    .join(" · ");
}

/** What the meter does to a point, in a sentence; empty without one. */
export function meterText({ volts: without, metered }: PointFigure): string {
  if (metered === undefined || without === undefined || plain(metered) === plain(without)) return "";
  return `${volts(without)} without the meter, which draws it to ${volts(metered)}. `;
}

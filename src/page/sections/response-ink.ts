/** How the curves of the response are told from each other. */
import type { Panel } from "../../report/bode-layout.ts";
import type { CurvePoint } from "../../report/curves.ts";
import { responses, solution } from "../compute/live.ts";

/** Five inks that differ for every kind of sight; none of them is the accent. */
const INKS = 5;
export const inkOf = (index: number): string => `ink-${index % INKS}`;
/** By mode: playback solid, recording dashed. */
const DASHES = [undefined, "7 4", "1.5 3.5", "10 3 1.5 3"];

export function dashOf(index: number): string | undefined {
  const modes = solution.value?.modes.map(({ mode }) => mode) ?? [];
  return DASHES[modes.indexOf(responses.value[index]?.mode ?? "") % DASHES.length];
}

/** What a panel shows of a point. */
export const valueIn = (panel: Panel) => (point: CurvePoint) =>
  panel.name === "Gain" ? point.gain : point.phase;

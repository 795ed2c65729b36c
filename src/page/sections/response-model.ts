/** What the response plot shows, worked out once a solution for all that is drawn of it. */
import { computed, signal } from "@preact/signals";
import type { PlaybackResponse } from "../../bench/playback.ts";
import { type Layout, layoutOf, type PlotSize } from "../../report/bode-layout.ts";
import { type Curve, type Curves, curvesOf } from "../../report/curves.ts";
import { fieldAbout } from "../../report/playback-svg.ts";
import { lossAt } from "../../tape/loss-curve.ts";
import { conditions, responses, settled } from "../compute/live.ts";
import { drawnAt, readMeasured } from "../compute/measured.ts";
import { circuit } from "../compute/netlist.ts";
import { HERTZ } from "../compute/solution.ts";
import { STANDARD_TEXTS, targetsOf, USUAL } from "../compute/target.ts";
import { held } from "../state/hand.ts";
import { kept } from "../state/store.ts";

export const ID = "response";

export interface ResponseChoices {
  readonly [key: string]: string;
  /** What a standard is called on the sheet; empty for none. */
  readonly standard: string;
  /** The measured table as it was read in, and the name of its file; empty for none. */
  readonly measuredName: string;
  readonly measuredText: string;
}

export const choices = kept<ResponseChoices>(ID, { standard: USUAL, measuredName: "", measuredText: "" });

const NO_CURVES: Curves = { curves: [], reference: "" };

export const curves = computed(() => (responses.value.length === 0 ? NO_CURVES : curvesOf(responses.value)));

const settledCurves = computed(() => {
  const all = settled.value?.modes.flatMap((mode) => mode.responses) ?? [];
  return all.length === 0 ? NO_CURVES : curvesOf(all);
});

/** Half a wide sheet, or a whole narrow one: lettering as large as that of the chart. */
const SHEET: PlotSize = { width: 530, gainHeight: 206, phaseHeight: 92, markRows: false };
/** A telephone, and the half of a sheet on a tablet held across. */
const NARROW: PlotSize = { width: 430, gainHeight: 210, phaseHeight: 100, markRows: false };

// in a worker nobody looks
const narrow =
  typeof matchMedia === "undefined"
    ? undefined
    : matchMedia("(max-width: 30rem), (min-width: 64rem) and (max-width: 75rem)");
const size = signal(narrow?.matches ? NARROW : SHEET);
narrow?.addEventListener("change", ({ matches }) => {
  size.value = matches ? NARROW : SHEET;
});

/** Axes stand still while a control is held; they suit the curves as they were when it was last let go. */
export const layout = computed(
  (): Layout => layoutOf(settledCurves.value.curves, settledCurves.value.reference, 0, size.value),
);
/** The names at the ends of the curves stay where they are as well. */
export const namedCurves = computed(() => settledCurves.value.curves);

export const targets = computed(() => {
  const { standard } = choices.value;
  if (circuit.value === undefined || !STANDARD_TEXTS.includes(standard)) return [];
  return targetsOf(circuit.value, responses.value, standard, conditions.value.set);
});

/** The first path that starts at a head bears the target; others from the same head have the same shape. */
export const targetIndex = computed(() => targets.value.findIndex((target) => target !== undefined));

const offsetOf = ({ offset }: Curve): number => offset ?? 0;

export interface DrawnTarget {
  readonly response: PlaybackResponse;
  readonly points: readonly { readonly hertz: number; readonly gain: number }[];
  readonly field: ReturnType<typeof fieldAbout>;
}

/** The target on the scale of its curve. */
export const target = computed((): DrawnTarget | undefined => {
  const response = targets.value[targetIndex.value];
  const curve = curves.value.curves[targetIndex.value];
  if (response === undefined || curve === undefined) return undefined;
  const level = (i: number) => response.tape.target_db[i]! - offsetOf(curve);
  return {
    response,
    points: response.hertz.map((hertz, i) => ({ hertz, gain: level(i) })),
    field: fieldAbout(response, level),
  };
});

const read = computed(() => {
  const { measuredText } = choices.value;
  return measuredText === "" ? undefined : readMeasured(measuredText);
});

export const measuredProblem = computed(() => {
  const found = read.value;
  return found !== undefined && "message" in found ? found.message : "";
});

/** Index of 1 kHz among the frequencies. */
export const KILOHERTZ = HERTZ.indexOf(1000);

/** The measured curve laid over the first path, alike at 1 kHz. */
export const measured = computed(() => {
  const found = read.value;
  const first = curves.value.curves[Math.max(0, targetIndex.value)];
  if (found === undefined || "message" in found || first === undefined) return undefined;
  return drawnAt(found.curve, first.points[KILOHERTZ]?.gain ?? 0);
});

/** The measured level at a frequency on the scale of the plot, dB. */
export function measuredAt(hertz: number): number | undefined {
  const points = measured.value?.map(({ hertz: at, gain }) => ({ hertz: at, decibels: gain }));
  return points && lossAt(points, hertz);
}

/** Where the cursor stands: an index into the frequencies. */
export const cursor = signal(KILOHERTZ);

/** Something is in motion: what is drawn may be on its way. */
export const moving = computed(() => held.value !== undefined);

/** Where everything of the Bode plot stands, in user units of the drawing. */
import { scaleLinear, scaleLog } from "d3-scale";
import { type Axis, type FrequencyAxis, frequencyAxis, gainAxis, phaseAxis } from "./axes.ts";
import { type Curve, offsetText, silent } from "./curves.ts";

export const WIDTH = 760;
export const LEFT = 48;
export const LABEL_SIZE = 11;
/** From the end of a curve to its label. */
export const LEADER = 26;
/** Height of one row of −3 dB frequencies. */
export const MARK_ROW = 14;
/** Characters of a direct label at most. */
const LONGEST_LABEL = 26;
/** A character of the serif of the system, on the average, at the size of labels. */
const CHARACTER = 5.8;
const HEAD = 30;

/** How much room the plot has, in user units. */
export interface PlotSize {
  readonly width: number;
  readonly gainHeight: number;
  readonly phaseHeight: number;
  /** Between the panels a row of −3 dB frequencies for every curve that has some. */
  readonly markRows: boolean;
}

const PRINTED: PlotSize = { width: WIDTH, gainHeight: 260, phaseHeight: 130, markRows: true };

/** One field with its own vertical axis, over the common frequencies. */
export interface Panel {
  readonly name: string;
  readonly unit: string;
  readonly top: number;
  readonly height: number;
  readonly axis: Axis;
  /** Units below the top of the panel. */
  readonly y: (value: number) => number;
  /** What stands beside a tick; the number if not given. */
  readonly text?: (tick: number) => string;
}

export interface Layout {
  /** Width of the whole. */
  readonly width: number;
  /** Width of the panels. */
  readonly across: number;
  readonly frequencies: FrequencyAxis;
  /** Units from the left edge of the panels. */
  readonly x: (hertz: number) => number;
  readonly gain: Panel;
  readonly phase: Panel;
  /** Top of the rows of −3 dB frequencies. */
  readonly marksTop: number;
  readonly height: number;
}

/** What a curve is called beside its end, shortened if need be. */
export function shortLabel({ label }: Curve): string {
  const characters = [...label];
  if (characters.length <= LONGEST_LABEL) return label;
  return `${characters.slice(0, LONGEST_LABEL - 1).join("")}…`;
}

const labelLength = (curve: Curve): number =>
  silent(curve)
    ? shortLabel(curve).length + 11
    : Math.max(shortLabel(curve).length, 0.9 * offsetText(curve).length);

function panel(name: Panel["name"], unit: string, top: number, height: number, axis: Axis): Panel {
  const scale = scaleLinear([axis.high, axis.low], [0, height]);
  return { name, unit, top, height, axis, y: (value) => scale(value) };
}

/** A curve that has −3 dB points to show. */
export const marked = ({ bandwidth: { low_hertz, high_hertz } }: Curve): boolean =>
  low_hertz !== undefined || high_hertz !== undefined;

/** Lays out the plot of `curves` under a head that ends at `top`. */
export function layoutOf(
  curves: readonly Curve[],
  reference: string,
  top: number,
  { width, gainHeight, phaseHeight, markRows }: PlotSize = PRINTED,
): Layout {
  const right = LEADER + 10 + CHARACTER * Math.max(4, ...curves.map(labelLength));
  const across = width - LEFT - right;
  const frequencies = frequencyAxis(curves, (decades) => across / decades / 30);
  const scale = scaleLog([frequencies.low, frequencies.high], [0, across]);
  const gain = panel("Gain", reference, top + HEAD, gainHeight, gainAxis(curves, 8));
  const marksTop = gain.top + gain.height + 4;
  const phaseTop = marksTop + (markRows ? MARK_ROW * curves.filter(marked).length : 0) + HEAD;
  const phase = panel("Phase", "degrees", phaseTop, phaseHeight, phaseAxis(curves, 6));
  return {
    width,
    across,
    frequencies,
    x: (hertz) => scale(hertz),
    gain,
    phase,
    marksTop,
    height: phaseTop + phaseHeight + 44,
  };
}

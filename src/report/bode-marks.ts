/** The −3 dB points of the Bode plot: a ring on the curve, a thread down to its frequency in words. */

import { HALF_POWER } from "./bandwidth.ts";
import { LABEL_SIZE, type Layout, LEADER, LEFT, MARK_ROW, marked, shortLabel } from "./bode-layout.ts";
import { colourOf, strokeOf } from "./bode-panel.ts";
import type { Curve } from "./curves.ts";
import { element, type Markup, together } from "./markup.ts";
import { hertz } from "./numbers.ts";

/** Two frequencies nearer than this stand on either side of their threads. */
const ELBOW_ROOM = 64;

interface Mark {
  readonly hertz: number;
  readonly anchor: "start" | "middle" | "end";
}

function marksOf({ bandwidth: { low_hertz: low, high_hertz: high } }: Curve, { x }: Layout): readonly Mark[] {
  if (low === undefined || high === undefined) {
    return [low, high].flatMap((f) => (f === undefined ? [] : [{ hertz: f, anchor: "middle" as const }]));
  }
  const close = x(high) - x(low) < ELBOW_ROOM;
  return [
    { hertz: low, anchor: close ? "end" : "middle" },
    { hertz: high, anchor: close ? "start" : "middle" },
  ];
}

/** A frequency above in words takes so much room to either side of its thread. */
const HALF_WORD = 30;

/** Where the thread of a mark ends: over its words, or over the first row if it would run through others'. */
function threadEnd(layout: Layout, row: number, mark: Mark, above: readonly Mark[]): number {
  const x = layout.x(mark.hertz);
  const crosses = above.some(({ hertz: other }) => Math.abs(layout.x(other) - x) < HALF_WORD);
  return layout.marksTop + MARK_ROW * ((crosses ? 0 : row) + 1) - 3 - LABEL_SIZE + 1;
}

interface Row {
  readonly curve: Curve;
  readonly index: number;
  readonly row: number;
  /** The marks of the rows above. */
  readonly above: readonly Mark[];
}

function ring(layout: Layout, { curve, index, row, above }: Row, mark: Mark): Markup {
  const x = LEFT + layout.x(mark.hertz);
  const level = (curve.bandwidth.reference_db ?? 0) - HALF_POWER - (curve.offset ?? 0);
  const y = layout.gain.top + layout.gain.y(level);
  const text = layout.marksTop + MARK_ROW * (row + 1) - 3;
  const shift = { start: 3, middle: 0, end: -3 }[mark.anchor];
  return together(
    element("line", {
      x1: x,
      x2: x,
      y1: y + 3.5,
      y2: threadEnd(layout, row, mark, above),
      stroke: colourOf(index),
      "stroke-width": 0.6,
      "stroke-dasharray": "1 2",
    }),
    element("circle", { cx: x, cy: y, r: 3.5, fill: "none", stroke: colourOf(index), "stroke-width": 1 }),
    element(
      "text",
      { x: x + shift, y: text, "text-anchor": mark.anchor, "font-size": LABEL_SIZE },
      hertz(mark.hertz),
    ),
  );
}

/** A row of frequencies for each curve that has −3 dB points, with its dashes and name at the right. */
export function halfPowerMarks(layout: Layout, curves: readonly Curve[]): Markup | undefined {
  const rows = curves.map((curve, index) => ({ curve, index })).filter(({ curve }) => marked(curve));
  if (rows.length === 0) return undefined;
  const right = LEFT + layout.across;
  const head = element(
    "text",
    { x: LEFT - 7, y: layout.marksTop + MARK_ROW - 3, "text-anchor": "end", "font-size": LABEL_SIZE },
    "−3 dB",
  );
  const drawn = rows.map(({ curve, index }, row) => {
    const above = rows.slice(0, row).flatMap((other) => marksOf(other.curve, layout));
    const y = layout.marksTop + MARK_ROW * (row + 1) - 3;
    return together(
      ...marksOf(curve, layout).map((mark) => ring(layout, { curve, index, row, above }, mark)),
      element("path", { d: `M${right + 6},${y - 4}H${right + LEADER - 4}`, ...strokeOf(index) }),
      element("text", { x: right + LEADER, y, "font-size": LABEL_SIZE }, shortLabel(curve)),
    );
  });
  return together(head, ...drawn);
}

/** The oscillogram: a strip a trace over one axis of time, cursors at the marks. */
import { scaleLinear } from "d3-scale";
import type { ContactReading, Waveform } from "../bench/waveform/results.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { wrap } from "./columns.ts";
import { ACCENT, drawing, head, text } from "./drawing.ts";
import { element, type Markup, together } from "./markup.ts";
import { spreadOut } from "./spread-out.ts";
import { type Scale, stripPiece } from "./waveform-strip.ts";
import {
  type Cursor,
  coarseText,
  contactLines,
  cursorsOf,
  drawnStrips,
  openTimes,
  secondsText,
  unitText,
} from "./waveform-words.ts";

const WIDTH = 760;
const LEFT = 76;
const RIGHT = 24;
const ACROSS = WIDTH - LEFT - RIGHT;
/** Where the axis of time lies, for who draws over it. */
export const TIME_AXIS = { left: LEFT, across: ACROSS };
/** All strips of a mode together, and the least of one. */
const HEIGHT = 420;
const LEAST = 92;
const GAP = 30;
const ROW = 15;
/** Row of a governor, and the bar in it. */
const CONTACT = 18;
const BAR = 7;
/** Letters in a line of text below. */
const LINE_LENGTH = 115;

/** An oscillogram of every mode, as an SVG document. */
export function waveformSvg(
  circuit: Circuit,
  results: readonly Waveform[],
  conditions: readonly string[],
): string {
  const top = head(circuit.title, ["Waveforms", ...conditions], LEFT);
  let y = top.bottom;
  const pieces = results.map((result) => {
    const piece = modePiece(circuit, result, y);
    y = piece.bottom;
    return piece.markup;
  });
  return drawing(
    { width: WIDTH, height: y + 10 },
    {
      title: `Waveforms: ${circuit.title}`,
      description: results.map((result) => description(circuit, result)).join(" "),
    },
    top.markup,
    ...pieces,
  );
}

function description(circuit: Circuit, result: Waveform): string {
  const strips = drawnStrips(circuit, result).map(({ name, unit }) => {
    const { least, greatest } = result.readings[name]!;
    return `${name} from ${unitText(least, unit)} to ${unitText(greatest, unit)}`;
  });
  return `${result.mode}, 0 to ${secondsText(result.seconds.at(-1) ?? 0)}: ${strips.join(", ")}.`;
}

interface Placed {
  readonly markup: Markup;
  readonly bottom: number;
}

function modePiece(circuit: Circuit, result: Waveform, top: number): Placed {
  const strips = drawnStrips(circuit, result);
  const height = Math.max(LEAST, (HEIGHT - GAP * strips.length) / Math.max(1, strips.length));
  const end = result.seconds.at(-1) || 1;
  const time = scaleLinear([0, end], [LEFT, LEFT + ACROSS]);
  const first = top + 44;
  const cursors = cursorsOf(result);
  const below = first + strips.length * (height + GAP) - GAP;
  const across = { height, left: LEFT, right: LEFT + ACROSS, time };
  const drawn = strips.map((strip, k) =>
    stripPiece(strip, result.seconds, k, { top: first + k * (height + GAP), ...across }),
  );
  const contacts = result.contacts ?? [];
  const foot = below + (contacts.length > 0 ? 4 : 0) + contacts.length * CONTACT;
  const ticks = time.ticks(10);
  const said = noteLines(circuit, result);
  const notes = foot + 56 + cursors.length * ROW;
  return {
    markup: together(
      text(LEFT, top + 18, result.mode, { "font-style": "italic", "font-size": 13 }),
      ...drawn,
      ...contacts.map((contact, k) => contactRow(result, contact, below + 12 + k * CONTACT, time)),
      ...ticks.map((tick) => text(time(tick), foot + 17, tickText(tick, end), { "text-anchor": "middle" })),
      text(LEFT + ACROSS / 2, foot + 34, `Time, ${scaleOf(end).unit}`, {
        "text-anchor": "middle",
        "font-style": "italic",
      }),
      ...cursorLines(cursors, time, first, foot),
      ...cursors.map(({ letter, seconds, what }, k) =>
        cursorLine(letter, `${secondsText(seconds, 5)}, ${what}`, foot + 56 + k * ROW),
      ),
      ...said.map((words, k) => text(LEFT, notes + k * ROW, words)),
    ),
    bottom: notes - 8 + said.length * ROW,
  };
}

const cursorLine = (letter: string, words: string, y: number): Markup =>
  together(text(LEFT, y, letter, { fill: ACCENT, "font-weight": "bold" }), text(LEFT + 14, y, words));

/** Where it was interrupted, what governors did, and what a band means. */
function noteLines(circuit: Circuit, result: Waveform): string[] {
  const coarse = coarseText(result, drawnStrips(circuit, result));
  const band = coarse === undefined ? [] : [`${coarse}; shaded from the least to the greatest between them.`];
  const { interrupted_seconds: at } = result;
  const stopped = at === undefined ? [] : [`Interrupted at ${secondsText(at)}.`];
  return [...stopped, ...contactLines(circuit, result), ...band].flatMap((words) =>
    wrap(words, LINE_LENGTH, 0),
  );
}

/** One prefix for the whole axis of time. */
function scaleOf(end: number): { readonly by: number; readonly unit: string } {
  if (end >= 1) return { by: 1, unit: "s" };
  if (end >= 1e-3) return { by: 1e3, unit: "ms" };
  return end >= 1e-6 ? { by: 1e6, unit: "µs" } : { by: 1e9, unit: "ns" };
}

const tickText = (tick: number, end: number): string =>
  String(Number((tick * scaleOf(end).by).toPrecision(6))).replace("-", "\u2212");

/** A row for every governor: a bar while its contact is open. */
const contactRow = (result: Waveform, contact: ContactReading, y: number, time: Scale): Markup =>
  together(
    text(LEFT - 7, y + BAR, `${contact.contact} open`, { "text-anchor": "end" }),
    ...openTimes(result, contact).map(([from, to]) =>
      element("rect", { x: time(from), y, width: Math.max(0.4, time(to) - time(from)), height: BAR }),
    ),
  );

function cursorLines(cursors: readonly Cursor[], time: Scale, top: number, bottom: number): Markup[] {
  const letters = spreadOut(
    cursors.map(({ seconds }) => time(seconds)),
    9,
    LEFT,
    LEFT + ACROSS,
  );
  return cursors.map(({ letter, seconds }, k) => {
    const x = time(seconds);
    return together(
      element("line", {
        x1: x,
        x2: x,
        y1: top - 16,
        y2: bottom,
        stroke: ACCENT,
        "stroke-width": 1,
        "stroke-dasharray": "6 3",
      }),
      text(letters[k]!, top - 19, letter, { "text-anchor": "middle", fill: ACCENT, "font-weight": "bold" }),
    );
  });
}

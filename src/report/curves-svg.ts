/** A type's characteristics as a drawing to print: output characteristics above, hfe below. */
import { scaleLinear, scaleLog } from "d3-scale";
import { line } from "d3-shape";
import type { GainCurve, OutputCurve, TypeCurves } from "../bench/curves.ts";
import { strokeOf } from "./bode-panel.ts";
import { ACCENT, drawing, head, PAPER, SIZE, text } from "./drawing.ts";
import { element, type Markup, together } from "./markup.ts";
import { amps, celsius, plain, volts } from "./numbers.ts";
import { quantityText } from "./quantities.ts";
import { spreadOut } from "./spread-out.ts";

const WIDTH = 760;
const LEFT = 56;
const ACROSS = 570;
const OUTPUT_HEIGHT = 330;
const GAIN_HEIGHT = 190;
const HEAD = 32;
/** Room for the numbers and the name of an axis under a panel. */
const FOOT = 44;
const LEADER = 14;

/** A field with its scales; x and y in units of the drawing. */
interface Field {
  readonly top: number;
  readonly height: number;
  readonly x: (value: number) => number;
  readonly y: (value: number) => number;
  readonly xTicks: readonly (readonly [value: number, label: string])[];
  readonly yTicks: readonly (readonly [value: number, label: string])[];
  readonly name: Markup;
  readonly below: Markup;
}

/** `I`, with `C` below the line; what a PNP draws flows the other way. */
const symbol = (device: TypeCurves["device"], letter: string, index: string, after = ""): Markup => {
  const pieces = [
    element("tspan", {}, `${device === "pnp" ? "−" : ""}${letter}`),
    element("tspan", { dy: 3, "font-size": 0.75 * SIZE }, index),
    element("tspan", { dy: -3 }, after),
  ];
  // a line's end between them would show as a blank
  return { markup: pieces.map(({ markup }) => markup).join("") };
};

/** Unit of an axis that ends at `greatest` amperes. */
const ampereScale = (greatest: number) =>
  greatest < 1e-3
    ? { unit: "µA", factor: 1e6 }
    : greatest < 1
      ? { unit: "mA", factor: 1e3 }
      : { unit: "A", factor: 1 };

function outputField({ output, device }: TypeCurves, top: number): Field {
  const furthest = output[0]?.vce_volts.at(-1) ?? 1;
  const highest = Math.max(...output.flatMap(({ ic_amps }) => ic_amps));
  const x = scaleLinear([0, furthest], [LEFT, LEFT + ACROSS]);
  const { unit, factor } = ampereScale(highest);
  const y = scaleLinear([0, highest * factor], [top + OUTPUT_HEIGHT, top]).nice(8);
  return {
    top,
    height: OUTPUT_HEIGHT,
    x: (value) => x(value),
    y: (value) => y(value * factor),
    xTicks: x.ticks(10).map((tick) => [tick, plainTick(tick)]),
    yTicks: y.ticks(8).map((tick) => [tick / factor, plainTick(tick)]),
    name: symbol(device, "I", "C", `, ${unit}`),
    below: symbol(device, "V", "CE", ", V"),
  };
}

function gainField({ gain, given, device }: TypeCurves, top: number): Field {
  const currents = gain[0]?.ic_amps ?? [1e-3, 1];
  const [low, high] = [currents[0] ?? 1e-3, currents.at(-1) ?? 1];
  const highest = Math.max(...gain.flatMap(({ hfe }) => hfe), ...given.map(({ hfe }) => hfe));
  const x = scaleLog([low, high], [LEFT, LEFT + ACROSS]);
  const y = scaleLinear([0, highest], [top + GAIN_HEIGHT, top]).nice(5);
  const marks = [1, 2, 5].flatMap((digit) =>
    Array.from({ length: 12 }, (_, k) => Number(`${digit}e${k - 9}`)),
  );
  return {
    top,
    height: GAIN_HEIGHT,
    x: (value) => x(value),
    y: (value) => y(value),
    xTicks: marks
      .filter((mark) => mark >= low * (1 - 1e-9) && mark <= high * (1 + 1e-9))
      .map((mark) => [mark, shortAmps(mark)]),
    yTicks: y.ticks(5).map((tick) => [tick, plainTick(tick)]),
    name: element("tspan", {}, "hfe, freed of leakage"),
    below: symbol(device, "I", "C"),
  };
}

const plainTick = (tick: number): string => String(Number(tick.toPrecision(6)));
const shortAmps = (value: number): string => quantityText(value, "ampere").replace("\u00a0", "\u2009");

const named = (x: number, y: number, name: Markup, anchor?: string): Markup =>
  element("text", { x, y, "font-size": SIZE, "font-style": "italic", "text-anchor": anchor }, name);

function grid({ top, height, x, y, xTicks, yTicks, name, below }: Field): Markup {
  const thin = { stroke: "currentColor", "stroke-width": 0.5 };
  return together(
    element("rect", {
      x: LEFT,
      y: top,
      width: ACROSS,
      height,
      fill: "none",
      ...thin,
      "stroke-opacity": 0.45,
    }),
    ...xTicks.map(([value, label]) =>
      together(
        element("line", {
          x1: x(value),
          x2: x(value),
          y1: top,
          y2: top + height,
          ...thin,
          "stroke-opacity": 0.18,
        }),
        text(x(value), top + height + 15, label, { "text-anchor": "middle" }),
      ),
    ),
    ...yTicks.map(([value, label]) =>
      together(
        element("line", {
          x1: LEFT,
          x2: LEFT + ACROSS,
          y1: y(value),
          y2: y(value),
          ...thin,
          "stroke-opacity": 0.18,
        }),
        text(LEFT - 7, y(value) + 4, label, { "text-anchor": "end" }),
      ),
    ),
    named(LEFT, top - 9, name),
    named(LEFT + ACROSS / 2, top + height + 33, below, "middle"),
  );
}

interface Drawn {
  readonly points: readonly (readonly [x: number, y: number])[];
  readonly label: string;
  /** Number of the stroke. */
  readonly stroke: number;
}

/** Curves cut off at the edges of the field, and their names at their right ends. */
function curves(field: Field, drawn: readonly Drawn[]): Markup {
  const path = line<readonly [number, number]>()
    .digits(2)
    .x(([x]) => x - LEFT)
    .y(([, y]) => y - field.top);
  const window = { x: LEFT, y: field.top, width: ACROSS, height: field.height, overflow: "hidden" };
  const ends = drawn.map(({ points }) => points.at(-1)?.[1] ?? field.top);
  const places = spreadOut(ends, 1.15 * SIZE, field.top + 4, field.top + field.height - 2);
  return together(
    element(
      "svg",
      window,
      together(
        ...drawn.map(({ points, stroke }) =>
          element("path", { d: path(points) ?? "", ...strokeOf(stroke), "stroke-width": 1.4 }),
        ),
      ),
    ),
    ...drawn.map(({ label, stroke }, i) => {
      const [from, to] = [ends[i]!, places[i]!];
      const right = LEFT + ACROSS;
      return together(
        element("path", {
          d: `M${right},${from.toFixed(2)}L${right + LEADER - 3},${to.toFixed(2)}`,
          fill: "none",
          stroke: strokeOf(stroke).stroke,
          "stroke-width": 0.7,
        }),
        text(right + LEADER, to + 4, label),
      );
    }),
  );
}

const outputDrawn = (field: Field, { ib_amps, vce_volts, ic_amps }: OutputCurve): Drawn => ({
  points: vce_volts.map((value, k) => [field.x(value), field.y(ic_amps[k]!)]),
  label: ib_amps === 0 ? "base open" : amps(ib_amps).replace(/\.?0+(?=\u00a0)/, trimZeros),
  stroke: 0,
});

/** `20.0 µA` as `20 µA`; whole numbers keep their zeros. */
const trimZeros = (zeros: string): string => (zeros.startsWith(".") ? "" : zeros);

const gainDrawn = (field: Field, { sample, ic_amps, hfe }: GainCurve): Drawn => ({
  points: ic_amps.map((value, k) => [field.x(value), field.y(hfe[k]!)]),
  label: sample,
  stroke: sample === "typical" ? 0 : 1,
});

/** Where voltage times current is the greatest dissipation. */
function dissipation(field: Field, { output, ptot_watts }: TypeCurves): Markup | undefined {
  const furthest = output[0]?.vce_volts.at(-1);
  const highest = field.yTicks.at(-1)?.[0];
  if (ptot_watts === undefined || furthest === undefined || highest === undefined) return undefined;
  const nearest = ptot_watts / highest;
  if (nearest >= furthest) return undefined;
  const points = Array.from({ length: 41 }, (_, k) => {
    const value = nearest * (furthest / nearest) ** (k / 40);
    return [field.x(value), field.y(ptot_watts / value)] as const;
  });
  const [x, y] = points[Math.round(41 * 0.3)] ?? points[0]!;
  return together(
    element("path", {
      d: line<readonly [number, number]>().digits(2)(points) ?? "",
      fill: "none",
      stroke: ACCENT,
      "stroke-width": 1,
      "stroke-dasharray": "6 3",
    }),
    // a border of paper keeps the curves off the letters
    text(x + 8, y - 4, `${quantityText(ptot_watts, "watt")} at most`, {
      fill: ACCENT,
      stroke: PAPER,
      "stroke-width": 6,
      "stroke-linejoin": "round",
      "paint-order": "stroke",
    }),
  );
}

/** The sheet's points, as far as they lie in the field. */
function rings(field: Field, { given, gain }: TypeCurves): Markup {
  const [least = 0, greatest = 0] = [gain[0]?.ic_amps[0], gain[0]?.ic_amps.at(-1)];
  return together(
    ...given
      .filter(({ ic_amps }) => ic_amps >= least && ic_amps <= greatest * (1 + 1e-9))
      .map(({ ic_amps, hfe }) =>
        element("circle", {
          cx: field.x(ic_amps),
          cy: field.y(hfe),
          r: 3.5,
          fill: "none",
          stroke: "currentColor",
        }),
      ),
  );
}

function description({ type, output, gain }: TypeCurves): string {
  const steepest = output.at(-1);
  const typical = gain.find(({ sample }) => sample === "typical");
  const last = (list: readonly number[] | undefined) => list?.at(-1) ?? 0;
  return [
    `${type}: at a base current of ${amps(steepest?.ib_amps ?? 0)} and ${volts(last(steepest?.vce_volts))}`,
    `the collector current is ${amps(last(steepest?.ic_amps))}.`,
    `hfe falls from ${plain(typical?.hfe[0] ?? 0)} to ${plain(last(typical?.hfe))} at ${amps(last(typical?.ic_amps))}.`,
  ].join(" ");
}

/**
 * Collector current against collector-emitter voltage for steps of base current, with the limit of
 * dissipation, and hfe against collector current: weakest, typical and strongest sample; rings are the
 * points that the sheet gives.
 */
export function curvesSvg(of: TypeCurves): string {
  const title = `${of.type}, ${of.device.toUpperCase()} ${of.material}`;
  const conditions = [
    `junction at ${celsius(of.junction_celsius)}`,
    "typical sample",
    "rings: points given for 25 °C",
  ];
  const { markup, bottom } = head(title, conditions, LEFT);
  const output = outputField(of, bottom + HEAD);
  const gain = gainField(of, bottom + HEAD + OUTPUT_HEIGHT + FOOT + HEAD);
  const right = LEFT + ACROSS + LEADER;
  return drawing(
    { width: WIDTH, height: gain.top + GAIN_HEIGHT + FOOT },
    { title: `Characteristics: ${title}`, description: description(of) },
    markup,
    grid(output),
    named(right, output.top - 9, symbol(of.device, "I", "B")),
    curves(
      output,
      of.output.map((each) => outputDrawn(output, each)),
    ),
    dissipation(output, of),
    grid(gain),
    curves(
      gain,
      of.gain.map((each) => gainDrawn(gain, each)),
    ),
    rings(gain, of),
  );
}

/** The voltage chart of the mode looked at as figures: what is expected, its band, and what is printed. */
import type { VoltageChart } from "../../bench/results.ts";
import type { SpreadChart } from "../../bench/spread/results.ts";
import type { Circuit, Part } from "../../circuit/circuit.ts";
import { atRest, type ChartRows, chartRows, PINS, type PointValue } from "../../report/chart-rows.ts";
import { asMetered, type Band } from "../state/marks.ts";

/** The voltage of a point, V. */
export interface PointFigure {
  /** Where it stands on the sheet: `T1.e`, or the name of a net. */
  readonly key: string;
  /** The shown name of its net: a reading belongs to the net, wherever it is typed. Empty on chassis. */
  readonly net: string;
  /** Without a meter; undefined where nothing holds the net. */
  readonly volts: number | undefined;
  /** What the meter would show, if there is one. */
  readonly metered: number | undefined;
  readonly printed: number | undefined;
  /** What the netlist says was read. */
  readonly read: number | undefined;
  /** As the meter would read it. */
  readonly band: Band | undefined;
}

/** A collector current, A, positive in the direction of the type's arrow. */
export interface CurrentFigure {
  readonly key: string;
  readonly amps: number;
  readonly band: Band | undefined;
}

export interface TransistorFigures {
  readonly name: string;
  readonly type: string;
  readonly pins: readonly PointFigure[];
  readonly current: CurrentFigure;
}

export interface Figures {
  readonly transistors: readonly TransistorFigures[];
  /** Nets of which the netlist gives a voltage, and those of batteries. */
  readonly nets: readonly PointFigure[];
  /** Other nets that no transistor shows and that do not rest at 0 V. */
  readonly further: readonly PointFigure[];
  /** For notes: regions, hot junctions, batteries. */
  readonly rows: ChartRows;
}

/** What a reading is compared with, V: what the meter would show, if there is one. */
export const expected = ({ volts, metered }: PointFigure): number | undefined => metered ?? volts;

function figureOf(key: string, net: string, value: PointValue, spread: SpreadChart | undefined): PointFigure {
  const { volts, meter, printed, measured } = value;
  const found = spread?.nets[net];
  const band =
    found === undefined || volts === undefined
      ? undefined
      : asMetered({ least: found.least_volts, greatest: found.greatest_volts }, volts, meter);
  return { key, net, volts, metered: meter, printed, read: measured, band };
}

const netNameAt = (circuit: Circuit, part: Part, pin: number): string => {
  const net = part.pins[pin]?.net ?? 0;
  return net === 0 ? "" : (circuit.nets[net]?.name ?? "");
};

function currentOf(circuit: Circuit, name: string, type: string, amps: number, spread?: SpreadChart) {
  const found = spread?.transistors[name]?.ic_amps;
  const pnp = circuit.types[type]?.device === "pnp";
  const band =
    found === undefined
      ? undefined
      : pnp
        ? { least: 0 - found.greatest, greatest: 0 - found.least }
        : { least: found.least, greatest: found.greatest };
  return { key: `${name} current`, amps, band };
}

const batteryNets = ({ parts, nets }: Circuit): ReadonlySet<string> =>
  new Set(
    parts.flatMap(({ kind, pins }) =>
      kind === "battery" ? pins.flatMap(({ net }) => (net === 0 ? [] : [nets[net]?.name ?? ""])) : [],
    ),
  );

/** The figures of one mode's chart; bands only where `spread` has them. */
export function figuresOf(circuit: Circuit, chart: VoltageChart, spread?: SpreadChart): Figures {
  const rows = chartRows(circuit, [chart]);
  const supplied = batteryNets(circuit);
  const parts = new Map(circuit.parts.map((part) => [part.name, part]));
  const all = netFigures(rows, chart, spread);
  return {
    rows,
    transistors: rows.transistors.flatMap(({ name, type, values: [value] }): TransistorFigures[] => {
      const part = parts.get(name);
      if (value === undefined || part === undefined) return [];
      const pins = PINS.map((pin, k) =>
        figureOf(`${name}.${pin}`, netNameAt(circuit, part, k), value.pins[pin], spread),
      );
      return [{ name, type, pins, current: currentOf(circuit, name, type, value.amps, spread) }];
    }),
    nets: all.filter(isMain),
    further: all.filter((figure) => !isMain(figure)),
  };

  function isMain({ net, printed, read }: PointFigure): boolean {
    return printed !== undefined || read !== undefined || supplied.has(net);
  }
}

/** Nets with a name that no transistor's row stands for, or with a voltage given. */
function netFigures(rows: ChartRows, chart: VoltageChart, spread: SpreadChart | undefined) {
  return rows.nets.flatMap((row): PointFigure[] => {
    const [value] = row.values;
    const given = value?.printed !== undefined || value?.measured !== undefined;
    if (value === undefined || (row.atTransistor && !given) || atRest(row)) return [];
    const points = chart.nets[row.name]?.points ?? [];
    // a reading given at a pin stands in the pin's own cell
    if (
      row.name.includes(".") &&
      points.some((point) => chart.transistors[point.split(".")[0]!] !== undefined)
    )
      return [];
    return [figureOf(row.name, row.name, value, spread)];
  });
}

/** Every point that can be read, as the eye goes over the sheet; each net once. */
export function readable({ transistors, nets, further }: Figures): readonly PointFigure[] {
  const all = [...transistors.flatMap(({ pins }) => pins), ...nets, ...further].filter(
    ({ net }) => net !== "",
  );
  const seen = new Set<string>();
  return all.filter(({ net }) => !seen.has(net) && seen.add(net));
}

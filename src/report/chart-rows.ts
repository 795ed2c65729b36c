/** The voltage chart as rows, before anyone lays it out for a terminal, a page or a worksheet. */
import type {
  GovernorReading,
  MotorReading,
  Region,
  TransistorReading,
  VoltageChart,
} from "../bench/results.ts";
import type { Circuit, GivenVoltage } from "../circuit/circuit.ts";

/** What is known of one point in one mode, V. */
export interface PointValue {
  /** Undefined where nothing holds the net. */
  readonly volts: number | undefined;
  /** What a meter would show. */
  readonly meter: number | undefined;
  /** What the service sheet prints. */
  readonly printed: number | undefined;
  /** What somebody measured. */
  readonly measured: number | undefined;
}

export const PINS = ["e", "b", "c"] as const;

export interface TransistorValue {
  readonly pins: Readonly<Record<(typeof PINS)[number], PointValue>>;
  /** Collector current, A: positive when it flows the way the type is made for. */
  readonly amps: number;
  readonly vbe: number;
  readonly vce: number;
  readonly watts: number;
  readonly celsius: number;
  /** The junction stands clearly above ambient. */
  readonly warm: boolean;
  readonly region: Region;
}

export interface Row<Value> {
  readonly name: string;
  /** One a mode, in the order of the charts; undefined where the mode has no such thing. */
  readonly values: readonly (Value | undefined)[];
}

export interface TransistorRow extends Row<TransistorValue> {
  readonly type: string;
}

export interface NetRow extends Row<PointValue> {
  /** A transistor's row shows the same voltage. */
  readonly atTransistor: boolean;
}

/** A battery: volts at its terminals, and the current it gives. */
export interface SupplyValue {
  readonly volts: number;
  readonly amps: number;
  readonly watts: number;
}

export interface ChartRows {
  readonly modes: readonly string[];
  /** Ambient temperatures of the modes, °C, each once. */
  readonly ambient: readonly number[];
  readonly transistors: readonly TransistorRow[];
  /**
   * Nets other than chassis: those with a given voltage, then those with a name that no transistor row
   * shows, named ones at transistors, and the rest.
   */
  readonly nets: readonly NetRow[];
  readonly supplies: readonly Row<SupplyValue>[];
  readonly motors: readonly Row<MotorReading>[];
  readonly governors: readonly Row<GovernorReading>[];
}

/** Junctions less than this above ambient are not worth a word, K: it shifts V_BE by 10 mV. */
const WARM = 5;
const CHASSIS = "chassis";

/** Voltages given in the netlist for the net of a name, in a mode. */
function given(list: readonly GivenVoltage[], circuit: Circuit, mode: string, net: string) {
  return list.findLast((entry) => entry.mode === mode && circuit.nets[entry.net]?.name === net)?.volts;
}

function pointValue(circuit: Circuit, chart: VoltageChart, net: string): PointValue | undefined {
  const found = chart.nets[net];
  if (found === undefined) return undefined;
  return {
    volts: found.floating ? undefined : found.volts,
    meter: found.reading_volts,
    printed: given(circuit.printed, circuit, chart.mode, net),
    measured: given(circuit.readings, circuit, chart.mode, net),
  };
}

/** The shown name of the net a pin is on. */
function netOf(chart: VoltageChart, pin: string): string {
  if (pin in chart.nets) return pin;
  return Object.entries(chart.nets).find(([, net]) => net.points.includes(pin))?.[0] ?? CHASSIS;
}

function transistorValue(circuit: Circuit, chart: VoltageChart, name: string): TransistorValue | undefined {
  const found = chart.transistors[name];
  if (found === undefined) return undefined;
  const pin = (key: (typeof PINS)[number], volts: number): PointValue =>
    pointValue(circuit, chart, netOf(chart, `${name}.${key}`)) ?? { ...NOTHING, volts };
  return {
    pins: { e: pin("e", found.e_volts), b: pin("b", found.b_volts), c: pin("c", found.c_volts) },
    amps: forward(circuit, found),
    vbe: found.vbe_volts,
    vce: found.vce_volts,
    watts: found.dissipation_watts,
    celsius: found.junction_celsius,
    warm: found.junction_celsius - chart.ambient_celsius >= WARM,
    region: found.region,
  };
}

const NOTHING: PointValue = {
  volts: undefined,
  meter: undefined,
  printed: undefined,
  measured: undefined,
};

/** Collector current, positive in the direction of the type's arrow. */
function forward(circuit: Circuit, { type, ic_amps }: TransistorReading): number {
  return circuit.types[type]?.device === "pnp" ? -ic_amps : ic_amps;
}

const namesIn = (records: readonly Readonly<Record<string, unknown>>[]): readonly string[] => [
  ...new Set(records.flatMap((record) => Object.keys(record))),
];

/** Whether a net has a pin of one of these transistors. */
function touches(transistors: ReadonlySet<string>, name: string, charts: readonly VoltageChart[]): boolean {
  const points = charts.flatMap((chart) => chart.nets[name]?.points ?? []);
  return points.some((point) => transistors.has(point.slice(0, point.indexOf("."))));
}

const isGiven = (value: PointValue | undefined): boolean =>
  value?.printed !== undefined || value?.measured !== undefined;

function netRows(circuit: Circuit, charts: readonly VoltageChart[]): readonly NetRow[] {
  const transistors = new Set(namesIn(charts.map((chart) => chart.transistors)));
  const rows = namesIn(charts.map((chart) => chart.nets))
    .filter((name) => name !== CHASSIS)
    .map((name) => ({
      name,
      values: charts.map((chart) => pointValue(circuit, chart, name)),
      atTransistor: touches(transistors, name, charts),
    }));
  // a net at a transistor without a name of its own has the name of the pin, and stands there
  const shown = rows.filter(({ name, atTransistor }) => !(atTransistor && name.includes(".")));
  const rank = ({ name, values, atTransistor }: NetRow): number => {
    if (values.some(isGiven)) return 0;
    if (name.includes(".")) return 3;
    return atTransistor ? 2 : 1;
  };
  return [0, 1, 2, 3].flatMap((wanted) => shown.filter((row) => rank(row) === wanted));
}

function supplyValue(chart: VoltageChart, name: string): SupplyValue | undefined {
  const found = chart.parts[name];
  if (found === undefined) return undefined;
  // the current from plus to minus through the battery is negative while it gives
  return { volts: found.volts, amps: 0 - found.amps, watts: 0 - found.volts * found.amps };
}

/** A net at the potential of chassis in every mode, with nothing given to compare: not worth a row. */
export const atRest = ({ values }: NetRow): boolean =>
  values.every((value) => value?.volts !== undefined && Math.abs(value.volts) < 5e-4 && !isGiven(value));

const recordRows = <Value>(records: readonly Readonly<Record<string, Value>>[]): readonly Row<Value>[] =>
  namesIn(records).map((name) => ({ name, values: records.map((record) => record[name]) }));

/** The rows of the charts of one circuit, a value a mode. */
export function chartRows(circuit: Circuit, charts: readonly VoltageChart[]): ChartRows {
  const transistors = namesIn(charts.map((chart) => chart.transistors));
  const batteries = circuit.parts.filter((part) => part.kind === "battery");
  return {
    modes: charts.map((chart) => chart.mode),
    ambient: [...new Set(charts.map((chart) => chart.ambient_celsius))],
    transistors: transistors.map((name) => ({
      name,
      type: charts.map((chart) => chart.transistors[name]?.type).find((type) => type !== undefined) ?? "",
      values: charts.map((chart) => transistorValue(circuit, chart, name)),
    })),
    nets: netRows(circuit, charts),
    supplies: batteries.map(({ name }) => ({
      name,
      values: charts.map((chart) => supplyValue(chart, name)),
    })),
    motors: recordRows(charts.map(({ motors = {} }) => motors)),
    governors: recordRows(charts.map(({ governors = {} }) => governors)),
  };
}

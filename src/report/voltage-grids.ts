/** The sections of the voltage chart as grids of cells: labels down, groups of columns by mode. */
import {
  atRest,
  type ChartRows,
  PINS,
  type PointValue,
  type Row,
  type TransistorRow,
  type TransistorValue,
} from "./chart-rows.ts";
import type { Column } from "./columns.ts";
import { decimal, plain, signed } from "./numbers.ts";

/** All columns there are, or only those the bench cannot do without. */
export type Thoroughness = "full" | "lean";

/** `sub` lines stand under the line they belong to. */
export type LineStyle = "head" | "main" | "sub";

export interface GridLine {
  readonly label: string;
  readonly style: LineStyle;
  /** Cells by mode shown, then by column. */
  readonly groups: readonly (readonly string[])[];
  /** By mode shown: whether the voltages there deserve a look. */
  readonly look?: readonly boolean[];
}

export interface Grid {
  readonly columns: readonly Column[];
  readonly lines: readonly GridLine[];
}

/** A given voltage farther off than this, relative, deserves a look: the tolerance of a service sheet. */
const WORTH_A_LOOK = 0.2;
/** But not one this near, V. */
const READING_ERROR = 0.05;

const POINT: Column = { align: "point" };

/** A column of a transistor's row, with its two lines of heading. */
interface Field {
  readonly head: readonly [string, string];
  readonly column: Column;
  readonly cell: (value: TransistorValue) => string;
}

const pinField = (pin: (typeof PINS)[number], head: string): Field => ({
  head: [head, "V"],
  column: POINT,
  cell: (value) => shown(value.pins[pin]),
});

const shown = ({ volts }: PointValue): string => (volts === undefined ? "open" : plain(volts));

const LEAN: readonly Field[] = [
  pinField("e", "E"),
  pinField("b", "B"),
  pinField("c", "C"),
  { head: ["Ic", "mA"], column: POINT, cell: ({ amps }) => plain(1e3 * amps) },
  { head: ["Vbe", "mV"], column: { align: "right" }, cell: ({ vbe }) => decimal(1e3 * vbe, 0) },
];
const COLLECTOR_EMITTER: Field = { head: ["Vce", "V"], column: POINT, cell: ({ vce }) => plain(vce) };
const JUNCTION: Field = {
  head: ["Tj", "°C"],
  column: { align: "right" },
  cell: ({ celsius, warm }) => (warm ? decimal(celsius, 0) : ""),
};
const DISSIPATION: Field = {
  head: ["Ptot", "mW"],
  column: POINT,
  cell: ({ watts, warm }) => (warm ? plain(1e3 * watts) : ""),
};
const REGION: Field = {
  head: ["", ""],
  column: { align: "left" },
  cell: ({ region }) => (region === "active" ? "" : region),
};

function fields(rows: ChartRows, modes: readonly number[], thoroughness: Thoroughness): readonly Field[] {
  if (thoroughness === "lean") return LEAN.map(close);
  const values = rows.transistors.flatMap((row) => modes.map((i) => row.values[i]));
  return [
    ...LEAN,
    COLLECTOR_EMITTER,
    ...(values.some((value) => value?.warm) ? [JUNCTION, DISSIPATION] : []),
    ...(values.some((value) => value !== undefined && value.region !== "active") ? [REGION] : []),
  ];
}

const close = (field: Field): Field => ({ ...field, column: { ...field.column, gap: 1 } });

type Given = "printed" | "measured" | "meter";

const worthALook = (given: number, volts: number): boolean =>
  Math.abs(given - volts) > Math.max(READING_ERROR, WORTH_A_LOOK * Math.abs(given));

/** The voltage to compare a given one with: where a meter is asked for, what it shows. */
const comparable = (value: PointValue | undefined): number | undefined => value?.meter ?? value?.volts;

/** Solved or metered value minus the given one; undefined where one of them is missing. */
function off(value: PointValue | undefined, given: "printed" | "measured"): number | undefined {
  const [reference, found] = [value?.[given], comparable(value)];
  return reference === undefined || found === undefined ? undefined : found - reference;
}

function deservesALook(value: PointValue | undefined, given: "printed" | "measured"): boolean {
  const [reference, found] = [value?.[given], comparable(value)];
  return reference !== undefined && found !== undefined && worthALook(reference, found);
}

/** The lines under a transistor's: what is printed, measured or metered at its pins, and how far off. */
function subLines(row: TransistorRow, modes: readonly number[]): readonly GridLine[] {
  const points = modes.map((i) => PINS.map((pin) => row.values[i]?.pins[pin]));
  const line = (label: string, cell: (value: PointValue | undefined) => string): GridLine => ({
    label: ` ${label}`,
    style: "sub",
    groups: points.map((group) => group.map(cell)),
  });
  const any = (given: Given) => points.flat().some((value) => value?.[given] !== undefined);
  const compared = (given: "printed" | "measured"): readonly GridLine[] => [
    line(given, (value) => number(value?.[given])),
    {
      ...line("off by", (value) => difference(off(value, given))),
      look: points.map((group) => group.some((value) => deservesALook(value, given))),
    },
  ];
  return [
    ...(any("meter") ? [line("meter", (value) => number(value?.meter))] : []),
    ...(any("printed") ? compared("printed") : []),
    ...(any("measured") ? compared("measured") : []),
  ];
}

const number = (value: number | undefined): string => (value === undefined ? "" : plain(value));
const difference = (value: number | undefined): string => (value === undefined ? "" : signed(value));

/** One row a transistor. */
export function transistorGrid(rows: ChartRows, modes: readonly number[], thoroughness: Thoroughness): Grid {
  if (rows.transistors.length === 0) return { columns: [], lines: [] };
  const shownFields = fields(rows, modes, thoroughness);
  const designator = Math.max(...rows.transistors.map(({ name }) => name.length));
  const head = (line: 0 | 1): GridLine => ({
    label: "",
    style: "head",
    groups: modes.map(() => shownFields.map((field) => field.head[line])),
  });
  const lines = rows.transistors.flatMap((row) => [
    {
      label: `${row.name.padEnd(designator)} ${row.type}`,
      style: "main" as const,
      groups: modes.map((i) => shownFields.map((field) => cellOf(field, row.values[i]))),
    },
    ...subLines(row, modes),
  ]);
  return { columns: shownFields.map((field) => field.column), lines: [head(0), head(1), ...lines] };
}

const cellOf = (field: Field, value: TransistorValue | undefined): string =>
  value === undefined ? "" : field.cell(value);

/** One row a net that is not at rest: its voltage, and beside it what is printed, measured or metered. */
export function netGrid(rows: ChartRows, modes: readonly number[]): Grid {
  const nets = rows.nets.filter((row) => !atRest(row));
  if (nets.length === 0) return { columns: [], lines: [] };
  const given = (["meter", "printed", "measured"] as const).filter((key) =>
    nets.some((row) => modes.some((i) => row.values[i]?.[key] !== undefined)),
  );
  const heads = ["V", ...given.flatMap((key) => (key === "meter" ? [key] : [key, "off by"]))];
  const cells = (value: PointValue | undefined) =>
    value === undefined
      ? []
      : [
          shown(value),
          ...given.flatMap((key) =>
            key === "meter" ? [number(value.meter)] : [number(value[key]), difference(off(value, key))],
          ),
        ];
  return {
    columns: heads.map(() => POINT),
    lines: [
      { label: "nets", style: "head", groups: modes.map(() => heads) },
      ...nets.map((row) => netLine(row, modes, cells)),
    ],
  };
}

function netLine(
  row: Row<PointValue>,
  modes: readonly number[],
  cells: (value: PointValue | undefined) => readonly string[],
): GridLine {
  return {
    label: row.name,
    style: "main",
    groups: modes.map((i) => cells(row.values[i])),
    look: modes.map((i) =>
      (["printed", "measured"] as const).some((given) => deservesALook(row.values[i], given)),
    ),
  };
}

/** One row a battery: volts at its terminals, the current it gives and the power. */
export function supplyGrid(rows: ChartRows, modes: readonly number[]): Grid {
  if (rows.supplies.length === 0) return { columns: [], lines: [] };
  const heads = ["V", "mA", "mW"];
  return {
    columns: heads.map(() => POINT),
    lines: [
      {
        label: rows.supplies.length > 1 ? "batteries" : "battery",
        style: "head",
        groups: modes.map(() => heads),
      },
      ...rows.supplies.map(({ name, values }) => ({
        label: name,
        style: "main" as const,
        groups: modes.map((i) => {
          const value = values[i];
          return value === undefined
            ? []
            : [plain(value.volts), plain(1e3 * value.amps), plain(1e3 * value.watts)];
        }),
      })),
    ],
  };
}

/** One row a motor: volts at its terminals, its current and its speed; one a governor: what its contact does. */
export function motorGrid(rows: ChartRows, modes: readonly number[]): Grid {
  const { motors, governors } = rows;
  if (motors.length + governors.length === 0) return { columns: [], lines: [] };
  const heads = ["V", "mA", "rpm"];
  const line = <Value>(
    { name, values }: Row<Value>,
    cells: (value: Value) => readonly string[],
  ): GridLine => ({
    label: name,
    style: "main",
    groups: modes.map((i) => {
      const value = values[i];
      return value === undefined ? [] : cells(value);
    }),
  });
  return {
    columns: heads.map(() => POINT),
    lines: [
      {
        label: motors.length > 1 ? "motors" : "motor",
        style: "head",
        groups: modes.map(() => heads),
      },
      ...motors.map((row) =>
        line(row, ({ volts, amps, rpm, stalled }) => [
          plain(volts),
          plain(1e3 * amps),
          stalled ? "stalled" : decimal(rpm, 0),
        ]),
      ),
      ...governors.map((row) => line(row, ({ state }) => ["", "", state])),
    ],
  };
}

/** A worksheet to fill in at the bench, as flat OpenDocument (ISO/IEC 26300, `.fods`). */
import { XMLBuilder } from "fast-xml-parser";
import type { HealthyBand } from "../bench/healthy-bands.ts";
import type { VoltageChart } from "../bench/results.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { type ChartRows, chartRows, PINS, type PointValue } from "./chart-rows.ts";
import { writable } from "./markup.ts";
import { plain } from "./numbers.ts";

const NAMESPACES = {
  "@_xmlns:office": "urn:oasis:names:tc:opendocument:xmlns:office:1.0",
  "@_xmlns:table": "urn:oasis:names:tc:opendocument:xmlns:table:1.0",
  "@_xmlns:text": "urn:oasis:names:tc:opendocument:xmlns:text:1.0",
  "@_xmlns:style": "urn:oasis:names:tc:opendocument:xmlns:style:1.0",
  "@_xmlns:number": "urn:oasis:names:tc:opendocument:xmlns:datastyle:1.0",
  "@_xmlns:fo": "urn:oasis:names:tc:opendocument:xmlns:xsl-fo-compatible:1.0",
};

/** A cell: words, a number, or room to write. */
type Cell = string | number | undefined;

/** Of a mode, by the name of the net: where healthy specimens lie. */
export type Bands = Readonly<Record<string, HealthyBand>>;

/** A point where the probe goes, and what is known of it in each mode. */
interface TestPoint {
  readonly name: string;
  readonly where: string;
  readonly net: string;
  readonly values: readonly (PointValue | undefined)[];
}

const PIN_NAMES = { e: "emitter", b: "base", c: "collector" } as const;

/** Pins of transistors, then nets. */
function testPoints(circuit: Circuit, { transistors, nets }: ChartRows): readonly TestPoint[] {
  const netOf = new Map(circuit.nets.flatMap(({ name, points }) => points.map((point) => [point, name])));
  return [
    ...transistors.flatMap(({ name, type, values }) =>
      PINS.map((pin) => ({
        name: `${name}.${pin}`,
        where: `${name} ${PIN_NAMES[pin]} (${type})`,
        net: netOf.get(`${name}.${pin}`) ?? "",
        values: values.map((value) => value?.pins[pin]),
      })),
    ),
    ...nets.map(({ name, values }) => ({ name, where: "", net: name, values })),
  ];
}

/** A column of a mode, under its heading. */
interface Column {
  readonly heading: string;
  readonly style: Style;
  readonly cell: (value: PointValue | undefined, net: string) => Cell;
}

/** Of a mode: prediction, where healthy specimens lie, what is metered and printed if anything, room for readings. */
function columnsOf(
  points: readonly TestPoint[],
  mode: number,
  name: string,
  bands: Bands,
): readonly Column[] {
  const any = (key: "printed" | "meter") => points.some(({ values }) => values[mode]?.[key] !== undefined);
  const column = (heading: string, cell: Column["cell"], style: Style = "value"): Column => {
    return { heading: `${name}: ${heading}, V`, cell, style };
  };
  return [
    column("predicted", predicted),
    ...(any("meter") ? [column("on the meter", (value) => value?.meter)] : []),
    ...(Object.keys(bands).length > 0 ? [column("healthy", healthy(bands))] : []),
    ...(any("printed") ? [column("printed", (value) => value?.printed)] : []),
    column("reading", (value) => value?.measured, "room"),
  ];
}

const healthy =
  (bands: Bands) =>
  (value: PointValue | undefined, net: string): Cell => {
    const band = bands[net];
    if (band === undefined || value?.volts === undefined) return undefined;
    return `${plain(band.leastVolts)} … ${plain(band.greatestVolts)}`;
  };

const predicted = (value: PointValue | undefined): Cell =>
  value === undefined ? undefined : (value.volts ?? "open");

type Style = "head" | "value" | "words" | "room";

function cellNode(cell: Cell, style: Style): object {
  if (cell === undefined || cell === "") return { "@_table:style-name": style };
  if (typeof cell === "number") {
    return {
      "@_table:style-name": style,
      "@_office:value-type": "float",
      "@_office:value": String(cell),
      "text:p": cell.toFixed(3),
    };
  }
  return { "@_table:style-name": style, "@_office:value-type": "string", "text:p": writable(cell) };
}

const rowNode = (cells: readonly (readonly [cell: Cell, style: Style])[]): object => ({
  "table:table-cell": cells.map(([cell, style]) => cellNode(cell, style)),
});

const STYLES = {
  "number:number-style": {
    "@_style:name": "volts",
    "number:number": { "@_number:decimal-places": "3", "@_number:min-integer-digits": "1" },
  },
  "style:style": [
    cellStyle("value", { "@_style:data-style-name": "volts" }),
    cellStyle("words", {}),
    cellStyle("head", { "style:text-properties": { "@_fo:font-weight": "bold" } }),
    cellStyle("room", {
      "@_style:data-style-name": "volts",
      "style:table-cell-properties": { "@_fo:border": "0.5pt solid #808080" },
    }),
    columnStyle("narrow", "2.6cm"),
    columnStyle("wide", "4.2cm"),
  ],
};

function cellStyle(name: Style, more: object): object {
  return { "@_style:name": name, "@_style:family": "table-cell", ...more };
}

function columnStyle(name: string, width: string): object {
  const properties = { "@_style:column-width": width };
  return {
    "@_style:name": name,
    "@_style:family": "table-column",
    "style:table-column-properties": properties,
  };
}

/** What the worksheet has besides the charts. */
export interface WorksheetMore {
  /** The conditions of the run, as phrases. */
  readonly phrases?: readonly string[];
  /** By mode; what they take for granted is said in `bandNote`. */
  readonly bands?: Readonly<Record<string, Bands>>;
  readonly bandNote?: string;
}

function remarks({ phrases = [], bands, bandNote }: WorksheetMore): readonly string[] {
  return [
    ["Volts against chassis", ...phrases].join(" · "),
    ...(bands === undefined || bandNote === undefined ? [] : [bandNote]),
    "Write readings into the framed columns, save the sheet as a spreadsheet, and ask: preprobe suspects NETLIST --readings THIS_FILE",
  ];
}

function tableNode(circuit: Circuit, rows: ChartRows, more: WorksheetMore): object {
  const points = testPoints(circuit, rows);
  const columns = rows.modes.flatMap((mode, i) =>
    columnsOf(points, i, mode, more.bands?.[mode] ?? {}).map((column) => ({ ...column, mode: i })),
  );
  const heading = ["point", "where", ...columns.map((column) => column.heading)];
  return {
    "@_table:name": "voltages",
    "table:table-column": [
      { "@_table:style-name": "narrow" },
      { "@_table:number-columns-repeated": String(heading.length - 1), "@_table:style-name": "wide" },
    ],
    "table:table-row": [
      rowNode([[circuit.title, "head"]]),
      ...remarks(more).map((remark) => rowNode([[remark, "words"]])),
      rowNode(heading.map((cell) => [cell, "head"])),
      ...points.map(({ name, where, net, values }) =>
        rowNode([
          [name, "words"],
          [where, "words"],
          ...columns.map(({ cell, mode, style }) => [cell(values[mode], net), style] as const),
        ]),
      ),
    ],
  };
}

/**
 * A row a test point; for each mode a column with the prediction, those with the healthy band, metered and printed
 * voltages if there are any, and one for the reading: empty, or holding the readings of the netlist.
 */
export function voltagesSpreadsheet(
  circuit: Circuit,
  charts: readonly VoltageChart[],
  more: WorksheetMore = {},
): string {
  const builder = new XMLBuilder({ ignoreAttributes: false, format: true, suppressEmptyNode: true });
  return builder.build({
    "?xml": { "@_version": "1.0", "@_encoding": "UTF-8" },
    "office:document": {
      ...NAMESPACES,
      "@_office:version": "1.3",
      "@_office:mimetype": "application/vnd.oasis.opendocument.spreadsheet",
      "office:automatic-styles": STYLES,
      "office:body": {
        "office:spreadsheet": { "table:table": tableNode(circuit, chartRows(circuit, charts), more) },
      },
    },
  });
}

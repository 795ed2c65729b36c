/** A worksheet to fill in at the bench, as flat OpenDocument (ISO/IEC 26300, `.fods`). */
import { XMLBuilder } from "fast-xml-parser";
import type { VoltageChart } from "../bench/results.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { type ChartRows, chartRows, PINS, type PointValue } from "./chart-rows.ts";
import { writable } from "./markup.ts";
import { celsius } from "./numbers.ts";

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

/** A point where the probe goes, and what is known of it in each mode. */
interface TestPoint {
  readonly name: string;
  readonly where: string;
  readonly values: readonly (PointValue | undefined)[];
}

const PIN_NAMES = { e: "emitter", b: "base", c: "collector" } as const;

/** Pins of transistors, then nets. */
function testPoints({ transistors, nets }: ChartRows): readonly TestPoint[] {
  return [
    ...transistors.flatMap(({ name, type, values }) =>
      PINS.map((pin) => ({
        name: `${name}.${pin}`,
        where: `${name} ${PIN_NAMES[pin]} (${type})`,
        values: values.map((value) => value?.pins[pin]),
      })),
    ),
    ...nets.map(({ name, values }) => ({ name, where: "", values })),
  ];
}

/** A column of a mode, under its heading. */
interface Column {
  readonly heading: string;
  readonly cell: (value: PointValue | undefined) => Cell;
}

/** What the worksheet has for a mode: the prediction, what is printed and metered if anything, an empty column. */
function columnsOf(points: readonly TestPoint[], mode: number, name: string): readonly Column[] {
  const any = (key: "printed" | "meter") => points.some(({ values }) => values[mode]?.[key] !== undefined);
  return [
    { heading: `${name}: predicted, V`, cell: predicted },
    ...(any("meter") ? [{ heading: `${name}: on the meter, V`, cell: metered }] : []),
    ...(any("printed") ? [{ heading: `${name}: printed, V`, cell: printed }] : []),
    { heading: `${name}: reading, V`, cell: (value: PointValue | undefined) => value?.measured },
  ];
}

const predicted = (value: PointValue | undefined): Cell =>
  value === undefined ? undefined : (value.volts ?? "open");
const metered = (value: PointValue | undefined): Cell => value?.meter;
const printed = (value: PointValue | undefined): Cell => value?.printed;

function cellNode(cell: Cell, style: string): object {
  if (cell === undefined) return { "@_table:style-name": style };
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

const rowNode = (cells: readonly Cell[], style: string): object => ({
  "table:table-cell": cells.map((cell) => cellNode(cell, style)),
});

const STYLES = {
  "number:number-style": {
    "@_style:name": "volts",
    "number:number": { "@_number:decimal-places": "3", "@_number:min-integer-digits": "1" },
  },
  "style:style": [
    { "@_style:name": "value", "@_style:family": "table-cell", "@_style:data-style-name": "volts" },
    {
      "@_style:name": "head",
      "@_style:family": "table-cell",
      "style:text-properties": { "@_fo:font-weight": "bold" },
    },
    {
      "@_style:name": "wide",
      "@_style:family": "table-column",
      "style:table-column-properties": { "@_style:column-width": "4.2cm" },
    },
  ],
};

function tableNode(circuit: Circuit, rows: ChartRows): object {
  const points = testPoints(rows);
  const columns = rows.modes.flatMap((mode, i) =>
    columnsOf(points, i, mode).map((column) => ({ ...column, mode: i })),
  );
  const heading = ["point", "where", ...columns.map((column) => column.heading)];
  const ambient = `Volts against chassis, ambient ${rows.ambient.map(celsius).join(", ")}`;
  return {
    "@_table:name": "voltages",
    "table:table-column": {
      "@_table:number-columns-repeated": String(heading.length),
      "@_table:style-name": "wide",
    },
    "table:table-row": [
      rowNode([circuit.title], "head"),
      rowNode([ambient], "value"),
      rowNode(heading, "head"),
      ...points.map(({ name, where, values }) =>
        rowNode([name, where, ...columns.map(({ cell, mode }) => cell(values[mode]))], "value"),
      ),
    ],
  };
}

/**
 * A row a test point; for each mode a column with the prediction, those printed and metered if there
 * are any, and one for the reading: empty, or holding the readings of the netlist.
 */
export function voltagesSpreadsheet(circuit: Circuit, charts: readonly VoltageChart[]): string {
  const builder = new XMLBuilder({ ignoreAttributes: false, format: true, suppressEmptyNode: true });
  return builder.build({
    "?xml": { "@_version": "1.0", "@_encoding": "UTF-8" },
    "office:document": {
      ...NAMESPACES,
      "@_office:version": "1.3",
      "@_office:mimetype": "application/vnd.oasis.opendocument.spreadsheet",
      "office:automatic-styles": STYLES,
      "office:body": {
        "office:spreadsheet": { "table:table": tableNode(circuit, chartRows(circuit, charts)) },
      },
    },
  });
}

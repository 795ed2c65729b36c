import { XMLParser, XMLValidator } from "fast-xml-parser";
import { describe, expect, test } from "vitest";
import { voltagesSpreadsheet } from "../../src/report/spreadsheet.ts";
import { circuit, play, record } from "./fixtures.ts";
import { expectGolden } from "./golden.ts";

interface CellNode {
  readonly "@_office:value-type"?: string;
  readonly "@_office:value"?: string;
  readonly "text:p"?: string;
}

function rowsOf(text: string): readonly (readonly (string | number)[])[] {
  expect(XMLValidator.validate(text)).toBe(true);
  const parser = new XMLParser({
    ignoreAttributes: false,
    parseTagValue: false,
    isArray: (name) => ["table:table-row", "table:table-cell"].includes(name),
  });
  const table = parser.parse(text)["office:document"]["office:body"]["office:spreadsheet"]["table:table"];
  return table["table:table-row"].map((row: { "table:table-cell": readonly CellNode[] }) =>
    row["table:table-cell"].map((cell) =>
      cell["@_office:value-type"] === "float" ? Number(cell["@_office:value"]) : (cell["text:p"] ?? ""),
    ),
  );
}

describe("the worksheet", () => {
  test("The file, as it is written.", () => {
    expectGolden("voltages.fods", voltagesSpreadsheet(circuit, [play, record]));
  });

  test("It names itself a flat OpenDocument spreadsheet, as ISO/IEC 26300 asks.", () => {
    const text = voltagesSpreadsheet(circuit, [play]);
    expect(text).toMatch(/^<\?xml version="1\.0" encoding="UTF-8"\?>/);
    expect(text).toContain('office:mimetype="application/vnd.oasis.opendocument.spreadsheet"');
    expect(text).toContain('office:version="1.3"');
  });

  test("A row a test point; for each mode the prediction, what is printed, and room for the reading.", () => {
    const [, , , head, ...rows] = rowsOf(voltagesSpreadsheet(circuit, [play, record]));
    expect(head).toEqual([
      "point",
      "where",
      "play: predicted, V",
      "play: printed, V",
      "play: reading, V",
      "record: predicted, V",
      "record: printed, V",
      "record: reading, V",
    ]);
    expect(rows.map(([point]) => point)).toEqual([
      ...["T1.e", "T1.b", "T1.c", "T2.e", "T2.b", "T2.c"],
      ...["rail", "quiet", "input", "bias", "R6.2"],
    ]);
    expect(rows[2]).toEqual(["T1.c", "T1 collector (LN)", -3.1044, -3.1, "", -4.2187, -3.2, ""]);
    expect(rows[10]!.slice(2)).toEqual([-0.4401, "", "", "open", "", ""]);
  });

  test("With bands, where healthy specimens lie stands before what is printed; an open net has none.", () => {
    const band = (leastVolts: number, greatestVolts: number) => ({ leastVolts, greatestVolts });
    const bands = {
      play: { "T1.c": band(-3.456, -2.8), "R6.2": band(-0.5, -0.4) },
      record: { "R6.2": band(0, 0) },
    };
    const rows = rowsOf(voltagesSpreadsheet(circuit, [play, record], { bands, bandNote: "sound ones" }));
    expect(rows.map(([first]) => first)).toContain("sound ones");
    const [head, ...points] = rows.slice(rows.findIndex(([first]) => first === "point"));
    const at = (name: string) => points.find(([point]) => point === name)!;
    const [played, recorded] = ["play", "record"].map((mode) => head!.indexOf(`${mode}: healthy, V`));
    expect(at("T1.c")[played!]).toBe("−3.46 … −2.80");
    expect(at("T1.b")[played!]).toBe("");
    expect(at("R6.2")[played!]).toBe("−0.500 … −0.400");
    expect(at("R6.2")[recorded!]).toBe("");
  });

  test("Readings of the netlist stand in their column.", () => {
    const reading = { ...circuit.printed[0]!, volts: -2.95 };
    const rows = rowsOf(voltagesSpreadsheet({ ...circuit, printed: [], readings: [reading] }, [play]));
    expect(rows.find(([point]) => point === "T1.c")).toEqual(["T1.c", "T1 collector (LN)", -3.1044, -2.95]);
  });

  test("A hostile title is text.", () => {
    const title = '</text:p><script>&"\u0001';
    const [[first]] = rowsOf(voltagesSpreadsheet({ ...circuit, title }, [play])) as [[string]];
    expect(first).toBe('</text:p><script>&"');
  });
});

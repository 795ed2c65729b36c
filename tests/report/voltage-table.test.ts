import { describe, expect, test } from "vitest";
import { widthOf } from "../../src/report/columns.ts";
import { voltageTable } from "../../src/report/voltage-table.ts";
import { circuit, metered, play, record } from "./fixtures.ts";
import { expectGolden } from "./golden.ts";

const wide = { width: 160, color: false };
const terminal = { width: 80, color: false };

const lineOf = (text: string, start: string) => text.split("\n").find((line) => line.startsWith(start));

describe("the voltage chart on a terminal", () => {
  test("One mode has all columns.", () => {
    expectGolden("voltages-play.txt", voltageTable(circuit, [metered(play)], terminal));
  });

  test("Two modes stand side by side in eighty columns.", () => {
    expectGolden("voltages-two-modes.txt", voltageTable(circuit, [play, record], terminal));
  });

  test("On a wide terminal two modes have all columns.", () => {
    expectGolden("voltages-two-modes-wide.txt", voltageTable(circuit, [play, record], wide));
  });

  test("On a narrow terminal the modes stand one above the other.", () => {
    expectGolden("voltages-narrow.txt", voltageTable(circuit, [play, record], { width: 50, color: false }));
  });

  test("On a terminal with colour headings are strong, what is given is faint, and large deviations stand out.", () => {
    expectGolden("voltages-colour.txt", voltageTable(circuit, [play, record], { width: 80, color: true }));
  });

  test.each([44, 50, 60, 72, 80, 100, 132, 200])("No line is longer than %i columns.", (width) => {
    for (const charts of [[play], [play, record], [metered(play), metered(record)], [play, record, play]]) {
      const lines = voltageTable(circuit, charts, { width, color: false }).split("\n");
      expect(Math.max(...lines.map(widthOf))).toBeLessThanOrEqual(width);
    }
  });

  test("Colour changes no character.", () => {
    const coloured = voltageTable(circuit, [play, record], { width: 80, color: true });
    // biome-ignore lint/suspicious/noControlCharactersInRegex: the escape sequences of the terminal
    const bare = coloured.replace(/\u001b\[\d+m/g, "");
    expect(bare).toBe(voltageTable(circuit, [play, record], terminal));
  });

  test("A net that nothing holds is open, and counts as a difference between modes.", () => {
    const text = voltageTable(circuit, [record], terminal);
    expect(lineOf(text, "R6.2")).toMatch(/open$/);
    expect(voltageTable(circuit, [play, record], terminal)).toMatch(/Differ between[^.]*R6\.2/s);
  });

  test("Nets with a given voltage come first, then those with a name that no transistor shows, then the others.", () => {
    const names = voltageTable(circuit, [play], terminal)
      .split("\n")
      .map((line) => line.split(" ")[0]!);
    const nets = names.slice(names.indexOf("nets") + 1, names.indexOf("battery") - 1);
    expect(nets).toEqual(["rail", "quiet", "bias", "R6.2"]);
    const given = { ...circuit, printed: [{ ...circuit.printed[0]!, net: 9, point: "input" }] };
    expect(circuit.nets[9]!.name).toBe("input");
    expect(lineOf(voltageTable(given, [play], terminal), "input")).toMatch(/0 +−3\.10 +\+3\.10$/);
  });

  test("With a meter, printed voltages are compared with what it shows.", () => {
    const lines = voltageTable(circuit, [metered(play)], terminal).split("\n");
    // 0.97 of −3.1044 V against −3.1 V
    expect(lines.find((line) => line.startsWith(" off by"))).toMatch(/^ off by +\+0\.09$/);
  });

  test("Nets at 0 V in every mode take one line together.", () => {
    expect(voltageTable(circuit, [play, record], terminal)).toContain("At 0 V in every mode: input.");
    expect(lineOf(voltageTable(circuit, [play, record], terminal), "input")).toBeUndefined();
  });

  test("Modes that agree within three per cent are said to agree.", () => {
    const drifted = { ...play, mode: "later", nets: { ...play.nets, rail: { volts: -8.8, points: [] } } };
    const text = voltageTable(circuit, [play, drifted], terminal);
    expect(text).toContain("No voltage differs between the modes by more than 3 %.");
  });

  test("The current of a transistor is positive when it flows the way of its type, whichever that is.", () => {
    const npn = {
      ...circuit,
      types: { ...circuit.types, LN: { ...circuit.types.LN!, device: "npn" as const } },
    };
    expect(lineOf(voltageTable(circuit, [play], terminal), "T1")).toMatch(/ 0\.872 /);
    expect(lineOf(voltageTable(npn, [play], terminal), "T1")).toMatch(/ −0\.872 /);
  });

  test("A battery that gives current shows it as positive.", () => {
    expect(lineOf(voltageTable(circuit, [play], terminal), "B1")).toBe("B1        9.00  12.3  111");
  });

  test("A circuit without transistors and batteries has a chart of its nets.", () => {
    const bare = { ...play, transistors: {}, parts: {} };
    const text = voltageTable({ ...circuit, parts: [] }, [bare], terminal);
    expect(text).toContain("rail");
    expect(text).not.toContain("Vbe");
  });

  test("No chart at all is a title and no more.", () => {
    expect(voltageTable(circuit, [], terminal)).toContain(circuit.title);
  });
});

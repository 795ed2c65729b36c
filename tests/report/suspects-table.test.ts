import { describe, expect, test } from "vitest";
import type { Suspect, SuspectsResult } from "../../src/bench/suspects/results.ts";
import { suspectsCsv } from "../../src/report/suspects-csv.ts";
import { suspectsTable } from "../../src/report/suspects-table.ts";
import { circuit } from "./fixtures.ts";
import { expectGolden } from "./golden.ts";

const fault = (part: string, words: string, probability: number, ohms?: number) => ({
  part,
  fault: words,
  probability,
  ...(ohms !== undefined && { amount: { value: ohms, unit: "ohm" } }),
});

const suspect = (first: ReturnType<typeof fault>, more: Partial<Suspect>): Suspect => ({
  ...first,
  alike: [first],
  predicted: [-0.81, -0.0012, 0.031, 4700],
  check: `unsolder one leg of ${first.part} and measure it`,
  cautions: ["take the battery out before soldering"],
  ...more,
});

const reading = (point: string, taken: number, least: number, greatest: number) => ({
  mode: "play",
  point,
  unit: "V" as const,
  taken,
  expected: (least + greatest) / 2,
  least,
  greatest,
  outside: taken < least || taken > greatest,
});

const FOUND: SuspectsResult = {
  readings: [
    reading("T1.c", -0.8, -4.81, -3.36),
    { ...reading("T1.ic", -0.0011, -0.0009, -0.0005), unit: "A" },
    { ...reading("B1 current", 0.031, 0.026, 0.035), unit: "A" },
    { ...reading("T1.c", 4700, 4100, 5200), unit: "Ω", mode: "play off" },
  ],
  suspects: [
    suspect(fault("R1", "drifted up", 0.84, 29000), {
      probability: 0.84,
      alike: [
        fault("R1", "drifted up", 0.5, 29000),
        fault("C1", "leaky", 0.33, 590),
        fault("R2", "open", 0.005),
        fault("R3", "short", 0.005),
      ],
      parted_by: { mode: "play", point: "T1.b", bits: 0.9 },
    }),
    suspect(fault("T1", "base-emitter short", 0.11), { slip: 1, cautions: ["mind the iron"] }),
    suspect(fault("B1", "weak", 0.004), { cautions: ["acid"] }),
    suspect(fault("T2", "hfe low", 0.003), {}),
  ],
  no_fault_probability: 0.03,
  unseen_probability: 0.013,
  explained: true,
  next: [
    { mode: "play", point: "T1.b", bits: 1.54 },
    { mode: "record", point: "T2.e", bits: 1.2 },
  ],
};
const table = (result: SuspectsResult, width = 80) =>
  suspectsTable(circuit, result, ["mode play", "meter 20\u00a0kΩ/V"], { width, color: false });

describe("the table of suspects", () => {
  test("As it stands on a terminal: readings, suspects, cautions, and last where to measure next.", () => {
    expectGolden("suspects.txt", table(FOUND));
  });

  test("No line is wider than the terminal but those of the readings.", () => {
    const lines = table(FOUND, 50)
      .split("\n")
      .filter((line) => !/^play/.test(line) && !line.includes("taken"));
    expect(Math.max(...lines.map((line) => [...line].length))).toBeLessThanOrEqual(50);
  });

  test("Where nothing explains the readings it says so; pairs that are unlikely are not listed.", () => {
    const [first, second] = [fault("R1", "open", 0.3), fault("R2", "open", 0.3)];
    const pair = (probability: number) => ({ faults: [first, second] as const, probability, predicted: [] });
    expect(table({ ...FOUND, explained: false })).toMatch(/^Nothing explains the readings/m);
    expect(table({ ...FOUND, pairs: [pair(0.3), pair(0.001)] })).toContain(
      "30 %  R1 open and R2 open".replace(" and ", "  and  "),
    );
    expect(table({ ...FOUND, pairs: [pair(0.001)] })).toContain(
      "No two faults together are as likely as 1 %.",
    );
  });

  test("Comma-separated: every reading, suspect, prediction and next probe has a row of as many fields.", () => {
    const rows = suspectsCsv(FOUND).trimEnd().split("\n");
    expect(new Set(rows.map((row) => row.split(",").length)).size).toBe(1);
    const kinds = rows.slice(1).map((row) => row.split(",")[0]);
    const count = (kind: string) => kinds.filter((each) => each === kind).length;
    expect(["reading", "suspect", "prediction", "next"].map(count)).toEqual([4, 7, 16, 2]);
  });
});

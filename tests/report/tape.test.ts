import { XMLValidator } from "fast-xml-parser";
import { describe, expect, test } from "vitest";
import { type Comparison, compare } from "../../src/bench/compare.ts";
import { type PlaybackResponse, playback } from "../../src/bench/playback.ts";
import { comparisonSvg } from "../../src/report/compare-svg.ts";
import { comparisonCsv, comparisonTable } from "../../src/report/compare-table.ts";
import { playbackSvg } from "../../src/report/playback-svg.ts";
import { playbackCsv, playbackTable } from "../../src/report/playback-table.ts";
import { FIELDS, PORTABLE, type ToleranceField } from "../../src/tape/fields.ts";
import { readLossCurve } from "../../src/tape/loss-curve.ts";
import { preferredBetween } from "../../src/tape/preferred.ts";
import { findStandard } from "../../src/tape/standards.ts";
import { circuitOf, IDEAL, PLAIN, SWITCHED } from "../bench/tape-circuits.ts";
import { expectGolden } from "./golden.ts";

const hertz = preferredBetween(20, 20_000);
const options = { width: 100, color: false };
const title = { title: "ideal equaliser", conditions: ["mode as-drawn", "ambient 25 °C"] };
const din = FIELDS.find(({ name }) => name === "DIN 45500")!;

function played(text: string, name: string, field: ToleranceField): PlaybackResponse {
  const conditions = { standard: findStandard(name, 0.0953)!, speed: 0.0953, reference: 1000, field };
  return playback(circuitOf(text), conditions, hertz).results[0]!;
}

function compared(): Comparison {
  const circuit = circuitOf(SWITCHED);
  const pathIn = (name: string, mode: string) => ({
    path: circuit.paths.find((path) => path.name === name)!,
    mode,
  });
  const loss = readLossCurve("hertz,db\n20,0\n1000,1\n10000,8\n");
  if ("message" in loss) throw new Error(loss.message);
  const pair = [pathIn("playback", "play"), pathIn("recording", "record")] as const;
  return compare(circuit, pair, { reference: 1000, tapeLoss: loss }, hertz).results[0]!;
}

/** Flat, and so nearly that the last digits would be another machine's: rounded before it is kept. */
const steady = <Result>(result: Result): Result =>
  JSON.parse(
    JSON.stringify(result, (_, value) => (typeof value === "number" ? Number(value.toPrecision(7)) : value)),
  );

describe("playback as the tape sees it, to look at", () => {
  const outside = steady(played(IDEAL, "DIN 1962", PORTABLE));
  const other = steady(played(PLAIN, "IEC2", din));

  test("A table of a curve that lies outside its field.", () => {
    expectGolden("playback-outside.txt", playbackTable([outside], options));
  });

  test("A drawing of a curve that lies outside its field.", () => {
    expectGolden("playback-outside.svg", playbackSvg([outside], title));
  });

  test("A drawing of a curve in a field with steps that suits itself to it.", () => {
    expectGolden("playback-din.svg", playbackSvg([other], title));
  });

  test("The verdict says where the curve lies and which frequency limits.", () => {
    expect(playbackTable([outside], options)).toMatch(
      /outside the field 3dB at .*10 kHz; worst at 10 kHz, by 1\d\.\d dB/s,
    );
    expect(playbackTable([other], options)).toContain("inside the field DIN 45500 (shifted by");
  });

  test("A row of comma-separated values has the gain, its target, the deviation and the field.", () => {
    const [head, ...rows] = playbackCsv([other]).trim().split("\n");
    expect(head?.split(",").length).toBe(6);
    expect(rows.length).toBe(hertz.length);
    const row = rows[hertz.indexOf(1000)]!.split(",").map(Number);
    expect(row[1]! - row[2]!).toBeCloseTo(row[3]!, 6);
    expect(rows[0]?.endsWith(",,")).toBe(true);
  });

  test("A null of the gap neither widens the drawing nor makes a number that is none.", () => {
    const wide = IDEAL.replace("gap 3 µm", "gap 9.53 µm");
    const svg = playbackSvg([played(wide, "DIN 1962", PORTABLE)], title);
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
    expect(svg).not.toMatch(/text-anchor="end"[^>]*>\u2212?\d{3}/);
  });

  test("No results at all are drawn without a number that is none.", () => {
    const svg = playbackSvg([], title);
    expect(XMLValidator.validate(svg)).toBe(true);
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
    expect(playbackTable([], options)).toBe("");
  });
});

describe("play against record, to look at", () => {
  const comparison = steady(compared());

  test("The table.", () => {
    expectGolden("compare.txt", comparisonTable([comparison], options));
  });

  test("The drawing.", () => {
    expectGolden("compare.svg", comparisonSvg(comparison, { ...title, title: "two ways" }));
  });

  test("Comma-separated values have a column for what each switched part does to each curve.", () => {
    const [head = "", ...rows] = comparisonCsv([comparison]).trim().split("\n");
    expect(head).toContain("C1 on playback db,C1 on recording db");
    expect(new Set([head, ...rows].map((row) => row.split(",").length)).size).toBe(1);
    expect(rows.length).toBe(hertz.length);
  });

  test("A narrow terminal gets the columns below one another.", () => {
    const table = comparisonTable([comparison], { width: 40, color: false });
    for (const line of table.split("\n").slice(0, 2 * hertz.length))
      expect(line.length).toBeLessThanOrEqual(40);
  });
});

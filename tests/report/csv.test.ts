import { describe, expect, test } from "vitest";
import { responseCsv, voltagesCsv } from "../../src/report/csv.ts";
import { dumb, metered, play, playback, record, recording } from "./fixtures.ts";
import { expectGolden } from "./golden.ts";

const rows = (text: string) =>
  text
    .trimEnd()
    .split("\n")
    .map((line) => line.split(","));

describe("comma-separated values", () => {
  test("Voltages: a row a quantity, a column a mode.", () => {
    expectGolden("voltages.csv", voltagesCsv([metered(play), record]));
  });

  test("Numbers stand at full precision with an ASCII minus.", () => {
    const found = rows(voltagesCsv([play])).find(
      ([name, quantity]) => name === "T1" && quantity === "c_volts",
    );
    expect(found).toEqual(["T1", "c_volts", "-3.1044"]);
    expect(voltagesCsv([play, record])).not.toContain("−");
  });

  test("Every row has as many fields as the heading.", () => {
    for (const text of [voltagesCsv([play, record]), responseCsv([playback, recording])]) {
      expect(new Set(rows(text).map((row) => row.length)).size).toBe(1);
    }
  });

  test("A response gives back its gains and phases exactly.", () => {
    const [head, ...body] = rows(responseCsv([playback, recording]));
    expect(head).toEqual([
      "hertz",
      "playback gain_db",
      "playback phase_degrees",
      "recording gain_db",
      "recording phase_degrees",
    ]);
    expect(body.map((row) => Number(row[1]))).toEqual(playback.gain_db);
    expect(body.map((row) => Number(row[4]))).toEqual(recording.phase_degrees);
  });

  test("Silence is −400 dB.", () => {
    expect(rows(responseCsv([dumb]))[1]!.slice(1)).toEqual(["-400", "0"]);
  });

  test("A field with a comma or a quotation mark is quoted as RFC 4180 says.", () => {
    const odd = { ...play, mode: 'a,"b"' };
    expect(voltagesCsv([odd]).split("\n")[0]).toBe('name,quantity,"a,""b"""');
  });
});

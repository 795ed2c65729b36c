import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import type { Diagnostic } from "../../src/circuit/diagnostic.ts";
import { errorsJson, resultsJson } from "../../src/report/json.ts";
import { circuit, dumb, metered, play, playback, record } from "./fixtures.ts";
import { faults } from "./json-schema.ts";

const schema = JSON.parse(readFileSync(new URL("../../docs/result.schema.json", import.meta.url), "utf8"));

const warning: Diagnostic = {
  severity: "warning",
  message: "R7.2 goes nowhere",
  hint: "wire it, or leave R7 out",
  file: "made-up.netlist",
  line: 12,
  column: 3,
  length: 4,
};

const run = (command: string, results: readonly unknown[]) =>
  resultsJson({ command, circuit: circuit.title, warnings: [warning], results });

describe("machine-readable output", () => {
  test("Voltages, responses, checks and types fit the schema in docs/.", () => {
    const sheet = {
      type: "LN",
      device: "pnp",
      material: "germanium",
      figures: [
        {
          figure: "hfe",
          meaning: "gain",
          value: 70,
          unit: "number",
          at: 1e-3,
          at_unit: "ampere",
          origin: "given",
        },
      ],
      parameters: { saturation_amps: 1e-8 },
    };
    const summary = { errors: 0, warnings: 1, modes_solved: ["play"] };
    for (const text of [
      run("voltages", [metered(play), record]),
      run("response", [playback, dumb]),
      run("check", [summary]),
      run("types", [sheet]),
    ]) {
      expect(faults(JSON.parse(text), schema)).toEqual([]);
    }
  });

  test("A result that is not as specified does not fit the schema.", () => {
    const { residual_amps: _, ...without } = play;
    for (const text of [
      run("voltages", [without]),
      run("voltages", [{ ...play, residual_amps: Number.NaN }]),
      run("voltages", [{ ...play, more: 1 }]),
      run("response", [play]),
      errorsJson({ command: "voltages", errors: [] }),
    ]) {
      expect(faults(JSON.parse(text), schema)).not.toEqual([]);
    }
  });

  test("Errors stand with their place and hint where they have them, with neither where not.", () => {
    const text = errorsJson({
      command: "voltages",
      errors: [
        { message: "no such file" },
        { message: "no unit", file: "a", line: 1, column: 2, hint: "ohm" },
      ],
    });
    expect(faults(JSON.parse(text), schema)).toEqual([]);
    expect(JSON.parse(text)).toEqual({
      format: "preprobe/1",
      command: "voltages",
      errors: [
        { message: "no such file" },
        { message: "no unit", file: "a", line: 1, column: 2, hint: "ohm" },
      ],
    });
  });

  test("Modes without a solution stand beside the results of the others.", () => {
    const errors = [{ message: "T6 runs away thermally in record" }];
    const text = resultsJson({ command: "voltages", circuit: "a", warnings: [], results: [play], errors });
    expect(JSON.parse(text).errors).toEqual(errors);
    expect(faults(JSON.parse(text), schema)).toEqual([]);
  });

  test("A warning has message, file, line and column, as specified.", () => {
    expect(JSON.parse(run("check", [])).warnings).toEqual([
      { message: "R7.2 goes nowhere", file: "made-up.netlist", line: 12, column: 3 },
    ]);
  });

  test("Numbers come back exactly as they were.", () => {
    const third = { ...play, ambient_celsius: 1 / 3, residual_amps: 5e-324 };
    expect(JSON.parse(run("voltages", [third])).results).toEqual([third]);
  });

  test("Silence is −400 dB, whether listed or alone, and no NaN is written.", () => {
    const text = run("response", [dumb, { gain_db: Number.NEGATIVE_INFINITY, other: Number.NaN }]);
    const [listed, alone] = JSON.parse(text).results;
    expect(new Set(listed.gain_db)).toEqual(new Set([-400]));
    expect(alone).toEqual({ gain_db: -400, other: null });
    expect(text).not.toMatch(/NaN|Infinity/);
  });

  test("Lists of numbers take one line each; text that looks like one is left alone.", () => {
    const text = resultsJson({
      command: "a",
      circuit: "[\n  1,\n  2\n]",
      warnings: [],
      results: [[1, 2.5, -3e-9]],
    });
    expect(text).toContain("[ 1, 2.5, -3e-9 ]");
    expect(JSON.parse(text).circuit).toBe("[\n  1,\n  2\n]");
  });
});

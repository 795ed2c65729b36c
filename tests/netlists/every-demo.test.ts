import { describe, expect, it } from "vitest";
import { formatNetlist, modesOf, operatingPoint } from "../../src/index.ts";
import { chart, DEMOS, demo, readDemo, textOf } from "./demo.ts";

const AMBIENT = [-20, 0, 25, 45, 60];
const BATTERY = [0.5, 0.75, 1];

/** EMF of B1 at a share of what the netlist says; nothing where there is no battery. */
function battery(name: string, share: number) {
  const emf = demo(name).parts.find((part) => part.name === "B1")?.values.emf;
  return emf === undefined ? [] : [{ part: "B1", key: "emf", value: emf * share }];
}

/** What a demonstration is there to show failing, and what fails in it. */
const RUNS_AWAY: Readonly<Record<string, { mode: string; parts: readonly string[]; above: number }>> = {
  "thermistor-bias": { mode: "resistor", parts: ["T1", "T2"], above: 45 },
};

describe.each(DEMOS)("netlists/%s", (name) => {
  it("reads without an error or a warning", () => {
    expect(readDemo(name).diagnostics).toEqual([]);
  });

  it("stands in the canonical layout", () => {
    expect(formatNetlist(textOf(name))).toBe(textOf(name));
  });

  it("says what it is and how to look at it before anything else", () => {
    const [first = "", ...rest] = textOf(name).split("\n");
    const heading = rest.slice(
      0,
      rest.findIndex((line) => line.startsWith("circuit ")),
    );
    expect(first).toMatch(/^# .+/);
    expect(heading.join("\n")).toContain(`${name}.netlist`);
  });

  it("has an operating point in every mode at 25 °C and a full battery", () => {
    const { results, failures } = operatingPoint(demo(name));
    expect(failures).toEqual([]);
    expect(results.map(({ mode }) => mode)).toEqual(modesOf(demo(name)).map((mode) => mode.name));
  });

  it.each(AMBIENT)(
    "converges at %d °C from half to full battery, or names what runs away",
    (ambientCelsius) => {
      const expected = RUNS_AWAY[name];
      for (const share of BATTERY) {
        const { failures } = operatingPoint(demo(name), { ambientCelsius, set: battery(name, share) });
        for (const failure of failures) {
          expect(failure.kind).toBe("thermal runaway");
          expect(failure.mode).toBe(expected?.mode);
          expect(expected?.parts).toContain(failure.part);
          expect(ambientCelsius).toBeGreaterThan(expected?.above ?? Infinity);
        }
      }
    },
  );

  it("prints service voltages within a tenth of the solved ones at 25 °C", () => {
    const circuit = demo(name);
    for (const mode of modesOf(circuit)) {
      const { nets } = chart(circuit, mode.name);
      for (const printed of circuit.printed.filter((given) => given.mode === mode.name)) {
        const solved = nets[circuit.nets[printed.net]?.name ?? ""]?.volts ?? Number.NaN;
        const where = `${mode.name} ${printed.point}: printed ${printed.volts} V, solved ${solved} V`;
        expect(Math.abs(printed.volts - solved), where).toBeLessThanOrEqual(0.1 * Math.abs(solved));
      }
    }
  });
});

/**
 * Our natural frequencies against those of an independent implementation: docs/models.md written down in another
 * language, QZ algorithm, digits from extended precision (scripts/reference/natural.py).
 */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { oscillation } from "../../src/bench/oscillation.ts";
import { readNetlist } from "../../src/language/index.ts";

interface Reference {
  readonly results: readonly {
    readonly circuit: string;
    readonly mode: string;
    /** rad/s, those below 10 MHz. */
    readonly s: readonly (readonly [re: number, im: number])[];
  }[];
}

const here = (file: string) => readFileSync(new URL(file, import.meta.url), "utf8");
const { results } = JSON.parse(here("natural-frequencies.json")) as Reference;
const names = [...new Set(results.map(({ circuit }) => circuit))];

/** Where much of a circuit's small currents cancels, a few more digits are lost on the way to s. */
const RELATIVE = 1e-6;
const TEN_MEGAHERTZ = 2 * Math.PI * 10e6;

describe("natural frequencies", () => {
  it("of at least fifty operating points are there to compare with", () => {
    expect(results.length).toBeGreaterThanOrEqual(50);
  });

  it.each(names)("of %s agree to 1e-6 below 10 MHz, and there are as many", (name) => {
    const file = `${name}.netlist`;
    const { circuit } = readNetlist(here(`independent/${file}`), { file });
    const charts = oscillation(circuit!, { natural: true }).results;
    for (const { mode, s } of results.filter((each) => each.circuit === name)) {
      const ours = charts
        .find((chart) => chart.mode === mode)!
        .natural.map(({ hertz, growth_per_second: re }) => ({ re, im: 2 * Math.PI * hertz }))
        .filter(({ re, im }) => Math.hypot(re, im) < TEN_MEGAHERTZ && Math.hypot(re, im) > 1e-4);
      expect(ours, mode).toHaveLength(s.length);
      for (const [re, im] of s) {
        const nearest = Math.min(...ours.map((each) => Math.hypot(each.re - re, each.im - im)));
        expect(nearest / Math.hypot(re, im), `${mode} ${re} ${im}`).toBeLessThan(RELATIVE);
      }
    }
  });
});

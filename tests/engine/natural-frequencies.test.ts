import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { Circuit } from "../../src/circuit/circuit.ts";
import { naturalFrequencies, pencilOf } from "../../src/engine/natural-frequencies.ts";
import { network } from "../../src/engine/network.ts";
import { isSolved, operatingPoint } from "../../src/engine/operating-point.ts";
import { SmallSignal } from "../../src/engine/small-signal.ts";
import { build, type Draft, draft, farads, ohms } from "./build.ts";
import { randomAmplifier } from "./random-circuits.ts";

const henries = (name: string, inductance: number, a: string, b: string, dcr = 0): Draft =>
  draft("inductor", name, { inductance, dcr }, a, b);

function smallSignalOf(circuit: Circuit): SmallSignal | undefined {
  const point = operatingPoint(network(circuit, { ambientCelsius: 25, isothermal: false }));
  return isSolved(point) ? new SmallSignal(point) : undefined;
}

const modesIn = (drafts: readonly Draft[]) => naturalFrequencies(pencilOf(smallSignalOf(build(drafts))!));

/** Each found value equals the expected one, in order, within the share `relative`. */
function expectModes(found: readonly { s: { re: number; im: number } }[], expected: [number, number][]) {
  expect(found).toHaveLength(expected.length);
  expected.forEach(([re, im], k) => {
    const { s } = found[k]!;
    expect(Math.hypot(s.re - re, s.im - im) / Math.hypot(re, im), `${s.re} ${s.im}`).toBeLessThan(1e-9);
  });
}

const positive = (low: number, high: number) =>
  fc.double({ min: Math.log(low), max: Math.log(high), noNaN: true }).map(Math.exp);

describe("natural frequencies of small networks", () => {
  it("are −1/RC of a capacitor across a resistor, from hours to nanoseconds", () => {
    fc.assert(
      fc.property(positive(2e-5, 6e9), positive(1e-12, 1e-3), (rate, c) => {
        const r = 1 / (rate * c);
        expectModes(modesIn([ohms("R1", r, "a", "chassis"), farads("C1", c, "a", "chassis")]), [[-rate, 0]]);
      }),
      { numRuns: 50 },
    );
  });

  it("are −R/2L ± j√(1/LC − R²/4L²) of a coil with resistance across a capacitor", () => {
    fc.assert(
      fc.property(positive(1e-6, 10), positive(1e-11, 1e-4), positive(1e-3, 0.9), (l, c, damping) => {
        const omega = 1 / Math.sqrt(l * c);
        const r = 2 * damping * omega * l;
        const found = modesIn([henries("L1", l, "a", "chassis", r), farads("C1", c, "a", "chassis")]);
        expectModes(found, [[-damping * omega, omega * Math.sqrt(1 - damping * damping)]]);
      }),
      { numRuns: 50 },
    );
  });

  it("keep to the imaginary axis where nothing loses", () => {
    const [mode] = modesIn([henries("L1", 1e-3, "a", "chassis"), farads("C1", 1e-9, "a", "chassis")]);
    expect(mode?.s.im).toBeCloseTo(1e6, 3);
    expect(Math.abs(mode?.s.re ?? 1)).toBeLessThan(1e-6);
  });

  it("come as often as they occur", () => {
    const cell = (n: number) => [
      ohms(`R${n}`, 1000, `a${n}`, "chassis"),
      farads(`C${n}`, 1e-6, `a${n}`, "chassis"),
    ];
    expectModes(modesIn([...cell(1), ...cell(2), ...cell(3)]), [
      [-1000, 0],
      [-1000, 0],
      [-1000, 0],
    ]);
  });

  it("are found over twelve decades in one circuit", () => {
    const rates = [1e-3, 0.1, 1, 31, 1e3, 1e5, 3e6, 1e8, 1e9];
    const found = modesIn(
      rates.flatMap((rate, k) => [
        ohms(`R${k}`, 1e4, `a${k}`, "chassis"),
        farads(`C${k}`, 1e-4 / rate, `a${k}`, "chassis"),
      ]),
    );
    expectModes(
      found,
      rates.map((rate) => [-rate, 0]),
    );
  });

  it("leave out the modes at infinity of capacitors in a loop and coils in a star", () => {
    const found = modesIn([
      farads("C1", 1e-9, "a", "b"),
      farads("C2", 2e-9, "b", "chassis"),
      farads("C3", 3e-9, "a", "chassis"),
      ohms("R1", 1e3, "a", "chassis"),
      ohms("R2", 1e3, "b", "chassis"),
      henries("L1", 1e-3, "c", "chassis", 1),
      henries("L2", 2e-3, "c", "chassis", 1),
      henries("L3", 1e-3, "c", "chassis", 2),
    ]);
    // two of voltage, two of current round three coils: none more
    expect(found).toHaveLength(4);
  });

  it("leave a charge alone that nothing moves", () => {
    const found = modesIn([
      ohms("R1", 1e3, "a", "chassis"),
      farads("C1", 1e-6, "a", "b"),
      farads("C2", 1e-6, "b", "chassis"),
    ]);
    expectModes(found, [[-2000, 0]]);
  });
});

describe("natural frequencies of amplifiers", () => {
  it("satisfy the equations of random circuits with transistors, row by row", () => {
    fc.assert(
      fc.property(randomAmplifier, (drafted) => {
        const { drafts, types } = drafted;
        const smallSignal = smallSignalOf(build(drafts, types));
        fc.pre(smallSignal !== undefined);
        for (const { s, right } of naturalFrequencies(pencilOf(smallSignal!))) {
          expectSolution(smallSignal!, s, right);
        }
      }),
      { numRuns: 40 },
    );
  });
});

/** (G + s·C)·v is nothing against the sum of its terms' sizes, in every row. */
function expectSolution(
  { pattern, g, c }: SmallSignal,
  s: { re: number; im: number },
  v: { re: Float64Array; im: Float64Array },
): void {
  const re = new Float64Array(pattern.size);
  const im = new Float64Array(pattern.size);
  const sizes = new Float64Array(pattern.size);
  pattern.row.forEach((row, slot) => {
    const column = pattern.column[slot]!;
    const [a, b] = [g[slot]! + s.re * c[slot]!, s.im * c[slot]!];
    re[row]! += a * v.re[column]! - b * v.im[column]!;
    im[row]! += a * v.im[column]! + b * v.re[column]!;
    const terms = Math.abs(g[slot]!) + Math.hypot(s.re, s.im) * Math.abs(c[slot]!);
    sizes[row]! += terms * Math.hypot(v.re[column]!, v.im[column]!);
  });
  const largest = Math.max(...sizes);
  sizes.forEach((size, row) => {
    expect(Math.hypot(re[row]!, im[row]!)).toBeLessThan(1e-7 * size + 1e-12 * largest);
  });
}

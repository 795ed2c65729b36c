import { describe, expect, it } from "vitest";
import { inEachMode } from "../../../src/bench/run.ts";
import { controlVoltage, generatorDrive, LinearCircuit } from "../../../src/bench/stages/linear-circuit.ts";
import { invert } from "../../../src/bench/stages/matrix.ts";
import { minus, ONE, over, plus, scaled, size, times, ZERO } from "../../../src/bench/stages/phasor.ts";
import { generatorReturn, linkReturn, transmission } from "../../../src/bench/stages/transmission.ts";
import { growing } from "../../../src/bench/stages/turning.ts";
import { demo } from "../../netlists/demo.ts";

/** What `ask` answers of the linearised circuit of a demonstration, in each mode. */
function ofDemo(name: string, ask: (circuit: LinearCircuit) => void): void {
  inEachMode(demo(name), {}, ({ point }) => {
    ask(new LinearCircuit(point));
    return { results: [], failures: [] };
  });
}

describe("the return ratio of a generator", () => {
  it("found with all generators at rest is that found with all at work, gm·s/(1 − gm·s)", () => {
    // Bode's return difference from the closed loop: replaced by 1 A, the generator's control shows −s
    ofDemo("recorder", (circuit) => {
      for (const hertz of [1, 50, 1000, 20e3, 1e6]) {
        const at = transmission(circuit, hertz);
        circuit.tune(hertz);
        circuit.transistors.forEach((transistor, k) => {
          const solved = circuit.working(generatorDrive(transistor));
          const share = scaled(controlVoltage(solved, transistor), -transistor.gm);
          const expected = over(share, minus(ONE, share));
          const found = generatorReturn(at!, k);
          expect(size(minus(found, expected))).toBeLessThan(1e-7 * (1 + size(expected)) ** 2);
        });
      }
    });
  });

  it("is that of its own link where it has no other", () => {
    ofDemo("common-emitter", (circuit) => {
      const at = transmission(circuit, 1000)!;
      expect(size(minus(generatorReturn(at, 0), linkReturn(at, 0, 0)))).toBeLessThan(1e-12);
    });
  });
});

describe("resting a generator and waking it again", () => {
  it("leaves the circuit as it was", () => {
    ofDemo("direct-coupled-pair", (circuit) => {
      circuit.tune(1000);
      const [first] = circuit.transistors;
      const solve = () => circuit.working([[first!.nodes[1], 1]]).at(first!.nodes[2]);
      const before = solve();
      const resting = circuit.without([first!], 1000, solve);
      expect(size(minus(resting, before))).toBeGreaterThan(0.1 * size(before));
      expect(size(minus(solve(), before))).toBeLessThan(1e-9 * size(before));
    });
  });
});

describe("the inverse of a small matrix", () => {
  it("times the matrix is one, and the determinant that worked out by hand", () => {
    const i = { re: 0, im: 1 };
    const a = [
      [ZERO, { re: 2, im: 1 }, ONE],
      [{ re: 1, im: -1 }, i, { re: 3, im: 0 }],
      [{ re: 0.5, im: 0 }, ZERO, { re: -1, im: 2 }],
    ];
    const { inverse, determinant } = invert(a);
    a.forEach((row, r) => {
      row.forEach((_, c) => {
        const entry = row.reduce((sum, value, k) => plus(sum, times(value, inverse[k]![c]!)), ZERO);
        expect(size(minus(entry, r === c ? ONE : ZERO))).toBeLessThan(1e-12);
      });
    });
    // by hand: −(2 + j)·((1 − j)(−1 + 2j) − 1.5) + (0 − 0.5j)
    expect(determinant.re).toBeCloseTo(4, 12);
    expect(determinant.im).toBeCloseTo(-6, 12);
  });
});

describe("growing natural frequencies", () => {
  const alongAxis = (of: (s: { re: number; im: number }) => { re: number; im: number }) =>
    Array.from({ length: 4001 }, (_, k) => of({ re: 0, im: 10 ** (-4 + k / 500) }));

  it("are counted by how a return difference turns: none, one or two of them", () => {
    const factor = (root: number) => (s: { re: number; im: number }) => ({ re: s.re - root, im: s.im });
    const decaying = factor(-1);
    // (s − 1)/(s + 1), and (s² − s + 1)/(s + 1)²
    expect(growing(alongAxis((s) => over(factor(-2)(s), decaying(s))))).toBe(0);
    expect(growing(alongAxis((s) => over(factor(1)(s), decaying(s))))).toBe(1);
    const pair = (s: { re: number; im: number }) => plus(minus(times(s, s), s), ONE);
    expect(growing(alongAxis((s) => over(pair(s), times(decaying(s), decaying(s)))))).toBe(2);
  });
});

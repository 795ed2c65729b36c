/**
 * Doubly terminated LC ladders. Element values: Butterworth and Chebyshev of Matthaei, Young & Jones, Table
 * 4.05 (also Pozar, Table 8.4), Bessel of Zverev 1967 (−3 dB at ω = 1, listed from the source end), as quoted
 * in public test files naming those books; even orders of 0.1 dB, 1 dB and all of 3 dB by the closed-form
 * recursion. Attenuations, dB below what the source could give, computed from the ladders and equal to the
 * closed forms 10·lg(1 + ω^2n), 10·lg(1 + ε²T_n²(ω)) and the Bessel polynomial to 0.002 dB.
 * Here the ladders stand on 600 Ω with ω = 1 at 1 kHz.
 */
import { describe, expect, it } from "vitest";
import { expectWithin, farads, gainOf, gainsOf, henries, impedanceAt, ohms } from "./bench.ts";

const R = 600;
const CUT = 1000;
const OMEGAS = [0.5, Math.SQRT1_2, 1, 1.5, 2, 3, 5, 10];

/** Series coil first; the load is `load` times the source. */
function ladder(g: readonly number[], load: number): string {
  const omega = 2 * Math.PI * CUT;
  const last = g.length % 2 === 0 ? g.length : g.length + 1;
  const elements = g.map((value, k) =>
    k % 2 === 0
      ? `inductor L${k + 1} ${henries((value * R) / omega)} n${k} to n${k + 2}`
      : `capacitor C${k + 1} ${farads(value / (R * omega))} n${k + 1} to chassis`,
  );
  return `
generator G1 1 mV source ${R} ohm n0 to chassis
${elements.join("\n")}
resistor R1 ${ohms(load * R)} n${last} to chassis
path ladder from G1 to n${last}
`;
}

/** dB below the power the source could give. */
function attenuations(g: readonly number[], load = 1): number[] {
  const gains = gainsOf(
    ladder(g, load),
    OMEGAS.map((omega) => omega * CUT),
  );
  return gains.map(({ magnitude }) => -10 * Math.log10((4 * magnitude ** 2) / load));
}

type Row = readonly [name: string, g: readonly number[], load: number, attenuations: readonly number[]];

const BUTTERWORTH: readonly Row[] = [
  ["2", [Math.SQRT2, Math.SQRT2], 1, [0.263, 0.969, 3.01, 7.827, 12.304, 19.138, 27.966, 40]],
  ["3", [1, 2, 1], 1, [0.067, 0.511, 3.01, 10.931, 18.129, 28.633, 41.938, 60]],
  ["4", [0.7654, 1.8478, 1.8478, 0.7654], 1, [0.017, 0.263, 3.01, 14.254, 24.099, 38.17, 55.918, 80]],
  ["5", [0.618, 1.618, 2, 1.618, 0.618], 1, [0.004, 0.134, 3.01, 17.684, 30.107, 47.712, 69.897, 100]],
];

const CHEBYSHEV: readonly Row[] = [
  ["2 with 0.1 dB", [0.843, 0.622], 1.3554, [0.025, 0, 0.1, 1.09, 3.307, 8.883, 17.553, 29.654]],
  ["3 with 0.1 dB", [1.0316, 1.1474, 1.0316], 1, [0.1, 0.05, 0.1, 4.604, 12.239, 23.604, 37.388, 55.648]],
  [
    "4 with 0.1 dB",
    [1.1088, 1.3062, 1.7704, 0.8181],
    1.3554,
    [0.025, 0.1, 0.1, 11.419, 23.427, 38.896, 57.299, 81.647],
  ],
  [
    "5 with 0.1 dB",
    [1.1468, 1.3712, 1.975, 1.3712, 1.1468],
    1,
    [0.025, 0.05, 0.1, 19.499, 34.848, 54.207, 77.211, 107.646],
  ],
  ["2 with 0.5 dB", [1.4029, Math.SQRT1_2], 1.9841, [0.13, 0, 0.5, 3.97, 8.438, 15.595, 24.683, 36.842]],
  ["3 with 0.5 dB", [1.5963, 1.0967, 1.5963], 1, [0.5, 0.257, 0.5, 10.368, 19.216, 30.781, 44.579, 62.84]],
  [
    "4 with 0.5 dB",
    [1.6703, 1.1926, 2.3661, 0.8419],
    1.9841,
    [0.13, 0.5, 0.5, 18.35, 30.603, 46.088, 64.491, 88.839],
  ],
  [
    "5 with 0.5 dB",
    [1.7058, 1.2296, 2.5408, 1.2296, 1.7058],
    1,
    [0.13, 0.257, 0.5, 26.651, 42.039, 61.399, 84.403, 114.838],
  ],
  ["2 with 1 dB", [1.8219, 0.685], 2.6597, [0.272, 0, 1, 6.203, 11.363, 18.798, 27.943, 40.109]],
  ["3 with 1 dB", [2.0236, 0.9941, 2.0236], 1, [1, 0.529, 1, 13.419, 22.456, 34.046, 47.847, 66.108]],
  [
    "4 with 1 dB",
    [2.0991, 1.0644, 2.8311, 0.7892],
    2.6597,
    [0.272, 1, 1, 21.583, 33.869, 49.355, 67.758, 92.106],
  ],
  [
    "5 with 1 dB",
    [2.1349, 1.0911, 3.0009, 1.0911, 2.1349],
    1,
    [0.272, 0.529, 1, 29.914, 45.306, 64.666, 87.67, 118.105],
  ],
  ["2 with 3 dB", [3.1013, 0.5339], 5.8089, [0.965, 0, 3, 11.203, 16.969, 24.603, 33.785, 45.957]],
  ["3 with 3 dB", [3.3487, 0.7117, 3.3487], 1, [3, 1.754, 3, 19.118, 28.285, 39.893, 53.694, 71.955]],
  [
    "4 with 3 dB",
    [3.4389, 0.7483, 4.347, 0.592],
    5.8089,
    [0.965, 3, 3, 27.409, 39.715, 55.203, 73.606, 97.954],
  ],
  [
    "5 with 3 dB",
    [3.4813, 0.7619, 4.5375, 0.7619, 3.4813],
    1,
    [0.965, 1.754, 3, 35.758, 51.154, 70.514, 93.518, 123.953],
  ],
];

const BESSEL: readonly Row[] = [
  ["2", [0.5755, 2.1478], 1, [0.713, 1.475, 3.01, 6.359, 9.815, 15.74, 24.068, 35.891]],
  ["3", [0.3374, 0.9705, 2.2034], 1, [0.689, 1.423, 3.01, 7.12, 12, 20.862, 33.441, 51.231]],
  ["4", [0.2334, 0.6725, 1.0815, 2.2404], 1, [0.705, 1.439, 3.01, 7.422, 13.405, 25.09, 41.921, 65.682]],
  [
    "5",
    [0.1743, 0.5072, 0.804, 1.111, 2.2582],
    1,
    [0.72, 1.459, 3.01, 7.414, 14.063, 28.337, 49.389, 79.119],
  ],
];

/** Elements of four digits leave a few thousandths of a decibel. */
const DIGITS = 0.006;

function followsTable([, g, load, table]: Row): void {
  attenuations(g, load).forEach((db, k) => {
    expectWithin(db, table[k]!, DIGITS);
  });
}

describe("a Butterworth ladder", () => {
  it.each(BUTTERWORTH)("of order %s attenuates as Matthaei's table and 10·lg(1 + ω^2n) say", (...row) => {
    followsTable(row);
    const n = row[1].length;
    attenuations(row[1]).forEach((db, k) => {
      expectWithin(db, 10 * Math.log10(1 + OMEGAS[k]! ** (2 * n)), DIGITS);
    });
  });
});

describe("a Chebyshev ladder", () => {
  it.each(CHEBYSHEV)("of order %s attenuates as the table and the closed form say", (...row) => {
    followsTable(row);
    const [name, g, load] = row;
    const ripple = Number(/with (\S+) dB/.exec(name)?.[1]);
    const chebyshev = (x: number) =>
      x <= 1 ? Math.cos(g.length * Math.acos(x)) : Math.cosh(g.length * Math.acosh(x));
    attenuations(g, load).forEach((db, k) => {
      const expected = 10 * Math.log10(1 + (10 ** (ripple / 10) - 1) * chebyshev(OMEGAS[k]!) ** 2);
      expectWithin(db, expected, DIGITS);
    });
  });

  it("of even order needs a load other than its source: with equal ends it cannot reach 0 dB at ω = 0.707", () => {
    // Pozar, Microwave Engineering, Table 8.4 note: g_{n+1} ≠ 1 for even n
    const [, g, load] = CHEBYSHEV[4]!;
    expect(attenuations(g, load)[1]).toBeLessThan(0.001);
    expect(attenuations(g, 1)[1]).toBeGreaterThan(0.3);
  });
});

describe("a Bessel ladder", () => {
  it.each(BESSEL)("of order %s attenuates as computed from Zverev's elements", (...row) => {
    followsTable(row);
  });

  it("of order 3 delays all of its pass band alike", () => {
    // Zverev 1967: maximally flat delay; the phase at ω = 0.5 is half that at ω = 1 to within 0.5 %
    const [, g, load] = BESSEL[1]!;
    const [half, whole] = gainsOf(ladder(g, load), [0.25 * CUT, 0.5 * CUT]).map(({ degrees }) => degrees);
    expectWithin(whole! / half!, 2, 0.005);
  });

  it("of unit delay, Pozar's table 8.5, delays by 1/ω at low frequencies", () => {
    // Pozar, Microwave Engineering, Table 8.5, n = 5: 0.9303 0.4577 0.3312 0.2090 0.0718
    const g = [0.9303, 0.4577, 0.3312, 0.209, 0.0718];
    const { degrees } = gainOf(ladder(g, 1), 0.1 * CUT);
    expectWithin(degrees, (-0.1 * 180) / Math.PI, 0.005);
  });
});

describe("worked filters", () => {
  it("loses 3.010 dB at 15 kHz and 18.129 dB at 30 kHz as an audio low-pass of third order on 600 Ω", () => {
    // computed: L 6.36620 mH, C 35.36777 nF, L 6.36620 mH; −6.021 dB re EMF at direct current
    const text = `
generator G1 1 mV source 600 ohm in to chassis
inductor L1 6.36620 mH in to mid
capacitor C1 35.36777 nF mid to chassis
inductor L2 6.36620 mH mid to out
resistor R1 600 ohm out to chassis
path filter from G1 to out
`;
    expectWithin(gainOf(text, 1).db, -6.021, 0.0005);
    expectWithin(gainOf(text, 15e3).db, -6.0206 - 3.01, 0.0006);
    expectWithin(gainOf(text, 30e3).db, -6.0206 - 18.129, 0.0006);
  });

  it("attenuates 17.684 dB at 3 GHz as Pozar's maximally flat filter of fifth order for 2 GHz on 50 Ω", () => {
    // Pozar (problem from memory, numbers computed): C 0.984 pF, L 6.438 nH, C 3.183 pF, L 6.438 nH, C
    // 0.984 pF
    const text = `
generator G1 1 mV source 50 ohm a to chassis
capacitor C1 0.984 pF a to chassis
inductor L1 6.438 nH a to b
capacitor C2 3.183 pF b to chassis
inductor L2 6.438 nH b to out
capacitor C3 0.984 pF out to chassis
resistor R1 50 ohm out to chassis
path filter from G1 to out
`;
    expectWithin(gainOf(text, 3e9).db, -6.0206 - 17.684, 0.005);
  });

  it("shows its source its own load at the design impedance in a constant-k section far below cut-off", () => {
    // Bird, Electrical Circuit Theory and Technology, ch. 42: low-pass T section, R0 = √(L/C), f_c =
    // 1/(π√(LC))
    const l = R / (Math.PI * CUT);
    const c = 1 / (Math.PI * CUT * R);
    const text = `
generator G1 1 mV a to chassis
inductor L1 ${henries(l / 2)} a to b
capacitor C1 ${farads(c)} b to chassis
inductor L2 ${henries(l / 2)} b to out
resistor R1 ${R} ohm out to chassis
`;
    expectWithin(impedanceAt(text, 10).re, R, 0.1);
    // image impedance R0·√(1 − (f/f_c)²) matches exactly
    const terminated = text.replace(`resistor R1 ${R} ohm`, `resistor R1 ${ohms(R * Math.sqrt(0.75))}`);
    const seen = impedanceAt(terminated, 0.5 * CUT);
    expectWithin(seen.re, R * Math.sqrt(0.75), 0.001);
    expectWithin(seen.im, 0, 0.001);
  });
});

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { PowerCurve } from "../../../src/bench/power/results.ts";
import { type PowerConditions, power } from "../../../src/bench/power.ts";
import { readNetlist } from "../../../src/index.ts";
import { waveformOf } from "../waveform/run.ts";
import { OUTPUT_PAIR } from "./output-pair.ts";

/** The curves of a netlist. */
export function curvesOf(text: string, conditions: Partial<PowerConditions> = {}): readonly PowerCurve[] {
  const { circuit, diagnostics } = readNetlist(text);
  if (circuit === undefined) throw new Error(diagnostics[0]?.message);
  const steps = power(circuit, { hertz: 1000, variants: [], ...conditions });
  for (;;) {
    const next = steps.next();
    if (next.done !== true) continue;
    expect(next.value.failures).toEqual([]);
    return next.value.results;
  }
}

/** Thermal voltage at 25 °C, V: kT/q, CODATA 2018. */
const VT = (1.380649e-23 * 298.15) / 1.602176634e-19;

/** Modified Bessel function of the first kind by its power series (Abramowitz and Stegun 9.6.10). */
function bessel(order: number, x: number): number {
  let term = 1;
  for (let k = 1; k <= order; k++) term *= x / 2 / k;
  let sum = term;
  for (let k = 1; k < 200; k++) {
    term *= x ** 2 / 4 / k / (k + order);
    sum += term;
  }
  return sum;
}

/** Bias and sine across one junction; R1 is so small that it only reads the current. */
const JUNCTION = `
battery    B1  0.15 V plus hot minus tone
generator  G1  1 mV source 0 ohm tone to chassis
type PURE germanium diode
    vf 0.15 V at 1 mA
    rs 0 ohm
diode      D1  PURE anode hot cathode cold
resistor   R1  1m cold to chassis
path       junction from G1 to R1 voltage
`;

/** The same, and another the other way round: a push-pull stage without quiescent current. */
const PAIR = JUNCTION.replace("0.15 V plus", "0 V plus").replace(
  "resistor",
  "diode      D2  PURE anode cold cathode hot\nresistor",
);

describe("distortion of junctions against closed forms", () => {
  it("gives the harmonics of exp(v/Vt) as I_k(x)/I_1(x) with x the peak over Vt", () => {
    // exp(x·cos θ) = I_0(x) + 2·Σ I_k(x)·cos kθ: Abramowitz and Stegun 9.6.34
    const property = fc.property(fc.double({ min: 0.05, max: 4, noNaN: true }), (x) => {
      const [curve] = curvesOf(JUNCTION, { levels: [(x * VT) / Math.SQRT2] });
      const { harmonics } = curve!.points[0]!;
      [2, 3, 4, 5].forEach((order) => {
        expect(harmonics[order - 2]).toBeCloseTo(bessel(order, x) / bessel(1, x), 3);
      });
    });
    fc.assert(property, { numRuns: 10 });
  });

  it("has a second harmonic of v/(4 Vt) in the first order", () => {
    const peak = 1e-3;
    const [curve] = curvesOf(JUNCTION, { levels: [peak / Math.SQRT2] });
    expect(curve!.points[0]!.distortion).toBeCloseTo(peak / (4 * VT), 4);
  });

  it("leaves odd harmonics alone of two junctions back to back: sinh, I_3(x)/I_1(x)", () => {
    const x = 3;
    const [curve] = curvesOf(PAIR, { levels: [(x * VT) / Math.SQRT2] });
    const { harmonics } = curve!.points[0]!;
    expect(harmonics[0]).toBeLessThan(1e-6);
    expect(harmonics[1]).toBeCloseTo(bessel(3, x) / bessel(1, x), 4);
  });

  it("finds where the distortion of a junction is 10 %", () => {
    const levels = Array.from({ length: 12 }, (_, k) => 1e-3 * 1.4 ** k);
    const [curve] = curvesOf(JUNCTION, { levels });
    const limit = curve!.limits.find(({ what }) => what === "10 % distortion")!;
    const x = (limit.emf_volts * Math.SQRT2) / VT;
    const thd = Math.hypot(...[2, 3, 4, 5, 6].map((order) => bessel(order, x))) / bessel(1, x);
    expect(thd).toBeCloseTo(0.1, 2);
  });
});

describe("a limiter", () => {
  it("comes near the Fourier series of a sine cut at two diodes behind batteries", () => {
    // cut at the share s of its peak: b_1 = (2/π)(φ + s·√(1 − s²)), φ = arcsin s, by integration
    const text = `
generator  G1  1 V source 0 ohm in to chassis
resistor   R1  10k in to out
type SHARP silicon diode
    vf 0.5 V at 0.4 mA
    rs 0 ohm
battery    B1  4.5 V plus high minus chassis
battery    B2  4.5 V plus chassis minus low
diode      D1  SHARP anode out cathode high
diode      D2  SHARP anode low cathode out
path       cut from G1 to out
`;
    const peak = 10;
    const [curve] = curvesOf(text, { levels: [peak / Math.SQRT2] });
    const { output, distortion, harmonics } = curve!.points[0]!;
    // battery and drop are 5 V within Vt, which is half a percent, at the currents that flow
    const s = 0.5;
    const angle = Math.asin(s);
    const first = (2 / Math.PI) * (angle + s * Math.sqrt(1 - s ** 2));
    const third = cutHarmonic(3, s);
    expect((output * Math.SQRT2) / peak).toBeCloseTo(first, 2);
    expect(harmonics[1]).toBeCloseTo(Math.abs(third / first), 2);
    expect(distortion).toBeGreaterThan(harmonics[1]!);
  });

  /** The sine coefficient of a cut sine, by Simpson's rule over a quarter period. */
  function cutHarmonic(order: number, s: number): number {
    const count = 2000;
    const h = Math.PI / 2 / count;
    let sum = 0;
    for (let k = 0; k <= count; k++) {
      const weight = k === 0 || k === count ? 1 : k % 2 === 1 ? 4 : 2;
      sum += weight * Math.min(s, Math.sin(k * h)) * Math.sin(order * k * h);
    }
    return ((4 / Math.PI) * sum * h) / 3;
  }
});

describe("a push-pull stage", () => {
  it("gives what the same stage gives in time, when it has settled", () => {
    for (const volts of [0.1, 0.3, 1]) {
      const [curve] = curvesOf(OUTPUT_PAIR, { levels: [volts], isothermal: true });
      const point = curve!.points[0]!;
      const wave = waveformOf(OUTPUT_PAIR, {
        seconds: 0.04,
        tones: [{ part: "G1", hertz: 1000, volts }],
        start: { from: "point", displaced: [] },
        isothermal: true,
        shown: [{ kind: "net", net: netOf("speaker"), name: "speaker" }],
      });
      const { harmonics, rms } = wave.readings.speaker!.periodic!;
      expect(point.output / (harmonics[0]! / Math.SQRT2)).toBeCloseTo(1, 2);
      expect(point.harmonics[1]).toBeCloseTo(harmonics[2]! / harmonics[0]!, 3);
      // mean of v·i in a plain resistance
      expect(point.output_watts! / (rms ** 2 / 5)).toBeCloseTo(1, 2);
    }
  });

  it("has the gain of the small signal where the signal is small", () => {
    const [curve] = curvesOf(OUTPUT_PAIR, { levels: [1e-5] });
    expect(curve!.points[0]!.gain_db).toBeCloseTo(curve!.gain_db, 3);
  });

  it("goes on to where both limits are passed, and marks them where they are", () => {
    const [curve] = curvesOf(OUTPUT_PAIR);
    const [distorted, fallen] = ["10 % distortion", "1 dB less gain"].map((what) =>
      curve!.limits.find((each) => each.what === what),
    );
    expect(distorted!.distortion).toBeCloseTo(0.1, 2);
    const greatest = Math.max(...curve!.points.map(({ gain_db }) => gain_db));
    expect(fallen!.gain_db).toBeCloseTo(greatest - 1, 1);
    expect(curve!.points.map(({ emf_volts }) => emf_volts)).toContain(distorted!.emf_volts);
  });

  it("gives no more power than the battery", () => {
    const [curve] = curvesOf(OUTPUT_PAIR);
    for (const { output_watts, supply_watts } of curve!.points)
      expect(output_watts).toBeLessThan(supply_watts);
  });

  it("distorts a small signal more with less quiescent current, and more when it is cold", () => {
    const set = (value: number) => ({ name: `${value}`, set: [{ part: "P1", key: "setting", value }] });
    const variants = [set(0.05), set(0.3)];
    const [starved, fed] = curvesOf(OUTPUT_PAIR, { levels: [0.1], variants }).map(
      ({ points }) => points[0]!.distortion,
    );
    expect(starved).toBeGreaterThan(2 * fed!);
    const at = (ambientCelsius: number) => ({ name: `${ambientCelsius}`, set: [], ambientCelsius });
    const cold = curvesOf(OUTPUT_PAIR, { levels: [0.1], variants: [at(0), at(30)] });
    expect(cold[0]!.points[0]!.distortion).toBeGreaterThan(cold[1]!.points[0]!.distortion);
    expect(cold[0]!.quiescent_amps.T1).toBeLessThan(cold[1]!.quiescent_amps.T1!);
  });

  function netOf(name: string): number {
    return readNetlist(OUTPUT_PAIR).circuit!.nets.findIndex((net) => net.name === name);
  }
});

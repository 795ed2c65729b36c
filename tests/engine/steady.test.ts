import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fourier, harmonicOf, isSine } from "../../src/engine/steady/fourier.ts";
import { Spectrum } from "../../src/engine/steady/spectrum.ts";

const HARMONICS = 4;
const series = fourier(HARMONICS);
const wave = (block: number, j: number) =>
  (isSine(block) ? series.sine : series.cosine)[harmonicOf(block)]![j]!;

/** Two quantities, sampled over the period. */
const sampled = fc.array(
  fc.tuple(fc.double({ min: -1, max: 1, noNaN: true }), fc.double({ min: -1, max: 1, noNaN: true })),
  {
    minLength: series.samples,
    maxLength: series.samples,
  },
);

function spectrumOf(samples: readonly (readonly [number, number])[]): Spectrum {
  const spectrum = new Spectrum(series, 2);
  samples.forEach((both, j) => {
    spectrum.add(Float64Array.from(both), j);
  });
  return spectrum;
}

/** The mean of a quantity times a function, as a coefficient of it. */
function direct(values: readonly number[], block: number): number {
  const sum = values.reduce((total, value, j) => total + value * wave(block, j), 0);
  return ((block === 0 ? 1 : 2) * sum) / series.samples;
}

describe("the harmonics of a sampled quantity", () => {
  it("are its mean products with the functions of the series", () => {
    fc.assert(
      fc.property(sampled, (samples) => {
        const spectrum = spectrumOf(samples);
        for (let block = 0; block < series.blocks; block++)
          for (const k of [0, 1] as const) {
            const values = samples.map((both) => both[k]);
            expect(spectrum.coefficient(block, k)).toBeCloseTo(direct(values, block), 12);
          }
      }),
      { numRuns: 20 },
    );
  });

  it("give those of its product with every function of the series", () => {
    fc.assert(
      fc.property(sampled, (samples) => {
        const spectrum = spectrumOf(samples);
        for (let row = 0; row < series.blocks; row++)
          for (let column = 0; column < series.blocks; column++) {
            const values = samples.map(([, second], j) => second * wave(column, j));
            expect(spectrum.product(row, column, 1)).toBeCloseTo(direct(values, row), 12);
          }
      }),
      { numRuns: 10 },
    );
  });

  it("vary by nothing if it is constant, and by the swing over the mean if it swings", () => {
    const spectrum = spectrumOf(Array.from({ length: series.samples }, (_, j) => [5, 4 + wave(2, j)]));
    expect(spectrum.variation(0)).toBeCloseTo(0, 12);
    expect(spectrum.variation(1)).toBeCloseTo(0.25, 12);
  });
});

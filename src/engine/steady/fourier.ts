/** The functions 1, cos θ, sin θ, cos 2θ … at equal steps of one period. */
export interface Fourier {
  readonly harmonics: number;
  readonly samples: number;
  /** How many functions there are: 2·harmonics + 1. */
  readonly blocks: number;
  /** cos mθ and sin mθ by m, up to twice the harmonics: products of two functions need no more. */
  readonly cosine: readonly Float64Array[];
  readonly sine: readonly Float64Array[];
}

/** A switching junction is sampled closely enough with this many points to the highest harmonic. */
const SAMPLES_PER_HARMONIC = 16;
const FEWEST = 64;

export function fourier(harmonics: number, perHarmonic = SAMPLES_PER_HARMONIC): Fourier {
  const samples = Math.max(FEWEST, perHarmonic * harmonics);
  const sampled = (wave: (angle: number) => number) =>
    Array.from({ length: 2 * harmonics + 1 }, (_, m) =>
      Float64Array.from({ length: samples }, (_, j) => wave((2 * Math.PI * m * j) / samples)),
    );
  return {
    harmonics,
    samples,
    blocks: 2 * harmonics + 1,
    cosine: sampled(Math.cos),
    sine: sampled(Math.sin),
  };
}

/** Which harmonic a block belongs to; 0 is direct current. */
export const harmonicOf = (block: number): number => Math.ceil(block / 2);
export const isSine = (block: number): boolean => block > 0 && block % 2 === 0;
/** The block of the same harmonic in quadrature. */
export const partner = (block: number): number => (isSine(block) ? block - 1 : block + 1);

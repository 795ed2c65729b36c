/** The functions 1, cos θ, sin θ, cos 2θ … at equal steps of one period. */
export interface Fourier {
  readonly harmonics: number;
  readonly samples: number;
  /** How many functions there are: 2·harmonics + 1. */
  readonly blocks: number;
  /** By block: the function's values. */
  readonly value: readonly Float64Array[];
  /** By block: what a sample contributes to its coefficient, divided by the function's value. */
  readonly weight: readonly number[];
}

/** A switching junction is sampled closely enough with this many points to the highest harmonic. */
const SAMPLES_PER_HARMONIC = 16;
const FEWEST = 64;

export function fourier(harmonics: number): Fourier {
  const samples = Math.max(FEWEST, SAMPLES_PER_HARMONIC * harmonics);
  const blocks = 2 * harmonics + 1;
  const value = Array.from({ length: blocks }, (_, block) =>
    Float64Array.from({ length: samples }, (_, j) => {
      const angle = (2 * Math.PI * harmonicOf(block) * j) / samples;
      return isSine(block) ? Math.sin(angle) : Math.cos(angle);
    }),
  );
  return {
    harmonics,
    samples,
    blocks,
    value,
    weight: value.map((_, block) => (block === 0 ? 1 : 2) / samples),
  };
}

/** Which harmonic a block belongs to; 0 is direct current. */
export const harmonicOf = (block: number): number => Math.ceil(block / 2);
export const isSine = (block: number): boolean => block > 0 && block % 2 === 0;
/** The block of the same harmonic in quadrature. */
export const partner = (block: number): number => (isSine(block) ? block - 1 : block + 1);

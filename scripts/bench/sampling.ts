/** One way to do a task: `sample` does it once or more and returns seconds per unit. */
export interface Contender {
  readonly name: string;
  readonly sample: () => number | Promise<number>;
}

export interface Timing {
  readonly name: string;
  /** Seconds per unit. */
  readonly min: number;
  readonly median: number;
  readonly samples: number;
}

export const SAMPLES = 12;

const now = () => Number(process.hrtime.bigint()) * 1e-9;

/** Shortest sample that the clock and the load of the machine leave credible, s. */
const LONG_ENOUGH = 5e-3;
const WARM_UP = 0.2;

/** A contender in this process. `run` does `units` of work; it is repeated until a sample is long enough. */
export function inProcess(name: string, units: number, run: () => void): Contender {
  let repeats = 0;
  const once = (count: number) => {
    const start = now();
    for (let k = 0; k < count; k++) run();
    return now() - start;
  };
  const warmUp = () => {
    let spent = 0;
    let runs = 0;
    while (spent < WARM_UP || runs < 3) {
      spent += once(1);
      runs++;
    }
    repeats = Math.max(1, Math.ceil(LONG_ENOUGH / once(1)));
  };
  return {
    name,
    sample: () => {
      if (repeats === 0) warmUp();
      return once(repeats) / (repeats * units);
    },
  };
}

/** Samples the contenders in turn, so that what disturbs the machine disturbs all of them. */
export async function interleave(contenders: readonly Contender[], samples = SAMPLES): Promise<Timing[]> {
  const found = contenders.map((): number[] => []);
  for (const { sample } of contenders) await sample();
  for (let round = 0; round < samples; round++) {
    for (const [k, { sample }] of contenders.entries()) found[k]!.push(await sample());
  }
  return contenders.map(({ name }, k) => timing(name, found[k]!));
}

export function timing(name: string, seconds: readonly number[]): Timing {
  const sorted = seconds.toSorted((a, b) => a - b);
  const middle = sorted.length / 2;
  const median = (sorted[Math.floor(middle - 0.5)]! + sorted[Math.ceil(middle - 0.5)]!) / 2;
  return { name, min: sorted[0]!, median, samples: sorted.length };
}

/** The timing of the contender with this name. */
export function named(timings: readonly Timing[], name: string): Timing | undefined {
  return timings.find((one) => one.name === name);
}

/** Numbers 0 … 1 from a seed, the same on every machine (mulberry32, T. Ettinger, public domain). */
export function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
}

import type { Tone } from "./conditions.ts";
import type { Periodic } from "./results.ts";
import type { Series } from "./series.ts";

/** Whole periods looked at, at most; and samples of each. */
const MOST_PERIODS = 32;
const SAMPLES = 256;
const HARMONICS = 10;
/** Periods and swings of neighbours may differ so much, relative, for the waveform to repeat itself. */
const ALIKE = 0.02;
/** Shares of the run's end in which repetition is looked for. */
const ENDS = [0.05, 0.2, 0.5];
const LEAST_PERIODS = 3;
/** A swing smaller than this share of all the travel, or than so many volts, is none. */
const LEAST_SHARE = 1e-6;
const LEAST_SWING = 1e-9;
/** A crossing counts after a dip of so much of the swing. */
const DIP = 0.1;

/** What repeats itself at the end of a trace: at the tones' common period, or as found. */
export function periodicEnd(series: Series, tones: readonly Tone[]): Periodic | undefined {
  const hertz = tones.length > 0 ? commonHertz(tones) : foundHertz(series);
  if (hertz === undefined) return undefined;
  const whole = Math.floor((series.end - series.start) * hertz * (1 + 1e-9));
  const periods = Math.min(MOST_PERIODS, tones.length > 0 ? Math.max(1, Math.floor(whole / 2)) : whole);
  if (whole < 1) return undefined;
  return overPeriods(series, hertz, periods);
}

/** Greatest frequency of which all tones are multiples, Hz, to a millihertz. */
export function commonHertz(tones: readonly Tone[]): number {
  const whole = tones.map(({ hertz }) => Math.round(hertz * 1000));
  const gcd = (a: number, b: number): number => (b === 0 ? a : gcd(b, a % b));
  const [only] = tones;
  return tones.length === 1 ? only!.hertz : Math.max(1, whole.reduce(gcd)) / 1000;
}

function foundHertz(series: Series): number | undefined {
  const [bottom, top] = series.range();
  for (const share of ENDS) {
    const first = series.from(series.end - share * (series.end - series.start));
    const [least, greatest] = series.range(first);
    const swing = greatest - least;
    if (!(swing > LEAST_SWING && swing > LEAST_SHARE * (top - bottom))) return undefined;
    const middle = (least + greatest) / 2;
    const times = series.rises(middle, middle - DIP * swing, first).slice(-MOST_PERIODS - 1);
    if (times.length <= LEAST_PERIODS) continue;
    return alike(series, times) ? (times.length - 1) / (times.at(-1)! - times[0]!) : undefined;
  }
  return undefined;
}

/** Whether periods and swings between these times are alike. */
function alike(series: Series, times: readonly number[]): boolean {
  const lengths = times.slice(1).map((time, k) => time - times[k]!);
  const swings = times.slice(1).map((time, k) => {
    const part = series.values.subarray(series.from(times[k]!), series.from(time));
    return Math.max(...part) - Math.min(...part);
  });
  return [lengths, swings].every((list) => Math.max(...list) - Math.min(...list) < ALIKE * Math.max(...list));
}

function overPeriods(series: Series, hertz: number, periods: number): Periodic {
  const count = SAMPLES * periods;
  const step = 1 / (hertz * SAMPLES);
  const start = series.end - count * step;
  const values = Float64Array.from({ length: count }, (_, k) => series.at(start + k * step));
  const mean = values.reduce((sum, value) => sum + value, 0) / count;
  const [least, greatest] = [Math.min(...values), Math.max(...values)];
  const middle = (least + greatest) / 2;
  const harmonics = Array.from({ length: HARMONICS }, (_, k) => harmonic(values, (k + 1) * periods));
  const [first = 0, ...rest] = harmonics;
  return {
    hertz,
    mean,
    peak: (greatest - least) / 2,
    rms: Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / count),
    harmonics,
    distortion: first > 0 ? Math.hypot(...rest) / first : 0,
    duty: values.reduce((sum, value) => sum + (value > middle ? 1 : 0), 0) / count,
  };
}

/** Peak value of the component that swings so many times over evenly spaced values: one term of the discrete Fourier transform. */
export function harmonic(values: Float64Array, cycles: number): number {
  let re = 0;
  let im = 0;
  const turn = (2 * Math.PI * cycles) / values.length;
  for (let k = 0; k < values.length; k++) {
    re += values[k]! * Math.cos(turn * k);
    im += values[k]! * Math.sin(turn * k);
  }
  return (2 * Math.hypot(re, im)) / values.length;
}

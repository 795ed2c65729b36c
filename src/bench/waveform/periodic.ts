import type { Tone } from "./conditions.ts";
import type { Periodic } from "./results.ts";
import { rangeOf, type Series } from "./series.ts";

/** Whole periods looked at, at most; samples of each, and of all where something faster needs more. */
const MOST_PERIODS = 32;
const SAMPLES = 256;
const MOST_SAMPLES = 131_072;
/** As many as `power` balances: a sine of 1 kHz to the end of hearing. */
const HARMONICS = 15;
/** Periods and swings of neighbours may differ so much, relative, for the waveform to repeat itself. */
const ALIKE = 0.02;
/** Shares of the run's end in which repetition is looked for. */
const ENDS = [0.05, 0.2, 0.5, 0.8];
const LEAST_PERIODS = 2;
/** A trace that moves on by more than this share of its swing from period to period does not repeat itself. */
const DRIFT = 0.1;
/** A swing smaller than this share of all the travel, or than so many volts, is none. */
const LEAST_SHARE = 1e-6;
const LEAST_SWING = 1e-9;
/** A crossing counts after a dip of so much of the swing. */
const DIP = 0.1;

/** What repeats itself at the end of a trace: at the tones' common period since the last event, or as found. */
export function periodicEnd(series: Series, tones: readonly Tone[], since = 0): Periodic | undefined {
  const found = tones.length > 0 ? ofTones(series, tones, since) : repeated(series);
  if (found === undefined || found.periods < 1) return undefined;
  return overPeriods(series, found.hertz, Math.min(MOST_PERIODS, found.periods), tones);
}

interface Repetition {
  readonly hertz: number;
  /** Whole periods at the end of the run that are alike. */
  readonly periods: number;
}

/** The later half of the common periods of all tones since the last event. */
function ofTones(series: Series, tones: readonly Tone[], since: number): Repetition {
  const hertz = commonHertz(tones);
  const whole = Math.floor((series.end - Math.max(series.start, since)) * hertz * (1 + 1e-9));
  return { hertz, periods: whole < 1 ? 0 : Math.max(1, Math.floor(whole / 2)) };
}

/** Greatest frequency of which all tones are multiples, Hz, to a millihertz. */
export function commonHertz(tones: readonly Tone[]): number {
  const whole = tones.map(({ hertz }) => Math.round(hertz * 1000));
  const gcd = (a: number, b: number): number => (b === 0 ? a : gcd(b, a % b));
  const [only] = tones;
  return tones.length === 1 ? only!.hertz : Math.max(1, whole.reduce(gcd)) / 1000;
}

function repeated(series: Series): Repetition | undefined {
  const [bottom, top] = series.range();
  for (const share of ENDS) {
    const first = series.from(series.end - share * (series.end - series.start));
    const [least, greatest] = series.range(first);
    const swing = greatest - least;
    if (!(swing > LEAST_SWING && swing > LEAST_SHARE * (top - bottom))) return undefined;
    const middle = (least + greatest) / 2;
    const times = series.rises(middle, middle - DIP * swing, first).slice(-MOST_PERIODS - 1);
    if (times.length <= LEAST_PERIODS) continue;
    if (!alike(series, times)) return undefined;
    const periods = times.length - 1;
    return { hertz: periods / (times.at(-1)! - times[0]!), periods };
  }
  return undefined;
}

/** Whether periods and swings between these times are alike. */
function alike(series: Series, times: readonly number[]): boolean {
  const lengths = times.slice(1).map((time, k) => time - times[k]!);
  const swings = times.slice(1).map((time, k) => {
    const [least, greatest] = series.range(series.from(times[k]!), series.from(time));
    return greatest - least;
  });
  return [lengths, swings].every((list) => Math.max(...list) - Math.min(...list) < ALIKE * Math.max(...list));
}

/**
 * How many periods, and samples of each: two between neighbouring points, so that what is faster than the period
 * is not undersampled; fewer periods where these would be too many.
 */
function sampling(
  series: Series,
  hertz: number,
  periods: number,
): readonly [periods: number, samples: number] {
  const points = series.length - series.from(series.end - periods / hertz);
  const wanted = Math.max(SAMPLES, Math.ceil((2 * points) / periods));
  const taken = Math.min(periods, Math.max(1, Math.floor(MOST_SAMPLES / wanted)));
  return [taken, Math.min(MOST_SAMPLES, wanted)];
}

function overPeriods(
  series: Series,
  hertz: number,
  most: number,
  tones: readonly Tone[],
): Periodic | undefined {
  const [periods, samples] = sampling(series, hertz, most);
  const count = samples * periods;
  const step = 1 / (hertz * samples);
  const start = series.end - count * step;
  const values = Float64Array.from({ length: count }, (_, k) => series.at(start + k * step));
  const mean = meanOf(values);
  const [least, greatest] = rangeOf(values);
  if (!(greatest - least > LEAST_SWING) || drifts(values, samples)) return undefined;
  const middle = (least + greatest) / 2;
  const rms = Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / count);
  const harmonics = Array.from({ length: HARMONICS }, (_, k) => harmonic(values, (k + 1) * periods));
  const several = [...new Set(tones.map((tone) => tone.hertz))].map((each) =>
    harmonic(values, Math.round(each / hertz) * periods),
  );
  return {
    hertz,
    mean,
    peak: (greatest - least) / 2,
    rms,
    harmonics,
    distortion: several.length > 1 ? remainder(rms, several) : totalDistortion(harmonics),
    duty: values.reduce((sum, value) => sum + (value > middle ? 1 : 0), 0) / count,
  };
}

/** Whether the means of the last two periods lie apart, against the swing of the last. */
function drifts(values: Float64Array, samples: number): boolean {
  if (values.length < 2 * samples) return false;
  const last = values.subarray(-samples);
  const before = values.subarray(-2 * samples, -samples);
  const [least, greatest] = rangeOf(last);
  return Math.abs(meanOf(last) - meanOf(before)) > DRIFT * (greatest - least);
}

const meanOf = (values: Float64Array) => values.reduce((sum, value) => sum + value, 0) / values.length;

const totalDistortion = ([first = 0, ...rest]: readonly number[]): number =>
  first > 0 ? Math.hypot(...rest) / first : 0;

/** Of several tones: all that is none of them, harmonics and what they mix to, over them. */
function remainder(rms: number, tones: readonly number[]): number {
  const own = tones.reduce((sum, peak) => sum + peak ** 2 / 2, 0);
  return own > 0 ? Math.sqrt(Math.max(0, rms ** 2 - own) / own) : 0;
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

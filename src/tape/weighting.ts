/** Weighting curves for noise, from their published definitions. */

/** A zero or pole in rad/s, with the number of times it stands there. */
interface Root {
  readonly re: number;
  readonly im: number;
}

const real = (re: number): Root => ({ re, im: 0 });
const pair = (re: number, im: number): readonly Root[] => [
  { re, im },
  { re, im: -im },
];

/**
 * Poles of the passive network of ITU-R BS.468-4, Fig. 1a, rad/s; beside them it has one zero, at 0.
 * Source: endolith/waveform-analysis, derived there from the values of the elements in the figure.
 */
const ITU_R_468_POLES: readonly Root[] = [
  real(-25903.70104781628),
  ...pair(-23615.53521363528, 36379.90893732929),
  ...pair(-18743.74669072136, 62460.15645250649),
  real(-62675.1700584679),
];

/** 20·lg |jω / Π(jω − p)|, dB, but for a constant. */
function ituR468(hertz: number): number {
  const omega = 2 * Math.PI * hertz;
  const poles = ITU_R_468_POLES.map(({ re, im }) => Math.log10(Math.hypot(re, omega - im)));
  return 20 * (Math.log10(omega) - poles.reduce((sum, each) => sum + each, 0));
}

const ITU_R_468_AT_1K = ituR468(1000);

/**
 * ITU-R BS.468-4 (weighting of audio-frequency noise) at `hertz`, dB re 1 kHz. Table 1 of the
 * Recommendation stands at 0 dB for 1 kHz; 6.3 kHz then comes to +12.217 dB and is printed 12.2.
 */
export const ituR468Decibels = (hertz: number): number => ituR468(hertz) - ITU_R_468_AT_1K;

/**
 * Corner frequencies of the A curve, Hz, as IEC 61672-1:2002, 5.4.6 to 5.4.11, defines them: half power of
 * the C curve at 10^1.5 and 10^3.9 Hz, 10^2.45 Hz for the two further poles of A.
 */
function aCorners(): readonly [number, number, number, number] {
  const reference = 1000 ** 2;
  const low = (10 ** 1.5) ** 2;
  const high = (10 ** 3.9) ** 2;
  const d = Math.SQRT1_2;
  const b = (reference + (low * high) / reference - d * (low + high)) / (1 - d);
  const c = low * high;
  const root = Math.sqrt(b * b - 4 * c);
  const a = 10 ** 2.45;
  return [
    Math.sqrt((-b - root) / 2),
    ((3 - Math.sqrt(5)) / 2) * a,
    ((3 + Math.sqrt(5)) / 2) * a,
    Math.sqrt((-b + root) / 2),
  ];
}

const A_CORNERS = aCorners();

/** The A curve but for a constant, dB: four zeros at 0, double poles at f1 and f4, poles at f2 and f3. */
function aCurve(hertz: number): number {
  const [f1, f2, f3, f4] = A_CORNERS;
  const side = (corner: number) => Math.log10(Math.hypot(1, hertz / corner));
  const rise = 4 * Math.log10(hertz) - 2 * side(f1) - side(f2) - side(f3);
  return 20 * (rise - 2 * side(f4));
}

const A_AT_1K = aCurve(1000);

/** A weighting of IEC 61672-1 at `hertz`, dB re 1 kHz. Its table stands at the exact frequencies of ISO 266. */
export const aWeightingDecibels = (hertz: number): number => aCurve(hertz) - A_AT_1K;

/** The weightings there are, by the name that results carry. */
export const WEIGHTINGS = {
  A: aWeightingDecibels,
  "ITU-R 468": ituR468Decibels,
} as const;

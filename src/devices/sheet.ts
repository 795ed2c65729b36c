/**
 * The figures a data sheet of a transistor or diode may give, as the netlist's `type` block names them.
 * This list is what the reader accepts, `types` shows and the documentation prints.
 */

export interface Figure {
  readonly key: string;
  readonly unit: FigureUnit;
  readonly meaning: string;
  /** May be zero, which switches the effect off. Otherwise it must be above zero. */
  readonly zero?: true;
  /** Outside, the figure is kept with a warning. */
  readonly plausible?: readonly [number, number];
  /** What may follow: `at 1 mA`, `max 10 µA`. Its own key is `KEY.word`. */
  readonly tails?: readonly (Figure & { readonly word: string; readonly optional?: true })[];
}

type FigureUnit =
  | "volt"
  | "ampere"
  | "second"
  | "hertz"
  | "farad"
  | "ohm"
  | "watt"
  | "celsius"
  | "kelvin"
  | "siemens"
  | "kelvin-per-watt"
  | "number";

const at = (
  unit: FigureUnit,
  meaning: string,
  more: Partial<Figure> & { optional?: true } = {},
): Figure & { word: string; optional?: true } => ({ word: "at", key: "at", unit, meaning, ...more });

/**
 * Transistor figures. Two are read specially: `hfe` takes one or two points (`hfe`, `hfe.at`, `hfe2`,
 * `hfe2.at`), `spread` takes `LEAST .. GREATEST` (`spread.least`, `spread.greatest`), and `limits`
 * takes words of its own (`limits.vce` …, see `TRANSISTOR_LIMITS`).
 */
export const TRANSISTOR_FIGURES: readonly Figure[] = [
  {
    key: "hfe",
    unit: "number",
    meaning: "current gain",
    plausible: [2, 2000],
    tails: [at("ampere", "collector current")],
  },
  {
    key: "hfe_reverse",
    unit: "number",
    meaning: "current gain, emitter and collector exchanged",
    plausible: [0.01, 500],
  },
  {
    key: "vbe",
    unit: "volt",
    meaning: "base-emitter voltage",
    plausible: [0.01, 1.2],
    tails: [at("ampere", "collector current")],
  },
  {
    key: "leakage",
    unit: "ampere",
    meaning: "collector-base current, emitter open",
    plausible: [1e-13, 5e-3],
    tails: [
      { word: "max", key: "max", unit: "ampere", meaning: "the greatest a sound sample has", optional: true },
      at("celsius", "junction temperature", { optional: true }),
    ],
  },
  {
    key: "doubling",
    unit: "kelvin",
    meaning: "temperature rise that doubles the leakage",
    plausible: [4, 20],
  },
  {
    key: "ft",
    unit: "hertz",
    meaning: "transition frequency",
    plausible: [1e4, 1e10],
    tails: [at("ampere", "collector current")],
  },
  {
    key: "falpha",
    unit: "hertz",
    meaning: "cut-off frequency in common base",
    plausible: [1e4, 1e10],
    tails: [at("ampere", "collector current", { optional: true })],
  },
  {
    key: "fbeta",
    unit: "hertz",
    meaning: "cut-off frequency in common emitter",
    plausible: [1e2, 1e9],
    tails: [at("ampere", "collector current", { optional: true })],
  },
  {
    key: "ccb",
    unit: "farad",
    meaning: "collector-base capacitance",
    zero: true,
    plausible: [1e-13, 1e-8],
    tails: [at("volt", "reverse voltage", { zero: true })],
  },
  {
    key: "ceb",
    unit: "farad",
    meaning: "emitter-base capacitance",
    zero: true,
    plausible: [1e-13, 1e-8],
    tails: [at("volt", "reverse voltage", { zero: true })],
  },
  { key: "rbb", unit: "ohm", meaning: "base resistance", zero: true, plausible: [0.1, 2000] },
  { key: "early", unit: "volt", meaning: "Early voltage", plausible: [3, 1000] },
  {
    key: "h22",
    unit: "siemens",
    meaning: "output conductance",
    plausible: [1e-8, 1e-2],
    tails: [at("ampere", "collector current")],
  },
  {
    key: "storage",
    unit: "second",
    meaning: "storage time constant in saturation",
    zero: true,
    plausible: [1e-10, 1e-4],
  },
  {
    key: "flicker",
    unit: "hertz",
    meaning: "corner of the low-frequency noise",
    zero: true,
    plausible: [1, 1e5],
  },
  {
    key: "rth",
    unit: "kelvin-per-watt",
    meaning: "thermal resistance, junction to ambient",
    zero: true,
    plausible: [0.5, 2000],
  },
];

/** What may follow `limits`, in any order. */
export const TRANSISTOR_LIMITS: readonly Figure[] = [
  { key: "vce", unit: "volt", meaning: "greatest collector-emitter voltage" },
  { key: "vcb", unit: "volt", meaning: "greatest collector-base voltage" },
  { key: "veb", unit: "volt", meaning: "greatest reverse emitter-base voltage" },
  { key: "ic", unit: "ampere", meaning: "greatest collector current" },
  { key: "ptot", unit: "watt", meaning: "greatest dissipation" },
  { key: "tj", unit: "celsius", meaning: "greatest junction temperature" },
];

export const DIODE_FIGURES: readonly Figure[] = [
  {
    key: "vf",
    unit: "volt",
    meaning: "forward voltage",
    plausible: [0.01, 5],
    tails: [at("ampere", "forward current")],
  },
  { key: "ideality", unit: "number", meaning: "ideality factor", plausible: [0.9, 3] },
  { key: "rs", unit: "ohm", meaning: "series resistance", zero: true, plausible: [1e-3, 1000] },
  {
    key: "cj",
    unit: "farad",
    meaning: "junction capacitance",
    zero: true,
    plausible: [1e-14, 1e-8],
    tails: [at("volt", "reverse voltage", { zero: true })],
  },
];

export const DIODE_LIMITS: readonly Figure[] = [
  { key: "vr", unit: "volt", meaning: "greatest reverse voltage" },
  { key: "if", unit: "ampere", meaning: "greatest forward current" },
  { key: "tj", unit: "celsius", meaning: "greatest junction temperature" },
];

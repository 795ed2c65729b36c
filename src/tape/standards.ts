/** Playback time constants of the standards, by tape speed, body and years. */
import type { TimeConstants } from "./equalisation.ts";

export interface TapeStandard extends TimeConstants {
  /** The name it is asked for by, such as `DIN 1962`; one name may stand at several speeds. */
  readonly name: string;
  /** Tape speed, m/s. */
  readonly speed: number;
  /** Bodies that published it, and when. */
  readonly bodies: string;
  readonly source: string;
}

const IASA = "IASA-TC 04, 5.4.10, table 1";
const HESS = "R. Hess, Cassette equalization, 2006";
const MEMORY = "from memory, not verified";

/** Microseconds of one column of the table; `Infinity` for none. */
function standard(
  centimetres: number,
  name: string,
  low: number,
  high: number,
  bodies: string,
  source = IASA,
): TapeStandard {
  return { name, speed: centimetres / 100, low: low / 1e6, high: high / 1e6, bodies, source };
}

const NONE = Number.POSITIVE_INFINITY;

/** Greatest speed first; within a speed those in force last first. */
export const STANDARDS: readonly TapeStandard[] = [
  standard(76.2, "IEC2", NONE, 17.5, "IEC2 and AES, 1981 on"),
  standard(76.2, "IEC1", NONE, 35, "CCIR 1953 to 1966, DIN 1962, IEC1 1968"),
  standard(38.1, "IEC1", NONE, 35, "CCIR 1953, DIN 1962, BS, IEC1 1968 on"),
  standard(38.1, "NAB", 3180, 50, "NAB 1953 on, EIA 1963"),
  standard(19.05, "IEC1", NONE, 70, "DIN studio 1965, CCIR 1966, IEC1 1968 on"),
  standard(19.05, "NAB", 3180, 50, "EIA 1963, NAB 1965 on, DIN home 1966, RIAA and IEC2 1968"),
  standard(19.05, "EIA 1967", NONE, 50, "proposed by EIA, home machines, 1967"),
  standard(19.05, "CCIR", NONE, 100, "CCIR to 1966, DIN to 1965, IEC to 1968, BS"),
  standard(9.53, "IEC2", 3180, 90, "NAB 1965, RIAA 1968, IEC2 1968 on"),
  standard(9.53, "DIN 1962", 3180, 120, "DIN 1962"),
  standard(9.53, "IEC 1962", 3180, 140, "IEC 1962 to 1968"),
  standard(9.53, "DIN 1955", NONE, 200, "DIN 1955 to 1961"),
  standard(9.53, "EIA 1967", NONE, 100, "proposed by EIA, home machines, 1967"),
  standard(9.53, "home 1953", 3180, 200, "one American maker, home machines, 1953 to 1958"),
  standard(4.76, "IEC 1971", 3180, 120, "reel, IEC and DIN, about 1971 on", MEMORY),
  standard(4.76, "NAB", 3180, 90, "reel, NAB 1965", MEMORY),
  standard(4.76, "DIN 1962", 1590, 120, "reel, DIN 1962 to 1968", MEMORY),
  standard(4.76, "IEC I", 3180, 120, "cassette, type I, IEC 60094-1:1981", HESS),
  standard(4.76, "IEC II", 3180, 70, "cassette, types II and IV, IEC 60094-1:1981", HESS),
  standard(4.76, "DIN 45513 ferric", 1590, 120, "cassette, ferric, to about 1974", MEMORY),
  standard(4.76, "DIN 45513 chrome", 1590, 70, "cassette, chrome, to about 1974", MEMORY),
];

/** Other names under which a row is looked for: bodies whose curve is the same. */
const ALIASES: readonly (readonly [speed: number, alias: string, name: string])[] = [
  [76.2, "AES", "IEC2"],
  [76.2, "CCIR", "IEC1"],
  [76.2, "DIN", "IEC1"],
  [38.1, "CCIR", "IEC1"],
  [38.1, "DIN", "IEC1"],
  [38.1, "BS", "IEC1"],
  [38.1, "EIA", "NAB"],
  [19.05, "DIN studio", "IEC1"],
  [19.05, "DIN 1965", "IEC1"],
  [19.05, "IEC2", "NAB"],
  [19.05, "RIAA", "NAB"],
  [19.05, "EIA 1963", "NAB"],
  [19.05, "DIN home", "NAB"],
  [19.05, "DIN 1966", "NAB"],
  [9.53, "NAB", "IEC2"],
  [9.53, "RIAA", "IEC2"],
  [9.53, "IEC 1968", "IEC2"],
  [9.53, "DIN", "DIN 1962"],
];

/** Speeds are called by rounded names (9.5 for 9.53, 19 for 19.05), up to this share off. */
const ROUNDING = 0.011;

const sameSpeed = (a: number, b: number): boolean => Math.abs(a / b - 1) < ROUNDING;

/** Letters and digits alone: `din-1962`, `DIN 1962` and `Din1962` are one name. */
const bare = (name: string): string => name.toLowerCase().replaceAll(/[^a-z0-9]/g, "");

/** The standards for a tape speed in m/s, the latest first. */
const standardsAt = (speed: number): readonly TapeStandard[] =>
  STANDARDS.filter((each) => sameSpeed(each.speed, speed));

/** Every name that a standard at this speed (m/s) goes by. */
export const namesAt = (speed: number): readonly string[] => [
  ...standardsAt(speed).map(({ name }) => name),
  ...ALIASES.filter(([centimetres]) => sameSpeed(centimetres / 100, speed)).map(([, alias]) => alias),
];

/** Tape speeds (m/s) at which a standard goes by this name, the greatest first. */
export const speedsWith = (name: string): readonly number[] => {
  const speeds = [...new Set(STANDARDS.map(({ speed }) => speed))];
  return speeds.filter((speed) => namesAt(speed).some((each) => bare(each) === bare(name)));
};

/** The standard of this name at a tape speed in m/s. Capitals, blanks and hyphens do not matter. */
export function findStandard(name: string, speed: number): TapeStandard | undefined {
  const alias = ALIASES.find(
    ([centimetres, other]) => sameSpeed(centimetres / 100, speed) && bare(other) === bare(name),
  );
  const wanted = bare(alias?.[2] ?? name);
  return standardsAt(speed).find((each) => bare(each.name) === wanted);
}

const CONSTANTS = /^(inf|∞|\d+(?:[.,]\d+)?)\s*\/\s*(\d+(?:[.,]\d+)?)(?:\s*[µu]s)?$/i;

/**
 * Time constants as people write them, bass before treble in microseconds: `3180/120`, `inf/70`, `∞/35`.
 * Undefined if it is none, or if the bass constant is not the greater.
 */
export function readTimeConstants(text: string): TimeConstants | undefined {
  const [, first, second] = CONSTANTS.exec(text.trim()) ?? [];
  if (first === undefined || second === undefined) return undefined;
  const microseconds = (digits: string) => Number(digits.replace(",", ".")) / 1e6;
  const low = /\d/.test(first) ? microseconds(first) : NONE;
  const high = microseconds(second);
  return high > 0 && low > high ? { low, high } : undefined;
}

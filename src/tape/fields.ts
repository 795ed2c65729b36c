/** Tolerance fields: within what the response of a machine has to stay. */

/** Decibels from `from` to `to` Hz, both included. */
export interface Band {
  readonly from: number;
  readonly to: number;
  readonly least: number;
  readonly greatest: number;
}

export interface ToleranceField {
  readonly name: string;
  readonly bands: readonly Band[];
  /** The field may be shifted up and down as a whole to suit the curve: the standard fixes its width only. */
  readonly floats: boolean;
  readonly source: string;
}

/** From 80 Hz to 10 kHz, which is what a good portable of the 1960s keeps at 9.53 cm/s; so many dB either way. */
export const evenField = (decibels: number): ToleranceField => ({
  name: `${decibels}dB`,
  bands: [{ from: 80, to: 10_000, least: -decibels, greatest: decibels }],
  floats: false,
  source: "common practice of portables of the 1960s, no source",
});

/** What a good portable of the 1960s keeps. */
export const PORTABLE = evenField(3);

/** Between 250 and 6300 Hz the curve must fit into 5 dB, outside into 7 dB; half of it lies either side. */
const DIN_45500: ToleranceField = {
  name: "DIN 45500",
  bands: [
    { from: 40, to: 250, least: -3.5, greatest: 3.5 },
    { from: 250, to: 6300, least: -2.5, greatest: 2.5 },
    { from: 6300, to: 12_500, least: -3.5, greatest: 3.5 },
  ],
  floats: true,
  source:
    "DIN 45 500 sheet 4, April 1975, as printed by tonbandmuseum.info and KlangBild 1977 (hifimuseum.de)",
};

export const FIELDS: readonly ToleranceField[] = [PORTABLE, DIN_45500];

/** Limits of a field at `hertz`, dB; undefined where it has none. Where two bands meet the narrower holds. */
export function limitsAt({ bands }: ToleranceField, hertz: number): Band | undefined {
  const there = bands.filter(({ from, to }) => hertz >= from && hertz <= to);
  return there.toSorted((a, b) => a.greatest - a.least - (b.greatest - b.least))[0];
}

export interface Point {
  readonly hertz: number;
  /** Deviation from flat, dB. */
  readonly decibels: number;
}

/** How a curve lies in a field. */
export interface Placed {
  /** By how much the field is shifted to suit the curve, dB; 0 where it may not be. */
  readonly shift: number;
  /** From the curve to the nearer edge at the tightest frequency, dB; below 0 it lies outside. */
  readonly margin: number;
  /** The frequency at which the margin is that. */
  readonly hertz: number;
}

/**
 * Places a field about the points that lie in its range: where it is, or, if it floats, where the least
 * margin is greatest. Undefined if no point lies in its range.
 */
export function place(field: ToleranceField, points: readonly Point[]): Placed | undefined {
  const rooms = points.flatMap(({ hertz, decibels }) => {
    const limits = limitsAt(field, hertz);
    return limits === undefined
      ? []
      : [{ hertz, above: limits.greatest - decibels, below: decibels - limits.least }];
  });
  if (rooms.length === 0) return undefined;
  const above = Math.min(...rooms.map((room) => room.above));
  const below = Math.min(...rooms.map((room) => room.below));
  const shift = field.floats ? (below - above) / 2 : 0;
  const margins = rooms.map((room) => ({
    hertz: room.hertz,
    margin: Math.min(room.above + shift, room.below - shift),
  }));
  const tightest = margins.reduce((least, each) => (each.margin < least.margin ? each : least));
  return { shift, ...tightest };
}

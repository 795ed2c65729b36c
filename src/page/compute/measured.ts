/** A response that somebody measured, from a table of frequencies and levels. */
import { type LossCurve, lossAt, readLossCurve } from "../../tape/loss-curve.ts";

export type Measured = { readonly curve: LossCurve } | { readonly message: string };

/** Reads a table with the columns `hertz` and `db`: levels, on whatever scale they were taken. */
export function readMeasured(text: string): Measured {
  const read = readLossCurve(text);
  if (!("message" in read)) return { curve: read };
  const { line, message, hint } = read;
  return {
    message: `line ${line}: ${message.replace("loss in dB", "level in dB")}${hint ? `; ${hint}` : ""}`,
  };
}

/** The points with the level at 1 kHz (or nearest to it) drawn at `level`, dB. */
export function drawnAt(curve: LossCurve, level: number): readonly { hertz: number; gain: number }[] {
  const nearest = curve.reduce((best, point) =>
    Math.abs(Math.log(point.hertz / 1000)) < Math.abs(Math.log(best.hertz / 1000)) ? point : best,
  );
  const own = lossAt(curve, 1000) ?? nearest.decibels;
  return curve.map(({ hertz, decibels }) => ({ hertz, gain: decibels - own + level }));
}

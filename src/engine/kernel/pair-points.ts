import { BYTES, PAIR } from "./pair-places.ts";

/** Points in time that have room: the two of a step, those kept of the last steps, some to spare. */
export const POINTS = 12;

/** Bytes of a point's three lists within it: all unknowns, those behind the system's too; F and q by row. */
export interface PointPlaces {
  readonly state: number;
  readonly f: number;
  readonly q: number;
  /** From one point to the next. */
  readonly stride: number;
}

/** Every list is rounded up to whole pairs. */
export function pointPlaces(size: number, known: number): PointPlaces {
  const rounded = (count: number) => Math.ceil((count * BYTES) / PAIR) * PAIR;
  const states = rounded(size + known);
  const rows = rounded(size);
  return { state: 0, f: states, q: states + rows, stride: states + 2 * rows };
}

/** A point in the memory, in doubles. */
export interface PointArrays {
  readonly index: number;
  readonly state: Float64Array;
  readonly f: Float64Array;
  readonly q: Float64Array;
}

export const pointsIn = (buffer: ArrayBuffer, from: number, size: number, known: number): PointArrays[] => {
  const { state, f, q, stride } = pointPlaces(size, known);
  return Array.from({ length: POINTS }, (_, index) => {
    const at = from + index * stride;
    return {
      index,
      state: new Float64Array(buffer, at + state, size + known),
      f: new Float64Array(buffer, at + f, size),
      q: new Float64Array(buffer, at + q, size),
    };
  });
};

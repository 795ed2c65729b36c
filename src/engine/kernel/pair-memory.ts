import { type DevicePlaces, type Taken, takenIn, takenPlaces } from "./load-places.ts";
import { CONDUCTANCE, type PairPlaces } from "./pair-places.ts";
import { type PointArrays, pointsIn } from "./pair-points.ts";

const PAGE = 65_536;

/** The arrays of `PairPlaces`, in doubles. */
export interface PairMemory {
  readonly x: Float64Array;
  readonly f: Float64Array;
  readonly q: Float64Array;
  readonly residual: Float64Array;
  readonly dx: Float64Array;
  readonly source: Float64Array;
  readonly startF: Float64Array;
  readonly startQ: Float64Array;
  readonly weight: Float64Array;
  readonly linearG: Float64Array;
  readonly linearC: Float64Array;
  readonly g: Float64Array;
  readonly c: Float64Array;
  readonly coefficients: Float64Array;
  readonly startWeight: Float64Array;
  readonly points: readonly PointArrays[];
  readonly guessWeights: Float64Array;
  readonly bendWeights: Float64Array;
  readonly gapWeights: Float64Array;
  readonly storedWeight: Float64Array;
  readonly gapWeight: Float64Array;
  /** By device, for the middle and the end, side by side. */
  readonly bends: Float64Array;
  /** By device and point. */
  readonly taken: readonly (readonly Taken[])[];
}

/** Where the arrays live: in a memory that machine code can share, if the platform has such. */
export interface Room {
  readonly memory: WebAssembly.Memory | undefined;
  readonly pages: number;
  readonly arrays: PairMemory;
}

export function roomFor(
  places: PairPlaces,
  size: number,
  known: number,
  slots: number,
  devices: readonly DevicePlaces[],
): Room {
  const pages = Math.ceil(places.end / PAGE);
  const memory = typeof WebAssembly === "undefined" ? undefined : new WebAssembly.Memory({ initial: pages });
  const buffer = memory?.buffer ?? new ArrayBuffer(places.end);
  const doubles = (from: number, count: number) => new Float64Array(buffer, from, count);
  const pairs = (from: number) => doubles(from, 2 * size);
  return {
    memory,
    pages,
    arrays: {
      x: pairs(places.x),
      f: pairs(places.f),
      q: pairs(places.q),
      residual: pairs(places.residual),
      dx: pairs(places.dx),
      source: pairs(places.source),
      startF: doubles(places.startF, size),
      startQ: doubles(places.startQ, size),
      weight: doubles(places.weight, size),
      linearG: doubles(places.linearG, slots),
      linearC: doubles(places.linearC, slots),
      g: doubles(places.g, CONDUCTANCE * slots),
      c: doubles(places.c, 2 * slots),
      coefficients: doubles(places.coefficients, 4),
      startWeight: doubles(places.startWeight, 2),
      points: pointsIn(buffer, places.points, size, known),
      guessWeights: doubles(places.guessWeights, 8),
      bendWeights: doubles(places.bendWeights, 5),
      gapWeights: doubles(places.gapWeights, 6),
      storedWeight: doubles(places.storedWeight, size),
      gapWeight: doubles(places.gapWeight, size),
      bends: doubles(places.bends, 2 * devices.length),
      taken: takenPlaces(devices, places.loads).map((points, d) =>
        points.map((point) => takenIn(buffer, devices[d], point)),
      ),
    },
  };
}

import type { Elimination } from "./elimination.ts";
import type { DevicePlaces } from "./load-places.ts";
import type { Pattern } from "./pattern.ts";

export const BYTES = 8;
/** Two doubles side by side: one number at the middle and one at the end of a step. */
export const PAIR = 2 * BYTES;
/** A block of 2 × 2, column by column. */
export const BLOCK = 2 * PAIR;
/** Doubles of a conductance: middle, 0, end, so that both columns of its block (g 0, 0 g′) can be loaded. */
export const CONDUCTANCE = 3;

/** More entries than these have no room in the memory for machine code. */
export const mostEntries = ({ row }: Pattern, mostCompiled: number): number => row.length + mostCompiled;

/** Addresses in bytes: pairs by row or unknown, values by slot, blocks by entry and by place. */
export interface PairPlaces {
  /** Unknowns, by unknown; sums of currents F and charges q, right-hand side, by row; solution, by unknown. */
  readonly x: number;
  readonly f: number;
  readonly q: number;
  readonly residual: number;
  readonly dx: number;
  /** Sources by row, as pairs; F and q at the step's start by row, single. */
  readonly source: number;
  readonly startF: number;
  readonly startQ: number;
  /** Weight of each unknown's change, single. */
  readonly weight: number;
  /** Linear conductances and capacitances by slot, single. */
  readonly linearG: number;
  readonly linearC: number;
  /** All conductances, three doubles a slot, and capacitances, pairs. */
  readonly g: number;
  readonly c: number;
  /** The formula's coefficients: columns of the block that c is multiplied by, 1/s; how F at the start counts. */
  readonly coefficients: number;
  readonly startWeight: number;
  readonly y: number;
  readonly inverse: number;
  readonly lu: number;
  readonly loads: number;
  /** By device and point, how far off its tangents it is, weighed; single. */
  readonly bends: number;
  /** Points in time; how the next ones are guessed by them, as pairs; how F and the unknowns bend over five. */
  readonly points: number;
  readonly guessWeights: number;
  readonly bendWeights: number;
  readonly gapWeights: number;
  /** Weight of each unknown's error at the end of a step, and between points, single. */
  readonly storedWeight: number;
  readonly gapWeight: number;
  readonly end: number;
}

/** Room for a system of this pattern with so many entries of L and U. */
export function pairPlaces(
  { size, row }: Pattern,
  entries: number,
  devices: number,
  loadBytes: number,
  pointBytes: number,
): PairPlaces {
  let next = 0;
  const room = (bytes: number) => {
    const at = next;
    next += Math.ceil(bytes / PAIR) * PAIR;
    return at;
  };
  const [pairs, singles, slots] = [size * PAIR, size * BYTES, row.length];
  const places = {
    x: room(pairs),
    f: room(pairs),
    q: room(pairs),
    residual: room(pairs),
    dx: room(pairs),
    source: room(pairs),
    startF: room(singles),
    startQ: room(singles),
    weight: room(singles),
    linearG: room(slots * BYTES),
    linearC: room(slots * BYTES),
    g: room(slots * CONDUCTANCE * BYTES),
    c: room(slots * PAIR),
    coefficients: room(2 * PAIR),
    startWeight: room(PAIR),
    y: room(pairs),
    inverse: room(size * BLOCK),
    lu: room(entries * BLOCK),
    loads: room(loadBytes),
    bends: room(2 * devices * BYTES),
    points: room(pointBytes),
    guessWeights: room(4 * PAIR),
    bendWeights: room(5 * BYTES),
    gapWeights: room(6 * BYTES),
    storedWeight: room(singles),
    gapWeight: room(singles),
  };
  return { ...places, end: next };
}

/** Which slots change, and which hold a charge's derivative; which rows have a charge; what is not linear. */
export interface PairKinds {
  /** 1 for slots whose conductance is another at the middle than at the end. */
  readonly bends: Uint8Array;
  /** 1 for slots with a capacitance. */
  readonly reactive: Uint8Array;
  readonly hasCharge: Uint8Array;
  /** What is not linear. */
  readonly devices: readonly DevicePlaces[];
}

/** Slot that each entry of an elimination is loaded from, −1 for what is filled in. */
export function slotsOfEntries({ column, entryOfSlot }: Elimination): Int32Array {
  const slots = new Int32Array(column.length).fill(-1);
  for (let s = 0; s < entryOfSlot.length; s++) slots[entryOfSlot[s]] = s;
  return slots;
}

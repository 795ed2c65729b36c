import { blockFactorCode, blockSolveCode } from "./block-code.ts";
import { costOf, type Elimination, record } from "./elimination.ts";
import { loadCode, movedCode } from "./load-code.ts";
import { takenPlaces } from "./load-places.ts";
import { assemble } from "./machine-code.ts";
import { order } from "./order.ts";
import { correctCode, linearCode, residualCode } from "./pair-code.ts";
import { type PairWork, pairLoops } from "./pair-loops.ts";
import { type PairMemory, type Room, roomFor } from "./pair-memory.ts";
import { CONDUCTANCE, mostEntries, type PairKinds, type PairPlaces, pairPlaces } from "./pair-places.ts";
import type { Pattern } from "./pattern.ts";

/** Beyond so many multiply-adds straight-line code grows larger than it is worth. */
const MOST_COMPILED = 5_000;
/** Making machine code takes as long as so many factorisations by the loops. */
const FACTORS_BEFORE_COMPILING = 200;
/** Orders for which code is made; values that keep asking for new ones are left to the loops. */
const MOST_CODES = 8;

export type PairCompiling = "when it pays" | "at once" | "never";

/**
 * A sparse system of charges and currents at two points in time side by side, the middle and the end of a
 * step: its linear part, its residual, and elimination of the matrix of 2 × 2 blocks that Newton's iteration
 * needs. All lies in one memory; after some use straight-line machine code works on it, before that, and
 * where no code may be made, loops do. The order is kept as long as it is numerically bearable: Newton's
 * iteration puts right what a middling pivot spoils, a new order costs as much as hundreds of steps.
 */
export class PairSystem {
  readonly pattern: Pattern;
  readonly kinds: PairKinds;
  /** Times the matrix was put in a new order, for statistics. */
  orderings = 0;
  readonly #places: PairPlaces;
  readonly #room: Room;
  readonly #varying: Uint8Array;
  readonly #columnScale: Float64Array;
  readonly #compiling: PairCompiling;
  #work: PairWork;
  #elimination: Elimination | undefined;
  #factorsLeft = 0;
  #codes = 0;

  constructor(
    pattern: Pattern,
    kinds: PairKinds,
    columnScale: Float64Array,
    compiling: PairCompiling = "when it pays",
  ) {
    this.pattern = pattern;
    this.kinds = kinds;
    this.#columnScale = columnScale;
    this.#compiling = compiling;
    this.#varying = kinds.bends.map((bends, s) => bends | kinds.reactive[s]);
    const { devices } = kinds;
    const loadBytes = takenPlaces(devices, 0).at(-1)?.[1].end ?? 0;
    this.#places = pairPlaces(pattern, mostEntries(pattern, MOST_COMPILED), loadBytes);
    this.#room = roomFor(this.#places, pattern.size, pattern.row.length, devices);
    this.#work = pairLoops(pattern, kinds, this.memory);
  }

  get memory(): PairMemory {
    return this.#room.arrays;
  }

  get compiled(): boolean {
    return this.#codes > 0 && this.#factorsLeft === Number.POSITIVE_INFINITY;
  }

  /** Puts the matrix as it stands in an order. Returns false if nothing determines some unknown. */
  #reorder(): boolean {
    this.orderings++;
    const { g, c, coefficients } = this.memory;
    const perSecond = coefficients[3];
    const values = Float64Array.from(
      this.pattern.row,
      (_, s) => g[CONDUCTANCE * s + 2] + perSecond * c[2 * s + 1],
    );
    const varying = this.#varying;
    const ordering = order(this.pattern, { real: values, columnScale: this.#columnScale, varying });
    if ("singularColumns" in ordering) return false;
    const elimination = record(this.pattern, ordering, varying);
    this.#elimination = elimination;
    this.#work = pairLoops(this.pattern, this.kinds, this.memory, elimination);
    const { factor, fixedFactor } = costOf(elimination);
    const worth = this.#compiling !== "never" && factor + fixedFactor <= MOST_COMPILED;
    this.#factorsLeft =
      worth && this.#codes < MOST_CODES ? FACTORS_BEFORE_COMPILING : Number.POSITIVE_INFINITY;
    if (this.#compiling === "at once") this.#factorsLeft = 0;
    return true;
  }

  /** Gives up the order: the next factorisation finds one that suits its values. */
  startOver(): void {
    this.#work = pairLoops(this.pattern, this.kinds, this.memory);
    this.#factorsLeft = Number.POSITIVE_INFINITY;
  }

  /** Factors the matrix, in a new order if need be. Returns false if nothing determines some unknown. */
  factor(): boolean {
    if (--this.#factorsLeft < 0) this.#compile();
    if (this.#work.factor()) return true;
    if (!this.#reorder()) return false;
    if (this.#factorsLeft === 0) this.#compile();
    return this.#work.factor();
  }

  /** What is computed at both points; another after `factor` has found a new order or code. */
  get work(): PairWork {
    return this.#work;
  }

  #compile(): void {
    this.#factorsLeft = Number.POSITIVE_INFINITY;
    const elimination = this.#elimination;
    const { memory, pages } = this.#room;
    if (elimination === undefined || memory === undefined) return;
    const machine = compile(this.pattern, this.kinds, elimination, this.#places, memory, pages);
    if (machine === undefined) return;
    this.#codes++;
    this.#work = machine;
  }
}

function compile(
  pattern: Pattern,
  kinds: PairKinds,
  elimination: Elimination,
  places: PairPlaces,
  memory: WebAssembly.Memory,
  pages: number,
): PairWork | undefined {
  const taken = takenPlaces(kinds.devices, places.loads);
  const functions = [
    linearCode(pattern, places, kinds),
    residualCode(pattern, places, kinds),
    blockFactorCode(elimination, places, kinds),
    blockSolveCode(elimination, places),
    correctCode(pattern, places),
    movedCode(kinds.devices, taken, places),
    loadCode(kinds.devices, taken, places),
  ];
  try {
    const module = new WebAssembly.Module(assemble(functions, pages));
    const { exports } = new WebAssembly.Instance(module, { host: { memory } });
    const sound = exports.factor as () => number;
    const { linear, residual, solve, correct, moved, load } = exports as unknown as PairWork;
    return { linear, residual, solve, correct, moved, load, factor: () => sound() === 1 };
  } catch {
    return undefined;
  }
}

import { blockFactorCode, blockSolveCode } from "./block-code.ts";
import { costOf, type Elimination, record } from "./elimination.ts";
import { loadCode, movedCode, slopesCode } from "./load-code.ts";
import { takenPlaces } from "./load-places.ts";
import { assemble } from "./machine-code.ts";
import { order } from "./order.ts";
import { correctCode, linearCode, residualCode } from "./pair-code.ts";
import { type PairWork, pairLoops } from "./pair-loops.ts";
import { type PairMemory, type Room, roomFor } from "./pair-memory.ts";
import { CONDUCTANCE, mostEntries, type PairKinds, type PairPlaces, pairPlaces } from "./pair-places.ts";
import { POINTS, pointPlaces } from "./pair-points.ts";
import { pointsCode } from "./pair-points-code.ts";
import type { Pattern } from "./pattern.ts";

/** Beyond so many multiply-adds straight-line code grows larger than it is worth. */
const MOST_COMPILED = 5_000;
/** Making machine code takes as long as so many factorisations by the loops. */
const FACTORS_BEFORE_COMPILING = 200;
/** Multiply-adds for which code is made in all; values that keep asking for new orders are left to the loops. */
const MOST_CODED = 40_000;
/** Where a guess has led a junction beyond this, S, no order helps: there is no such circuit. */
const LARGEST_CONDUCTANCE = 1e12;
/** Orders kept for values that come back to them: a transistor that conducts and does not in turn. */
const MOST_KEPT = 4;

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
  readonly #known: number;
  readonly #varying: Uint8Array;
  readonly #columnScale: Float64Array;
  readonly #compiling: PairCompiling;
  /** Orders there have been, the one in use first. */
  #orders: readonly Order[] = [];
  /** What works without any order. */
  readonly #plain: PairWork;
  #coded = 0;

  /** A point's state has `known` unknowns behind the system's own. */
  constructor(
    pattern: Pattern,
    kinds: PairKinds,
    columnScale: Float64Array,
    compiling: PairCompiling = "when it pays",
    known = 0,
  ) {
    this.pattern = pattern;
    this.kinds = kinds;
    this.#columnScale = columnScale;
    this.#compiling = compiling;
    this.#varying = kinds.bends.map((bends, s) => bends | kinds.reactive[s]);
    const { devices } = kinds;
    const loadBytes = takenPlaces(devices, 0).at(-1)?.[1].end ?? 0;
    const pointBytes = POINTS * pointPlaces(pattern.size, known).stride;
    this.#known = known;
    this.#places = pairPlaces(
      pattern,
      mostEntries(pattern, MOST_COMPILED),
      devices.length,
      loadBytes,
      pointBytes,
    );
    this.#room = roomFor(this.#places, pattern.size, known, pattern.row.length, devices);
    this.#plain = pairLoops(pattern, kinds, this.memory);
  }

  get memory(): PairMemory {
    return this.#room.arrays;
  }

  get compiled(): boolean {
    return this.#orders[0]?.compiled === true;
  }

  /** What is computed at both points; another after `factor` has found a new order or code. */
  get work(): PairWork {
    return this.#orders[0]?.work ?? this.#plain;
  }

  /** Gives up the order: the next factorisation finds one that suits its values. */
  startOver(): void {
    this.#orders = [];
  }

  /** Factors the matrix, in another order if need be. Returns false if nothing determines some unknown, or a guess is absurd. */
  factor(): boolean {
    return (
      this.#orders.some((order) => this.#suits(order)) || (this.#reorder() && this.#suits(this.#orders[0]!))
    );
  }

  /** Factors in one order; if it suits, it is the one in use. */
  #suits(order: Order): boolean {
    if (--order.factorsLeft < 0) this.#compile(order);
    if (!order.work.factor()) return false;
    if (order !== this.#orders[0]) this.#orders = [order, ...this.#orders.filter((other) => other !== order)];
    return true;
  }

  #reorder(): boolean {
    const { g, c, coefficients } = this.memory;
    for (let k = 0; k < g.length; k++) if (!(Math.abs(g[k]) < LARGEST_CONDUCTANCE)) return false;
    this.orderings++;
    const perSecond = coefficients[3];
    const values = Float64Array.from(
      this.pattern.row,
      (_, s) => g[CONDUCTANCE * s + 2] + perSecond * c[2 * s + 1],
    );
    const varying = this.#varying;
    const ordering = order(this.pattern, { real: values, columnScale: this.#columnScale, varying });
    if ("singularColumns" in ordering) return false;
    const elimination = record(this.pattern, ordering, varying);
    const work = pairLoops(this.pattern, this.kinds, this.memory, elimination);
    const fresh = { elimination, work, compiled: false, factorsLeft: this.#patience(elimination) };
    this.#orders = [fresh, ...this.#orders].slice(0, MOST_KEPT);
    return true;
  }

  /** Factorisations by loops before code is made for an elimination. */
  #patience(elimination: Elimination): number {
    const cost = multiplyAdds(elimination);
    const worth = cost <= MOST_COMPILED && this.#coded + cost <= MOST_CODED;
    if (!worth || this.#compiling === "never") return Number.POSITIVE_INFINITY;
    return this.#compiling === "at once" ? 0 : FACTORS_BEFORE_COMPILING;
  }

  #compile(order: Order): void {
    order.factorsLeft = Number.POSITIVE_INFINITY;
    const { memory, pages } = this.#room;
    if (memory === undefined) return;
    const machine = this.#machine(order.elimination, memory, pages);
    if (machine === undefined) return;
    this.#coded += multiplyAdds(order.elimination);
    order.work = machine;
    order.compiled = true;
  }

  /** Machine code for one order, if the platform makes any. */
  #machine(elimination: Elimination, memory: WebAssembly.Memory, pages: number): PairWork | undefined {
    const { pattern, kinds } = this;
    const places = this.#places;
    const taken = takenPlaces(kinds.devices, places.loads);
    const functions = [
      linearCode(pattern, places, kinds),
      residualCode(pattern, places, kinds),
      ...blockFactorCode(elimination, places, kinds),
      blockSolveCode(elimination, places),
      correctCode(pattern, places),
      movedCode(kinds.devices, taken, places),
      loadCode(kinds.devices, taken, places),
      slopesCode(kinds.devices, taken, places),
      ...pointsCode(places, kinds, this.#known),
    ];
    try {
      const module = new WebAssembly.Module(assemble(functions, pages));
      const { exports } = new WebAssembly.Instance(module, { host: { memory } });
      return { ...(exports as unknown as PairWork), factor: allSound(exports) };
    } catch {
      return undefined;
    }
  }
}

/** Calls the parts of the factorisation one after the other; returns whether every pivot was large enough. */
function allSound(exports: WebAssembly.Instance["exports"]): () => boolean {
  const parts: (() => number)[] = [];
  for (let n = 0; ; n++) {
    const part = exports[`factor${n}`];
    if (part === undefined) break;
    parts.push(part as () => number);
  }
  return () => {
    let sound = true;
    for (let n = 0; n < parts.length; n++) if (parts[n]() !== 1) sound = false;
    return sound;
  };
}

function multiplyAdds(elimination: Elimination): number {
  const { factor, fixedFactor } = costOf(elimination);
  return factor + fixedFactor;
}

/** An order of elimination, what works in it, and how often it may be used before code is made. */
interface Order {
  readonly elimination: Elimination;
  work: PairWork;
  compiled: boolean;
  factorsLeft: number;
}

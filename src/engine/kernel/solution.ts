import { type ComplexReplay, LANES, STRIDE } from "./complex-replay.ts";
import type { Elimination } from "./elimination.ts";
import type { FixedStage } from "./fixed-stage.ts";
import { type Part, partOf, wholeOf } from "./part.ts";

/** After so many whole solutions, code that leaves out what nobody asked for pays. */
const WHOLES_BEFORE_PART = 24;
/** A part that costs more than this share of the whole is not worth code of its own. */
const WORTH = 0.7;

/**
 * Right-hand side and solution of a replay. As most sweeps drive one place and ask for one other, what has
 * been driven and asked for is remembered: after a while only that is worked out, and the rest when somebody
 * does ask for it.
 */
export class Solution {
  readonly #elimination: Elimination;
  readonly #stage: FixedStage;
  readonly #placeOf: Int32Array;
  /** Right-hand side after the fixed stage. */
  readonly #forward: Float64Array;
  readonly #forwardIm: Float64Array;
  /** Solution of the fixed rows, worked out only when one of them is asked for; by lane. */
  readonly #fixedRe: Float64Array;
  readonly #fixedIm: Float64Array;
  readonly #fixedKnown = new Uint8Array(LANES);
  /** By place: whether the right-hand side was ever other than 0, whether the unknown was ever asked for. */
  readonly #inputs: Uint8Array;
  readonly #asked: Uint8Array;
  #replay: ComplexReplay;
  #part: { readonly part: Part; readonly solve: () => void } | undefined;
  /** Whether the right-hand side is within the part's inputs, and whether all of the solution is known. */
  #fits = false;
  #whole = true;
  #wholesLeft = WHOLES_BEFORE_PART;

  constructor(elimination: Elimination, stage: FixedStage, replay: ComplexReplay) {
    const { size, pivotColumn } = elimination;
    this.#elimination = elimination;
    this.#stage = stage;
    this.#replay = replay;
    this.#placeOf = new Int32Array(size);
    for (let i = 0; i < size; i++) this.#placeOf[pivotColumn[i]] = i;
    this.#forward = new Float64Array(size);
    this.#forwardIm = new Float64Array(size);
    this.#fixedRe = new Float64Array(LANES * size);
    this.#fixedIm = new Float64Array(LANES * size);
    this.#inputs = new Uint8Array(size);
    this.#asked = new Uint8Array(size);
  }

  /** Goes over to another replay of the same elimination. */
  moveTo(replay: ComplexReplay): void {
    replay.b.set(this.#replay.b);
    replay.x.set(this.#replay.x);
    this.#replay = replay;
  }

  /** Multiply-adds of a solution as it is worked out now. */
  get cost(): number {
    return (this.#part?.part ?? wholeOf(this.#elimination)).cost;
  }

  /** Takes a right-hand side by row. */
  drive(b: Float64Array, bIm?: Float64Array): void {
    const { size, fixed } = this.#elimination;
    const [re, im] = [this.#forward, this.#forwardIm];
    const lanes = this.#replay.b;
    const inputs = this.#inputs;
    this.#stage.forward(b, re);
    if (bIm === undefined) im.fill(0);
    else this.#stage.forward(bIm, im);
    this.#fits = true;
    for (let i = fixed; i < size; i++) {
      const at = STRIDE * i;
      lanes[at] = re[i];
      lanes[at + 1] = re[i];
      lanes[at + LANES] = im[i];
      lanes[at + LANES + 1] = im[i];
      if (re[i] === 0 && im[i] === 0) continue;
      inputs[i] = 1;
      if (this.#part?.part.inputs[i] === 0) this.#fits = false;
    }
  }

  /** Solves for the right-hand side driven, at the ω last factored for. */
  solve(): void {
    this.#fixedKnown.fill(0);
    if (this.#part === undefined || !this.#fits) this.#solveWhole();
    else {
      this.#part.solve();
      this.#whole = false;
    }
  }

  #solveWhole(): void {
    this.#fixedKnown.fill(0);
    this.#replay.solve();
    this.#whole = true;
    if (this.#replay.solverOf !== undefined && --this.#wholesLeft === 0) this.#prune();
  }

  /** Makes code for what has been driven and asked for up to now. */
  #prune(): void {
    const part = partOf(this.#elimination, this.#inputs.slice(), this.#asked);
    const worth = part.cost < WORTH * wholeOf(this.#elimination).cost;
    const solve = worth ? this.#replay.solverOf?.(part) : undefined;
    this.#part = solve && { part, solve };
    this.#fits = true;
    this.#wholesLeft = worth ? WHOLES_BEFORE_PART : Number.POSITIVE_INFINITY;
  }

  /** Real part of an unknown of the solution: for the first ω, or the second (lane 1). */
  re(unknown: number, lane: number): number {
    const place = this.#known(unknown);
    if (place >= this.#elimination.fixed) return this.#replay.x[STRIDE * place + lane];
    this.#finishFixed(lane);
    return this.#fixedRe[lane * this.#elimination.size + place];
  }

  /** Imaginary part of an unknown of the solution. */
  im(unknown: number, lane: number): number {
    const place = this.#known(unknown);
    if (place >= this.#elimination.fixed) return this.#replay.x[STRIDE * place + LANES + lane];
    this.#finishFixed(lane);
    return this.#fixedIm[lane * this.#elimination.size + place];
  }

  /** Place of an unknown whose value is asked for; what of the solution it needs has been worked out. */
  #known(unknown: number): number {
    const place = this.#placeOf[unknown];
    if (this.#whole) this.#asked[place] = 1;
    else if (this.#part?.part.needed[place] === 0) {
      this.#asked[place] = 1;
      this.#solveWhole();
    }
    return place;
  }

  #finishFixed(lane: number): void {
    if (this.#fixedKnown[lane] === 1) return;
    const { size, fixed } = this.#elimination;
    const re = this.#fixedRe.subarray(lane * size, (lane + 1) * size);
    const im = this.#fixedIm.subarray(lane * size, (lane + 1) * size);
    const { x } = this.#replay;
    for (let i = fixed; i < size; i++) {
      re[i] = x[STRIDE * i + lane];
      im[i] = x[STRIDE * i + LANES + lane];
    }
    re.set(this.#forward.subarray(0, fixed));
    im.set(this.#forwardIm.subarray(0, fixed));
    this.#stage.backward(re);
    this.#stage.backward(im);
    this.#fixedKnown[lane] = 1;
  }
}

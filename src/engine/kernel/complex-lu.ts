import { type CompiledReplay, compileReplay } from "./compiled.ts";
import { type ComplexReplay, interpretReplay } from "./complex-replay.ts";
import type { Elimination } from "./elimination.ts";
import { FixedStage } from "./fixed-stage.ts";

/** Beyond so many multiply-adds straight-line code grows larger than it is worth. */
const MOST_COMPILED = 20_000;

/**
 * Replay of a recorded elimination on G + jω·C: G real and loaded once with `fix`, ω changing from
 * `factor` to `factor`. Between two calls of `fix` only the rows that C touches are worked on, by
 * straight-line machine code where the platform lets us make some, else by loops over the index lists.
 */
export class ComplexLu {
  readonly elimination: Elimination;
  readonly #stage: FixedStage;
  readonly #replay: ComplexReplay;
  readonly #y: Float64Array;
  readonly #yIm: Float64Array;

  constructor(elimination: Elimination, compiled = true) {
    this.elimination = elimination;
    this.#stage = new FixedStage(elimination);
    const small = elimination.target.length <= MOST_COMPILED;
    const machine: CompiledReplay | undefined = compiled && small ? compileReplay(elimination) : undefined;
    this.#replay = machine ?? interpretReplay(elimination);
    this.#y = new Float64Array(elimination.size);
    this.#yIm = new Float64Array(elimination.size);
  }

  /** Whether the varying stage runs as machine code. */
  get compiled(): boolean {
    return this.#replay.compiled;
  }

  /** Loads G by slot, and C by slot for the slots that have one. Returns false if the order does not suit G. */
  fix(g: Float64Array, c: Float64Array): boolean {
    const sound = this.#stage.load(g);
    const { entryOfSlot } = this.elimination;
    const { g: base, c: reactive } = this.#replay;
    base.set(this.#stage.entries);
    reactive.fill(0);
    for (let s = 0; s < entryOfSlot.length; s++) reactive[entryOfSlot[s]] += c[s];
    return sound;
  }

  /** Factors G + jω·C. Returns false if a pivot turned out too small: ω needs an order of its own. */
  factor(omega: number): boolean {
    return this.#replay.factor(omega);
  }

  /** x ← A⁻¹·b with a real right-hand side by row; `re` and `im` by unknown. */
  solve(b: Float64Array, re: Float64Array, im: Float64Array): void {
    const { size, fixed, pivotColumn } = this.elimination;
    const [y, yIm] = [this.#y, this.#yIm];
    this.#stage.forward(b, y);
    const { x } = this.#replay;
    for (let i = fixed; i < size; i++) {
      x[2 * i] = y[i];
      x[2 * i + 1] = 0;
    }
    this.#replay.solve();
    for (let i = fixed; i < size; i++) {
      y[i] = x[2 * i];
      yIm[i] = x[2 * i + 1];
    }
    yIm.fill(0, 0, fixed);
    this.#stage.backward(y);
    this.#stage.backward(yIm);
    for (let i = 0; i < size; i++) {
      re[pivotColumn[i]] = y[i];
      im[pivotColumn[i]] = yIm[i];
    }
  }
}

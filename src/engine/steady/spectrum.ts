import { type Fourier, harmonicOf, isSine } from "./fourier.ts";

/** Fourier coefficients of several periodic quantities at once, from their samples. */
export class Spectrum {
  readonly #fourier: Fourier;
  readonly #width: number;
  /** (2/samples)·Σ value·cos mθ and the same with sines, by m and quantity. */
  readonly #cosine: Float64Array;
  readonly #sine: Float64Array;

  constructor(fourier: Fourier, width: number) {
    this.#fourier = fourier;
    this.#width = width;
    this.#cosine = new Float64Array(fourier.cosine.length * width);
    this.#sine = new Float64Array(fourier.sine.length * width);
  }

  clear(): void {
    this.#cosine.fill(0);
    this.#sine.fill(0);
  }

  /** Takes the quantities at the sample j. */
  add(values: Float64Array, j: number): void {
    const { cosine, sine, samples } = this.#fourier;
    const width = this.#width;
    for (let m = 0; m < cosine.length; m++) {
      const c = (2 / samples) * cosine[m]![j]!;
      const s = (2 / samples) * sine[m]![j]!;
      for (let k = 0, at = m * width; k < width; k++, at++) {
        const value = values[k]!;
        if (value === 0) continue;
        this.#cosine[at]! += c * value;
        this.#sine[at]! += s * value;
      }
    }
  }

  /** A quantity's coefficient of a block's function. */
  coefficient(block: number, k: number): number {
    const at = harmonicOf(block) * this.#width + k;
    if (block === 0) return this.#cosine[at]! / 2;
    return isSine(block) ? this.#sine[at]! : this.#cosine[at]!;
  }

  /** Coefficient of the function of block `row` in a quantity times the function of block `column`. */
  product(row: number, column: number, k: number): number {
    const [a, b] = [harmonicOf(row), harmonicOf(column)];
    const far = (a + b) * this.#width + k;
    const near = Math.abs(a - b) * this.#width + k;
    const whole = this.#ofProduct(isSine(row), isSine(column), far, near, Math.sign(a - b));
    return row === 0 ? whole / 2 : whole;
  }

  /** By cos a·cos b = ½(cos(a − b) + cos(a + b)) and its like. */
  #ofProduct(sineA: boolean, sineB: boolean, far: number, near: number, sign: number): number {
    const [c, s] = [this.#cosine, this.#sine];
    if (sineA && sineB) return (c[near]! - c[far]!) / 2;
    if (sineA) return (s[far]! + sign * s[near]!) / 2;
    if (sineB) return (s[far]! - sign * s[near]!) / 2;
    return (c[near]! + c[far]!) / 2;
  }

  /** How much the quantity varies over the period: its greatest coefficient over its mean. */
  variation(k: number): number {
    let most = 0;
    for (let m = 1; m <= this.#fourier.harmonics; m++) {
      const at = m * this.#width + k;
      most = Math.max(most, Math.hypot(this.#cosine[at]!, this.#sine[at]!));
    }
    return most === 0 ? 0 : most / Math.max(Math.abs(this.#cosine[k]! / 2), Number.MIN_VALUE);
  }
}

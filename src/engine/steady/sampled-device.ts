import type { PlacedDevice } from "../devices.ts";
import { type Fourier, harmonicOf, isSine } from "./fourier.ts";
import { Spectrum } from "./spectrum.ts";

/**
 * A device over one period. At every sample it is linearised somewhere, and goes on from there as its tangents:
 * where a step asks for much more voltage on a junction, at the voltage that has the current which the step
 * asks for (see `temperedJunction`), else where the step leads.
 */
export class SampledDevice {
  readonly placed: PlacedDevice;
  readonly current: Spectrum;
  readonly charge: Spectrum;
  readonly slope: Spectrum;
  readonly chargeSlope: Spectrum;
  readonly #fourier: Fourier;
  /** By sample: local unknowns linearised at, and what came of it there. */
  readonly #at: readonly Float64Array[];
  readonly #loads: readonly {
    readonly current: Float64Array;
    readonly slope: Float64Array;
    readonly charge: Float64Array;
    readonly chargeSlope: Float64Array;
  }[];
  readonly #effective: Float64Array;
  readonly #before: Float64Array;
  readonly #after: Float64Array;

  /** `still`: local unknowns at the operating point. */
  constructor(placed: PlacedDevice, fourier: Fourier, still: Float64Array) {
    const { size, junctions } = placed.device;
    this.placed = placed;
    this.#fourier = fourier;
    this.current = new Spectrum(fourier, size);
    this.charge = new Spectrum(fourier, size);
    this.slope = new Spectrum(fourier, size * size);
    this.chargeSlope = new Spectrum(fourier, size * size);
    const list = <T>(make: () => T) => Array.from({ length: fourier.samples }, make);
    this.#at = list(() => still.slice());
    this.#loads = list(() => ({
      current: new Float64Array(size),
      slope: new Float64Array(size * size),
      charge: new Float64Array(size),
      chargeSlope: new Float64Array(size * size),
    }));
    this.#effective = new Float64Array(size);
    this.#before = new Float64Array(junctions);
    this.#after = new Float64Array(junctions);
  }

  /** Linearises at new places and takes their tangents; returns whether every sample went where it was asked to. */
  linearise(coefficients: readonly Float64Array[]): boolean {
    for (const spectrum of [this.slope, this.chargeSlope]) spectrum.clear();
    const { x } = this.placed;
    let whole = true;
    for (let j = 0; j < this.#fourier.samples; j++) {
      this.#sample(coefficients, j);
      if (!this.#approach(this.#at[j]!, x)) whole = false;
      this.#take(j);
    }
    return whole;
  }

  /** Moves `at` towards `wanted`, as far as its junctions allow. */
  #approach(at: Float64Array, wanted: Float64Array): boolean {
    const { device, load } = this.placed;
    const [before, after] = [this.#before, this.#after];
    device.remember(at, before);
    after.set(before);
    const whole = device.evaluate(wanted, load, after);
    let share = 1;
    if (!whole) {
      const tempered = after.slice();
      device.remember(wanted, after);
      for (let k = 0; k < after.length; k++) {
        const asked = after[k]! - before[k]!;
        if (asked !== 0) share = Math.min(share, Math.abs((tempered[k]! - before[k]!) / asked));
      }
    }
    for (let k = 0; k < at.length; k++) at[k]! += share * (wanted[k]! - at[k]!);
    return whole;
  }

  #take(j: number): void {
    const { device, load } = this.placed;
    const kept = this.#loads[j]!;
    device.charges(this.#at[j]!, load);
    kept.charge.set(load.current);
    kept.chargeSlope.set(load.slope);
    this.chargeSlope.add(load.slope, j);
    device.evaluate(this.#at[j]!, load);
    kept.current.set(load.current);
    kept.slope.set(load.slope);
    this.slope.add(load.slope, j);
  }

  /** Currents and charges by the tangents. */
  carry(coefficients: readonly Float64Array[]): void {
    for (const spectrum of [this.current, this.charge]) spectrum.clear();
    const { x } = this.placed;
    for (let j = 0; j < this.#fourier.samples; j++) {
      this.#sample(coefficients, j);
      const { current, slope, charge, chargeSlope } = this.#loads[j]!;
      const at = this.#at[j]!;
      this.current.add(this.#carried(current, slope, x, at), j);
      this.charge.add(this.#carried(charge, chargeSlope, x, at), j);
    }
  }

  /** Currents and charges as they are. */
  evaluate(coefficients: readonly Float64Array[]): void {
    for (const spectrum of [this.current, this.charge]) spectrum.clear();
    const { device, x, load } = this.placed;
    for (let j = 0; j < this.#fourier.samples; j++) {
      this.#sample(coefficients, j);
      device.charges(x, load);
      this.charge.add(load.current, j);
      device.evaluate(x, load);
      this.current.add(load.current, j);
    }
  }

  #carried(value: Float64Array, slope: Float64Array, x: Float64Array, at: Float64Array): Float64Array {
    const size = x.length;
    for (let row = 0; row < size; row++) {
      let sum = value[row]!;
      for (let k = 0; k < size; k++) sum += slope[row * size + k]! * (x[k]! - at[k]!);
      this.#effective[row] = sum;
    }
    return this.#effective;
  }

  /** Local unknowns at a sample, to `placed.x`, from their coefficients by block. */
  #sample(coefficients: readonly Float64Array[], j: number): void {
    const { cosine, sine } = this.#fourier;
    const { x } = this.placed;
    for (let local = 0; local < x.length; local++) {
      const list = coefficients[local]!;
      let sum = list[0]!;
      for (let block = 1; block < list.length; block++) {
        const wave = isSine(block) ? sine : cosine;
        sum += list[block]! * wave[harmonicOf(block)]![j]!;
      }
      x[local] = sum;
    }
  }
}

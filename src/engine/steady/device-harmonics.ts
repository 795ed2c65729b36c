import type { PlacedDevice } from "../devices.ts";
import { type Fourier, harmonicOf, isSine } from "./fourier.ts";
import { Spectrum } from "./spectrum.ts";

/** Fourier coefficients of one device's currents and charges, and of their slopes. */
export class DeviceHarmonics {
  readonly placed: PlacedDevice;
  readonly #fourier: Fourier;
  /** By local row; slopes by local square. */
  readonly current: Spectrum;
  readonly charge: Spectrum;
  readonly slope: Spectrum;
  readonly chargeSlope: Spectrum;

  constructor(placed: PlacedDevice, fourier: Fourier) {
    this.placed = placed;
    this.#fourier = fourier;
    const { size } = placed.device;
    this.current = new Spectrum(fourier, size);
    this.charge = new Spectrum(fourier, size);
    this.slope = new Spectrum(fourier, size * size);
    this.chargeSlope = new Spectrum(fourier, size * size);
  }

  /** Samples one period; `at(local, block)` is a coefficient of a local unknown. Slopes are dear: only if asked for. */
  evaluate(at: (local: number, block: number) => number, slopes: boolean): void {
    for (const spectrum of [this.current, this.charge]) spectrum.clear();
    if (slopes) for (const spectrum of [this.slope, this.chargeSlope]) spectrum.clear();
    const { samples, blocks } = this.#fourier;
    const { device, x, load } = this.placed;
    const coefficients = Array.from({ length: device.size }, (_, local) =>
      Float64Array.from({ length: blocks }, (_, block) => at(local, block)),
    );
    for (let j = 0; j < samples; j++) {
      for (let local = 0; local < device.size; local++) x[local] = this.#value(coefficients[local]!, j);
      device.charges(x, load);
      this.charge.add(load.current, j);
      if (slopes) this.chargeSlope.add(load.slope, j);
      device.evaluate(x, load);
      this.current.add(load.current, j);
      if (slopes) this.slope.add(load.slope, j);
    }
  }

  #value(coefficients: Float64Array, j: number): number {
    const { cosine, sine } = this.#fourier;
    let sum = 0;
    for (let block = 0; block < coefficients.length; block++) {
      const wave = isSine(block) ? sine : cosine;
      sum += coefficients[block]! * wave[harmonicOf(block)]![j]!;
    }
    return sum;
  }

  /** The greatest variation of a slope over the period, relative to its mean. */
  get variation(): number {
    const entries = [...this.placed.device.pattern.keys()];
    return Math.max(...entries.map((entry) => this.slope.variation(entry)), 0);
  }
}

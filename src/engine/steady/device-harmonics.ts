import type { PlacedDevice } from "../devices.ts";
import type { Fourier } from "./fourier.ts";

/** Fourier coefficients of one device's currents and charges, and their derivatives by those of its unknowns. */
export class DeviceHarmonics {
  readonly placed: PlacedDevice;
  readonly #fourier: Fourier;
  readonly #charge: Float64Array;
  readonly #chargeSlope: Float64Array;
  /** By block and local row. */
  readonly current: Float64Array;
  readonly charge: Float64Array;
  /** By block, block and local square. */
  readonly slope: Float64Array;
  readonly chargeSlope: Float64Array;

  constructor(placed: PlacedDevice, fourier: Fourier) {
    this.placed = placed;
    this.#fourier = fourier;
    const { size } = placed.device;
    const { blocks } = fourier;
    this.#charge = new Float64Array(size);
    this.#chargeSlope = new Float64Array(size * size);
    this.current = new Float64Array(blocks * size);
    this.charge = new Float64Array(blocks * size);
    this.slope = new Float64Array(blocks * blocks * size * size);
    this.chargeSlope = new Float64Array(blocks * blocks * size * size);
  }

  /** Samples one period; `at(local, block)` is a coefficient of a local unknown. */
  evaluate(at: (local: number, block: number) => number): void {
    for (const array of [this.current, this.charge, this.slope, this.chargeSlope]) array.fill(0);
    const { samples, blocks, value } = this.#fourier;
    const { device, x, load } = this.placed;
    const coefficients = Array.from({ length: device.size }, (_, local) =>
      Float64Array.from({ length: blocks }, (_, block) => at(local, block)),
    );
    for (let j = 0; j < samples; j++) {
      for (let local = 0; local < device.size; local++) {
        let sum = 0;
        for (let block = 0; block < blocks; block++) sum += coefficients[local]![block]! * value[block]![j]!;
        x[local] = sum;
      }
      device.charges(x, load);
      this.#charge.set(load.current);
      this.#chargeSlope.set(load.slope);
      device.evaluate(x, load);
      this.#accumulate(j);
    }
  }

  #accumulate(j: number): void {
    const { blocks, value, weight } = this.#fourier;
    const { device, load } = this.placed;
    const { size } = device;
    const square = size * size;
    for (let row = 0; row < blocks; row++) {
      const share = weight[row]! * value[row]![j]!;
      for (let k = 0; k < size; k++) {
        this.current[row * size + k]! += share * load.current[k]!;
        this.charge[row * size + k]! += share * this.#charge[k]!;
      }
      for (let column = 0; column < blocks; column++) {
        const both = share * value[column]![j]!;
        const base = (row * blocks + column) * square;
        for (let e = 0; e < square; e++) {
          this.slope[base + e]! += both * load.slope[e]!;
          this.chargeSlope[base + e]! += both * this.#chargeSlope[e]!;
        }
      }
    }
  }
}

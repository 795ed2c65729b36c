import { HOLD, type Network } from "../network.ts";
import { DeviceHarmonics } from "./device-harmonics.ts";
import { type Fourier, fourier, harmonicOf, isSine, partner } from "./fourier.ts";

/** A swing at the present: coefficients by block and unknown, rad/s, and growth per second. */
export interface Swing {
  readonly x: Float64Array;
  omega: number;
  sigma: number;
}

/**
 * What is held while the rest is solved for: the cosine of one unknown's fundamental, or, without an amplitude,
 * the growth at 0. The sine of the unknown's fundamental is 0, which fixes the phase.
 */
export interface Held {
  readonly unknown: number;
  readonly amplitude?: number;
}

export const copied = ({ x, omega, sigma }: Swing): Swing => ({ x: x.slice(), omega, sigma });

/** A device whose slopes vary by less than this share hardly couples its harmonics. */
const LOOSE = 0.2;

interface Entries {
  readonly row: Int32Array;
  readonly column: Int32Array;
  readonly value: Float64Array;
}

/**
 * Harmonic balance: in x = x₀ + Σ (a_k·cos kωt + b_k·sin kωt)·e^(kσt), instantaneous σ, every harmonic's
 * Kirchhoff sums vanish. Junction temperatures stay those of the operating point. With one harmonic it is
 * the describing function of all junctions at once. Unknowns: the coefficients, ω and σ (as shares of the
 * small-signal ω, which scales them); equations: the sums, and the held amplitude and phase.
 */
export class HarmonicEquations {
  readonly fourier: Fourier;
  readonly size: number;
  /** Unknowns of one block. */
  readonly width: number;
  /** rad/s in one of the scaled unknowns ω and σ. */
  readonly unit: number;
  /** Left over by the last `write`. */
  readonly residual: Float64Array;
  readonly #network: Network;
  readonly #n: number;
  /** State whose temperatures are kept. */
  readonly #fixed: Float64Array;
  readonly #g: Entries;
  readonly #c: Entries;
  readonly #devices: readonly DeviceHarmonics[];
  /** Whether the derivatives couple the harmonics of a device, by device. */
  readonly #coupled: readonly boolean[];

  /**
   * `like`, a swing of this many harmonics, tells which devices vary so little over the period that the
   * derivatives may leave out what couples their harmonics; without it none does.
   */
  constructor(network: Network, fixed: Float64Array, harmonics: number, omega: number, like?: Swing) {
    this.#network = network;
    this.#n = network.unknowns.electrical;
    this.#fixed = fixed;
    this.width = this.#n;
    this.unit = omega;
    this.fourier = fourier(harmonics);
    this.size = this.fourier.blocks * this.#n + 2;
    this.#g = inner(network.stamps.g, this.#n);
    this.#c = inner(network.stamps.c, this.#n);
    this.#devices = network.devices.map((placed) => new DeviceHarmonics(placed, this.fourier));
    this.#coupled = this.#devices.map((device) => {
      if (like === undefined) return true;
      this.#sample(device, like, true);
      return device.variation > LOOSE;
    });
    this.residual = new Float64Array(this.size);
  }

  /** Residual, and derivatives to `add` if it is given, always in the same order. */
  write(swing: Swing, held: Held, add?: Add): void {
    const { blocks } = this.fourier;
    this.residual.fill(0);
    for (let block = 0; block < blocks; block++) {
      this.#conductances(block, swing, add);
      if (block > 0) this.#capacitances(block, swing, add);
    }
    this.#devices.forEach((device, d) => {
      this.#sample(device, swing, add !== undefined);
      this.#addDevice(device, this.#coupled[d]!, swing, add);
    });
    const { row, value } = this.#network.stamps.supply;
    for (let e = 0; e < row.length; e++) if (row[e]! < this.#n) this.residual[row[e]!]! -= value[e]!;
    this.#hold(swing, held, add);
  }

  /** The last two rows: amplitude or growth, and the phase. */
  #hold({ x, sigma }: Swing, { unknown, amplitude }: Held, add: Add | undefined): void {
    const cosine = this.#n + unknown;
    const sine = 2 * this.#n + unknown;
    const [first, second] = [this.size - 2, this.size - 1];
    const steady = amplitude === undefined;
    this.residual[first] = steady ? sigma / this.unit : x[cosine]! - amplitude;
    this.residual[second] = x[sine]!;
    if (add === undefined) return;
    // every unknown may be the held one: all are mentioned
    for (let k = 0; k < this.#n; k++) {
      add(first, this.#n + k, !steady && k === unknown ? 1 : 0);
      add(second, 2 * this.#n + k, k === unknown ? 1 : 0);
    }
    add(first, second, steady ? 1 : 0);
  }

  #conductances(block: number, { x }: Swing, add: Add | undefined): void {
    const at = block * this.#n;
    const put = (row: number, column: number, value: number) => {
      this.residual[at + row]! += value * x[at + column]!;
      add?.(at + row, at + column, value);
    };
    each(this.#g, put);
    const { freeAtDc, freeAtAc } = this.#network;
    for (const node of (block === 0 ? freeAtDc : freeAtAc).held) put(node, node, HOLD);
  }

  /** k·σ·C on the block itself, ±k·ω·C on its partner, and their derivatives by ω and σ. */
  #capacitances(block: number, { x, omega, sigma }: Swing, add: Add | undefined): void {
    const own = block * this.#n;
    const other = partner(block) * this.#n;
    const k = harmonicOf(block);
    const turn = turnOf(block);
    each(this.#c, (row, column, value) => {
      const still = k * value * x[own + column]!;
      const turned = turn * value * x[other + column]!;
      this.residual[own + row]! += sigma * still + omega * turned;
      if (add === undefined) return;
      add(own + row, own + column, k * sigma * value);
      add(own + row, other + column, turn * omega * value);
      add(own + row, this.size - 2, this.unit * turned);
      add(own + row, this.size - 1, this.unit * still);
    });
  }

  #sample(device: DeviceHarmonics, { x }: Swing, slopes: boolean): void {
    const { locals } = device.placed;
    device.evaluate((local, block) => {
      const unknown = locals[local]!;
      if (unknown < this.#n) return x[block * this.#n + unknown]!;
      return block === 0 ? this.#fixed[unknown]! : 0;
    }, slopes);
  }

  #addDevice(device: DeviceHarmonics, coupled: boolean, swing: Swing, add: Add | undefined): void {
    const { locals } = device.placed;
    for (let block = 0; block < this.fourier.blocks; block++)
      for (let row = 0; row < locals.length; row++) {
        if (locals[row]! >= this.#n) continue;
        this.#deviceSum(device, block, row, swing, add);
        if (add === undefined) continue;
        for (let by = 0; by < this.fourier.blocks; by++)
          if (coupled || harmonicOf(by) === harmonicOf(block))
            this.#deviceSlopes(device, block, by, row, swing, add);
      }
  }

  /** What a device adds to a Kirchhoff sum of one block, and its derivatives by ω and σ. */
  #deviceSum(
    device: DeviceHarmonics,
    block: number,
    row: number,
    { omega, sigma }: Swing,
    add: Add | undefined,
  ): void {
    const { current, charge } = device;
    const to = block * this.#n + device.placed.locals[row]!;
    this.residual[to]! += current.coefficient(block, row);
    if (block === 0) return;
    const still = harmonicOf(block) * charge.coefficient(block, row);
    const turned = turnOf(block) * charge.coefficient(partner(block), row);
    this.residual[to]! += sigma * still + omega * turned;
    if (add === undefined) return;
    add(to, this.size - 2, this.unit * turned);
    add(to, this.size - 1, this.unit * still);
  }

  /** Derivatives of the sum by the coefficients of the block `by`. */
  #deviceSlopes(
    { placed, slope, chargeSlope }: DeviceHarmonics,
    block: number,
    by: number,
    row: number,
    { omega, sigma }: Swing,
    add: Add,
  ): void {
    const { locals, device } = placed;
    const to = block * this.#n + locals[row]!;
    for (let column = 0; column < device.size; column++) {
      const unknown = locals[column]!;
      const entry = row * device.size + column;
      if (unknown >= this.#n || (device.pattern[entry] === 0 && device.chargePattern[entry] === 0)) continue;
      const still = block === 0 ? 0 : harmonicOf(block) * sigma * chargeSlope.product(block, by, entry);
      const turned = block === 0 ? 0 : turnOf(block) * omega * chargeSlope.product(partner(block), by, entry);
      add(to, by * this.#n + unknown, slope.product(block, by, entry) + still + turned);
    }
  }
}

export type Add = (row: number, column: number, value: number) => void;

/** d/dt of a cosine is −kω times a sine and the other way round: what the partner's coefficient counts. */
const turnOf = (block: number): number => (isSine(block) ? -1 : 1) * harmonicOf(block);

/** The entries whose row and column are both unknowns. */
function inner({ row, column, value }: Entries, n: number): Entries {
  const kept = [...row.keys()].filter((e) => row[e]! < n && column[e]! < n);
  return {
    row: Int32Array.from(kept, (e) => row[e]!),
    column: Int32Array.from(kept, (e) => column[e]!),
    value: Float64Array.from(kept, (e) => value[e]!),
  };
}

function each({ row, column, value }: Entries, visit: Add): void {
  for (let e = 0; e < row.length; e++) visit(row[e]!, column[e]!, value[e]!);
}

import { Jacobian } from "../jacobian.ts";
import { PatternBuilder } from "../kernel/pattern.ts";
import { HOLD, type Network } from "../network.ts";
import { columnScale } from "../unknowns.ts";
import { DeviceHarmonics } from "./device-harmonics.ts";
import { type Fourier, fourier, harmonicOf, isSine, partner } from "./fourier.ts";

/** A swing at the present: coefficients by block and unknown, rad/s, and growth per second. */
export interface Swing {
  readonly x: Float64Array;
  omega: number;
  sigma: number;
}

/** What is held while the rest is solved for: the cosine of one unknown's fundamental; its sine is 0. */
export interface Held {
  readonly unknown: number;
  readonly amplitude: number;
}

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
export class HarmonicSystem {
  readonly fourier: Fourier;
  readonly size: number;
  readonly #network: Network;
  readonly #n: number;
  /** State whose temperatures are kept. */
  readonly #fixed: Float64Array;
  readonly #unit: number;
  readonly #jacobian: Jacobian;
  readonly #slotOf: (row: number, column: number) => number;
  readonly #g: Entries;
  readonly #c: Entries;
  readonly #devices: readonly DeviceHarmonics[];
  readonly #residual: Float64Array;
  readonly #step: Float64Array;

  constructor(network: Network, fixed: Float64Array, harmonics: number, omega: number) {
    this.#network = network;
    this.#n = network.unknowns.electrical;
    this.#fixed = fixed;
    this.#unit = omega;
    this.fourier = fourier(harmonics);
    this.size = this.fourier.blocks * this.#n + 2;
    this.#g = inner(network.stamps.g, this.#n);
    this.#c = inner(network.stamps.c, this.#n);
    this.#devices = network.devices.map((placed) => new DeviceHarmonics(placed, this.fourier));
    this.#residual = new Float64Array(this.size);
    this.#step = new Float64Array(this.size);
    const builder = new PatternBuilder(this.size);
    this.#slotOf = (row, column) => builder.slot(row, column);
    // a first pass with no values mentions every slot
    const mention = { add: (row: number, column: number) => void builder.slot(row, column) };
    this.#write(
      { x: new Float64Array(this.size - 2), omega, sigma: 0 },
      { unknown: 0, amplitude: 0 },
      mention,
    );
    for (let k = 0; k < this.#n; k++)
      for (const column of [this.size - 2, this.size - 1])
        for (let block = 1; block < this.fourier.blocks; block++) builder.slot(block * this.#n + k, column);
    for (let k = 0; k < 2 * this.#n; k++)
      for (const row of [this.size - 2, this.size - 1]) builder.slot(row, this.#n + k);
    const scale = columnScale(network.unknowns.list.slice(0, this.#n));
    const scales = Float64Array.from({ length: this.size }, (_, k) => scale[k % this.#n]!);
    this.#jacobian = new Jacobian(builder.finish(), new Int32Array(0), scales);
  }

  /** One Newton step in place. Returns its largest change of a voltage, V, or NaN if there is none. */
  improve(swing: Swing, held: Held): number {
    const { constant } = this.#jacobian;
    constant.fill(0);
    this.#residual.fill(0);
    this.#write(swing, held, {
      add: (row, column, value) => {
        constant[this.#slotOf(row, column)]! += value;
      },
    });
    this.#jacobian.touch();
    if (this.#jacobian.solve(this.#residual, this.#step) !== undefined) return Number.NaN;
    let largest = 0;
    for (let k = 0; k < swing.x.length; k++) {
      swing.x[k]! -= this.#step[k]!;
      if (this.#network.unknowns.list[k % this.#n]!.kind !== "node") continue;
      largest = Math.max(largest, Math.abs(this.#step[k]!));
    }
    swing.omega -= this.#unit * this.#step[this.size - 2]!;
    swing.sigma -= this.#unit * this.#step[this.size - 1]!;
    return Number.isFinite(largest + swing.omega + swing.sigma) ? largest : Number.NaN;
  }

  /** Residual and Jacobian entries. */
  #write(swing: Swing, held: Held, into: { add(row: number, column: number, value: number): void }): void {
    const { blocks } = this.fourier;
    for (let block = 0; block < blocks; block++) {
      this.#conductances(block, swing, into.add);
      if (block > 0) this.#capacitances(block, swing, into.add);
    }
    for (const device of this.#devices) this.#addDevice(device, swing, into.add);
    const { row, value } = this.#network.stamps.supply;
    for (let e = 0; e < row.length; e++) if (row[e]! < this.#n) this.#residual[row[e]!]! -= value[e]!;
    const cosine = this.#n + held.unknown;
    const sine = 2 * this.#n + held.unknown;
    this.#residual[this.size - 2] = swing.x[cosine]! - held.amplitude;
    this.#residual[this.size - 1] = swing.x[sine]!;
    into.add(this.size - 2, cosine, 1);
    into.add(this.size - 1, sine, 1);
  }

  #conductances(block: number, { x }: Swing, add: Add): void {
    const at = block * this.#n;
    const put = (row: number, column: number, value: number) => {
      this.#residual[at + row]! += value * x[at + column]!;
      add(at + row, at + column, value);
    };
    each(this.#g, put);
    const { freeAtDc, freeAtAc } = this.#network;
    for (const node of (block === 0 ? freeAtDc : freeAtAc).held) put(node, node, HOLD);
  }

  /** k·σ·C on the block itself, ±k·ω·C on its partner, and their derivatives by ω and σ. */
  #capacitances(block: number, { x, omega, sigma }: Swing, add: Add): void {
    const own = block * this.#n;
    const other = partner(block) * this.#n;
    const k = harmonicOf(block);
    const turn = isSine(block) ? -k : k;
    each(this.#c, (row, column, value) => {
      add(own + row, own + column, k * sigma * value);
      add(own + row, other + column, turn * omega * value);
      const still = k * value * x[own + column]!;
      const turned = turn * value * x[other + column]!;
      this.#residual[own + row]! += sigma * still + omega * turned;
      add(own + row, this.size - 2, this.#unit * turned);
      add(own + row, this.size - 1, this.#unit * still);
    });
  }

  #addDevice(device: DeviceHarmonics, swing: Swing, add: Add): void {
    const { locals } = device.placed;
    const n = this.#n;
    device.evaluate((local, block) => {
      const unknown = locals[local]!;
      if (unknown < n) return swing.x[block * n + unknown]!;
      return block === 0 ? this.#fixed[unknown]! : 0;
    });
    for (let block = 0; block < this.fourier.blocks; block++)
      for (let row = 0; row < locals.length; row++)
        if (locals[row]! < n) this.#deviceRow(device, block, row, swing, add);
  }

  #deviceRow(device: DeviceHarmonics, block: number, row: number, { omega, sigma }: Swing, add: Add): void {
    const { locals } = device.placed;
    const { size } = device.placed.device;
    const { blocks } = this.fourier;
    const k = harmonicOf(block);
    const turn = isSine(block) ? -k : k;
    const to = block * this.#n + locals[row]!;
    const still = k * device.charge[block * size + row]!;
    const turned = block === 0 ? 0 : turn * device.charge[partner(block) * size + row]!;
    this.#residual[to]! += device.current[block * size + row]! + sigma * still + omega * turned;
    if (block > 0) {
      add(to, this.size - 2, this.#unit * turned);
      add(to, this.size - 1, this.#unit * still);
    }
    for (let by = 0; by < blocks; by++) {
      for (let column = 0; column < size; column++) {
        const unknown = locals[column]!;
        const { pattern, chargePattern } = device.placed.device;
        const entry = row * size + column;
        if (unknown >= this.#n || (pattern[entry] === 0 && chargePattern[entry] === 0)) continue;
        const at = (from: number) => (from * blocks + by) * size * size + entry;
        const charges =
          block === 0
            ? 0
            : k * sigma * device.chargeSlope[at(block)]! +
              turn * omega * device.chargeSlope[at(partner(block))]!;
        add(to, by * this.#n + unknown, device.slope[at(block)]! + charges);
      }
    }
  }
}

type Add = (row: number, column: number, value: number) => void;

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

import type { Part } from "../circuit/circuit.ts";
import { thermalNoise } from "../devices/noise.ts";
import { kindOf } from "../parts/index.ts";
import type { Stamp } from "../parts/kind.ts";
import { gather } from "./devices.ts";
import type { SolvedPoint } from "./operating-point.ts";
import type { SmallSignal, Term } from "./small-signal.ts";

/**
 * One independent source of noise: a current from one unknown's row to another's, or an EMF in a branch
 * row (then `to` is the same as chassis).
 */
export interface NoiseSource {
  /** Index into `Circuit.parts`. */
  readonly part: number;
  /** In words: `resistance`, `collector current`. */
  readonly what: string;
  /** State numbers of the rows. */
  readonly from: number;
  readonly to: number;
  /** Density at high frequency, A²/Hz or V²/Hz. */
  readonly white: number;
  /** Corner of the excess at low frequency, Hz: the density is white·(1 + corner/f). */
  readonly corner: number;
}

/** Every source of noise at an operating point. Source of the densities: docs/models.md. */
export function noiseSources(point: SolvedPoint): NoiseSource[] {
  const { circuit } = point.network;
  return [...circuit.parts.flatMap((part, k) => thermalSources(point, part, k)), ...deviceSources(point)];
}

/** 4kT·G across every conductance that a part stamps, 4kT·R in series in every branch. */
function thermalSources({ network, state }: SolvedPoint, part: Part, index: number): NoiseSource[] {
  const { circuit, ambientKelvin, unknowns } = network;
  const locals = unknowns.locals[index]!;
  const chassis = unknowns.size;
  const found: NoiseSource[] = [];
  const collect: Stamp = {
    g() {},
    c() {},
    supply() {},
    signal() {},
    thermal(a, b, siemens, what, at) {
      const kelvin = at === undefined ? ambientKelvin : state[locals[at]!]!;
      const white = thermalNoise(siemens, kelvin);
      found.push({ part: index, what, from: locals[a]!, to: locals[b]!, white, corner: 0 });
    },
    seriesThermal(row, ohms, what) {
      const white = thermalNoise(ohms, ambientKelvin);
      if (ohms > 0) found.push({ part: index, what, from: locals[row]!, to: chassis, white, corner: 0 });
    },
  };
  kindOf(part).stamp?.(part, collect, { circuit, ambientKelvin });
  return found;
}

/** What the devices make of themselves. */
function deviceSources({ network, state }: SolvedPoint): NoiseSource[] {
  return network.devices.flatMap((placed) => {
    gather(placed, state);
    const { locals, part } = placed;
    const noise = placed.device.noise?.(placed.x) ?? [];
    return noise.map((source) => ({ ...source, part, from: locals[source.from]!, to: locals[source.to]! }));
  });
}

/**
 * The pin that an output current flows into. A noise current inside the same part that begins or ends at the
 * pin is itself part of that current, besides what it does to the voltages.
 */
export interface OutputPin {
  /** Index into `Circuit.parts`. */
  readonly part: number;
  /** State number of the pin's net. */
  readonly unknown: number;
}

/** Carries the sources to one output of a circuit, frequency by frequency. */
export class OutputNoise {
  readonly sources: readonly NoiseSource[];
  /** Density that each source gives at the output, V²/Hz (or A²/Hz), at the frequency last asked for. */
  readonly densities: Float64Array;
  readonly #smallSignal: SmallSignal;
  readonly #output: readonly Term[];
  readonly #re: Float64Array;
  readonly #im: Float64Array;
  /** What of each source goes straight into the output pin: 1, −1 or, mostly, 0. */
  readonly #direct: Int8Array;

  constructor(
    smallSignal: SmallSignal,
    sources: readonly NoiseSource[],
    output: readonly Term[],
    pin?: OutputPin,
  ) {
    const { stateSize } = smallSignal.network.unknowns;
    this.sources = sources;
    this.densities = new Float64Array(sources.length);
    this.#smallSignal = smallSignal;
    this.#output = output;
    this.#re = new Float64Array(stateSize);
    this.#im = new Float64Array(stateSize);
    this.#direct = Int8Array.from(sources, (source) => directShare(source, pin));
  }

  /** Total density at the output at `hertz`; the small-signal system is tuned to it. */
  at(hertz: number): number {
    this.#smallSignal.tune(hertz);
    this.#smallSignal.adjoint(this.#output, this.#re, this.#im);
    const [re, im] = [this.#re, this.#im];
    let total = 0;
    this.sources.forEach(({ from, to, white, corner }, k) => {
      const transferRe = re[from]! - re[to]! + this.#direct[k]!;
      const transferIm = im[from]! - im[to]!;
      const density = white * (1 + corner / hertz) * (transferRe * transferRe + transferIm * transferIm);
      this.densities[k] = density;
      total += density;
    });
    return total;
  }
}

/** A source drives its current into the node `from`, so that much less flows from there into the part. */
function directShare({ part, from, to }: NoiseSource, pin: OutputPin | undefined): number {
  if (pin === undefined || pin.part !== part) return 0;
  return Number(to === pin.unknown) - Number(from === pin.unknown);
}

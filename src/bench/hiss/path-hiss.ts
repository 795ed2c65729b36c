/** The noise of one path of a solved mode. */
import type { SignalPath } from "../../circuit/circuit.ts";
import { noiseSources, OutputNoise } from "../../engine/noise.ts";
import { SmallSignal } from "../../engine/small-signal.ts";
import { outputPin, outputTerms } from "../output.ts";
import { decibels, undeterminedAt } from "../response.ts";
import type { Failure } from "../results.ts";
import type { SolvedMode } from "../run.ts";
import { type Band, integrate } from "./band.ts";
import { contributorsOf } from "./contributors.ts";
import { byWeighting, FACTORS, levelOf, rootDensity, total } from "./powers.ts";
import type { NoiseFigure, PathHiss } from "./results.ts";
import { type Strand, strandsOf } from "./strands.ts";

/** Gain, noise figure and EMF refer to this frequency, Hz. */
const REFERENCE = 1000;
/** Temperature of a source that a noise figure counts from, K (IRE Standards on Electron Tubes, 1952). */
const STANDARD_KELVIN = 290;
/** The band of a question that names none, Hz. */
export const AUDIBLE: Band = { from: 20, to: 20_000 };

export interface PathHissOptions {
  readonly band?: Band;
  /** Where densities are wanted, Hz; nowhere if not given. */
  readonly hertz?: readonly number[];
  /** EMF at 1 kHz that the signal-to-noise ratio refers to, V rms. */
  readonly emf?: number;
  /** Greatest error of a power, relative to the total; Infinity: some 1e-4 where nothing is tuned sharply. */
  readonly tolerance?: number;
  /** The circuit linearised at the operating point, where there is one already. */
  readonly smallSignal?: SmallSignal;
}

/** A frequency at which nothing determines an unknown ends the question. */
class Undetermined extends Error {
  readonly failure: Failure;
  constructor(failure: Failure) {
    super(failure.message);
    this.failure = failure;
  }
}

/** A path's noise at its output and referred to its source; or why there is none. */
export function pathHiss(
  solved: SolvedMode,
  path: SignalPath,
  options: PathHissOptions = {},
): PathHiss | Failure {
  try {
    return new Bench(solved, path, options.smallSignal).answer(options);
  } catch (error) {
    if (error instanceof Undetermined) return error.failure;
    throw error;
  }
}

/** A path with its sources of noise, ready to be asked at any frequency. */
class Bench {
  readonly #solved: SolvedMode;
  readonly #path: SignalPath;
  readonly #smallSignal: SmallSignal;
  readonly #noise: OutputNoise;
  readonly #strands: readonly Strand[];
  /** Index into `Circuit.parts` of the path's source. */
  readonly #source: number;

  constructor(solved: SolvedMode, path: SignalPath, smallSignal = new SmallSignal(solved.point)) {
    const { point, circuit } = solved;
    this.#solved = solved;
    this.#path = path;
    this.#smallSignal = smallSignal;
    this.#tune(REFERENCE);
    const sources = noiseSources(point);
    const terms = outputTerms(this.#smallSignal, path);
    this.#noise = new OutputNoise(this.#smallSignal, sources, terms, outputPin(this.#smallSignal, path));
    this.#strands = strandsOf(circuit, sources);
    this.#source = circuit.parts.findIndex(({ name }) => name === path.from);
  }

  #tune(hertz: number): void {
    const undetermined = this.#smallSignal.tune(hertz);
    if (undetermined === undefined) return;
    throw new Undetermined(
      undeterminedAt({ hertz, undetermined }, this.#solved.mode.name, this.#smallSignal),
    );
  }

  /** Density of every strand at the output, V²/Hz or A²/Hz. */
  #densities(hertz: number, into: Float64Array): void {
    this.#tune(hertz);
    this.#noise.at(hertz);
    this.#strands.forEach(({ source, share }, k) => {
      into[k] = this.#noise.densities[source]! * share(hertz);
    });
  }

  #densitiesAt(hertz: number): Float64Array {
    const found = new Float64Array(this.#strands.length);
    this.#densities(hertz, found);
    return found;
  }

  #gain() {
    this.#tune(REFERENCE);
    this.#smallSignal.drive(this.#source);
    return this.#smallSignal.combine(outputTerms(this.#smallSignal, this.#path));
  }

  answer({ band = AUDIBLE, hertz = [], emf, tolerance = 1e-11 }: PathHissOptions): PathHiss {
    const powers = integrate(
      (f, into) => this.#densities(f, into),
      this.#strands.length,
      FACTORS,
      band,
      tolerance,
    );
    const gain = this.#gain();
    const quantity = "net" in this.#path.to ? "voltage" : this.#path.to.quantity;
    const level = levelOf(quantity, Math.hypot(gain.re, gain.im), emf);
    const spectra = hertz.map((f) => this.#densitiesAt(f));
    const figure = this.#figure(powers[0]!);
    return {
      path: this.#path.name,
      mode: this.#solved.mode.name,
      from: this.#path.from,
      to: this.#path.toText,
      quantity,
      low_hertz: band.from,
      high_hertz: band.to,
      gain_db: decibels(gain),
      ...level(total(powers[0]!)),
      weighted: byWeighting((w) => level(total(powers[w]!))),
      ...(figure !== undefined && { noise_figure: figure }),
      ...(emf !== undefined && { emf_volts: emf }),
      hertz: [...hertz],
      ...rootDensity(quantity, spectra.map(total)),
      contributors: contributorsOf(
        this.#solved.circuit,
        this.#strands,
        this.#source,
        { band: powers, spectra },
        quantity,
      ),
    };
  }

  #isOwn = ({ part }: Strand): boolean => part === this.#source;

  /** Everything at ambient, but the source's own resistance at 290 K. */
  #figure(powers: Float64Array): NoiseFigure | undefined {
    const own = this.#strands.filter(this.#isOwn);
    const standard = STANDARD_KELVIN / this.#solved.point.network.ambientKelvin;
    const figure = (list: Float64Array): number => {
      const source = total(list.filter((_, k) => this.#isOwn(this.#strands[k]!)));
      return 10 * Math.log10(1 + (total(list) - source) / (standard * source));
    };
    const [spot, band] = [figure(this.#densitiesAt(REFERENCE)), figure(powers)];
    if (!Number.isFinite(spot) || !Number.isFinite(band)) return undefined;
    return { at_1k_db: spot, band_db: band, source: [...new Set(own.map(({ origin }) => origin))] };
  }
}

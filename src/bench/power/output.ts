import type { SignalPath } from "../../circuit/circuit.ts";
import { SmallSignal, type Term } from "../../engine/small-signal.ts";
import type { DrivenSteady } from "../../engine/steady/driven.ts";
import { outputTerms } from "../output.ts";
import { decibels } from "../response.ts";
import type { SolvedMode } from "../run.ts";
import type { PowerPoint } from "./results.ts";

interface Complex {
  readonly re: number;
  readonly im: number;
}

/** A combination of unknowns at a harmonic; peak. */
function combined(steady: DrivenSteady, terms: readonly Term[], harmonic: number): Complex {
  let [re, im] = [0, 0];
  const omega = harmonic * steady.omega;
  for (const { unknown, conductance, capacitance } of terms) {
    const x = steady.phasor(unknown, harmonic);
    re += conductance * x.re - omega * capacitance * x.im;
    im += conductance * x.im + omega * capacitance * x.re;
  }
  return { re, im };
}

const size = ({ re, im }: Complex) => Math.hypot(re, im);

/** Reads output, load and supplies of a path from steady states. */
export class OutputMeter {
  /** Gain of the small signal, output over EMF. */
  readonly smallSignalGain: number;
  readonly hertz: number;
  readonly #output: readonly Term[];
  readonly #load: { readonly volts: readonly Term[]; readonly amps: readonly Term[] } | undefined;
  readonly #supplies: readonly { readonly emf: number; readonly amps: readonly Term[] }[];

  constructor({ circuit, point }: SolvedMode, path: SignalPath, hertz: number) {
    const smallSignal = new SmallSignal(point);
    this.hertz = hertz;
    this.#output = outputTerms(smallSignal, path);
    const load = loadOf(circuit.parts, path);
    const part = circuit.parts.findIndex(({ name }) => name === load);
    const ends = (quantity: "voltage" | "current") =>
      outputTerms(smallSignal, { ...path, to: { part: load ?? "", quantity } });
    this.#load = part < 0 ? undefined : { volts: ends("voltage"), amps: ends("current") };
    this.#supplies = circuit.parts.flatMap(({ kind, values }, k) =>
      kind === "battery" ? [{ emf: values.emf ?? 0, amps: smallSignal.pinTerms(k, 0) }] : [],
    );
    smallSignal.tune(hertz);
    smallSignal.drive(circuit.parts.findIndex(({ name }) => name === path.from));
    this.smallSignalGain = size(smallSignal.combine(this.#output));
  }

  get hasLoad(): boolean {
    return this.#load !== undefined;
  }

  read(steady: DrivenSteady, emf: number): PowerPoint {
    const waves = Array.from({ length: steady.harmonics }, (_, k) => combined(steady, this.#output, k + 1));
    const [first = 0, ...rest] = waves.map(size);
    const watts = this.#watts(steady);
    return {
      emf_volts: emf,
      output: first / Math.SQRT2,
      gain_db: decibels({ re: first / (Math.SQRT2 * emf), im: 0 }),
      ...(watts !== undefined && { output_watts: watts }),
      distortion: first > 0 ? Math.hypot(...rest) / first : 0,
      harmonics: rest.map((each) => (first > 0 ? each / first : 0)),
      supply_watts: this.#supply(steady),
    };
  }

  /** Mean of v·i over the harmonics; direct current makes no sound. */
  #watts(steady: DrivenSteady): number | undefined {
    if (this.#load === undefined) return undefined;
    let sum = 0;
    for (let harmonic = 1; harmonic <= steady.harmonics; harmonic++) {
      const v = combined(steady, this.#load.volts, harmonic);
      const i = combined(steady, this.#load.amps, harmonic);
      sum += (v.re * i.re + v.im * i.im) / 2;
    }
    return sum;
  }

  #supply(steady: DrivenSteady): number {
    return this.#supplies.reduce((sum, { emf, amps }) => {
      const into = amps.reduce(
        (all, { unknown, conductance }) => all + conductance * steady.mean(unknown),
        0,
      );
      return sum - emf * into;
    }, 0);
  }
}

/** The part that the path ends in, or a loudspeaker at the net where it ends. */
function loadOf(
  parts: readonly {
    readonly name: string;
    readonly kind: string;
    readonly pins: readonly { readonly net: number }[];
  }[],
  { to }: SignalPath,
): string | undefined {
  if ("part" in to) return to.part;
  return parts.find(({ kind, pins }) => kind === "loudspeaker" && pins.some(({ net }) => net === to.net))
    ?.name;
}

/** What happens with another transistor in a socket. */
import type { Circuit, DeviceType, Part, PartState } from "../circuit/circuit.ts";
import type { Conditions } from "./conditions.ts";
import type { Failure, TransistorReading } from "./results.ts";
import type { Answer, SolvedMode } from "./run.ts";
import type { SpreadChart } from "./spread/results.ts";
import { spread } from "./spread.ts";
import { changeOf, movedOf, newExcesses, newRegions, pathChanges } from "./substitute/compare.ts";
import { type Fit, type Fits, Fitter } from "./substitute/fit.ts";
import { biasResistor } from "./substitute/rebias.ts";
import type { Candidate, LeftOut, Rebias, Substitution } from "./substitute/results.ts";
import { pathsThrough } from "./substitute/through.ts";
import { warningsOf } from "./substitute/warnings.ts";

export interface SubstituteConditions extends Conditions {
  /** Transistors that get the same type with it, such as the other half of a push-pull stage. */
  readonly also?: readonly string[];
  /** Leave out types whose limits do not suffice, or that find no operating point. */
  readonly sufficientOnly?: boolean;
  /** Told which type is being tried. */
  readonly progress?: (type: string) => void;
}

/** Specimens that the spread is taken from. */
const TRIALS = 400;
/** A collector current that changes by more than this, nepers, is worth restoring. */
const WORTH_RESTORING = 0.05;

/**
 * Fits each of `types` (of `circuit.types`, of the polarity of the part) in turn and compares with the type
 * that is fitted. One result a mode; candidates in order of how little changes over all modes.
 */
export function substitute(
  circuit: Circuit,
  part: string,
  types: readonly string[],
  conditions: SubstituteConditions = {},
): Answer<Substitution> {
  const socket = new Socket(circuit, part, conditions);
  const tried = types.map((type) => {
    conditions.progress?.(type);
    return socket.try(type);
  });
  const good = tried.filter((one): one is Tried => "byMode" in one);
  const leftOut = tried.filter((one): one is LeftOut => "reason" in one);
  const sorted = good.toSorted((a, b) => a.change - b.change);
  const results = [...socket.before.byMode.values()].map((fitted): Substitution => {
    const { type = "" } = socket.part;
    return {
      mode: fitted.mode,
      part,
      ...(conditions.also !== undefined && conditions.also.length > 0 && { also: conditions.also }),
      fitted: {
        type,
        ...greatestDissipation(circuit.types[type]),
        transistors: fitted.chart.transistors,
        paths: fitted.paths,
      },
      candidates: sorted.flatMap(({ byMode }) => byMode.get(fitted.mode) ?? []),
      left_out: leftOut,
    };
  });
  return { results, failures: socket.before.failures };
}

function greatestDissipation(type: DeviceType | undefined) {
  const most = type?.figures["limits.ptot"];
  return most === undefined ? {} : { ptot_watts: most };
}

/** One candidate in all modes. */
interface Tried {
  readonly byMode: ReadonlyMap<string, Candidate>;
  readonly change: number;
}

/** By mode what restoring the current gives, or why nothing restores it; nothing where it need not be. */
type Bias = ReadonlyMap<string, Rebias> | string | undefined;

function withBias(found: Candidate, bias: Bias, mode: string): Candidate {
  if (typeof bias === "string") return { ...found, warnings: [...found.warnings, bias] };
  const rebias = bias?.get(mode);
  return rebias === undefined ? found : { ...found, rebias };
}

/** A transistor's place in the circuit, with everything that is known of it as it is. */
class Socket {
  readonly circuit: Circuit;
  readonly part: Part;
  readonly before: Fits;
  readonly #index: number;
  readonly #fitter: Fitter;
  readonly #conditions: SubstituteConditions;
  #spread: ReadonlyMap<string, SpreadChart> | undefined;
  readonly #through = new Map<string, readonly string[]>();

  constructor(circuit: Circuit, name: string, conditions: SubstituteConditions) {
    this.circuit = circuit;
    this.#conditions = conditions;
    this.#index = circuit.parts.findIndex((part) => part.name === name);
    this.part = circuit.parts[this.#index]!;
    this.#fitter = new Fitter(circuit, conditions, (solved) => this.#pathsOf(solved));
    this.before = this.#fitter.fit([]);
  }

  /** The spread of the circuit as it is, in one mode; worked out when it is first asked for. */
  #spreadIn(mode: string): SpreadChart | undefined {
    if (this.#spread === undefined) {
      const { progress: _, sufficientOnly: __, also: ___, ...conditions } = this.#conditions;
      const { results } = spread(this.circuit, { ...conditions, trials: TRIALS, seed: 1, causes: false });
      this.#spread = new Map(results.map((chart) => [chart.mode, chart]));
    }
    return this.#spread.get(mode);
  }

  /** The paths through the part with its own type; the same are followed with every other. */
  #pathsOf(solved: SolvedMode): readonly string[] {
    const { name } = solved.mode;
    const known = this.#through.get(name) ?? pathsThrough(solved, this.#index);
    this.#through.set(name, known);
    return known;
  }

  #type(name: string): DeviceType {
    return this.circuit.types[name]!;
  }

  #fitting(type: string): readonly PartState[] {
    const parts = [this.part.name, ...(this.#conditions.also ?? [])];
    return parts.map((part) => ({ part, key: "type", value: type }));
  }

  try(type: string): Tried | LeftOut {
    const now = this.#fitter.fit(this.#fitting(type));
    const [failure] = this.#newFailures(now);
    if (failure !== undefined) return { type, reason: failure.message };
    const compared = this.#compared(type, now);
    const insufficient = this.#conditions.sufficientOnly ? this.#insufficient(compared) : undefined;
    if (insufficient !== undefined) return { type, reason: insufficient };
    const rebias = this.#rebias(type, now);
    return {
      byMode: new Map(compared.map(({ mode, ...found }) => [mode, withBias(found, rebias, mode)])),
      change: Math.hypot(...compared.map(({ change }) => change)),
    };
  }

  /** The candidate against the type fitted, in every mode. */
  #compared(type: string, now: Fits): readonly (Candidate & { readonly mode: string })[] {
    const before = [...this.before.byMode.values()];
    const after = before.map(({ mode }) => now.byMode.get(mode)!);
    const [own, other] = [this.#type(this.part.type ?? ""), this.#type(type)];
    const warnings = warningsOf(this.part, own, other, before, after);
    return before.map((fitted, k) => {
      const candidate = after[k]!;
      const change = changeOf(fitted, candidate);
      return {
        mode: fitted.mode,
        type,
        ...greatestDissipation(other),
        transistors: candidate.chart.transistors,
        limits: newExcesses(fitted, candidate),
        warnings: [...newRegions(fitted, candidate), ...warnings],
        paths: pathChanges(fitted, candidate),
        moved: change === 0 ? [] : movedOf(fitted, candidate, this.#spreadIn(fitted.mode)),
        change,
      };
    });
  }

  /** Modes that have an operating point as the circuit is, and none with the candidate. */
  #newFailures(now: Fits): readonly Failure[] {
    return now.failures.filter(({ mode }) => this.before.byMode.has(mode));
  }

  /** The first reason why a type's limits do not suffice. */
  #insufficient(compared: readonly Candidate[]): string | undefined {
    const own = `${this.part.name}: `;
    const passed = compared.flatMap(({ limits }) => limits.filter((text) => text.startsWith(own)));
    const rated = compared.flatMap(({ warnings }) => warnings.filter((text) => text.startsWith("V_CE:")));
    return [...passed, ...rated][0];
  }

  /**
   * Per mode, what the bias resistor's E12 value gives; nothing where the current need not be restored, and a
   * sentence where no resistor can.
   */
  #rebias(type: string, now: Fits): Bias {
    const at = [...this.before.byMode.values()].find((one) => this.#reading(one).region === "active");
    if (at === undefined || !this.#worthRestoring(type, at, now.byMode.get(at.mode)!)) return undefined;
    const wanted = this.#reading(at).ic_amps;
    const states = this.#fitting(type);
    const found = biasResistor(this.circuit, this.#conditions, states, {
      part: this.#index,
      mode: at.mode,
      wanted: Math.abs(wanted),
    });
    if (found === undefined) {
      const milliamps = Number((1e3 * Math.abs(wanted)).toPrecision(3));
      return `bias: no resistor at the base of ${this.part.name} brings back its ${milliamps} mA with everything else as it is`;
    }
    const { resistor, ohms, exact, preferred } = found;
    const set = [...states, { part: resistor, key: "resistance", value: preferred }];
    const fits = this.#fitter.fit(set);
    const values = { resistor, ohms, exact_ohms: exact, preferred_ohms: preferred };
    return this.#withPreferred({ ...values, wanted_amps: wanted, wanted_in: at.mode }, fits);
  }

  #reading({ chart }: Fit): TransistorReading {
    return chart.transistors[this.part.name]!;
  }

  /** Whether the collector current is another one: for another material at all, else beyond the spread. */
  #worthRestoring(type: string, before: Fit, now: Fit): boolean {
    const [wanted, present] = [before, now].map((one) => this.#reading(one).ic_amps) as [number, number];
    const moved = Math.abs(Math.log(Math.max(Math.abs(present), 1e-12) / Math.abs(wanted)));
    if (moved < WORTH_RESTORING) return false;
    const { material } = this.#type(this.part.type ?? "");
    return material !== this.#type(type).material || this.#outOfSpread(before.mode, present);
  }

  /** What the E12 value gives in every mode. */
  #withPreferred(bias: Omit<Rebias, "transistor" | "paths">, { byMode }: Fits): ReadonlyMap<string, Rebias> {
    const found = [...byMode.values()].flatMap((one) => {
      const fitted = this.before.byMode.get(one.mode);
      if (fitted === undefined) return [];
      const given = { transistor: this.#reading(one), paths: pathChanges(fitted, one) };
      return [[one.mode, { ...bias, ...given }] as const];
    });
    return new Map(found);
  }

  #outOfSpread(mode: string, amps: number): boolean {
    const band = this.#spreadIn(mode)?.transistors[this.part.name]?.ic_amps;
    return band !== undefined && (amps < band.least || amps > band.greatest);
  }
}

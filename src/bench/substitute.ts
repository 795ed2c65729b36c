/** What happens with another transistor in a socket. */
import type { Circuit, DeviceType, Part, PartState } from "../circuit/circuit.ts";
import type { Conditions } from "./conditions.ts";
import type { Failure, TransistorReading } from "./results.ts";
import type { Answer, SolvedMode } from "./run.ts";
import type { SpreadChart } from "./spread/results.ts";
import { spread } from "./spread.ts";
import { changeOf, movedOf, newExcesses, newRegions, pathChanges } from "./substitute/compare.ts";
import { type Fit, type Fits, fit } from "./substitute/fit.ts";
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
/** Collector current below which a transistor does nothing in a mode, A. */
const IDLE = 2e-6;

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

/** A transistor's place in the circuit, with everything that is known of it as it is. */
class Socket {
  readonly circuit: Circuit;
  readonly part: Part;
  readonly before: Fits;
  readonly #index: number;
  readonly #conditions: SubstituteConditions;
  #spread: ReadonlyMap<string, SpreadChart> | undefined;
  readonly #through = new Map<string, readonly string[]>();

  constructor(circuit: Circuit, name: string, conditions: SubstituteConditions) {
    this.circuit = circuit;
    this.#conditions = conditions;
    this.#index = circuit.parts.findIndex((part) => part.name === name);
    this.part = circuit.parts[this.#index]!;
    this.before = fit(circuit, conditions, [], (solved) => this.#pathsOf(solved));
  }

  /** The spread of the circuit as it is, in one mode; worked out when it is first asked for. */
  #spreadIn(mode: string): SpreadChart | undefined {
    if (this.#spread === undefined) {
      const { progress: _, sufficientOnly: __, also: ___, ...conditions } = this.#conditions;
      const { results } = spread(this.circuit, { ...conditions, trials: TRIALS, seed: 1 });
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
    const states = this.#fitting(type);
    const now = fit(this.circuit, this.#conditions, states, (solved) => this.#pathsOf(solved));
    const [failure] = this.#newFailures(now);
    if (failure !== undefined) return { type, reason: failure.message };
    const modes = [...this.before.byMode.values()].map((fitted) => ({
      fitted,
      candidate: now.byMode.get(fitted.mode)!,
    }));
    const warnings = warningsOf(
      this.part,
      this.#type(this.part.type ?? ""),
      this.#type(type),
      modes.map(({ fitted }) => fitted),
      modes.map(({ candidate }) => candidate),
    );
    const compared = modes.map(({ fitted, candidate }) => {
      const change = changeOf(fitted, candidate);
      return {
        mode: fitted.mode,
        type,
        ...greatestDissipation(this.#type(type)),
        transistors: candidate.chart.transistors,
        limits: newExcesses(fitted, candidate),
        warnings: [...newRegions(fitted, candidate), ...warnings],
        paths: pathChanges(fitted, candidate),
        moved: change === 0 ? [] : movedOf(fitted, candidate, this.#spreadIn(fitted.mode)),
        change,
      };
    });
    const insufficient = this.#conditions.sufficientOnly ? this.#insufficient(compared) : undefined;
    if (insufficient !== undefined) return { type, reason: insufficient };
    const rebias = this.#rebias(type, now);
    const unable = typeof rebias === "string" ? [rebias] : [];
    return {
      byMode: new Map(
        compared.map(({ mode, ...found }) => {
          const bias = typeof rebias === "object" ? rebias.get(mode) : undefined;
          const warned = [...found.warnings, ...unable];
          return [mode, { ...found, warnings: warned, ...(bias !== undefined && { rebias: bias }) }];
        }),
      ),
      change: Math.hypot(...compared.map(({ change }) => change)),
    };
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
  #rebias(type: string, now: Fits): ReadonlyMap<string, Rebias> | string | undefined {
    const { name } = this.part;
    const reading = ({ chart }: Fit): TransistorReading => chart.transistors[name]!;
    const at = [...this.before.byMode.values()].find((one) => Math.abs(reading(one).ic_amps) > IDLE);
    if (at === undefined) return undefined;
    const wanted = reading(at).ic_amps;
    const present = reading(now.byMode.get(at.mode)!).ic_amps;
    const fitted = this.#type(this.part.type ?? "");
    const other = fitted.material !== this.#type(type).material;
    const moved = Math.abs(Math.log(Math.max(Math.abs(present), 1e-12) / Math.abs(wanted)));
    if (moved < WORTH_RESTORING || (!other && !this.#outOfSpread(at.mode, present))) return undefined;
    const states = this.#fitting(type);
    const found = biasResistor(this.circuit, this.#conditions, states, {
      part: this.#index,
      mode: at.mode,
      wanted: Math.abs(wanted),
    });
    if (found === undefined) {
      const milliamps = Number((1e3 * Math.abs(wanted)).toPrecision(3));
      return `bias: no resistor at the base of ${name} brings back its ${milliamps} mA with everything else as it is`;
    }
    const { resistor, ohms, exact, preferred } = found;
    const fits = fit(
      this.circuit,
      this.#conditions,
      [...states, { part: resistor, key: "resistance", value: preferred }],
      (solved) => this.#pathsOf(solved),
    );
    return new Map(
      [...fits.byMode.values()].flatMap((one) => {
        const fittedThere = this.before.byMode.get(one.mode);
        if (fittedThere === undefined) return [];
        const bias: Rebias = {
          resistor,
          ohms,
          exact_ohms: exact,
          preferred_ohms: preferred,
          wanted_amps: wanted,
          wanted_in: at.mode,
          transistor: reading(one),
          paths: pathChanges(fittedThere, one),
        };
        return [[one.mode, bias] as const];
      }),
    );
  }

  #outOfSpread(mode: string, amps: number): boolean {
    const band = this.#spreadIn(mode)?.transistors[this.part.name]?.ic_amps;
    return band !== undefined && (amps < band.least || amps > band.greatest);
  }
}

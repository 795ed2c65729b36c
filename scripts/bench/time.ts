import type { WaveformConditions } from "../../src/bench/waveform/conditions.ts";
import { waveform } from "../../src/bench/waveform.ts";
import type { Circuit } from "../../src/circuit/circuit.ts";
import { Conversation, hasPython } from "./conversation.ts";
import { demonstration } from "./demonstrations.ts";
import { type Demand, type Findings, type Line, mustAgree, together } from "./results.ts";
import { type Contender, interleave, type Timing } from "./sampling.ts";

/** A stretch of a circuit's time that is run by all. */
interface Stretch {
  /** Of netlists/, and of scripts/reference. */
  readonly circuit: "recorder" | "bias-oscillator";
  readonly mode: string;
  readonly what: string;
  /** What `units` of make up `seconds`, and how many the contenders run. */
  readonly per: string;
  readonly unit: number;
  readonly units: number;
  readonly theirs: number;
  /** A net put to another voltage than its operating point's, or all discharged. */
  readonly displaced?: { readonly net: string; readonly volts: number };
  readonly nets: readonly string[];
  readonly wanted: number;
}

/** Period of the bias oscillator, s. */
const PERIOD = 1 / 52.1e3;

/** How the oscillator builds up, by itself and in the recorder. */
const BUILD_UP = {
  per: "period",
  unit: PERIOD,
  units: 1000,
  theirs: 10,
  displaced: { net: "erase", volts: 0.5 },
  wanted: 2,
} as const;

const STRETCHES: readonly Stretch[] = [
  {
    circuit: "recorder",
    mode: "play",
    what: "play: switched on from rest, one second",
    per: "second",
    unit: 1,
    units: 1,
    theirs: 1,
    nets: ["rail", "quiet", "T1.c", "T4.e", "T5.c", "T6.c"],
    wanted: 3,
  },
  {
    circuit: "bias-oscillator",
    mode: "as-drawn",
    what: "bias oscillator by itself, from half a volt",
    nets: ["erase", "T1.c", "T1.b", "bias_high"],
    ...BUILD_UP,
  },
  {
    circuit: "recorder",
    mode: "record",
    what: "record: the whole recorder round its bias oscillator, from half a volt",
    nets: ["erase", "T6.c", "T6.b", "bias_high"],
    ...BUILD_UP,
  },
];

const METHODS = ["Radau", "BDF"] as const;
const TOLERANCE = 1e-4;
/** Tolerance of the run that all are compared with. */
const TIGHT = 1e-6;
const POINTS = 100;
const ROUNDS = 2;
/** Allowed differences, as shares of a net's swing: ours, and those of scipy's. */
const OURS_WITHIN = 1e-3;
const THEIRS_WITHIN = 3e-2;

/**
 * (g) Runs in time, in seconds of processor time: the recorder's switch-on and its bias oscillator, beside two of scipy's
 * stiff solvers on the equations of scripts/reference.
 */
export async function time(): Promise<Findings> {
  const found: Findings[] = [];
  for (const stretch of STRETCHES) found.push(await measured(demonstration(stretch.circuit), stretch));
  return together(found);
}

type Values = readonly (readonly number[])[];

/** One run of ours; values by net and sample. */
function ours(circuit: Circuit, { mode, nets, displaced, unit }: Stretch, units: number): Values {
  const net = (name: string) => circuit.nets.findIndex((each) => each.name === name);
  const conditions: WaveformConditions = {
    modes: [mode],
    seconds: units * unit,
    every: (units * unit) / POINTS,
    start:
      displaced === undefined
        ? { from: "rest", displaced: [] }
        : { from: "point", displaced: [{ net: net(displaced.net), volts: displaced.volts }] },
    tones: [],
    events: [],
    shown: nets.map((name) => ({ kind: "net", net: net(name), name })),
    tolerance: TOLERANCE,
    isothermal: true,
  };
  const result = waveform(circuit, conditions).results[0];
  if (result === undefined) throw new Error(`${mode}: no solution in time`);
  return nets.map((name) => result.nets[name]!);
}

const processorTime = (name: string, units: number, run: () => void): Contender => ({
  name,
  sample: () => {
    const before = process.cpuUsage();
    run();
    const { user, system } = process.cpuUsage(before);
    return ((user + system) * 1e-6) / units;
  },
});

/** Largest difference as a share of a net's swing; what jumps at the start is left out. */
function apart(found: Values, reference: Values): number {
  return Math.max(
    ...reference.map((volts, k) => {
      const swing = Math.max(...volts) - Math.min(...volts);
      return Math.max(...volts.slice(1).map((v, n) => Math.abs(v - found[k]![n + 1]!))) / swing;
    }),
  );
}

async function measured(circuit: Circuit, stretch: Stretch): Promise<Findings> {
  const name = `${stretch.what}, ${stretch.units === 1 ? "" : `${stretch.units} periods, `}ours`;
  const own = processorTime(name, stretch.units, () => ours(circuit, stretch, stretch.units));
  const scipy = hasPython() ? await Scipy.of(stretch) : undefined;
  const timings = await interleave([own, ...(scipy?.contenders ?? [])], ROUNDS);
  const shares = scipy?.differences(ours(circuit, stretch, stretch.theirs));
  scipy?.close();
  return {
    lines: timings.map((timing, k) => lineOf(stretch, timing, shares?.[k])),
    demands: demandsOf(stretch, timings),
  };
}

const lineOf = ({ per }: Stretch, { name, min, median }: Timing, difference: number | undefined): Line => ({
  item: "time",
  what: name,
  per,
  min,
  median,
  ...(difference !== undefined && { difference }),
});

function demandsOf({ what, units, wanted }: Stretch, [own, ...theirs]: readonly Timing[]): Demand[] {
  const fastest = Math.min(...theirs.map(({ min }) => min));
  return [
    {
      item: "time",
      what: `${what}${units === 1 ? "" : `, ${units} periods`}, processor time`,
      found: own!.min * units,
      wanted,
      sense: "at most",
      unit: "s",
    },
    {
      item: "time",
      what: `${what}, in times of scipy's faster solver`,
      ...(theirs.length > 0 && { found: own!.min / fastest }),
      wanted: 1,
      sense: "at most",
      unit: "times",
    },
  ];
}

/** Runs of a stretch by scipy, in a Python process of its own. */
class Scipy {
  readonly #talk: Conversation;
  readonly #stretch: Stretch;
  readonly #found = new Map<string, Values>();
  readonly #reference: Values;

  private constructor(talk: Conversation, stretch: Stretch, reference: Values) {
    this.#talk = talk;
    this.#stretch = stretch;
    this.#reference = reference;
  }

  static async of(stretch: Stretch): Promise<Scipy> {
    const { circuit, mode, nets, displaced } = stretch;
    const talk = new Conversation("time_contender.py");
    const start = displaced === undefined ? "rest" : { [displaced.net]: displaced.volts };
    await talk.ask({ do: "load", circuit, mode, start, nets });
    const { values } = await talk.ask(asked(stretch, "Radau", TIGHT));
    return new Scipy(talk, stretch, values as Values);
  }

  get contenders(): Contender[] {
    const { what, theirs } = this.#stretch;
    return METHODS.map((method) => ({
      name: `${what}, ${theirs === 1 ? "" : `${theirs} periods, `}scipy's ${method}`,
      sample: async () => {
        const { seconds, values } = await this.#talk.ask(asked(this.#stretch, method, TOLERANCE));
        this.#found.set(method, values as Values);
        return Number(seconds) / theirs;
      },
    }));
  }

  /** Of ours and of each method, to the tight run. */
  differences(own: Values): number[] {
    const { what } = this.#stretch;
    return [
      mustAgree(what, apart(own, this.#reference), OURS_WITHIN),
      ...METHODS.map((method) =>
        mustAgree(`${what}: ${method}`, apart(this.#found.get(method)!, this.#reference), THEIRS_WITHIN),
      ),
    ];
  }

  close(): void {
    this.#talk.close();
  }
}

const asked = ({ unit, theirs }: Stretch, method: string, tolerance: number) => ({
  do: "run",
  seconds: unit * theirs,
  method,
  tolerance,
  samples: POINTS,
});

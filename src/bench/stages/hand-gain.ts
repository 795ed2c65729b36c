/** The gain by hand beside the solved one, and what makes the difference. */
import { BASE, COLLECTOR, EMITTER, type LinearCircuit, type PlacedTransistor } from "./linear-circuit.ts";
import { collectorResistance, type Diagram, emitterLoad, emitterResistance, loadName } from "./loads.ts";
import { ONE, over, type Phasor, plus, signed, size } from "./phasor.ts";
import { pairImpedance, pinImpedance } from "./resistances.ts";
import type { HandGain, Resistance } from "./results.ts";
import { type Entry, type Exit, pinOf } from "./signal.ts";

/** How a stage is used, for its formula. */
export interface Use {
  readonly transistor: PlacedTransistor;
  readonly entry: Entry;
  readonly exit: Exit;
  /** The other half of a push-pull stage, and whether it is moved the same way (1) or the other (−1). */
  readonly partner?: { readonly transistor: PlacedTransistor; readonly sense: 1 | -1 };
}

/** Hand and solved gain, and why they differ where they do by more than a fifth. */
export interface GainReading {
  readonly hand: HandGain;
  readonly solved: number;
  readonly difference?: string;
}

const FIFTH = 0.2;
const differs = (ratio: number): boolean => ratio > 1 + FIFTH || ratio < 1 / (1 + FIFTH);

/** One cause of a difference: the factor it changes the hand gain by. */
interface Cause {
  readonly factor: number;
  readonly words: string;
}

const parallelOf = (a: Phasor, siemens: number): Phasor =>
  over(ONE, plus(over(ONE, a), { re: siemens, im: 0 }));
const series = (a: Phasor, ohms: number): Phasor => plus(a, { re: ohms, im: 0 });

/** What the transistor finds outside at a pin with its own generator at rest. */
function outside(circuit: LinearCircuit, use: Use, pin: number, hertz: number): Phasor {
  const { transistor, partner } = use;
  const resting = partner === undefined ? [transistor] : [transistor, partner.transistor];
  return circuit.without(resting, hertz, () =>
    partner === undefined
      ? pinImpedance(circuit, transistor, pin).outside
      : pairImpedance(circuit, [transistor, partner.transistor], pin, partner.sense).outside,
  );
}

/** Solved gain from the pin the signal enters to the one it leaves, driven by a test current, V/V. */
function solvedGain(
  circuit: LinearCircuit,
  { transistor, entry, exit, partner }: Use,
): Phasor & { inner: Phasor } {
  const pin = pinOf(entry);
  const input = transistor.nodes[pin]!;
  const other = partner?.transistor.nodes[pin];
  const solved = circuit.working(
    other === undefined
      ? [[input, 1]]
      : [
          [input, 1],
          [other, partner!.sense],
        ],
  );
  const volts = solved.at(input);
  const output = solved.at(transistor.nodes[exit === "collector" ? COLLECTOR : EMITTER]);
  return { ...over(output, volts), inner: over(solved.at(transistor.inner), volts) };
}

const RE = (ohms: number): Resistance => ({
  symbol: "r_e",
  ohms,
  meaning: "26 mV by I_E: within the emitter",
});

const oppositeOf = ({ partner }: Use): PlacedTransistor | undefined =>
  partner?.sense === -1 ? partner.transistor : undefined;

function emitterCauses(diagram: Diagram, use: Use, byHand: number, hertz: number): Cause {
  const { transistor } = use;
  const { bypass } = emitterResistance(diagram, transistor, oppositeOf(use));
  const found = size(series(outside(diagram.circuit, use, EMITTER, hertz), transistor.re));
  return {
    factor: (transistor.re + byHand) / found,
    words:
      bypass === undefined ? "what else moves the emitter" : `bypass ${bypass} too small at this frequency`,
  };
}

function collectorCauses({ circuit }: Diagram, use: Use, byHand: number, hertz: number): Cause[] {
  const load = outside(circuit, use, COLLECTOR, hertz);
  const shunted = parallelOf(load, use.transistor.outputSiemens);
  return [
    { factor: size(load) / byHand, words: "loading by what follows" },
    { factor: size(shunted) / size(load), words: "the transistor's own output conductance" },
  ];
}

/** The causes that count, greatest first; what none of them explains is feedback. */
function explain(hand: number, solved: number, causes: readonly Cause[]): string | undefined {
  if (!differs(Math.abs(solved / hand))) return undefined;
  const explained = causes.reduce((product, { factor }) => product * factor, Math.abs(hand));
  const rest: Cause = { factor: Math.abs(solved) / explained, words: "feedback from elsewhere" };
  const weight = ({ factor }: Cause) => Math.abs(Math.log(factor));
  const counted = [...causes, rest].filter(({ factor }) => Number.isFinite(factor) && factor > 0);
  const ordered = counted.toSorted((a, b) => weight(b) - weight(a));
  const named = ordered.filter(({ factor }, i) => i === 0 || differs(factor));
  return named.map(({ words, factor }) => `${words} (× ${Number(factor.toPrecision(2))})`).join(", ");
}

/** Common emitter, plain or degenerated, and a half of a push-pull stage: −R_C/(r_e + R_E). */
function commonEmitter(diagram: Diagram, use: Use, hertz: number): GainReading {
  const { transistor, partner } = use;
  const { unbypassed } = emitterResistance(diagram, transistor, oppositeOf(use));
  const own = partner === undefined ? collectorResistance(diagram, transistor) : undefined;
  const load = own ?? {
    symbol: "R′",
    ohms: size(outside(diagram.circuit, use, COLLECTOR, hertz)),
    meaning: `what ${loadName(diagram, transistor)} shows the collector`,
  };
  const re = RE(transistor.re);
  const low = unbypassed === undefined ? "r_e" : `(r_e + ${unbypassed.symbol})`;
  const hand: HandGain = {
    formula: `−${load.symbol}/${low}`,
    resistances: [load, re, ...(unbypassed === undefined ? [] : [unbypassed])],
    gain: -load.ohms / (re.ohms + (unbypassed?.ohms ?? 0)),
  };
  const found = solvedGain(diagram.circuit, use);
  const causes = [
    ...collectorCauses(diagram, use, load.ohms, hertz),
    emitterCauses(diagram, use, unbypassed?.ohms ?? 0, hertz),
    { factor: size(found.inner), words: "the base resistance r_bb′" },
  ];
  return read(hand, signed(found), causes);
}

/** Emitter follower: R_E/(R_E + r_e). */
function follower(diagram: Diagram, use: Use, hertz: number): GainReading {
  const { transistor } = use;
  const re = RE(transistor.re);
  const outer = size(outside(diagram.circuit, use, EMITTER, hertz));
  const load = emitterLoad(diagram, transistor) ?? {
    symbol: "R_E",
    ohms: outer,
    meaning: "what is connected to the emitter",
  };
  const gain = load.ohms / (load.ohms + re.ohms);
  const hand: HandGain = {
    formula: `${load.symbol}/(${load.symbol} + r_e)`,
    resistances: [load, re],
    gain,
  };
  const found = solvedGain(diagram.circuit, use);
  const causes = [
    { factor: outer / (outer + re.ohms) / gain, words: "loading by what follows" },
    { factor: size(found.inner), words: "the base resistance r_bb′" },
  ];
  return read(hand, signed(found), causes);
}

/** Common base: R_C/r_e. */
function commonBase(diagram: Diagram, use: Use, hertz: number): GainReading {
  const { transistor } = use;
  const re = RE(transistor.re);
  const load = collectorResistance(diagram, transistor) ?? {
    symbol: "R′",
    ohms: size(outside(diagram.circuit, use, COLLECTOR, hertz)),
    meaning: `what ${loadName(diagram, transistor)} shows the collector`,
  };
  const hand: HandGain = {
    formula: `${load.symbol}/r_e`,
    resistances: [load, re],
    gain: load.ohms / re.ohms,
  };
  const base = size(outside(diagram.circuit, use, BASE, hertz)) + transistor.baseOhms;
  const throughBase = base * (1 / re.ohms - transistor.gm) * re.ohms;
  const causes = [
    ...collectorCauses(diagram, use, load.ohms, hertz),
    { factor: re.ohms / (re.ohms + throughBase), words: "resistance in the base" },
  ];
  return read(hand, signed(solvedGain(diagram.circuit, use)), causes);
}

function read(hand: HandGain, solved: number, causes: readonly Cause[]): GainReading {
  const difference = explain(hand.gain, solved, causes);
  return { hand, solved, ...(difference !== undefined && { difference }) };
}

/** The gain of a stage by hand and solved, at the frequency tuned to. */
export function gainReading(diagram: Diagram, use: Use, hertz: number): GainReading {
  if (use.entry === "emitter") return commonBase(diagram, use, hertz);
  return use.exit === "emitter" ? follower(diagram, use, hertz) : commonEmitter(diagram, use, hertz);
}

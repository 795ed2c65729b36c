/** What each transistor is there for, found from where it is connected and from what signals do. */
import type { Circuit, SignalPath } from "../../circuit/circuit.ts";
import type { Region } from "../results.ts";
import { BASE, COLLECTOR, EMITTER, type LinearCircuit, type PlacedTransistor } from "./linear-circuit.ts";
import { minus, ONE, over, size } from "./phasor.ts";
import { pinImpedance } from "./resistances.ts";
import type { Configuration, OscillatorLoop } from "./results.ts";
import { type Drive, type Entry, type Exit, entryOf, exitOf, outputOf } from "./signal.ts";
import { isBypassed, isStill } from "./supply-servants.ts";
import type { Wiring } from "./wiring.ts";

export interface Finding {
  readonly configuration: Configuration;
  /** By what, in a phrase. */
  readonly because: string;
  readonly entry?: Entry;
  readonly exit?: Exit;
}

/** From this much of r_e at the emitter the gain falls by a fifth. */
const DEGENERATED = 0.25;

/** Without a signal: a transistor that does something else, or nothing. */
export function standstill(wiring: Wiring, { part }: PlacedTransistor, region: Region): Finding | undefined {
  if (wiring.at(part, BASE) === wiring.at(part, COLLECTOR)) {
    return { configuration: "diode-connected", because: "base and collector are joined" };
  }
  if (region === "cut off") {
    return { configuration: "cut off", because: "no more than leakage flows: its base is not biased here" };
  }
  if (region === "saturated") {
    return { configuration: "saturated", because: "both junctions conduct: its collector cannot go further" };
  }
  if (region === "reverse") {
    return { configuration: "reverse", because: "emitter and collector have changed places" };
  }
  return undefined;
}

export function oscillating(
  { hertz, loop_gain }: OscillatorLoop,
  shownHertz: (hertz: number) => string,
): Finding {
  const gain = Number(loop_gain.toPrecision(2));
  const where =
    hertz === 0 ? "for direct current: it tips over" : `at ${shownHertz(hertz)}: oscillation grows`;
  return {
    configuration: "oscillator",
    because: `its own output returns in phase, ${gain} times what is needed, ${where}`,
  };
}

/** Everything the configuration of a transistor in the signal's way is judged by. */
export interface Observation {
  readonly circuit: LinearCircuit;
  readonly wiring: Wiring;
  readonly plain: Circuit;
  readonly paths: readonly SignalPath[];
  readonly hertz: number;
}

/** The path that hangs on a transistor most: where its absence changes the output by the largest share. */
function pathThrough({ circuit, plain, paths, hertz }: Observation, transistor: PlacedTransistor) {
  const found = paths.map((path) => {
    const source = plain.parts.findIndex(({ name }) => name === path.from);
    const whole = outputOf(circuit.fromSource(source), path.to);
    const rest = circuit.without([transistor], hertz, () => outputOf(circuit.fromSource(source), path.to));
    return { path, share: size(minus(ONE, over(rest, whole))) };
  });
  const best = found.toSorted((a, b) => b.share - a.share)[0];
  return best !== undefined && best.share > 0.1 ? best.path : undefined;
}

/** The configuration of a transistor that amplifies, or could. */
export function amplifying(observation: Observation, transistor: PlacedTransistor, drive: Drive): Finding {
  const { circuit, wiring, hertz } = observation;
  const to = pathThrough(observation, transistor)?.to;
  const { entry, exit, emitter } = circuit.without([transistor], hertz, () => ({
    entry: drive.source === undefined ? undefined : entryOf(circuit.fromSource(drive.source), transistor),
    exit: exitOf(circuit, transistor, to),
    emitter: size(pinImpedance(circuit, transistor, EMITTER).outside),
  }));
  const { part, re } = transistor;
  if (entry === undefined && drive.source !== undefined) return SOURCE;
  if (entry === undefined) return bySupplies(wiring, part, emitter / re);
  if (entry === "emitter") {
    return {
      configuration: "common base",
      because: "signal in at the emitter, out at the collector",
      entry,
      exit: "collector",
    };
  }
  if (exit === "emitter") {
    return {
      configuration: "emitter follower",
      because: "signal in at the base, out at the emitter",
      entry,
      exit,
    };
  }
  return { ...emitterStage(emitter / re), entry, exit };
}

const SOURCE: Finding = {
  configuration: "current source",
  because: "signals come to its collector only: it is there for its direct current",
};

function emitterStage(degeneration: number): Finding {
  const way = "signal in at the base, out at the collector";
  return degeneration > DEGENERATED
    ? {
        configuration: "degenerated common emitter",
        because: `${way}; ${Number(degeneration.toPrecision(2))} r_e stand unbypassed at the emitter`,
      }
    : { configuration: "common emitter", because: `${way}; the emitter is at signal ground` };
}

/** Where no source's signal comes by: what the pins that signals cannot move leave. */
function bySupplies(wiring: Wiring, part: number, degeneration: number): Finding {
  const still = (pin: number) => isStill(wiring, wiring.at(part, pin));
  if (still(COLLECTOR)) {
    return {
      configuration: "emitter follower",
      because: "its collector is on the supply; no source reaches it",
      entry: "base",
      exit: "emitter",
    };
  }
  const heldBase = isBypassed(wiring, wiring.at(part, BASE)) || heldByParts(wiring, part);
  if (heldBase && degeneration > 1) {
    return {
      configuration: "current source",
      because: "its base is held still, and its emitter has a resistor",
    };
  }
  if (heldBase) {
    return {
      configuration: "common base",
      because: "its base is held still; no source reaches it",
      entry: "emitter",
      exit: "collector",
    };
  }
  return {
    ...emitterStage(degeneration),
    because: "no source reaches it; base free, collector loaded",
    entry: "base",
    exit: "collector",
  };
}

/** A base between resistors or diodes from supply to supply and nothing else. */
function heldByParts(wiring: Wiring, part: number): boolean {
  const net = wiring.at(part, BASE);
  const ends = wiring.resistorsAt(net).map(({ far }) => far);
  const free = wiring.capacitorsAt(net).length === 0 && wiring.transistorsAt(net, COLLECTOR).length === 0;
  return free && ends.length >= 2 && ends.every((far) => wiring.isSupply(far));
}

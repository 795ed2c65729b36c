import type { Circuit, SignalPath } from "../../circuit/circuit.ts";
import { currentInto } from "../../engine/currents.ts";
import type { SolvedPoint } from "../../engine/operating-point.ts";
import { type Phasor, SmallSignal } from "../../engine/small-signal.ts";
import { halfPower, REFERENCE } from "../half-power.ts";
import { reader } from "../output.ts";
import { decibels } from "../response.ts";
import { transistorReading } from "../transistor-reading.ts";
import { netVolts } from "../voltages.ts";
import type { Looked, TransistorFigure } from "./condition.ts";

/** Reads what a condition looks at from one solved point after another of the same network. */
export class Gauge {
  readonly #looked: Looked<number>;
  #smallSignal: SmallSignal | undefined;

  constructor(looked: Looked<number>) {
    this.#looked = looked;
  }

  /** In the unit of `unitOf`; undefined where there is no such thing, as a −3 dB point out of reach. */
  read(point: SolvedPoint): number | undefined {
    const looked = this.#looked;
    const { circuit } = point.network;
    switch (looked.kind) {
      case "voltage":
        return netVolts(point, looked.net) - netVolts(point, looked.minus);
      case "transistor":
        return transistorFigure(point, partIndex(circuit, looked.part), looked.figure);
      case "part":
        return partFigure(point, partIndex(circuit, looked.part), looked.quantity);
      case "gain":
        return gainAt(this.#linearised(point), pathOf(circuit, looked.path), looked.hertz);
      case "half power":
        return halfPowerAt(this.#linearised(point), pathOf(circuit, looked.path), looked.end);
      case "signal": {
        const to = { net: looked.net, minus: looked.minus };
        return gainAt(this.#linearised(point), { from: looked.from, to }, looked.hertz);
      }
    }
  }

  #linearised(point: SolvedPoint): SmallSignal {
    if (this.#smallSignal?.network === point.network) this.#smallSignal.linearise(point.state);
    else this.#smallSignal = new SmallSignal(point);
    return this.#smallSignal;
  }
}

const partIndex = (circuit: Circuit, name: string): number =>
  circuit.parts.findIndex((part) => part.name === name);

function pathOf(circuit: Circuit, name: string): SignalPath {
  const path = circuit.paths.find((each) => each.name === name);
  if (path === undefined) throw new Error(`no path ${name}`);
  return path;
}

/** Currents count positive the way the type's arrow points. */
function transistorFigure(point: SolvedPoint, index: number, figure: TransistorFigure): number {
  const reading = transistorReading(point, index);
  const forward = point.network.circuit.types[reading.type]?.device === "pnp" ? -1 : 1;
  switch (figure) {
    case "ic":
      return forward * reading.ic_amps;
    case "ib":
      return forward * reading.ib_amps;
    case "ie":
      return -forward * reading.ie_amps;
    case "vbe":
      return reading.vbe_volts;
    case "vce":
      return reading.vce_volts;
    case "ptot":
      return reading.dissipation_watts;
    case "tj":
      return reading.junction_celsius;
  }
}

function partFigure(point: SolvedPoint, index: number, quantity: "voltage" | "current"): number {
  if (quantity === "current") return currentInto(point.currents, index, 0);
  const pins = point.network.circuit.parts[index]?.pins ?? [];
  return netVolts(point, pins[0]?.net ?? 0) - netVolts(point, pins.at(-1)?.net ?? 0);
}

type Route = Pick<SignalPath, "from" | "to">;

function gainAt(smallSignal: SmallSignal, path: Route, hertz: number): number | undefined {
  if (smallSignal.tune(hertz) !== undefined) return undefined;
  smallSignal.drive(partIndex(smallSignal.network.circuit, path.from));
  const read: () => Phasor = reader(smallSignal, path as SignalPath);
  return decibels(read());
}

/** The nearest frequency below or above 1 kHz at which the gain is 3 dB less than there, Hz. */
function halfPowerAt(smallSignal: SmallSignal, path: Route, end: "lower" | "upper"): number | undefined {
  const gain = (hertz: number) => gainAt(smallSignal, path, hertz);
  const reference = gain(REFERENCE);
  return reference === undefined ? undefined : halfPower(gain, reference, end);
}

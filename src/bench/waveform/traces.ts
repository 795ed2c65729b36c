import type { Circuit } from "../../circuit/circuit.ts";
import { gather } from "../../engine/devices.ts";
import type { Network } from "../../engine/network.ts";
import type { Entries } from "../../engine/stamps.ts";
import { kindOf } from "../../parts/index.ts";
import type { Shown } from "./conditions.ts";

/** Reads one quantity from a state and its rate of change. */
export interface Trace {
  readonly shown: Shown;
  /** Whether `rate` is looked at. */
  readonly needsRate: boolean;
  read(state: Float64Array, rate: Float64Array): number;
}

const RPM = 60 / (2 * Math.PI);

/** What is read of a network in time. Values of parts may change under it, its structure not. */
export function traceOf(network: Network, shown: Shown): Trace {
  const { unknowns, circuit } = network;
  if (shown.kind === "net") {
    const [plus, minus] = [unknowns.net[shown.net]!, unknowns.net[shown.minus ?? 0]!];
    return { shown, needsRate: false, read: (state) => state[plus]! - state[minus]! };
  }
  if (shown.kind === "speed") {
    const speed = speedOf(circuit, network, shown.part);
    return { shown, needsRate: false, read: (state) => RPM * state[speed]! };
  }
  return currentTrace(network, shown);
}

function speedOf(circuit: Circuit, { unknowns }: Network, name: string): number {
  const index = circuit.parts.findIndex((part) => part.name === name);
  const part = circuit.parts[index]!;
  const own = kindOf(part).unknowns?.(part, circuit) ?? [];
  const local = own.findIndex(({ kind }) => kind === "speed");
  return unknowns.locals[index]![part.pins.length + local]!;
}

/** Current into the first pin: G·x + d(C·x)/dt of its row, and the device's own. */
function currentTrace(network: Network, shown: Shown & { readonly kind: "current" }): Trace {
  const { circuit, stamps, devices } = network;
  const part = circuit.parts.findIndex(({ name }) => name === shown.part);
  const placed = devices.find((device) => device.part === part);
  const g = pinEntries(stamps.g, part);
  const c = pinEntries(stamps.c, part);
  return {
    shown,
    needsRate: true,
    read(state, rate) {
      let amps = 0;
      for (const e of g) amps += stamps.g.value[e]! * state[stamps.g.column[e]!]!;
      for (const e of c) amps += stamps.c.value[e]! * rate[stamps.c.column[e]!]!;
      if (placed === undefined) return amps;
      const { device, locals, load } = placed;
      gather(placed, state);
      device.evaluate(placed.x, load);
      amps += load.current[0]!;
      device.charges(placed.x, load);
      for (let k = 0; k < locals.length; k++) amps += load.slope[k]! * rate[locals[k]!]!;
      return amps;
    },
  };
}

/** Entries of a part that lie in the row of its first pin. */
function pinEntries({ start, local }: Entries, part: number): number[] {
  const count = start[part + 1]! - start[part]!;
  return Array.from({ length: count }, (_, k) => start[part]! + k).filter((e) => local[e] === 0);
}

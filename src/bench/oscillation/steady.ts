import type { Circuit } from "../../circuit/circuit.ts";
import type { Mode } from "../../engine/natural/refine.ts";
import { type LimitCycle, limitCycle } from "../../engine/steady/limit-cycle.ts";
import type { SolvedMode } from "../run.ts";
import type { Level, Steady } from "./results.ts";

/** Nets with less than this share of the greatest swing are told only when asked for. */
const AUDIBLE = 1e-3;

export interface SteadySwing {
  readonly result: Steady | { readonly reason: string };
  readonly cycle?: LimitCycle;
}

/** What a growing oscillation settles at. `nets` are told however little they swing. */
export function steadySwing(
  { circuit, point }: SolvedMode,
  mode: Mode,
  nets: readonly string[],
): SteadySwing {
  const cycle = limitCycle(point, mode);
  if ("reason" in cycle) return { result: cycle };
  const { unknowns } = point.network;
  const levels = circuit.nets.map((net, k) => [net.name, levelOf(cycle, unknowns.net[k]!)] as const).slice(1);
  const greatest = Math.max(...levels.map(([, level]) => level.volts_peak));
  const told = levels.filter(
    ([name, { volts_peak }]) => nets.includes(name) || (nets.length === 0 && volts_peak > AUDIBLE * greatest),
  );
  return {
    cycle,
    result: {
      method: cycle.harmonics === 1 ? "describing function" : "harmonic balance",
      harmonics: cycle.harmonics,
      hertz: cycle.omega / (2 * Math.PI),
      nets: Object.fromEntries(told),
      heads: headCurrents(circuit, point.network.unknowns.locals, cycle),
    },
  };
}

function levelOf(cycle: LimitCycle, unknown: number): Level {
  const peak = (harmonic: number) => {
    const { re, im } = cycle.phasor(unknown, harmonic);
    return Math.hypot(re, im);
  };
  const first = peak(1);
  const rest = Math.hypot(...Array.from({ length: cycle.harmonics - 1 }, (_, k) => peak(k + 2)));
  return { volts_peak: first, mean_volts: cycle.mean(unknown), distortion: first > 0 ? rest / first : 0 };
}

/** The current in a head's winding is its first own unknown. */
function headCurrents(circuit: Circuit, locals: readonly Int32Array[], cycle: LimitCycle): Steady["heads"] {
  return Object.fromEntries(
    circuit.parts.flatMap((part, k) => {
      if (part.kind !== "head") return [];
      const { re, im } = cycle.phasor(locals[k]![part.pins.length]!, 1);
      return [[part.name, { amps_rms: Math.hypot(re, im) / Math.SQRT2 }]];
    }),
  );
}

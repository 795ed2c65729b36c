import type { TimeRun } from "../../engine/time/run.ts";

/** Flux that so short a jump cannot take away, Vs: a thousand volts in it would not. */
const LEAST = 2e-9;
/** Share of the flux that is rounding. */
const ROUNDING = 1e-3;

/**
 * Does something to the circuit and tells which coils lost their flux by it: a current that had nowhere left to go, as
 * where a switch opens in series with a coil. On the bench that is a spark.
 */
export function brokenBy(
  run: TimeRun,
  act: () => boolean,
): { readonly done: boolean; readonly parts: string[] } {
  const before = run.integrator.now.q.slice();
  const done = act();
  const after = run.integrator.now.q;
  const { list } = run.network.unknowns;
  const lost = [...after.keys()].filter((k) => {
    const fluxes = list[k]!.kind === "branch";
    return fluxes && Math.abs(after[k]! - before[k]!) > Math.max(LEAST, ROUNDING * Math.abs(before[k]!));
  });
  return { done, parts: [...new Set(lost.flatMap((k) => list[k]!.part ?? []))] };
}

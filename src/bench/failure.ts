import type { Network } from "../engine/network.ts";
import type { UnsolvedPoint } from "../engine/operating-point.ts";
import type { Failure } from "./results.ts";

const degrees = (celsius: number) => `${celsius.toFixed(0).replace("-", "−")} °C`;

/** Where an unknown lies, in words, with the net or part it belongs to. */
function placeOf({ unknowns, circuit }: Network, number: number) {
  const unknown = unknowns.list[number];
  const netIndex = unknowns.net.indexOf(number);
  const net = circuit.nets[netIndex];
  const points = net === undefined ? "" : ` (${net.points.slice(0, 6).join(", ")})`;
  return {
    words: `${unknown?.name ?? "chassis"}${points}`,
    ...(net !== undefined && { net: net.name }),
    ...(unknown?.part !== undefined && { part: unknown.part }),
  };
}

/** The sentence for a point that could not be found. */
export function failureOf(point: UnsolvedPoint, mode: string): Failure {
  if (point.runaway !== undefined) return runawayOf(point.runaway, point.network, mode);
  const place = placeOf(point.network, point.hangsAt ?? 0);
  const { words, ...where } = place;
  if (point.failure === "undetermined") {
    return {
      kind: "no solution",
      mode,
      message: `mode ${mode}: nothing determines ${words}`,
      hint: "look for a loop of sources or windings without resistance, or a part connected at one end only",
      ...where,
    };
  }
  return {
    kind: "not converged",
    mode,
    message: `mode ${mode}: no operating point was found; it hangs at ${words}`,
    hint: "check the values and connections of the parts there; a stage that latches or oscillates may have no steady state",
    ...where,
  };
}

function runawayOf(
  { transistor, celsius, limitCelsius }: NonNullable<UnsolvedPoint["runaway"]>,
  { ambientKelvin }: Network,
  mode: string,
): Failure {
  const ambient = degrees(ambientKelvin - 273.15);
  const end =
    limitCelsius === undefined
      ? `its junction finds no balance above ${degrees(celsius)}`
      : `its junction passes ${degrees(limitCelsius)}, its limit, before the heat balances`;
  return {
    kind: "thermal runaway",
    mode,
    message: `mode ${mode}: thermal runaway of ${transistor} at ${ambient} ambient: ${end}`,
    hint: "check its bias network and emitter resistor, its heat sink (rth), and its leakage",
    part: transistor,
  };
}

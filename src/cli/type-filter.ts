import type { CurveConditions } from "../bench/curves.ts";
import type { TypeFilter } from "../bench/types.ts";
import type { DeviceType } from "../circuit/circuit.ts";
import type { Unit } from "../parts/kind.ts";
import { type Arguments, has, valueGiven } from "./arguments.ts";
import { optional, quantity } from "./conditions.ts";
import { Refusal, readTogether } from "./refusal.ts";

/** Junction temperatures at which germanium and silicon still are semiconductors, °C. */
const COLDEST = -60;
const HOTTEST = 150;

/** A value above zero of an option, in SI units; undefined if it is not given. */
function above(given: Arguments, name: string, unit: Unit): number | undefined {
  const text = valueGiven(given, name);
  if (text === undefined) return undefined;
  const value = quantity(name, text, unit);
  if (value > 0 && value < Infinity) return value;
  throw new Refusal(`--${name} ${text}: give a value above 0`);
}

/** The switches among `names` that are given; nothing if none is. */
const switches = <Name extends string>(
  given: Arguments,
  names: Readonly<Record<string, Name>>,
): readonly Name[] | undefined => {
  const found = Object.entries(names).flatMap(([option, name]) => (has(given, option) ? [name] : []));
  return found.length > 0 ? found : undefined;
};

/** Which types are asked for. */
export function readFilter(given: Arguments): TypeFilter {
  const devices = switches(given, { pnp: "pnp", npn: "npn", diodes: "diode" } as const);
  const materials = switches(given, { germanium: "germanium", silicon: "silicon" } as const);
  const { volts, amps, ft } = readTogether({
    volts: () => above(given, "vce", "volt"),
    amps: () => above(given, "ic", "ampere"),
    ft: () => above(given, "ft", "hertz"),
  });
  return {
    ...(devices !== undefined && { devices }),
    ...(materials !== undefined && { materials }),
    ...(volts !== undefined && { volts }),
    ...(amps !== undefined && { amps }),
    ...(ft !== undefined && { ft }),
  };
}

/** The collector current at which types are compared, A: that of the sheet's hfe if none is given. */
export const readLikeCurrent = (given: Arguments, { figures }: DeviceType): number =>
  above(given, "ic", "ampere") ?? figures["hfe.at"] ?? 1e-3;

/** How far characteristics are drawn, and how warm the junction is. */
export function readCurveConditions(given: Arguments): CurveConditions {
  const { volts, amps, celsius } = readTogether({
    volts: () => above(given, "vce", "volt"),
    amps: () => above(given, "ic", "ampere"),
    celsius: () => optional(valueGiven(given, "ambient"), readJunction),
  });
  return {
    ...(volts !== undefined && { volts }),
    ...(amps !== undefined && { amps }),
    ...(celsius !== undefined && { celsius }),
  };
}

function readJunction(text: string): number {
  const celsius = quantity("ambient", text, "celsius");
  if (celsius >= COLDEST && celsius <= HOTTEST) return celsius;
  throw new Refusal(`--ambient ${text}: give a temperature from ${COLDEST} to ${HOTTEST} °C`);
}

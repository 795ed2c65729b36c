import type { Circuit, DeviceType, Part } from "../../circuit/circuit.ts";
import { DEFAULT_HFE } from "../../devices/transistor-parameters.ts";
import { kindOf } from "../../parts/index.ts";
import { parametersOf } from "../../parts/transistor.ts";

/**
 * One thing that differs from specimen to specimen. Where it stands is a number t, evenly distributed from
 * −1 (least) to 1 (greatest); t = 0 is the nominal value, with half of all specimens below and half above.
 */
export interface Variable {
  /** The part, or `ambient`. */
  readonly part: string;
  /** `resistance`, `hfe`, `leakage`, `emf`, `temperature` … */
  readonly quantity: string;
  /** Index into `Circuit.parts`; −1 for the ambient temperature. */
  readonly index: number;
  /** Keys of `Part.values` that it sets, with the value of each at t. */
  readonly values: readonly { readonly key: string; readonly at: (t: number) => number }[];
}

/** From one end of a range to the other, SI units. */
export interface Range {
  readonly from: number;
  readonly to: number;
}

/** Evenly spread between the limits of a tolerance, below and above the nominal value alike. */
const within = (nominal: number, low: number, high: number) => (t: number) =>
  nominal * (1 + t * (t < 0 ? -low : high));

/** Evenly spread over the logarithm, between least and nominal and between nominal and greatest alike. */
const overDecades = (nominal: number, least: number, greatest: number) => (t: number) =>
  t < 0 ? nominal * (nominal / least) ** t : nominal * (greatest / nominal) ** t;

const along =
  ({ from, to }: Range) =>
  (t: number) =>
    (from + to) / 2 + (t * (to - from)) / 2;

/** An adjustable core has the tolerance on both ends of its range. */
const RANGE_ENDS = ["setting.from", "setting.to"] as const;

function tolerated(part: Part, index: number): Variable[] {
  const { tolerance } = part;
  const key = kindOf(part).bare?.[0]?.key;
  if (tolerance === undefined || key === undefined || tolerance.low === tolerance.high) return [];
  const keys = [key, ...RANGE_ENDS].filter((each) => part.values[each] !== undefined);
  const values = keys.map((each) => ({
    key: each,
    at: within(part.values[each]!, tolerance.low, tolerance.high),
  }));
  return [{ part: part.name, quantity: key, index, values }];
}

/** Where a sheet gives no `spread`, samples have half to twice the current gain; common practice, no source. */
const HFE_FACTOR = 2;
/** Where it gives no `max`, they have up to three times the leakage; common practice, no source. */
const LEAKAGE_FACTOR = 3;

function sampleOf(part: Part, type: DeviceType, index: number): Variable[] {
  const { figures } = type;
  const own = (key: string) => part.values[key] !== undefined;
  const hfe = figures.hfe ?? DEFAULT_HFE;
  const least = Math.min(figures["spread.least"] ?? hfe / HFE_FACTOR, hfe);
  const greatest = Math.max(figures["spread.greatest"] ?? hfe * HFE_FACTOR, hfe);
  const leakage = typicalLeakage(type);
  const max = Math.max(figures["leakage.max"] ?? leakage * LEAKAGE_FACTOR, leakage);
  const variable = (quantity: string, at: (t: number) => number): Variable => ({
    part: part.name,
    quantity,
    index,
    values: [{ key: quantity, at }],
  });
  // a part with figures of its own is that very sample
  return [
    ...(own("hfe") ? [] : [variable("hfe", overDecades(hfe, least, greatest))]),
    // as far below the typical as the greatest lies above
    ...(own("leakage") ? [] : [variable("leakage", overDecades(leakage, leakage ** 2 / max, max))]),
  ];
}

/** Collector leakage of a typical sample at 25 °C, A. */
function typicalLeakage(type: DeviceType): number {
  const { leakage, "leakage.at": at = 25 } = type.figures;
  const { doubling, leakageCurrent, saturationCurrent, forwardGain, reverseGain } = parametersOf(type);
  if (leakage !== undefined) return leakage * 2 ** ((25 - at) / doubling);
  return leakageCurrent + saturationCurrent / (forwardGain + 1) + saturationCurrent / reverseGain;
}

export interface Ranges {
  /** EMF by battery, V. */
  readonly batteries?: Readonly<Record<string, Range>>;
  /** °C. */
  readonly ambient?: Range;
}

/** Everything of a circuit that differs from specimen to specimen, parts in file order, ambient last. */
export function variablesOf(circuit: Circuit, { batteries = {}, ambient }: Ranges): readonly Variable[] {
  const ofParts = circuit.parts.flatMap((part, index): Variable[] => {
    const battery = batteries[part.name];
    if (battery !== undefined) {
      return [{ part: part.name, quantity: "emf", index, values: [{ key: "emf", at: along(battery) }] }];
    }
    if (part.kind === "transistor") return sampleOf(part, circuit.types[part.type ?? ""]!, index);
    return tolerated(part, index);
  });
  if (ambient === undefined) return ofParts;
  const weather = { part: "ambient", quantity: "temperature", index: -1 };
  return [...ofParts, { ...weather, values: [{ key: "celsius", at: along(ambient) }] }];
}

/** Parts that take a tolerance and have none: they count as exact. */
export const exactParts = (circuit: Circuit): readonly string[] =>
  circuit.parts
    .filter((part) => kindOf(part).tolerance && part.tolerance === undefined)
    .map(({ name }) => name);

import type { Circuit } from "../circuit/circuit.ts";
import type { Conditions, Meter } from "./conditions.ts";
import { noiseOf } from "./suspects/noise.ts";
import { NoHealthyPoint } from "./suspects/stand.ts";
import { Workshop } from "./suspects/workshop.ts";

/** 97.5 % point of the normal distribution. */
const BAND = 1.96;

export interface HealthyBand {
  readonly leastVolts: number;
  readonly greatestVolts: number;
}

export interface BandConditions extends Conditions {
  readonly meter?: Meter;
  /** Error of the meter, as a share of the reading. */
  readonly accuracy: number;
}

/**
 * Where nineteen of twenty readings of healthy specimens lie, by the name of the net: tolerances, transistor samples,
 * battery, what the meter loads and its error, as `suspects` judges readings. None where the mode has no solution.
 */
export function healthyBands(
  circuit: Circuit,
  mode: string,
  { accuracy, ...conditions }: BandConditions,
): Readonly<Record<string, HealthyBand>> {
  const looks = circuit.nets.map((_, net) => ({ kind: "voltage", net, minus: 0 }) as const).slice(1);
  try {
    const { mean, effects = [] } = new Workshop(circuit, conditions)
      .stand(mode)
      .see(undefined, looks, "spread")!;
    const bands = looks.map((look, k): [string, HealthyBand] => {
      const middle = mean[k]!;
      const { own, common } = noiseOf(look, middle, middle, middle, accuracy);
      const half = BAND * Math.hypot(own, common, ...(effects[k] ?? []));
      return [circuit.nets[look.net]!.name, { leastVolts: middle - half, greatestVolts: middle + half }];
    });
    return Object.fromEntries(bands);
  } catch (error) {
    if (error instanceof NoHealthyPoint) return {};
    throw error;
  }
}

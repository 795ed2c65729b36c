import { REFERENCE_KELVIN, thermalVoltage } from "./constants.ts";
import { boundedExp, boundedExpSlope } from "./exponential.ts";
import type { JunctionCapacitance } from "./junction-capacitance.ts";
import { MATERIALS, type Material, type MaterialName, saturationRatio } from "./material.ts";
import type { SheetProblem } from "./transistor-parameters.ts";

/** What the diode's equation needs at the reference temperature, SI units. */
export interface DiodeParameters {
  readonly material: Material;
  readonly saturationCurrent: number;
  readonly ideality: number;
  readonly seriesResistance: number;
  readonly junction: JunctionCapacitance;
}

/** Default forward voltage at 1 mA, V: the transistor's V_BE of the same material. */
export function diodeParameters(
  materialName: MaterialName,
  figures: Readonly<Record<string, number>>,
): DiodeParameters | SheetProblem {
  const material = MATERIALS[materialName];
  const volts = figures.vf ?? material.vbe.volts;
  const amps = figures["vf.at"] ?? material.vbe.at;
  const ideality = figures.ideality ?? 1;
  const seriesResistance = figures.rs ?? 0;
  const junctionVolts = volts - amps * seriesResistance;
  if (!(junctionVolts > 0)) {
    return {
      problem: `rs ${seriesResistance} Ω alone drops ${(amps * seriesResistance).toPrecision(3)} V, the whole of vf ${volts} V`,
      hint: "give a smaller rs, or vf at the current where it was measured",
    };
  }
  return {
    material,
    saturationCurrent: amps / Math.expm1(junctionVolts / (ideality * thermalVoltage(REFERENCE_KELVIN))),
    ideality,
    seriesResistance,
    junction: {
      farads: figures.cj ?? 0,
      at: figures["cj.at"] ?? 0,
      potential: material.junctionPotential,
    },
  };
}

/** Saturation current at `kelvin`, A. */
export const diodeSaturation = (p: DiodeParameters, kelvin: number): number =>
  p.saturationCurrent * saturationRatio(kelvin, p.material.bandGap, p.ideality);

/** Current in A through the junction at `v` volts, and its conductance in S, into `out`. */
export function diodeCurrent(
  saturation: number,
  scale: number,
  v: number,
  out: { current: number; conductance: number },
): void {
  const e = boundedExp(v / scale);
  out.current = saturation * (e - 1);
  out.conductance = (saturation * boundedExpSlope(v / scale, e)) / scale;
}

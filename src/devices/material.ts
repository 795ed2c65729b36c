import { REFERENCE_KELVIN, VOLTS_PER_KELVIN } from "./constants.ts";

export type MaterialName = "germanium" | "silicon";

/** What a data sheet leaves out. SI units; currents in A, capacitances in F. */
export interface Material {
  /** Band gap that the saturation current's temperature law uses, eV. */
  readonly bandGap: number;
  /** Built-in voltage of the junction capacitance, V. */
  readonly junctionPotential: number;
  readonly vbe: { readonly volts: number; readonly at: number };
  readonly hfeReverse: number;
  readonly leakage: number;
  readonly doubling: number;
  readonly early: number;
  readonly ft: number;
  readonly ccb: { readonly farads: number; readonly at: number };
  readonly rbb: number;
  readonly flicker: number;
}

export const MATERIALS: Readonly<Record<MaterialName, Material>> = {
  germanium: {
    bandGap: 0.67,
    junctionPotential: 0.3,
    vbe: { volts: 0.12, at: 1e-3 },
    hfeReverse: 8,
    leakage: 4e-6,
    doubling: 9,
    early: 60,
    ft: 1e6,
    ccb: { farads: 30e-12, at: 6 },
    rbb: 100,
    flicker: 1000,
  },
  silicon: {
    bandGap: 1.12,
    junctionPotential: 0.7,
    vbe: { volts: 0.62, at: 1e-3 },
    hfeReverse: 3,
    leakage: 5e-9,
    doubling: 10,
    early: 100,
    ft: 150e6,
    ccb: { farads: 4e-12, at: 6 },
    rbb: 100,
    flicker: 100,
  },
};

/**
 * Ratio of the saturation current at `kelvin` to its value at the reference temperature,
 * (T/T₀)^(3/n)·exp((Eg/n)·(q/k)·(1/T₀ − 1/T)), with `ideality` n = 1 for a transistor.
 */
export function saturationRatio(kelvin: number, bandGap: number, ideality = 1): number {
  const exponent = (bandGap / ideality / VOLTS_PER_KELVIN) * (1 / REFERENCE_KELVIN - 1 / kelvin);
  const ratio = kelvin / REFERENCE_KELVIN;
  const cubed = ratio * ratio * ratio;
  return (ideality === 1 ? cubed : cubed ** (1 / ideality)) * Math.exp(exponent);
}

/** d ln(saturation current)/dT at `kelvin`, 1/K. */
export function saturationSlope(kelvin: number, bandGap: number, ideality = 1): number {
  return (3 / kelvin + bandGap / (VOLTS_PER_KELVIN * kelvin * kelvin)) / ideality;
}

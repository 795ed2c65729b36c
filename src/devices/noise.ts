import { BOLTZMANN, ELEMENTARY_CHARGE } from "./constants.ts";

/** Thermal noise of a conductance of `siemens` at `kelvin`, 4kT·G, A²/Hz (Nyquist 1928). */
export const thermalNoise = (siemens: number, kelvin: number): number => 4 * BOLTZMANN * kelvin * siemens;

/** Shot noise of a direct current that crosses a junction, 2q·|I|, A²/Hz (Schottky 1918). */
export const shotNoise = (amps: number): number => 2 * ELEMENTARY_CHARGE * Math.abs(amps);

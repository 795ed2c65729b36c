/** Boltzmann's constant, J/K, exact. Source: CODATA 2018, SI definition of the kelvin. */
export const BOLTZMANN = 1.380649e-23;

/** Elementary charge, C, exact. Source: CODATA 2018, SI definition of the ampere. */
export const ELEMENTARY_CHARGE = 1.602176634e-19;

/** kT/q per kelvin, V/K. */
export const VOLTS_PER_KELVIN = BOLTZMANN / ELEMENTARY_CHARGE;

/** 0 °C in kelvin. */
export const ZERO_CELSIUS = 273.15;

/** Ambient temperatures at which the models still mean something, °C. */
export const COLDEST_AMBIENT = -60;
export const WARMEST_AMBIENT = 150;

/** The temperature at which data-sheet figures hold, K. */
export const REFERENCE_KELVIN = 298.15;

/** kT/q at temperature `kelvin`, V. */
export const thermalVoltage = (kelvin: number): number => VOLTS_PER_KELVIN * kelvin;

/** CODATA 2018, exact since the SI of 2019; written out here so that the checks do not lean on ours. */
export const BOLTZMANN = 1.380649e-23;
export const ELEMENTARY_CHARGE = 1.602176634e-19;

/** kT/q in volts at `celsius`. */
export const thermalVoltage = (celsius: number): number =>
  (BOLTZMANN * (celsius + 273.15)) / ELEMENTARY_CHARGE;

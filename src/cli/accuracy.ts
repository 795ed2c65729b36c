/** Error of an ordinary moving-coil meter, as a share of the reading, where `--accuracy` does not say. */
export const ACCURACY = 0.03;

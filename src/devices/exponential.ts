/** Beyond this exponent no bench current lies; the curve goes on as its tangent so that it stays finite. */
const LARGEST_EXPONENT = 80;
const LARGEST = Math.exp(LARGEST_EXPONENT);

/** exp(x), continued as its tangent above x = 80. */
export const boundedExp = (x: number): number =>
  x <= LARGEST_EXPONENT ? Math.exp(x) : LARGEST * (1 + x - LARGEST_EXPONENT);

/** Derivative of `boundedExp`, given x and its value there. */
export const boundedExpSlope = (x: number, value: number): number =>
  x <= LARGEST_EXPONENT ? value : LARGEST;

/**
 * The junction voltage to linearise at next, when a Newton step asks for `wanted` from `present`.
 * The step's linear model asks for a current; on the exponential that current lies at
 * present + Vt·ln(1 + (wanted − present)/Vt), which cannot overshoot. Steps below a few Vt, and all
 * steps towards reverse bias, are taken whole.
 */
export function temperedJunction(wanted: number, present: number, vt: number, saturation: number): number {
  if (Math.abs(wanted - present) <= 2 * vt) return wanted;
  const critical = criticalVoltage(saturation, vt);
  if (wanted <= critical) return wanted;
  if (present <= 0) return vt * Math.log(1 + wanted / vt);
  const argument = 1 + (wanted - present) / vt;
  return argument > 0 ? present + vt * Math.log(argument) : critical;
}

/** Thermal voltages below which the exponential's bend is nothing beside that of the charge. */
const VANISHED = -10;

/**
 * How sharply a junction's laws bend at `v`, 1/V: a small δ further on they are δ²·bend off their tangents, in
 * volts at its conductance or capacitance. Forward the exponential bends by 1/(2Vt). In reverse its current counts at
 * the conductance that it has at 0 V, since hardly any is left of its own, and vanishes; what stays is the depletion
 * charge, 1/(4·(φ + reverse voltage)).
 */
export function junctionBend(v: number, vt: number, potential: number): number {
  if (v >= 0) return 0.5 / vt;
  const charge = 0.25 / (potential - v);
  return v < VANISHED * vt ? charge : charge + (0.5 / vt) * Math.exp(v / vt);
}

/** Voltage at which the curve Is·exp(v/Vt) is at its sharpest, Vt·ln(Vt/(√2·Is)); not below 0. */
const criticalVoltage = (saturationCurrent: number, vt: number): number =>
  Math.max(0, vt * Math.log(vt / (Math.SQRT2 * saturationCurrent)));

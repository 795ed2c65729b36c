/** Depletion capacitance of an alloy junction: Cs at reverse voltage Vs, abrupt (m = ½). */
export interface JunctionCapacitance {
  readonly farads: number;
  readonly at: number;
  readonly potential: number;
}

/**
 * C(v) = Cs·√((Vs + φ)/(v + φ)) in farads at reverse voltage `v`; below −φ/2 its tangent, so that a
 * forward-biased junction keeps a finite, smooth capacitance.
 */
export function junctionCapacitance(junction: JunctionCapacitance, v: number): number {
  const { farads, at, potential } = junction;
  const edge = -potential / 2;
  if (v >= edge) return farads * Math.sqrt((at + potential) / (v + potential));
  const atEdge = farads * Math.sqrt((at + potential) / (edge + potential));
  return atEdge * (1 - (v - edge) / (2 * (edge + potential)));
}

/** Charge in coulombs that the reverse voltage `v` has put on the junction, zero at v = 0: ∫C dv. */
export function junctionCharge(junction: JunctionCapacitance, v: number): number {
  const { farads, at, potential } = junction;
  const scale = 2 * farads * Math.sqrt(at + potential);
  const edge = -potential / 2;
  if (v >= edge) return scale * (Math.sqrt(v + potential) - Math.sqrt(potential));
  const toEdge = scale * (Math.sqrt(edge + potential) - Math.sqrt(potential));
  const atEdge = farads * Math.sqrt((at + potential) / (edge + potential));
  const beyond = v - edge;
  return toEdge + atEdge * beyond * (1 - beyond / (4 * (edge + potential)));
}

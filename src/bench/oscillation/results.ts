/** Results of `oscillation` as plain data: SI units, named in the key. Nothing is rounded here. */

/** A part that takes part in a natural frequency. */
export interface Participant {
  readonly part: string;
  /** Share of the strongest: 1 is the part on which the mode hangs most. */
  readonly participation: number;
  /** Change of the frequency and of the growth for 1 % more of its value (of a transistor, of its hfe). */
  readonly hertz_per_percent?: number;
  readonly growth_per_percent?: number;
}

/** e^(growth·t) at so many hertz; 0 Hz does not swing. */
export interface NaturalFrequency {
  readonly hertz: number;
  readonly growth_per_second: number;
  /** |s| / 2|growth|; 0.5 for one that does not swing, absent for one that neither grows nor dies. */
  readonly q?: number;
  readonly parts: readonly Participant[];
}

export type GrowthKind = "oscillation" | "motorboating" | "latching";

/** How far a part may be changed before the oscillation no longer starts; without a value none was found up to `tried`. */
export interface StartLimit {
  readonly part: string;
  readonly value?: number;
  readonly tried: number;
}

export interface StartMargin {
  /** The transistor that takes part most, its hfe at the sheet's point, and the share of it that still does. */
  readonly transistor?: {
    readonly part: string;
    readonly hfe: number;
    readonly least_hfe?: number;
    readonly tried_hfe: number;
  };
  /** Lowest EMF, V. */
  readonly batteries: readonly StartLimit[];
  /** Least resistance across, Ω, and greatest in series, Ω. */
  readonly across?: StartLimit;
  readonly in_series?: StartLimit;
}

/** Peak volts of the fundamental, and of the highest harmonic balanced. */
export interface Level {
  readonly volts_peak: number;
  readonly mean_volts: number;
  readonly distortion: number;
}

/** The steady swing. */
export interface Steady {
  readonly method: string;
  readonly harmonics: number;
  readonly hertz: number;
  readonly nets: Readonly<Record<string, Level>>;
  /** Fundamental through tape heads, A rms. */
  readonly heads: Readonly<Record<string, { readonly amps_rms: number }>>;
}

/** A parallel circuit in the way of the oscillation. */
export interface Trap {
  readonly coil: string;
  readonly capacitor: string;
  readonly resonance_hertz: number;
  /** From the oscillator's side to the other, at the oscillation's frequency. */
  readonly attenuation_db: number;
  readonly from: string;
  readonly to: string;
  /** Peak volts left on the far side; absent without a steady swing. */
  readonly residual_volts_peak?: number;
  /** Attenuation with 1 % more and 1 % less inductance, and how far the resonance moves, Hz. */
  readonly attenuation_db_one_percent_more: number;
  readonly attenuation_db_one_percent_less: number;
  readonly hertz_per_percent: number;
}

/** A natural frequency that grows, and what becomes of it. */
export interface Growing {
  readonly hertz: number;
  readonly growth_per_second: number;
  readonly kind: GrowthKind;
  readonly parts: readonly string[];
  readonly start: StartMargin;
  /** Absent where it does not swing; or the reason why no steady swing was found. */
  readonly steady?: Steady | { readonly reason: string };
  readonly traps: readonly Trap[];
}

/** Value up (or down) to which nothing else grows; without one, none was found up to `tried`. */
export interface SupplyLimit {
  readonly part: string;
  readonly limit?: number;
  readonly tried: number;
  /** What grows beyond. */
  readonly hertz?: number;
}

export interface SupplyMargins {
  /** Greatest internal resistance, Ω. */
  readonly batteries: readonly SupplyLimit[];
  /** Least capacitance, F. */
  readonly capacitors: readonly SupplyLimit[];
}

export interface OscillationChart {
  readonly mode: string;
  /** Sorted by growth, greatest first; a complex pair is one entry. */
  readonly natural: readonly NaturalFrequency[];
  readonly growing: readonly Growing[];
  readonly margins?: SupplyMargins;
}

/** What `suspects` answers, as plain data; SI units, gains in dB. */

export type ReadingUnit = "V" | "A" | "Ω" | "dB";

/** A reading beside what is to be expected of a healthy specimen. */
export interface JudgedReading {
  readonly mode: string;
  readonly point: string;
  readonly unit: ReadingUnit;
  readonly taken: number;
  /** What this meter would show at nominal values. */
  readonly expected: number;
  /** Nineteen of twenty healthy specimens lie between. */
  readonly least: number;
  readonly greatest: number;
  readonly outside: boolean;
}

export interface Amount {
  readonly value: number;
  readonly unit: string;
}

export interface NamedFault {
  readonly part: string;
  readonly fault: string;
  readonly probability: number;
  /** Of a continuous fault, about how much. */
  readonly amount?: Amount;
}

export interface ProposedProbe {
  readonly mode: string;
  readonly point: string;
  readonly bits: number;
}

/** A fault, or several that no reading taken tells apart, the likeliest in front. */
export interface Suspect extends NamedFault {
  /** All of the group, the first among them; one where it stands alone. */
  readonly alike: readonly NamedFault[];
  /** What would part the group. */
  readonly parted_by?: ProposedProbe;
  /** What the fault makes each reading, in the order of `readings`. */
  readonly predicted: readonly number[];
  /** The reading (index) that fits so badly that it is probably a slip. */
  readonly slip?: number;
  readonly check: string;
  readonly cautions: readonly string[];
}

export interface SuspectPair {
  readonly faults: readonly [NamedFault, NamedFault];
  readonly probability: number;
  readonly predicted: readonly number[];
}

export interface SuspectsResult {
  readonly readings: readonly JudgedReading[];
  readonly suspects: readonly Suspect[];
  readonly no_fault_probability: number;
  /** Of all faults together that move none of the readings. */
  readonly unseen_probability: number;
  /** Whether anything fits the readings; if not, two things may be wrong, or one that is on no list. */
  readonly explained: boolean;
  readonly next: readonly ProposedProbe[];
  readonly pairs?: readonly SuspectPair[];
}

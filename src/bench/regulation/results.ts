/** Results of `regulation` as plain data: SI units, speeds in revolutions a minute. Nothing is rounded here. */

export type Held =
  /** The contact opens and closes in turn. */
  | "regulated"
  /** The contact stays as at rest: the motor does not come to the speed that works it. */
  | "too slow"
  /** As too slow, and the motor does not even turn. */
  | "stalled"
  /** The contact has worked once and does not come back: the motor gets faster, or stays fast. */
  | "runs away";

/** The motor at one value of what is turned. */
export interface RegulationPoint {
  /** V of battery, or N·m of load. */
  readonly value: number;
  readonly held: Held;
  /** Averaged over whole periods of the contact where it is regulated, else where it comes to. */
  readonly rpm: number;
  /** Of a regulated one: extremes, share of the time that the contact is worked (not as at rest), and how often. */
  readonly least_rpm?: number;
  readonly greatest_rpm?: number;
  readonly worked_share?: number;
  readonly periods_per_second?: number;
}

/** Speed against one quantity. */
export interface RegulationCurve {
  readonly mode: string;
  readonly motor: string;
  readonly governor: string;
  /** What is turned, in words: `B1`, `load of M1`. */
  readonly against: string;
  readonly unit: "volt" | "newton-metre";
  readonly points: readonly RegulationPoint[];
  /** Where the motor just comes to the speed that works the contact, if that lies in the range. */
  readonly limit?: number;
}

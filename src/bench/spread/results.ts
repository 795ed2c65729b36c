import type { Band } from "./quantiles.ts";

/** What makes so much of a spread: its share of the variance, by linear sensitivity. */
export interface Cause {
  /** The part, or `ambient`. */
  readonly part: string;
  readonly quantity: string;
  readonly share: number;
}

/** A band and what most of it comes from, greatest share first. */
export interface CausedBand extends Band {
  readonly causes: readonly Cause[];
}

/** A voltage somebody gives for a net, and whether it lies in the band. */
export interface GivenInBand {
  readonly point: string;
  readonly volts: number;
  readonly inside: boolean;
}

export interface NetSpread {
  readonly least_volts: number;
  readonly typical_volts: number;
  readonly greatest_volts: number;
  readonly causes: readonly Cause[];
  readonly points: readonly string[];
  readonly printed?: GivenInBand;
  readonly reading?: GivenInBand;
}

/** Specimens without an operating point, by what they fail at. */
export interface FailedTrials {
  readonly kind: "thermal runaway" | "not converged" | "no solution";
  readonly part?: string;
  readonly trials: number;
}

/** What is to be expected of many specimens of a circuit in one mode: 2.5 %, 50 % and 97.5 % points. */
export interface SpreadChart {
  readonly mode: string;
  readonly trials: number;
  readonly seed: number;
  readonly aged: boolean;
  readonly failed: readonly FailedTrials[];
  /** Parts that take a tolerance and have none. */
  readonly exact: readonly string[];
  readonly nets: Readonly<Record<string, NetSpread>>;
  readonly transistors: Readonly<Record<string, { readonly type: string; readonly ic_amps: CausedBand }>>;
  readonly paths: Readonly<
    Record<string, { readonly quantity: "voltage" | "current"; readonly gain_db: CausedBand }>
  >;
}

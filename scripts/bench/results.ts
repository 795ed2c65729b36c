/** What the benchmark finds, as data. */
export interface Line {
  /** The part of the benchmark it belongs to. */
  readonly item: Item;
  readonly what: string;
  /** What one of is timed: `point`, `solution`, `node` … */
  readonly per: string;
  /** Seconds per unit; left out where it could not be measured. */
  readonly min?: number;
  readonly median?: number;
  /** Seconds that the multiply-adds alone would take. */
  readonly limit?: number;
  /** Relative difference to the reference, found in the same run. */
  readonly difference?: number;
  readonly note?: string;
}

export type Item = "sweep" | "point" | "trials" | "networks" | "start" | "page" | "time" | "loops";

/** Something that has to hold. */
export interface Demand {
  readonly item: Item;
  readonly what: string;
  /** As found and as wanted; `found` is left out where it could not be measured. */
  readonly found?: number;
  readonly wanted: number;
  readonly sense: "at least" | "at most";
  readonly unit: string;
}

export interface Findings {
  readonly lines: readonly Line[];
  readonly demands: readonly Demand[];
}

export const together = (all: readonly Findings[]): Findings => ({
  lines: all.flatMap(({ lines }) => lines),
  demands: all.flatMap(({ demands }) => demands),
});

/** Whether a demand is met; undefined where it was not measured. */
export function isMet({ found, wanted, sense }: Demand): boolean | undefined {
  if (found === undefined) return undefined;
  return sense === "at least" ? found >= wanted : found <= wanted;
}

/** Stops the run if a result is wrong: a fast wrong answer is none. */
export function mustAgree(what: string, difference: number, allowed: number): number {
  if (!(difference <= allowed)) {
    throw new Error(`${what}: differs by ${difference.toExponential(1)}, allowed ${allowed}`);
  }
  return difference;
}

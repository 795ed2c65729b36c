/** Counts what a trial of `suspects` has shown, and puts it into lines. */

/** What one simulated fault or healthy specimen came to. */
export interface Tally {
  /** Faults simulated, and those that take a reading out of its band. */
  faults: number;
  shown: number;
  first: number;
  amongThree: number;
  healthy: number;
  healthyRight: number;
  rankings: number;
  milliseconds: number;
  /** Readings beside the first wrong one until the fault stood first, by the advice and in random order. */
  readonly advised: number[];
  readonly random: number[];
  /** Probability given to a suspect, and whether it was so. */
  readonly given: [probability: number, so: boolean][];
}

export const emptyTally = (): Tally => ({
  faults: 0,
  shown: 0,
  first: 0,
  amongThree: 0,
  healthy: 0,
  healthyRight: 0,
  rankings: 0,
  milliseconds: 0,
  advised: [],
  random: [],
  given: [],
});

/** All tallies as one. */
export function together(tallies: readonly Tally[]): Tally {
  const all = emptyTally();
  for (const own of tallies) {
    for (const key of [
      "faults",
      "shown",
      "first",
      "amongThree",
      "healthy",
      "healthyRight",
      "rankings",
      "milliseconds",
    ] as const)
      all[key] += own[key];
    all.advised.push(...own.advised);
    all.random.push(...own.random);
    all.given.push(...own.given);
  }
  return all;
}

const percent = (part: number, whole: number) =>
  whole === 0 ? "–" : `${Math.round((100 * part) / whole)} %`;

const mean = (list: readonly number[]) => list.reduce((sum, each) => sum + each, 0) / list.length;

/** One line a circuit. */
export function lineOf(name: string, tally: Tally): string {
  const { faults, shown, first, amongThree, healthy, healthyRight, advised, random } = tally;
  const words = [
    `${faults} faults, ${shown} show`,
    `first ${percent(first, shown)}, among three ${percent(amongThree, shown)}`,
    `no fault first in ${percent(healthyRight, healthy)} of ${healthy} healthy`,
  ];
  if (advised.length > 0)
    words.push(
      `further readings by advice ${mean(advised).toFixed(1)}, at random ${mean(random).toFixed(1)} (${percent(mean(advised), mean(random))}, ${advised.length} faults)`,
    );
  words.push(`${Math.round(tally.milliseconds / Math.max(1, tally.rankings))} ms a ranking`);
  return `${name}: ${words.join("; ")}`;
}

const STEPS = [
  [0.1, 0.3],
  [0.3, 0.5],
  [0.5, 0.7],
  [0.7, 0.9],
  [0.9, 1],
] as const;

/** How often suspects of a given probability were the fault. */
export function calibrationOf({ given }: Tally): readonly string[] {
  return STEPS.map(([low, high]) => {
    const own = given.filter(([p]) => p >= low && (p < high || high === 1));
    const so = own.filter(([, is]) => is).length;
    return `given ${Math.round(100 * low)} to ${Math.round(100 * high)} %: true ${percent(so, own.length)} of ${own.length}`;
  });
}

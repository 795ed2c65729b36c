/**
 * How often `suspects` is right: simulated faults on the demonstration circuits, parts scattered in tolerance, a
 * meter of 20 kΩ/V with 3 % error, all pins of transistors read; then, from one wrong reading, how many more it
 * takes by its own advice and in random order. Seeded.
 *
 *     npx tsx --import ./scripts/netlist-loader.mjs scripts/suspects-trial.ts [--cases 40] [--seed 1] [CIRCUIT …]
 */
import { readFileSync } from "node:fs";
import { parseArgs } from "node:util";
import { Random } from "../src/bench/spread/random.ts";
import type { Reading } from "../src/bench/suspects/looks.ts";
import type { SuspectsResult } from "../src/bench/suspects/results.ts";
import { suspects } from "../src/bench/suspects.ts";
import type { Circuit } from "../src/circuit/circuit.ts";
import { modesOf } from "../src/circuit/conditions.ts";
import { readNetlist } from "../src/language/index.ts";
import { anyTrouble, measured, misread, scattered, type Trouble } from "./suspects/specimen.ts";

const ACCURACY = 0.03;
const METER = { ohmsPerVolt: 20e3 };
const CONDITIONS = { meter: METER, accuracy: ACCURACY };
/** A fault that moves no reading by more than this, or none out of its band, does not count. */
const SHOWS = { share: 0.03, volts: 5e-3 };
/** Every n-th specimen is healthy. */
const HEALTHY = 5;
const CIRCUITS = [
  "recorder",
  "direct-coupled-pair",
  "common-emitter",
  "emitter-follower",
  "thermistor-bias",
  "motor-regulator",
];

interface Tally {
  cases: number;
  first: number;
  amongThree: number;
  healthy: number;
  healthyRight: number;
  milliseconds: number;
  advised: number[];
  random: number[];
  /** Probability given, and whether it was so. */
  readonly given: [number, boolean][];
}

const isIt =
  ({ fault }: Trouble) =>
  (named: { part: string; fault: string }) =>
    named.part === fault.part && named.fault === fault.fault;

const rankOf = (found: SuspectsResult, trouble: Trouble): number =>
  found.suspects.findIndex(({ alike }) => alike.some(isIt(trouble)));

function timed<Result>(tally: Tally, work: () => Result): Result {
  const before = performance.now();
  const result = work();
  tally.milliseconds += performance.now() - before;
  return result;
}

function tryOne(circuit: Circuit, specimen: Circuit, trouble: Trouble, random: Random, tally: Tally): void {
  const modes = modesOf(circuit).map(({ name }) => name);
  const [exact, sound] = [
    measured(specimen, trouble, METER, modes),
    measured(specimen, undefined, METER, modes),
  ];
  if (exact === undefined || sound === undefined) return;
  const moved = exact.map(
    ({ value }, k) =>
      Math.abs(value - sound[k]!.value) > SHOWS.share * Math.abs(sound[k]!.value) + SHOWS.volts,
  );
  const readings = misread(exact, ACCURACY, random);
  const found = timed(tally, () => suspects(circuit, readings, CONDITIONS));
  const wrong = readings.filter((_, k) => moved[k] && found.readings[k]!.outside);
  if (wrong.length === 0) return;
  tally.cases++;
  const rank = rankOf(found, trouble);
  if (rank === 0) tally.first++;
  if (rank >= 0 && rank < 3) tally.amongThree++;
  for (const { probability, alike } of found.suspects)
    tally.given.push([probability, alike.some(isIt(trouble))]);
  if (rank !== 0) return;
  const start = wrong[0]!;
  const everything = measured(specimen, trouble, METER, modes, true) ?? exact;
  const all = [
    ...readings,
    ...misread(everything.slice(), ACCURACY, random).filter(
      (each) =>
        !readings.some(
          (own) => own.mode === each.mode && JSON.stringify(own.look) === JSON.stringify(each.look),
        ),
    ),
  ];
  tally.advised.push(takes(circuit, trouble, all, start, () => undefined));
  tally.random.push(
    takes(circuit, trouble, all, start, (left) => left[Math.floor(((random.even() + 1) / 2) * left.length)]),
  );
}

const CERTAIN = 0.6;
const MOST = 12;

/** Readings taken beside the first until the fault leads with some certainty; `pick` none: by the advice. */
function takes(
  circuit: Circuit,
  trouble: Trouble,
  readings: readonly Reading[],
  start: Reading,
  pick: (left: readonly Reading[]) => Reading | undefined,
): number {
  const taken = [start];
  for (let count = 0; count < MOST; count++) {
    const found = suspects(circuit, taken, CONDITIONS);
    if (
      rankOf(found, trouble) === 0 &&
      found.suspects[0]!.probability > CERTAIN &&
      found.suspects[0]!.alike.length <= 4
    )
      return count;
    const left = readings.filter((reading) => !taken.includes(reading));
    const advised = found.next.flatMap(({ mode, point }) =>
      left.filter((each) => each.mode === mode && sameNet(circuit, each, point)),
    );
    const next = pick(left) ?? advised[0] ?? left[0];
    if (next === undefined) break;
    taken.push(next);
  }
  return MOST;
}

const sameNet = ({ nets }: Circuit, { look }: Reading, point: string): boolean =>
  look.kind === "voltage" && (nets[look.net]!.name === point || nets[look.net]!.points.includes(point));

function trial(name: string, cases: number, seed: number): Tally {
  const text = readFileSync(new URL(`../netlists/${name}.netlist`, import.meta.url), "utf8");
  const { circuit } = readNetlist(text, { file: name });
  if (circuit === undefined) throw new Error(`${name} cannot be read`);
  const random = Random.seeded(seed);
  const tally: Tally = {
    cases: 0,
    first: 0,
    amongThree: 0,
    healthy: 0,
    healthyRight: 0,
    milliseconds: 0,
    advised: [],
    random: [],
    given: [],
  };
  const modes = modesOf(circuit).map((mode) => mode.name);
  for (let n = 0; n < cases; n++) {
    const specimen = scattered(circuit, random);
    if (n % HEALTHY !== HEALTHY - 1) {
      tryOne(circuit, specimen, anyTrouble(specimen, random), random, tally);
      continue;
    }
    const exact = measured(specimen, undefined, METER, modes);
    if (exact === undefined) continue;
    const found = timed(tally, () => suspects(circuit, misread(exact, ACCURACY, random), CONDITIONS));
    tally.healthy++;
    if (found.no_fault_probability > (found.suspects[0]?.probability ?? 0)) tally.healthyRight++;
  }
  return tally;
}

const percent = (part: number, whole: number) =>
  whole === 0 ? "–" : `${Math.round((100 * part) / whole)} %`;
const mean = (list: readonly number[]) =>
  list.length === 0 ? "–" : (list.reduce((sum, each) => sum + each, 0) / list.length).toFixed(1);

function calibration(given: readonly (readonly [number, boolean])[]): string {
  return [
    [0.3, 0.5],
    [0.5, 0.7],
    [0.7, 0.9],
    [0.9, 1.01],
  ]
    .map(([low, high]) => {
      const own = given.filter(([p]) => p >= low! && p < high!);
      return `${Math.round(100 * low!)} to ${Math.min(100, Math.round(100 * high!))} %: ${percent(own.filter(([, so]) => so).length, own.length)} of ${own.length}`;
    })
    .join("; ");
}

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: { cases: { type: "string", default: "40" }, seed: { type: "string", default: "1" } },
});
const given: [number, boolean][] = [];
for (const name of positionals.length > 0 ? positionals : CIRCUITS) {
  const tally = trial(name, Number(values.cases), Number(values.seed));
  given.push(...tally.given);
  const { cases, first, amongThree, healthy, healthyRight, advised, random, milliseconds } = tally;
  console.log(
    `${name}: ${cases} faults that show; first ${percent(first, cases)}, among three ${percent(amongThree, cases)}; no fault first in ${percent(healthyRight, healthy)} of ${healthy} healthy; further readings by advice ${mean(advised)}, at random ${mean(random)}; ${Math.round(milliseconds / Math.max(1, Number(values.cases)))} ms each`,
  );
}
console.log(`probability given, and how often it was so: ${calibration(given)}`);

/**
 * How often `suspects` is right: simulated faults, parts scattered in tolerance, a meter of 20 kΩ/V with 3 % error, all
 * pins of transistors read in all modes; then, from one wrong reading, how many more it takes by its own advice and in
 * random order. A fault counts if it takes a reading out of the normal band that would lie in it without the fault, and
 * as found with its group: faults that no reading taken tells apart. Seeded.
 *
 *     npx tsx --import ./scripts/netlist-loader.mjs scripts/suspects-trial.ts [--cases 60] [--healthy 20] [--probes 4]
 *         [--seed 1] [--uniform] [--misses] [NETLIST …]
 *
 * `--cases` counts faults that show, a circuit; `--uniform` draws every kind of fault alike instead of as often as it
 * is common; `--misses` names those that were not first. Without netlists: all demonstrations with transistors and the
 * circuits of scripts/suspects/.
 */
import { readdirSync, readFileSync } from "node:fs";
import { basename } from "node:path";
import { fileURLToPath } from "node:url";
import { parseArgs } from "node:util";
import { Random } from "../src/bench/spread/random.ts";
import type { Circuit } from "../src/circuit/circuit.ts";
import { readNetlist } from "../src/language/index.ts";
import { type Shown, tryFault, tryHealthy, tryProbes } from "./suspects/case.ts";
import type { Draw } from "./suspects/specimen.ts";
import { calibrationOf, emptyTally, lineOf, type Tally, together } from "./suspects/tally.ts";

const FOLDERS = ["../netlists/", "./suspects/"].map((each) => fileURLToPath(new URL(each, import.meta.url)));
/** Draws per case that shows, before a circuit is given up. */
const MOST_DRAWS = 12;

interface Plan {
  readonly cases: number;
  readonly healthy: number;
  readonly probes: number;
  readonly seed: number;
  readonly draw: Draw;
  readonly misses: boolean;
}

const netlists = (): readonly string[] =>
  FOLDERS.flatMap((folder) =>
    readdirSync(folder)
      .filter((name) => name.endsWith(".netlist") && name !== "library.netlist")
      .map((name) => folder + name),
  );

function circuitOf(file: string): Circuit {
  const { circuit, diagnostics } = readNetlist(readFileSync(file, "utf8"), { file });
  if (circuit === undefined) throw new Error(`${file}: ${JSON.stringify(diagnostics)}`);
  return circuit;
}

const amount = (value: number | undefined) => (value === undefined ? "" : ` ${value.toPrecision(2)}`);

function missed({ trouble: { fault, way }, found, rank }: Shown): string {
  const said = found.suspects
    .slice(0, 3)
    .map(
      (each) =>
        `${each.part} ${each.fault}${amount(each.amount?.value)} ${Math.round(100 * each.probability)} % (${each.alike.length})`,
    );
  return `    ${rank < 0 ? "not found" : `place ${rank + 1}`}: ${fault.part} ${fault.fault}${amount(way.amount)}; said no fault ${Math.round(100 * found.no_fault_probability)} %, ${said.join(", ")}`;
}

function trial(circuit: Circuit, plan: Plan): Tally {
  const random = Random.seeded(plan.seed);
  const tally = emptyTally();
  let probed = 0;
  for (let draw = 0; tally.shown < plan.cases && draw < plan.cases * MOST_DRAWS; draw++) {
    const shown = tryFault(circuit, random, plan.draw, tally);
    if (shown === undefined) continue;
    if (shown.rank !== 0 && plan.misses) console.log(missed(shown));
    if (shown.rank !== 0 || probed >= plan.probes) continue;
    probed++;
    tryProbes(circuit, shown, random, tally);
  }
  for (let n = 0; n < plan.healthy; n++) {
    const found = tryHealthy(circuit, random, tally);
    const [first] = found?.suspects ?? [];
    if (plan.misses && found && first && found.no_fault_probability < first.probability)
      console.log(`    healthy, said ${first.part} ${first.fault} ${Math.round(100 * first.probability)} %`);
  }
  return tally;
}

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    cases: { type: "string", default: "60" },
    healthy: { type: "string", default: "20" },
    probes: { type: "string", default: "4" },
    seed: { type: "string", default: "1" },
    uniform: { type: "boolean", default: false },
    misses: { type: "boolean", default: false },
  },
});
const plan: Plan = {
  cases: Number(values.cases),
  healthy: Number(values.healthy),
  probes: Number(values.probes),
  seed: Number(values.seed),
  draw: values.uniform ? "uniform" : "common",
  misses: values.misses,
};
const tallies: Tally[] = [];
for (const file of positionals.length > 0 ? positionals : netlists()) {
  const circuit = circuitOf(file);
  if (circuit.parts.every(({ kind }) => kind !== "transistor")) continue;
  const tally = trial(circuit, plan);
  tallies.push(tally);
  console.log(lineOf(basename(file, ".netlist"), tally));
}
const all = together(tallies);
console.log(lineOf("all", all));
for (const line of calibrationOf(all)) console.log(line);

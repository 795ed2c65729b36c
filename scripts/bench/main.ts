import { readFileSync, writeFileSync } from "node:fs";
import { parseArgs } from "node:util";
import type { Kind } from "./circuits.ts";
import { recorder, standings } from "./demonstrations.ts";
import { writeDocument } from "./document.ts";
import { loops, type MultiplyAdd } from "./loops.ts";
import { networks } from "./networks.ts";
import { measure } from "./one-network.ts";
import { page } from "./page.ts";
import { points } from "./points.ts";
import { type Findings, type Item, together } from "./results.ts";
import { start } from "./start.ts";
import { sweep } from "./sweep.ts";
import { tables } from "./table.ts";
import { time } from "./time.ts";
import { trials } from "./trials.ts";

const MEASUREMENTS: Readonly<Record<Exclude<Item, "loops">, (cost: MultiplyAdd) => Promise<Findings>>> = {
  sweep: (cost) => inTurn(standings(recorder()), (standing) => sweep(standing, cost)),
  point: (cost) => inTurn(standings(recorder()), (standing) => points(standing, cost)),
  trials: (cost) => trials(standings(recorder()), cost),
  networks,
  start,
  page,
  time,
};

async function inTurn<T>(all: readonly T[], measure: (one: T) => Promise<Findings>): Promise<Findings> {
  const found: Findings[] = [];
  for (const one of all) found.push(await measure(one));
  return together(found);
}

const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    /** Items to measure, such as `sweep,page`. */
    only: { type: "string" },
    json: { type: "string" },
    "write-doc": { type: "boolean" },
    /** Findings of an earlier run to write into the document. */
    from: { type: "string" },
    /** Measures one large network and prints what it took. */
    network: { type: "boolean" },
  },
});

async function findings(): Promise<Findings> {
  if (values.from !== undefined) return JSON.parse(readFileSync(values.from, "utf8"));
  const wanted = values.only?.split(",");
  const { multiplyAdd, ...found } = await loops();
  const all: Findings[] = [found];
  for (const [item, measurement] of Object.entries(MEASUREMENTS)) {
    if (wanted !== undefined && !wanted.includes(item)) continue;
    const one = await measurement(multiplyAdd);
    process.stderr.write(`${item} measured\n`);
    all.push(one);
  }
  return together(all);
}

if (values.network) {
  const [kind, nodes] = positionals;
  const withTask = kind === "grid" || Number(nodes) <= 100;
  process.stdout.write(JSON.stringify(measure(kind as Kind, Number(nodes), withTask)));
} else {
  const found = await findings();
  const report = { node: process.version, ...found };
  if (values.json !== undefined) writeFileSync(values.json, `${JSON.stringify(report, null, 2)}\n`);
  if (values["write-doc"]) writeDocument(found);
  process.stdout.write(`${tables(found, "terminal")}\n`);
}

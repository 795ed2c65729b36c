import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { RECORDER } from "./demonstrations.ts";
import { type Findings, mustAgree } from "./results.ts";
import { ROOT } from "./root.ts";
import { type Contender, interleave, named } from "./sampling.ts";

const EMPTY = "an empty process";
const OURS = "the voltage chart of the recorder";
const SAMPLES = 20;

/** (e) From nothing to the chart on standard output, beside a process that does nothing. */
export async function start(): Promise<Findings> {
  const folder = mkdtempSync(`${tmpdir()}/preprobe-bench-`);
  const empty = `${folder}/empty.mjs`;
  writeFileSync(empty, "");
  const chart = [`${ROOT}dist/cli.cjs`, "voltages", RECORDER];
  mustAgree("the chart of the built command", node(chart).stdout.includes("T1") ? 0 : 1, 0);
  const timings = await interleave([spawned(EMPTY, [empty]), spawned(OURS, chart)], SAMPLES);
  rmSync(folder, { recursive: true });
  const found = named(timings, OURS)!.min / named(timings, EMPTY)!.min;
  return {
    lines: timings.map(({ name, min, median }) => ({ item: "start", what: name, per: "start", min, median })),
    demands: [
      {
        item: "start",
        what: `${OURS}, in starts of ${EMPTY}`,
        found,
        wanted: 3,
        sense: "at most",
        unit: "times",
      },
    ],
  };
}

const node = (words: readonly string[]) =>
  spawnSync(process.execPath, words, { encoding: "utf8", env: { PATH: process.env.PATH } });

const spawned = (name: string, words: readonly string[]): Contender => ({
  name,
  sample: () => {
    const begin = process.hrtime.bigint();
    const { status, stderr } = node(words);
    if (status !== 0) throw new Error(`${name}: ${stderr}`);
    return Number(process.hrtime.bigint() - begin) * 1e-9;
  },
});

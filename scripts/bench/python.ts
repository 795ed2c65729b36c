import { type ChildProcess, spawn, spawnSync } from "node:child_process";
import { once } from "node:events";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { createInterface, type Interface } from "node:readline";
import { ROOT } from "./root.ts";
import type { Contender } from "./sampling.ts";
import type { Task } from "./task.ts";

/** One thread for everything below numpy, whatever library it was built with. */
const ONE_THREAD = Object.fromEntries(
  ["OMP", "OPENBLAS", "MKL", "BLIS", "NUMEXPR", "VECLIB"].map((library) => [`${library}_NUM_THREADS`, "1"]),
);

/** Whether there is a python3 with numpy and scipy. */
export const hasPython = (): boolean =>
  spawnSync("python3", ["-c", "import numpy, scipy.sparse.linalg"], { stdio: "ignore" }).status === 0;

/** A contender in a Python process of its own, with the task's matrices loaded. */
export class PythonContender {
  readonly #child: ChildProcess;
  readonly #lines: Interface;
  readonly #folder = mkdtempSync(`${tmpdir()}/preprobe-bench-`);
  readonly #kind: "numpy" | "splu";
  readonly #points: number;
  readonly #ended: Promise<never>;

  constructor(kind: "numpy" | "splu", task: Task) {
    this.#kind = kind;
    this.#points = task.omega.length;
    this.#child = spawn("python3", [`${ROOT}scripts/bench/contenders.py`], {
      stdio: ["pipe", "pipe", "inherit"],
      env: { ...process.env, ...ONE_THREAD },
    });
    this.#ended = once(this.#child, "exit").then(() => {
      throw new Error("the Python contender ended early");
    });
    // nobody waits for it between questions
    this.#ended.catch(() => undefined);
    this.#lines = createInterface({ input: this.#child.stdout! });
    writeFileSync(`${this.#folder}/task.json`, JSON.stringify(task));
  }

  async load(): Promise<this> {
    await this.#ask({ do: "load", kind: this.#kind, file: `${this.#folder}/task.json` });
    return this;
  }

  async #ask(words: object): Promise<Record<string, unknown>> {
    const answer = once(this.#lines, "line");
    this.#child.stdin!.write(`${JSON.stringify(words)}\n`);
    const [line] = (await Promise.race([answer, this.#ended])) as [string];
    return JSON.parse(line);
  }

  readonly contender = (name: string): Contender => ({
    name,
    sample: async () => Number((await this.#ask({ do: "sample" })).seconds) / this.#points,
  });

  /** Its solutions, by frequency and unknown. */
  async solutions(): Promise<{ readonly real: number[][]; readonly imag: number[][] }> {
    return (await this.#ask({ do: "solve" })) as { real: number[][]; imag: number[][] };
  }

  close(): void {
    this.#child.stdin!.end();
    rmSync(this.#folder, { recursive: true });
  }
}

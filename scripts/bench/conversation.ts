import { type ChildProcess, spawn, spawnSync } from "node:child_process";
import { once } from "node:events";
import { createInterface, type Interface } from "node:readline";
import { ROOT } from "./root.ts";

/** One thread for everything below numpy, whatever library it was built with. */
const ONE_THREAD = Object.fromEntries(
  ["OMP", "OPENBLAS", "MKL", "BLIS", "NUMEXPR", "VECLIB"].map((library) => [`${library}_NUM_THREADS`, "1"]),
);

/** Whether there is a python3 with numpy and scipy. */
export const hasPython = (): boolean =>
  spawnSync("python3", ["-c", "import numpy, scipy.sparse.linalg"], { stdio: "ignore" }).status === 0;

/** A Python process of scripts/bench that answers each line of JSON with one. */
export class Conversation {
  readonly #child: ChildProcess;
  readonly #lines: Interface;
  readonly #ended: Promise<never>;

  constructor(script: string) {
    this.#child = spawn("python3", [`${ROOT}scripts/bench/${script}`], {
      stdio: ["pipe", "pipe", "inherit"],
      env: { ...process.env, ...ONE_THREAD },
    });
    this.#ended = once(this.#child, "exit").then(() => {
      throw new Error("the Python contender ended early");
    });
    // nobody waits for it between questions
    this.#ended.catch(() => undefined);
    this.#lines = createInterface({ input: this.#child.stdout! });
  }

  async ask(words: object): Promise<Record<string, unknown>> {
    const answer = once(this.#lines, "line");
    this.#child.stdin!.write(`${JSON.stringify(words)}\n`);
    const [line] = (await Promise.race([answer, this.#ended])) as [string];
    return JSON.parse(line);
  }

  close(): void {
    this.#child.stdin!.end();
  }
}

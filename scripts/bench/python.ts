import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { Conversation } from "./conversation.ts";
import type { Contender } from "./sampling.ts";
import type { Task } from "./task.ts";

export { hasPython } from "./conversation.ts";

/** A contender in a Python process of its own, with the task's matrices loaded. */
export class PythonContender {
  readonly #folder = mkdtempSync(`${tmpdir()}/preprobe-bench-`);
  readonly #talk = new Conversation("contenders.py");
  readonly #kind: "numpy" | "splu";
  readonly #points: number;

  constructor(kind: "numpy" | "splu", task: Task) {
    this.#kind = kind;
    this.#points = task.omega.length;
    writeFileSync(`${this.#folder}/task.json`, JSON.stringify(task));
  }

  async load(): Promise<this> {
    await this.#talk.ask({ do: "load", kind: this.#kind, file: `${this.#folder}/task.json` });
    return this;
  }

  readonly contender = (name: string): Contender => ({
    name,
    sample: async () => Number((await this.#talk.ask({ do: "sample" })).seconds) / this.#points,
  });

  /** Its solutions, by frequency and unknown. */
  async solutions(): Promise<{ readonly real: number[][]; readonly imag: number[][] }> {
    return (await this.#talk.ask({ do: "solve" })) as { real: number[][]; imag: number[][] };
  }

  close(): void {
    this.#talk.close();
    rmSync(this.#folder, { recursive: true });
  }
}

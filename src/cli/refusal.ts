import type { Diagnostic } from "../circuit/diagnostic.ts";

/** Exit codes, published in the help and the documentation. */
export const EXIT = { done: 0, noSolution: 1, badInput: 2, ownFault: 70 } as const;

/** The question cannot be answered as asked: one sentence, and what was probably meant. Ends with exit code 2. */
export class Refusal extends Error {
  readonly hint: string | undefined;

  constructor(message: string, hint?: string) {
    super(message);
    this.hint = hint;
  }
}

/** Several refusals of one run, told together. */
export class Refusals extends Error {
  readonly all: readonly Refusal[];

  constructor(all: readonly Refusal[]) {
    super("refused for several reasons");
    this.all = all;
  }
}

/** The netlist has errors. They are drawn where it was read; this ends the run with exit code 2. */
export class BadNetlist extends Error {
  readonly errors: readonly Diagnostic[];
  readonly warnings: readonly Diagnostic[];

  constructor(diagnostics: readonly Diagnostic[]) {
    super("the netlist has errors");
    this.errors = diagnostics.filter(({ severity }) => severity === "error");
    this.warnings = diagnostics.filter(({ severity }) => severity === "warning");
  }
}

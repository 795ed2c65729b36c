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

/** More of one kind tell nothing new. */
const MOST_TOLD = 20;

/** Throws what was refused, all of it together; nothing if nothing was. */
export function refuseAll(refusals: readonly Refusal[]): void {
  const [first, ...more] = refusals;
  if (first === undefined) return;
  if (more.length === 0) throw first;
  const untold = refusals.length - MOST_TOLD;
  const rest = untold > 0 ? [new Refusal(`and ${untold} more like these`)] : [];
  throw new Refusals([...refusals.slice(0, MOST_TOLD), ...rest]);
}

/**
 * What every reader makes of its option, by name. Where some refuse, the others are asked as well, and all that
 * is wrong is told at once, in their order.
 */
export function readTogether<T extends Readonly<Record<string, () => unknown>>>(
  readers: T,
): { readonly [K in keyof T]: ReturnType<T[K]> } {
  const names = Object.keys(readers);
  const values = readEach(names, (name) => readers[name]!());
  return Object.fromEntries(names.map((name, k) => [name, values[k]])) as {
    readonly [K in keyof T]: ReturnType<T[K]>;
  };
}

/** `reader` of every item; all that is refused is told at once. */
export function readEach<From, To>(items: Iterable<From>, reader: (item: From) => To): readonly To[] {
  const read: To[] = [];
  const refusals: Refusal[] = [];
  for (const item of items) {
    try {
      read.push(reader(item));
    } catch (error) {
      refusals.push(...refusalsIn(error));
    }
  }
  refuseAll(refusals);
  return read;
}

/** The refusals that an error stands for; an error of another kind goes on its way. */
export function refusalsIn(error: unknown): readonly Refusal[] {
  if (error instanceof Refusals) return error.all;
  if (error instanceof Refusal) return [error];
  throw error;
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

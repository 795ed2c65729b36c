import type { Failure } from "../bench/results.ts";
import { errorsJson, resultsJson } from "../report/json.ts";
import { sentence } from "./complaints.ts";
import type { Environment } from "./environment.ts";
import type { Netlist } from "./netlist.ts";
import { type Destination, deliver, type Forms } from "./output.ts";
import { EXIT } from "./refusal.ts";

/** A question answered, wholly or in part. */
export interface Run {
  readonly command: string;
  readonly netlist: Netlist;
  readonly results: readonly unknown[];
  /** What found no solution. */
  readonly failures: readonly Failure[];
  readonly to: Destination;
  readonly quiet: boolean;
}

/** Hands out what was solved, says what was not, and returns the exit code. */
export function settle(run: Run, forms: Omit<Forms, "json">, environment: Environment): number {
  for (const failure of run.failures) environment.stderr(sentence(failure));
  if (run.results.length > 0) {
    deliver({ ...forms, json: () => json(run) }, run.to, run.quiet, environment);
  } else if (run.to.form === "json") {
    environment.stdout(errorsJson({ command: run.command, errors: errorsOf(run) }));
  }
  return run.failures.length > 0 ? EXIT.noSolution : EXIT.done;
}

function json(run: Run): string {
  const { circuit, warnings } = run.netlist;
  return resultsJson({
    command: run.command,
    circuit: circuit.title,
    warnings,
    results: run.results,
    ...(run.failures.length > 0 && { errors: errorsOf(run) }),
  });
}

/** Failures as errors at the place of the part or net they hang at, else at the beginning of the file. */
export function errorsOf({ netlist, failures }: Pick<Run, "netlist" | "failures">) {
  const { parts, nets } = netlist.circuit;
  const beginning = { file: netlist.file, line: 1, column: 1 };
  return failures.map(({ message, hint, part, net }) => {
    const points = nets.find(({ name }) => name === net)?.points ?? [];
    const named = part ?? points[0]?.split(".")[0];
    const place = parts.find(({ name }) => name === named)?.place ?? beginning;
    return { message, ...place, ...(hint !== undefined && { hint }) };
  });
}

import { errorsJson } from "../report/json.ts";
import type { Environment } from "./environment.ts";
import { BadNetlist, EXIT, Refusal, Refusals } from "./refusal.ts";

/** Which command failed, and whether its caller reads JSON. */
interface Asked {
  readonly command: string;
  readonly json: boolean;
}

interface Entry {
  readonly message: string;
  readonly hint?: string;
  readonly file?: string;
  readonly line?: number;
  readonly column?: number;
}

/** Says why there is no answer, on standard error and, where asked for, as JSON; returns the exit code. */
export function complain(error: unknown, asked: Asked, environment: Environment): number {
  const { entries, code, drawn } = understood(error);
  if (!drawn) for (const entry of entries) environment.stderr(sentence(entry));
  if (asked.json) environment.stdout(errorsJson({ command: asked.command, errors: entries }));
  return code;
}

/** A message and its hint as standard error shows them. */
export function sentence({ message, hint }: Entry): string {
  return `preprobe: ${message}\n${hint === undefined ? "" : `    → ${hint}\n`}`;
}

function understood(error: unknown): { entries: readonly Entry[]; code: number; drawn: boolean } {
  if (error instanceof BadNetlist) return { entries: error.errors, code: EXIT.badInput, drawn: true };
  if (error instanceof Refusal) return { entries: [entryOf(error)], code: EXIT.badInput, drawn: false };
  if (error instanceof Refusals)
    return { entries: error.all.map(entryOf), code: EXIT.badInput, drawn: false };
  return { entries: [ownFault(error)], code: EXIT.ownFault, drawn: false };
}

const entryOf = ({ message, hint }: Refusal): Entry => ({ message, ...(hint !== undefined && { hint }) });

/** Nothing that a user types should come here. */
function ownFault(error: unknown): Entry {
  const detail = error instanceof Error ? error.message : String(error);
  return {
    message: `this is a fault in preprobe itself: ${detail.split("\n")[0]}`,
    hint: "please report it, with the netlist and the command",
  };
}

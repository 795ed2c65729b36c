import { drawDiagnostic, formatNetlist } from "../language/index.ts";
import type { Environment } from "./environment.ts";
import { write } from "./output.ts";
import { readText } from "./reading.ts";
import { BadNetlist, EXIT } from "./refusal.ts";

/** `preprobe check --format`: the file in canonical layout, on standard output or into the files named. */
export function format(file: string, into: readonly string[], environment: Environment): number {
  const source = readText(file, environment);
  const text = formatNetlist(source, { file });
  if (typeof text !== "string") {
    for (const error of text)
      environment.stderr(`${drawDiagnostic(error, source, environment.errorColor)}\n`);
    throw new BadNetlist(text);
  }
  if (into.length === 0) environment.stdout(text);
  for (const path of into) write(path, text, environment);
  return EXIT.done;
}

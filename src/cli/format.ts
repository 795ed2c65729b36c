import { formatNetlist } from "../language/index.ts";
import type { Environment } from "./environment.ts";
import { write } from "./output.ts";
import { readText } from "./reading.ts";
import { EXIT } from "./refusal.ts";

/** `preprobe check --format`: the file in canonical layout, on standard output or into the files named. */
export function format(file: string, into: readonly string[], environment: Environment): number {
  const text = formatNetlist(readText(file, environment));
  if (into.length === 0) environment.stdout(text);
  for (const path of into) write(path, text, environment);
  return EXIT.done;
}

import { type Arguments, has, valuesGiven } from "./arguments.ts";
import type { Environment } from "./environment.ts";
import { ENDINGS } from "./options.ts";
import { Refusal } from "./refusal.ts";

/** The results in every form a command can give them; made only when asked for. */
export interface Forms {
  /** For the eye, on a terminal. */
  readonly table: () => string;
  readonly json: () => string;
  readonly csv: () => string;
  /** For files, by their ending; `.json` and `.csv` are the two above. */
  readonly files?: Readonly<Record<string, () => string>>;
}

/** Where the results go, known before anything is computed. */
export interface Destination {
  readonly form: "table" | "json" | "csv";
  readonly files: readonly { readonly path: string; readonly ending: string }[];
}

/** Reads `--json`, `--csv` and `-o`. */
export function destination(given: Arguments, command: keyof typeof ENDINGS): Destination {
  if (has(given, "json") && has(given, "csv")) throw new Refusal("--json and --csv exclude each other");
  const files = valuesGiven(given, "output").map((path) => ({
    path,
    ending: endingOf(path, ENDINGS[command]),
  }));
  return { form: has(given, "json") ? "json" : has(given, "csv") ? "csv" : "table", files };
}

function endingOf(path: string, endings: readonly string[]): string {
  const ending = endings.find((known) => path.toLowerCase().endsWith(known));
  if (ending !== undefined) return ending;
  throw new Refusal(
    `-o ${path}: what to write is not clear from the ending`,
    `this command writes ${endings.join(" ")}`,
  );
}

/** Writes the files, then prints what is asked for; with `-o` alone, nothing. */
export function deliver(forms: Forms, to: Destination, quiet: boolean, environment: Environment): void {
  for (const { path, ending } of to.files) {
    const made = ending === ".json" ? forms.json : ending === ".csv" ? forms.csv : forms.files?.[ending];
    if (made === undefined) throw new Error(`nothing writes ${ending}`);
    write(path, made(), environment);
    if (!quiet) environment.stderr(`wrote ${path}\n`);
  }
  if (to.form !== "table" || to.files.length === 0) environment.stdout(forms[to.form]());
}

const REASONS: Readonly<Record<string, string>> = {
  ENOENT: "its folder does not exist",
  ENOTDIR: "its folder does not exist",
  EISDIR: "it is a folder",
  EACCES: "writing there is not permitted",
  EPERM: "writing there is not permitted",
  EROFS: "the disk is read-only",
  ENOSPC: "the disk is full",
  ENAMETOOLONG: "the name is too long",
};

/** Writes a file, or says why it cannot be written. */
export function write(path: string, text: string, environment: Environment): void {
  try {
    environment.writeFile(path, text);
  } catch (error) {
    const { code } = error as { code?: string };
    if (code === undefined) throw error;
    throw new Refusal(`${path} cannot be written: ${REASONS[code] ?? code}`);
  }
}

#!/usr/bin/env node
// Starts the bundled program. What V8 compiled when the program was built is kept beside it, which spares a
// third of the start; code of another version of Node is refused by V8 and compiled anew.
import { readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { fileURLToPath } from "node:url";
import { Script } from "node:vm";

const program = fileURLToPath(new URL("./cli/preprobe.cjs", import.meta.url));
const kept = `${program}.code`;

function keptCode() {
  try {
    return { cachedData: readFileSync(kept) };
  } catch {
    return {};
  }
}

const script = new Script(readFileSync(program, "utf8"), { filename: program, ...keptCode() });
script.runInThisContext()(createRequire(program));

// the build runs the program once this way
if (process.env.PREPROBE_KEEP_CODE) process.on("exit", () => writeFileSync(kept, script.createCachedData()));

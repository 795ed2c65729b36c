#!/usr/bin/env node
// Starts the bundled program. What V8 compiled when the program was built is kept beside it, which spares half
// of the start; code of another version of Node is refused by V8 and compiled anew. Written as a CommonJS
// module because Node has those running sooner.
const { readFileSync, writeFileSync } = require("node:fs");
const { Script } = require("node:vm");

const AT_ONCE = ["check", "voltages"];

function keptCode(program) {
  try {
    return { cachedData: readFileSync(`${program}.code`) };
  } catch {
    return {};
  }
}

/** What writes pages and worksheets is not in the short programs. */
const isLargeFile = (word) => /\.(html|fods)$/i.test(word);

/** A command that is over before optimised code pays has a bundle of its own, and V8 optimises only what runs long. */
function start([command, ...words]) {
  const short = AT_ONCE.includes(command) && !words.some(isLargeFile);
  if (short) require("node:v8").setFlagsFromString("--interrupt-budget=700000");
  const program = `${__dirname}/cli/${short ? command : "preprobe"}.cjs`;
  // the build leaves nothing but ASCII in it
  const script = new Script(readFileSync(program, "latin1"), { filename: program, ...keptCode(program) });
  script.runInThisContext()(require);
  // the build runs each program once this way
  if (process.env.PREPROBE_KEEP_CODE) {
    process.on("exit", () => writeFileSync(`${program}.code`, script.createCachedData()));
  }
}

start(process.argv.slice(2));

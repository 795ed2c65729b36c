// Bundles the command line and the library into dist/, with the types beside them.
import { execFileSync } from "node:child_process";
import { chmodSync, rmSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";

const root = fileURLToPath(new URL("..", import.meta.url));

const common = {
  absWorkingDir: root,
  bundle: true,
  format: "esm",
  target: "es2022",
  loader: { ".netlist": "text" },
  logLevel: "warning",
};

/** Each command is a piece of its own, so that none waits for the others to load. */
const commandLine = {
  ...common,
  entryPoints: { cli: "src/cli/main.ts" },
  outdir: "dist",
  chunkNames: "cli/[name]-[hash]",
  splitting: true,
  minify: true,
  platform: "node",
  target: "node20",
};

/** Everything included: a browser needs no bundler to load it. */
const library = {
  ...common,
  entryPoints: { index: "src/index.ts" },
  outdir: "dist",
  platform: "neutral",
  mainFields: ["module", "main"],
  sourcemap: true,
};

const types = (...words) =>
  execFileSync(process.execPath, ["node_modules/typescript/bin/tsc", ...words], {
    cwd: root,
    stdio: "inherit",
  });

rmSync(`${root}/dist/cli`, { recursive: true, force: true });
await Promise.all([build(commandLine), build(library)]);
chmodSync(`${root}/dist/cli.js`, 0o755);
// the kernel has compiler settings of its own
types("-b", "src/engine/kernel");
types("-p", "tsconfig.library.json");

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

rmSync(`${root}/dist`, { recursive: true, force: true });
await Promise.all([build(commandLine), build(library)]);
chmodSync(`${root}/dist/cli.js`, 0o755);
execFileSync("npx", ["tsc", "-p", "tsconfig.library.json"], { cwd: root, stdio: "inherit" });

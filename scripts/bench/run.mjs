// npm run bench: installs the competitors if they are missing, bundles the benchmark with the sources (the
// way the library is built) and runs it. Words are passed on; see docs/benchmark.md.
import { execFileSync, spawnSync } from "node:child_process";
import { existsSync, readdirSync, statSync } from "node:fs";
import { fileURLToPath } from "node:url";

const root = fileURLToPath(new URL("../../", import.meta.url));
const modules = `${root}scripts/bench/node_modules`;

if (!existsSync(`${modules}/.package-lock.json`)) {
  const words = ["--prefix", `${root}scripts/bench`, "ci", "--no-audit", "--no-fund"];
  execFileSync("npm", words, { stdio: ["ignore", 2, 2] });
}

/** Whether any source is newer than the program built from it. */
function stale() {
  if (!existsSync(`${root}dist/cli.cjs`)) return true;
  const built = statSync(`${root}dist/cli.cjs`).mtimeMs;
  return readdirSync(`${root}src`, { recursive: true }).some(
    (name) => statSync(`${root}src/${name}`).mtimeMs > built,
  );
}

if (stale()) execFileSync(process.execPath, [`${root}scripts/build.mjs`], { stdio: ["ignore", 2, 2] });

const { build } = await import("esbuild");
const bundle = `${modules}/.cache/bench.mjs`;
await build({
  absWorkingDir: root,
  entryPoints: ["scripts/bench/main.ts"],
  outfile: bundle,
  bundle: true,
  format: "esm",
  target: "es2022",
  platform: "node",
  loader: { ".netlist": "text" },
  external: ["mathjs", "ml-matrix"],
  define: { ROOT: JSON.stringify(root) },
  logLevel: "warning",
});
const flags = process.execArgv.filter((word) => word.startsWith("--cpu-prof"));
const { status } = spawnSync(process.execPath, ["--expose-gc", ...flags, bundle, ...process.argv.slice(2)], {
  stdio: "inherit",
});
process.exitCode = status ?? 1;

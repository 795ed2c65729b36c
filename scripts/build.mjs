// Bundles the command line and the library into dist/, with the types beside them.
import { execFileSync } from "node:child_process";
import { chmodSync, copyFileSync, readdirSync, rmSync } from "node:fs";
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

/** One function of `require`, for the launcher; a command's code runs only when it is called. */
const commandLine = {
  ...common,
  entryPoints: { "cli/preprobe": "src/cli/main.ts" },
  outdir: "dist",
  outExtension: { ".js": ".cjs" },
  format: "cjs",
  banner: { js: "(function (require) {" },
  footer: { js: "})" },
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

/** Pieces of earlier builds, removed only when the new ones are there: a build that fails leaves the old program. */
function removeOldPieces({ outputs }) {
  for (const name of readdirSync(`${root}/dist/cli`)) {
    if (!Object.hasOwn(outputs, `dist/cli/${name}`)) rmSync(`${root}/dist/cli/${name}`);
  }
}

const [{ metafile }] = await Promise.all([build({ ...commandLine, metafile: true }), build(library)]);
removeOldPieces(metafile);
copyFileSync(`${root}/scripts/launcher.mjs`, `${root}/dist/cli.js`);
chmodSync(`${root}/dist/cli.js`, 0o755);
// the code that this compiles is kept for the runs to come
execFileSync(process.execPath, ["dist/cli.js", "voltages", "netlists/recorder.netlist"], {
  cwd: root,
  stdio: "ignore",
  env: { ...process.env, PREPROBE_KEEP_CODE: "1" },
});
// the kernel has compiler settings of its own
types("-b", "src/engine/kernel");
types("-p", "tsconfig.library.json");

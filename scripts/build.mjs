// Bundles the command line, the library and the page into dist/, with the types beside them.
import { execFileSync } from "node:child_process";
import { chmodSync, copyFileSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";
import { buildPage } from "./build-page.mjs";

const root = fileURLToPath(new URL("..", import.meta.url));

const common = {
  absWorkingDir: root,
  bundle: true,
  format: "esm",
  target: "es2022",
  loader: { ".netlist": "text" },
  logLevel: "warning",
};

/** Leaves the commands but one out of a bundle, and what writes files: then the launcher takes the whole program. */
const onlyCommand = (name) => ({
  name: "only-command",
  setup: ({ onResolve }) => {
    onResolve({ filter: /\.ts$/ }, ({ kind, importer, path }) =>
      kind === "dynamic-import" &&
      ((importer.endsWith("commands.ts") && path !== `./${name}.ts`) || path === "./voltage-files.ts")
        ? { path, external: true }
        : undefined,
    );
  },
});

/** One function of `require`, for the launcher; a command's code runs only when it is called. */
const commandLine = (name, plugins) => ({
  ...common,
  entryPoints: { [`cli/${name}`]: "src/cli/main.ts" },
  plugins,
  metafile: true,
  outdir: "dist",
  outExtension: { ".js": ".cjs" },
  format: "cjs",
  banner: { js: "(function (require) {" },
  footer: { js: "})" },
  minify: true,
  platform: "node",
  target: "node20",
});

/** The commands whose run is mostly start; `launcher.cjs` knows them too. */
const AT_ONCE = ["check", "voltages"];

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
function removeOldPieces(outputs) {
  rmSync(`${root}/dist/cli.js`, { force: true });
  for (const name of readdirSync(`${root}/dist/cli`)) {
    if (!Object.hasOwn(outputs, `dist/cli/${name}`)) rmSync(`${root}/dist/cli/${name}`);
  }
}

/** Text of one byte a character is read and kept by V8 in half the space. What the bundler leaves are regular expressions. */
function escapeLetters(path) {
  const escaped = (letter) => `\\u${letter.charCodeAt(0).toString(16).padStart(4, "0")}`;
  writeFileSync(path, readFileSync(path, "utf8").replace(/[^\0-\x7f]/g, escaped));
}

/** Runs the program so that the code that this compiles is kept for the runs to come. */
function keepCode(...words) {
  execFileSync(process.execPath, ["dist/cli.cjs", ...words], {
    cwd: root,
    stdio: "ignore",
    env: { ...process.env, PREPROBE_KEEP_CODE: "1" },
  });
}

const built = await Promise.all([
  build(commandLine("preprobe", [])),
  ...AT_ONCE.map((name) => build(commandLine(name, [onlyCommand(name)]))),
  build(library),
  buildPage(),
]);
const programs = Object.assign({}, ...built.map(({ metafile } = {}) => metafile?.outputs));
removeOldPieces(programs);
for (const path of Object.keys(programs)) escapeLetters(`${root}/${path}`);
copyFileSync(`${root}/scripts/launcher.cjs`, `${root}/dist/cli.cjs`);
chmodSync(`${root}/dist/cli.cjs`, 0o755);
for (const name of [...AT_ONCE, "response"]) keepCode(name, "netlists/recorder.netlist");
// the kernel has compiler settings of its own
types("-b", "src/engine/kernel");
types("-p", "tsconfig.library.json");

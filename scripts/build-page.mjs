// Bundles the interactive service sheet into one file, dist/preprobe.html: script and style within, named by their
// hashes in a policy that lets nothing else run or load.
import { createHash } from "node:crypto";
import { mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { dirname } from "node:path";
import { fileURLToPath } from "node:url";
import { deflateRawSync } from "node:zlib";
import { build } from "esbuild";

const root = fileURLToPath(new URL("..", import.meta.url));

/** The largest that the file may become, bytes. */
const LARGEST = 1.2e6;

const NOTICE =
  "preprobe, MIT licence, the preprobe authors. Within: Preact and its signals, CodeMirror and Lezer (MIT), d3-scale, d3-shape and what they use (ISC).";

/**
 * Netlists stand in the script packed, an eighth of their length, and are unpacked once when it begins. What unpacks
 * them is there already, for spreadsheets.
 */
const packedNetlists = {
  name: "packed netlists",
  setup({ onLoad }) {
    onLoad({ filter: /\.netlist$/ }, ({ path }) => {
      const packed = deflateRawSync(readFileSync(path), { level: 9 }).toString("base64");
      const contents = `import { inflateSync, strFromU8 } from "fflate";
export default strFromU8(inflateSync(Uint8Array.from(atob("${packed}"), (sign) => sign.charCodeAt(0))));`;
      return { contents, resolveDir: root, loader: "js" };
    });
  },
};

async function bundled(entry, more = {}) {
  const { outputFiles } = await build({
    absWorkingDir: root,
    entryPoints: [entry],
    bundle: true,
    write: false,
    minify: true,
    target: "es2022",
    charset: "utf8",
    loader: { ".html": "text" },
    plugins: [packedNetlists],
    logLevel: "warning",
    ...more,
  });
  return outputFiles[0].text.trim();
}

/**
 * A script that no HTML parser ends or changes. The bundler itself escapes `</script` in texts; `<!--` stands in
 * texts only.
 */
function inlined(script) {
  const safe = script.replaceAll("<!--", "\\x3C!--");
  if (/<\/script|\0|\r/i.test(safe)) throw new Error("the script cannot stand in a page as it is");
  return safe;
}

const hashOf = (text) => `'sha256-${createHash("sha256").update(text).digest("base64")}'`;

/** Replaces each mark of the frame; a function, since `$` in the text means nothing. */
const filled = (frame, parts) => frame.replace(/%(POLICY|STYLE|SCRIPT)%/g, (_, name) => parts[name]);

/** Writes the page; returns its size, bytes. */
export async function buildPage(path = `${root}/dist/preprobe.html`) {
  const script = inlined(
    await bundled("src/page/main.tsx", { format: "iife", banner: { js: `/* ${NOTICE} */` } }),
  );
  const style = await bundled("src/page/style.css");
  const policy = [
    "default-src 'none'",
    `script-src ${hashOf(script)} 'wasm-unsafe-eval'`,
    `style-src ${hashOf(style)}`,
    "worker-src blob:",
    "base-uri 'none'",
    "form-action 'none'",
  ].join("; ");
  const frame = readFileSync(`${root}/src/page/page.html`, "utf8");
  const page = filled(frame, { POLICY: policy, STYLE: style, SCRIPT: script });
  const size = Buffer.byteLength(page);
  if (size > LARGEST) throw new Error(`the page would have ${size} bytes, more than ${LARGEST}`);
  mkdirSync(dirname(path), { recursive: true });
  writeFileSync(path, page);
  return size;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const path = process.argv[2];
  console.log(`${path ?? "dist/preprobe.html"}: ${await buildPage(path)} bytes`);
}

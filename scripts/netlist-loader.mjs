// Lets Node import a .netlist file as text; preload with `tsx --import ./scripts/netlist-loader.mjs`.
import { readFile } from "node:fs/promises";
import { register } from "node:module";

if (!import.meta.url.includes("?hook")) register(`${import.meta.url}?hook`);

export async function load(url, context, next) {
  if (!url.endsWith(".netlist")) return next(url, context);
  const text = await readFile(new URL(url), "utf8");
  return { format: "module", shortCircuit: true, source: `export default ${JSON.stringify(text)};` };
}

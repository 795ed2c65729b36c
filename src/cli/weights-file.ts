import { COMMON_WEIGHTS, isFaultKey, type Weights } from "../bench/suspects/weights.ts";
import { nearestWord } from "../language/index.ts";
import type { Environment } from "./environment.ts";
import { readText } from "./reading.ts";
import { Refusal } from "./refusal.ts";

/** Lines such as `electrolytic: leaky = 8`; `#` begins a comment. */
export function readWeights(file: string, environment: Environment): Weights {
  const lines = readText(file, environment).split(/\r?\n/);
  const entries = lines.flatMap((line, k) => {
    const plain = line.replace(/#.*/, "").trim();
    if (plain === "") return [];
    const [, name = "", value = ""] = /^(.*?)\s*[=,;]\s*(\S+)$/.exec(plain) ?? [];
    const key = name.replace(/\s*:\s*/, ": ");
    const where = `${file}, line ${k + 1}`;
    if (!isFaultKey(key)) {
      const near = nearestWord(key, Object.keys(COMMON_WEIGHTS));
      throw new Refusal(
        `${where}: there is no fault "${name || plain}"`,
        near ? `did you mean "${near}"?` : "write for example: electrolytic: leaky = 8",
      );
    }
    const weight = Number(value);
    if (!(weight >= 0) || !Number.isFinite(weight))
      throw new Refusal(`${where}: "${value}" is no weight`, "a weight is 0 or more");
    return [[key, weight] as const];
  });
  return Object.fromEntries(entries);
}

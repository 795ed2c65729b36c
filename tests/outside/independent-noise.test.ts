/**
 * Noise at the outputs against an independent implementation of docs/models.md in extended precision
 * (scripts/reference/noise.py, which says how to regenerate independent-noise.json), on the circuits of
 * tests/outside/independent/.
 */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { strandsOf } from "../../src/bench/hiss/strands.ts";
import { outputPin, outputTerms } from "../../src/bench/output.ts";
import { inEachMode, type SolvedMode } from "../../src/bench/run.ts";
import { noiseSources, OutputNoise } from "../../src/engine/noise.ts";
import { SmallSignal } from "../../src/engine/small-signal.ts";
import { circuitOf } from "./bench.ts";

const NATURES = ["thermal", "shot", "excess"] as const;
type Densities = Record<(typeof NATURES)[number], number>;

interface ReferencePath extends Readonly<Record<(typeof NATURES)[number], readonly number[]>> {
  readonly circuit: string;
  readonly mode: string;
  readonly path: string;
}

interface Reference {
  readonly hertz: readonly number[];
  readonly paths: readonly ReferencePath[];
}

const text = (file: string) => readFileSync(new URL(file, import.meta.url), "utf8");
const reference = JSON.parse(text("independent-noise.json")) as Reference;
const names = [...new Set(reference.paths.map(({ circuit }) => circuit))];

const RELATIVE = 1e-6;

/** Densities at the output of a path by their nature, V²/Hz or A²/Hz. */
function densitiesAt(solved: SolvedMode, name: string, hertz: number): Densities {
  const path = solved.circuit.paths.find((each) => each.name === name)!;
  const smallSignal = new SmallSignal(solved.point);
  smallSignal.tune(hertz);
  const sources = noiseSources(solved.point);
  const output = outputTerms(smallSignal, path);
  const noise = new OutputNoise(smallSignal, sources, output, outputPin(smallSignal, path));
  noise.at(hertz);
  const found: Densities = { thermal: 0, shot: 0, excess: 0 };
  for (const { source, origin, share } of strandsOf(solved.circuit, sources)) {
    const nature = NATURES.find((each) => origin.endsWith(`(${each})`))!;
    found[nature] += noise.densities[source]! * share(hertz);
  }
  return found;
}

/** A line for every density that differs by more than 1e-6 of the whole. */
function differences(solved: SolvedMode, theirs: ReferencePath): readonly string[] {
  return reference.hertz.flatMap((hertz, k) => {
    const ours = densitiesAt(solved, theirs.path, hertz);
    const whole = NATURES.reduce((sum, nature) => sum + theirs[nature][k]!, 0);
    return NATURES.filter((nature) => !(Math.abs(ours[nature] - theirs[nature][k]!) <= RELATIVE * whole)).map(
      (nature) =>
        `${theirs.path} in ${theirs.mode} at ${hertz} Hz: ${nature} ${ours[nature]}, reference ${theirs[nature][k]}`,
    );
  });
}

describe("The noise of an independent implementation of the equations", () => {
  it("is there for at least twenty circuits, with every nature of noise in most of them", () => {
    expect(names.length).toBeGreaterThanOrEqual(20);
    const full = reference.paths.filter((path) => NATURES.every((nature) => path[nature][0]! > 0));
    expect(full.length).toBeGreaterThanOrEqual(20);
  });

  it.each(names)(
    "agrees on %s: thermal, shot and excess noise at the outputs to 1e-6 of the whole",
    (name) => {
      const circuit = circuitOf(text(`independent/${name}.netlist`));
      const own = reference.paths.filter((path) => path.circuit === name);
      const { results } = inEachMode(circuit, {}, (solved) => ({
        results: own
          .filter(({ mode }) => mode === solved.mode.name)
          .map((theirs) => ({ theirs, lines: differences(solved, theirs) })),
        failures: [],
      }));
      expect(results.map(({ theirs }) => theirs)).toEqual(own);
      expect(results.flatMap(({ lines }) => lines)).toEqual([]);
    },
  );
});

/**
 * Our solutions against those of an independent implementation of docs/models.md in extended precision
 * (scripts/reference/reference.py, which says how to regenerate tests/outside/independent/).
 */
import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { response } from "../../src/bench/response.ts";
import type { PathResponse, VoltageChart } from "../../src/bench/results.ts";
import { voltages } from "../../src/bench/voltages.ts";
import type { Circuit } from "../../src/circuit/circuit.ts";
import { readNetlist } from "../../src/language/index.ts";

interface ReferenceMode {
  readonly mode: string;
  readonly nets: Readonly<Record<string, number>>;
  readonly transistors: Readonly<
    Record<string, Record<"ic_amps" | "ib_amps" | "ie_amps", number> & { readonly junction_celsius: number }>
  >;
  readonly parts: Readonly<Record<string, number>>;
}

/** A mode in which the reference found no thermal balance, and the transistor that was hottest. */
interface RunawayMode {
  readonly mode: string;
  readonly runaway: string;
}

interface ReferencePath {
  readonly path: string;
  readonly mode: string;
  readonly hertz: readonly number[];
  readonly real: readonly number[];
  readonly imag: readonly number[];
}

interface Reference {
  readonly made_by: string;
  readonly ambient_celsius: number;
  readonly modes: readonly (ReferenceMode | RunawayMode)[];
  readonly paths: readonly ReferencePath[];
}

const folder = new URL("./independent/", import.meta.url);
const text = (file: string) => readFileSync(new URL(file, folder), "utf8");
const names = readdirSync(folder)
  .filter((file) => file.endsWith(".json"))
  .map((file) => file.replace(/\.json$/, ""));

/** Relative tolerance of voltages and currents. */
const RELATIVE = 1e-9;
/** Voltages closer than this are the same, V. */
const VOLTS_FLOOR = 1e-12;
/** Gain, dB. */
const DECIBELS = 1e-6;
/** An EMF of 1 V or 1 A that gives less than this gives nothing, relative to it. */
const NO_GAIN = 1e-15;

/** One line for every figure that differs by more than it may. */
class Differences {
  readonly lines: string[] = [];

  same(what: string, ours: number | undefined, theirs: number, allowed: number): void {
    if (ours !== undefined && Math.abs(ours - theirs) <= allowed) return;
    this.lines.push(`${what}: ours ${ours}, reference ${theirs}, allowed ±${allowed.toExponential(1)}`);
  }
}

/**
 * What a current may be off, A: it is a voltage between two nets over a resistance, so a part of the
 * error of those voltages, and a transistor's base current is the small difference of larger ones.
 */
const ampsAllowed = (amps: number, largest: number): number =>
  RELATIVE * Math.abs(amps) + Math.max(1e-15, 1e-12 * largest);

function compareMode(ours: VoltageChart, theirs: ReferenceMode, differences: Differences): void {
  for (const [net, volts] of Object.entries(theirs.nets)) {
    const allowed = RELATIVE * Math.abs(volts) + VOLTS_FLOOR;
    differences.same(`${theirs.mode} ${net}`, ours.nets[net]?.volts, volts, allowed);
  }
  for (const [name, reference] of Object.entries(theirs.transistors)) {
    const largest = Math.abs(reference.ie_amps) + Math.abs(reference.ic_amps);
    for (const key of ["ic_amps", "ib_amps", "ie_amps"] as const) {
      const allowed = ampsAllowed(reference[key], largest);
      differences.same(
        `${theirs.mode} ${name} ${key}`,
        ours.transistors[name]?.[key],
        reference[key],
        allowed,
      );
    }
    const celsius = reference.junction_celsius;
    differences.same(`${theirs.mode} ${name} °C`, ours.transistors[name]?.junction_celsius, celsius, 1e-7);
  }
  const largest = Math.max(0, ...Object.values(theirs.parts).map(Math.abs));
  for (const [name, amps] of Object.entries(theirs.parts))
    differences.same(`${theirs.mode} ${name} A`, ours.parts[name]?.amps, amps, ampsAllowed(amps, largest));
}

function comparePath(ours: PathResponse, theirs: ReferencePath, differences: Differences): void {
  theirs.hertz.forEach((hertz, k) => {
    const [real, imag] = [theirs.real[k]!, theirs.imag[k]!];
    const size = Math.hypot(real, imag);
    // The distance in the complex plane that 1e-6 dB is: gain and phase at once.
    const allowed = size * (10 ** (DECIBELS / 20) - 1) + NO_GAIN;
    const distance = Math.hypot(ours.real[k]! - real, ours.imag[k]! - imag);
    const what = `${theirs.path} in ${theirs.mode} at ${hertz} Hz, off by`;
    differences.same(`${what} (of ${size})`, distance, 0, allowed);
    if (size > 1e3 * NO_GAIN)
      differences.same(`${what} dB`, ours.gain_db[k], 20 * Math.log10(size), DECIBELS + 9 * (NO_GAIN / size));
  });
}

function circuitOf(name: string): Circuit {
  const file = `${name}.netlist`;
  const { circuit, diagnostics } = readNetlist(text(file), { file });
  const errors = diagnostics.filter(({ severity }) => severity === "error");
  expect(errors, `errors in ${file}`).toEqual([]);
  return circuit!;
}

describe("An independent implementation of the equations", () => {
  it("has solved at least thirty circuits to compare with", () => {
    expect(names.length).toBeGreaterThanOrEqual(30);
  });

  for (const name of names)
    it(`agrees on ${name}: voltages, currents and temperatures to 1e-9, gains to 1e-6 dB`, () => {
      const reference = JSON.parse(text(`${name}.json`)) as Reference;
      const circuit = circuitOf(name);
      expect(circuit.ambientCelsius).toBe(reference.ambient_celsius);
      const differences = new Differences();
      const charts = voltages(circuit);
      const solved = reference.modes.filter((mode) => "nets" in mode);
      const runaways = reference.modes.filter((mode) => "runaway" in mode);
      expect(charts.failures.map(({ kind, mode, part }) => ({ kind, mode, part }))).toEqual(
        runaways.map(({ mode, runaway }) => ({ kind: "thermal runaway", mode, part: runaway })),
      );
      expect(charts.results.map(({ mode }) => mode)).toEqual(solved.map(({ mode }) => mode));
      for (const theirs of solved)
        compareMode(charts.results.find(({ mode }) => mode === theirs.mode)!, theirs, differences);
      expect(Object.keys(charts.results[0]!.nets).sort()).toEqual(Object.keys(solved[0]!.nets).sort());
      for (const theirs of reference.paths) {
        const sweep = response(circuit, { paths: [theirs.path], modes: [theirs.mode] }, theirs.hertz);
        expect(sweep.failures).toEqual([]);
        expect(sweep.results).toHaveLength(1);
        comparePath(sweep.results[0]!, theirs, differences);
      }
      expect(differences.lines).toEqual([]);
    });
});

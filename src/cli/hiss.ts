import type { Band } from "../bench/hiss/band.ts";
import { type HissConditions, hiss } from "../bench/hiss.ts";
import { preferredFrequencies } from "../bench/response.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { nearestWord } from "../language/index.ts";
import { conditionPhrases } from "../report/condition-phrases.ts";
import { hissCsv } from "../report/hiss-csv.ts";
import { hissSvg } from "../report/hiss-svg.ts";
import { hissTable } from "../report/hiss-table.ts";
import { preferredBetween } from "../tape/preferred.ts";
import { type Arguments, has, listGiven } from "./arguments.ts";
import { quantity, readConditions } from "./conditions.ts";
import type { Environment } from "./environment.ts";
import { frequency, readEnds } from "./frequencies.ts";
import { fileOperand, openCircuit } from "./netlist.ts";
import { destination } from "./output.ts";
import { Refusal, readEach, readTogether } from "./refusal.ts";
import { noPathThere, readPaths } from "./response.ts";
import { settle } from "./settle.ts";

/** `preprobe hiss`: noise at the output of every path and referred to its source, part by part. */
export function hissCommand(given: Arguments, environment: Environment): number {
  const to = destination(given, "hiss");
  const band = readBand(given);
  const hertz = readDensities(given, band);
  const netlist = openCircuit(fileOperand(given, "hiss"), given, environment);
  const { circuit } = netlist;
  const { paths, conditions } = readTogether({
    paths: () => readPaths(given, circuit),
    conditions: () => readConditions(given, circuit),
  });
  const emf = readEmf(given, circuit, paths);
  const asked = { ...conditions, paths, band, emf };
  const { results, failures } = hiss(circuit, { ...asked, hertz });
  if (results.length === 0 && failures.length === 0) throw noPathThere(circuit, paths);
  const phrases = conditionPhrases(circuit, conditions, results);
  const run = { command: "hiss", netlist, results, failures, to, quiet: has(given, "quiet") };
  return settle(
    run,
    {
      table: () => hissTable(circuit, results, phrases, environment),
      csv: () => hissCsv(results),
      files: { ".svg": () => hissSvg(finely(circuit, asked), { title: circuit.title, conditions: phrases }) },
    },
    environment,
  );
}

/** For the plot, so that resonances come out round. */
const PLOTTED_PER_OCTAVE = 12;

const finely = (circuit: Circuit, asked: HissConditions & { readonly band: Band }) =>
  hiss(circuit, {
    ...asked,
    hertz: preferredFrequencies({ ...asked.band, pointsPerOctave: PLOTTED_PER_OCTAVE }),
  }).results;

function readBand(given: Arguments): Band {
  const band = readEnds(given);
  if (band.from < band.to) return band;
  throw new Refusal(`from ${band.from} Hz to ${band.to} Hz is no band`, "for example --from 20Hz --to 20kHz");
}

/** Where densities are shown, Hz: those of `--at`, else the preferred ones of the band and its ends. */
function readDensities(given: Arguments, { from, to }: Band): readonly number[] {
  const at = readEach(listGiven(given, "at"), (text) => frequency("at", text));
  if (at.length > 0) return [...new Set(at)];
  const inside = preferredBetween(from, to).filter((hertz) => hertz > from * 1.02 && hertz < to / 1.02);
  return [from, ...inside, to];
}

/** `0.5mV` for the sources of all paths, `K1=0.5mV` for one. */
function readEmf(given: Arguments, circuit: Circuit, paths: readonly string[]): Record<string, number> {
  const sources = circuit.paths.filter(({ name }) => paths.includes(name)).map(({ from }) => from);
  const emf: Record<string, number> = {};
  readEach(listGiven(given, "emf"), (text) => {
    const equals = text.indexOf("=");
    const volts = quantity("emf", text.slice(equals + 1), "volt");
    if (!(volts > 0)) throw new Refusal(`--emf ${text}: a signal has more than 0 V`, "for example 0.5mV");
    for (const name of equals < 0 ? sources : [sourceNamed(text.slice(0, equals).trim(), sources)]) {
      emf[name] = volts;
    }
  });
  return emf;
}

function sourceNamed(name: string, sources: readonly string[]): string {
  if (sources.includes(name)) return name;
  const near = nearestWord(name, sources);
  const all = `paths start from ${[...new Set(sources)].join(", ")}`;
  throw new Refusal(
    `--emf: no path asked for starts from ${name}`,
    near === undefined ? all : `did you mean ${near}?`,
  );
}

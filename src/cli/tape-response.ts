import { compare, type PathInMode } from "../bench/compare.ts";
import { playback, startsAtHead } from "../bench/playback.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { modesOf, withPartStates } from "../circuit/conditions.ts";
import { comparisonSvg } from "../report/compare-svg.ts";
import { comparisonCsv, comparisonTable } from "../report/compare-table.ts";
import { conditionPhrases } from "../report/condition-phrases.ts";
import { playbackSvg } from "../report/playback-svg.ts";
import { playbackCsv, playbackTable } from "../report/playback-table.ts";
import { preferredBetween } from "../tape/preferred.ts";
import { type Arguments, has, listGiven, valueGiven } from "./arguments.ts";
import { known, readConditions } from "./conditions.ts";
import type { Environment } from "./environment.ts";
import { drawnFrequencies, readEnds, readFrequencies } from "./frequencies.ts";
import type { Netlist } from "./netlist.ts";
import type { Destination } from "./output.ts";
import { Refusal, readTogether } from "./refusal.ts";
import { settle } from "./settle.ts";
import { readField, readReference, readStandard, readTapeLoss, readTapeSpeed } from "./tape-options.ts";

/** What belongs to one of the two questions only: options, and the question they need. */
const NEEDS: readonly (readonly [option: string, questions: readonly string[]])[] = [
  ["tape", ["standard", "compare"]],
  ["re", ["standard", "compare"]],
  ["field", ["standard"]],
  ["tape-loss", ["compare"]],
];

/** Which question about tape is asked, if any; refuses options that go with none. */
export function tapeQuestion(given: Arguments): "standard" | "compare" | undefined {
  const asked = (["standard", "compare"] as const).filter((name) => has(given, name));
  if (asked.length > 1) throw new Refusal("--standard and --compare exclude each other");
  for (const [option, questions] of NEEDS) {
    if (!has(given, option) || questions.some((name) => has(given, name))) continue;
    const needed = questions.map((name) => `--${name}`).join(" or ");
    throw new Refusal(`--${option} goes with ${needed}`, `add ${needed}, or leave --${option} out`);
  }
  return asked[0];
}

/** Neither question has a page of its own. */
function refuseHtml(to: Destination, question: string): void {
  const page = to.files.find(({ ending }) => ending === ".html");
  if (page === undefined) return;
  throw new Refusal(
    `-o ${page.path}: --${question} writes .json .csv .svg`,
    "the page holds the plain response",
  );
}

interface Asked {
  readonly given: Arguments;
  readonly environment: Environment;
  readonly netlist: Netlist;
  readonly to: Destination;
}

/** The preferred frequencies in the range asked for, or those of `--at`. */
function tapeFrequencies(given: Arguments): readonly number[] {
  if (has(given, "at")) return readFrequencies(given);
  if (has(given, "points-per-octave")) {
    throw new Refusal(
      "--standard looks at the preferred frequencies, three to the octave",
      "leave --points-per-octave out, or name frequencies with --at",
    );
  }
  const { from, to } = readEnds(given);
  const hertz = preferredBetween(from, to);
  if (hertz.length > 0) return hertz;
  throw new Refusal(`no preferred frequency lies from ${from} Hz to ${to} Hz`, "name some with --at");
}

/** Paths that begin at a head: those asked for, else all. */
function playbackPaths(given: Arguments, circuit: Circuit): readonly string[] {
  const heads = circuit.paths.filter(({ from }) => startsAtHead(circuit, from));
  const names = heads.map(({ name }) => name);
  const chosen = known(
    listGiven(given, "path"),
    "path",
    circuit.paths.map(({ name }) => name),
  );
  const other = circuit.paths.find(({ name }) => chosen.includes(name) && !names.includes(name));
  if (other !== undefined) {
    const hint = names.length === 0 ? undefined : `these do: ${names.join(", ")}`;
    throw new Refusal(
      `--standard plays a tape, but ${other.name} starts at ${other.from}, not at a head`,
      hint,
    );
  }
  if (names.length === 0) {
    throw new Refusal(
      "--standard plays a tape, but no path starts at a head",
      "add a line such as: path playback in play from K1 to out",
    );
  }
  return chosen.length > 0 ? chosen : names;
}

/** A head whose lengths are given loses by wavelength: without a speed there is none. */
function needSpeed(circuit: Circuit, paths: readonly string[], speed: number | undefined): void {
  if (speed !== undefined) return;
  const from = circuit.paths.filter(({ name }) => paths.includes(name)).map((path) => path.from);
  const head = circuit.parts.find(
    ({ name, values }) =>
      from.includes(name) && ["gap", "spacing", "coating"].some((key) => values[key] !== undefined),
  );
  if (head === undefined) return;
  throw new Refusal(
    `${head.name} has a gap, spacing or coating: their losses need the speed of the tape`,
    "for example --tape 9.53cm/s",
  );
}

/** `response --standard`: playback as the tape sees it. */
export function playbackCommand({ given, environment, netlist, to }: Asked): number {
  refuseHtml(to, "standard");
  const { circuit } = netlist;
  const speed = readTapeSpeed(given);
  const standard = readStandard(valueGiven(given, "standard") ?? "", speed);
  const { paths, conditions, reference, field, hertz } = readTogether({
    paths: () => playbackPaths(given, circuit),
    conditions: () => readConditions(given, circuit),
    reference: () => readReference(given),
    field: () => readField(given),
    hertz: () => tapeFrequencies(given),
  });
  needSpeed(withPartStates(circuit, conditions.set ?? []), paths, speed);
  const tape = { standard, ...(speed !== undefined && { speed }), reference, field };
  const at = (points: readonly number[]) => playback(circuit, { ...conditions, paths, ...tape }, points);
  const { results, failures } = at(hertz);
  const closer = drawnFrequencies(given);
  const drawn = () => (closer === undefined ? results : at(closer).results);
  if (results.length === 0 && failures.length === 0) throw notInModes(circuit, paths);
  const phrases = () => conditionPhrases(circuit, conditions, results);
  return settle(
    { command: "response", netlist, results, failures, to, quiet: has(given, "quiet") },
    {
      table: () => playbackTable(results, environment),
      csv: () => playbackCsv(results),
      files: { ".svg": () => playbackSvg(results, { title: circuit.title, conditions: phrases() }, drawn()) },
    },
    environment,
  );
}

function notInModes(circuit: Circuit, names: readonly string[]): Refusal {
  const where = circuit.paths
    .filter(({ name }) => names.includes(name))
    .map(({ name, mode }) => `${name} in ${mode}`)
    .join(", ");
  return new Refusal("none of the paths is followed in the modes asked for", `there are ${where}`);
}

/** The two paths of `--compare`, each in its mode. */
function readPair(given: Arguments, circuit: Circuit): readonly [PathInMode, PathInMode] {
  const words = listGiven(given, "compare");
  const names = circuit.paths.map(({ name }) => name);
  if (words.length !== 2) {
    throw new Refusal(
      "--compare takes two paths",
      `for example --compare ${names.slice(0, 2).join(",") || "A,B"}`,
    );
  }
  if (has(given, "path")) throw new Refusal("--compare names its paths itself", "leave --path out");
  known(words, "path", names);
  const modes = listGiven(given, "mode");
  const all = modes.length > 0 ? modes : modesOf(circuit).map(({ name }) => name);
  const [first, second] = words.map((name) => inMode(circuit, name, all));
  return [first!, second!];
}

function inMode(circuit: Circuit, name: string, modes: readonly string[]): PathInMode {
  const path = circuit.paths.find((each) => each.name === name)!;
  if (path.mode !== undefined) {
    if (modes.includes(path.mode)) return { path, mode: path.mode };
    throw notInModes(circuit, [name]);
  }
  const [mode, ...others] = modes;
  if (mode !== undefined && others.length === 0) return { path, mode };
  throw new Refusal(
    `${name} is followed in every mode: which is to be compared?`,
    `name one with --mode: ${modes.join(", ")}`,
  );
}

/** `response --compare`: play against record. */
export function compareCommand({ given, environment, netlist, to }: Asked): number {
  refuseHtml(to, "compare");
  const { circuit } = netlist;
  const { conditions, pair, speed, reference, tapeLoss, hertz } = readTogether({
    conditions: () => readConditions(given, circuit),
    pair: () => readPair(given, circuit),
    speed: () => readTapeSpeed(given),
    reference: () => readReference(given),
    tapeLoss: () => readTapeLoss(given, environment),
    hertz: () => readFrequencies(given),
  });
  needSpeed(
    withPartStates(circuit, conditions.set ?? []),
    pair.map(({ path }) => path.name),
    speed,
  );
  const asked = {
    ...conditions,
    reference,
    ...(speed !== undefined && { speed }),
    ...(tapeLoss !== undefined && { tapeLoss }),
  };
  const { results, failures } = compare(circuit, pair, asked, hertz);
  const closer = drawnFrequencies(given);
  const drawn = () => (closer === undefined ? results : compare(circuit, pair, asked, closer).results);
  const phrases = () => conditionPhrases(circuit, conditions, pair);
  return settle(
    { command: "response", netlist, results, failures, to, quiet: has(given, "quiet") },
    {
      table: () => comparisonTable(results, environment),
      csv: () => comparisonCsv(results),
      files: {
        ".svg": () => comparisonSvg(results[0]!, { title: circuit.title, conditions: phrases() }, drawn()[0]),
      },
    },
    environment,
  );
}

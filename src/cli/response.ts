import { response } from "../bench/response.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { bodeSvg } from "../report/bode-svg.ts";
import { conditionPhrases } from "../report/condition-phrases.ts";
import { responseCsv } from "../report/csv.ts";
import { reportHtml } from "../report/html.ts";
import { responsePlot } from "../report/response-plot.ts";
import { responseTable } from "../report/response-table.ts";
import { type Arguments, has, listGiven } from "./arguments.ts";
import { known, readConditions } from "./conditions.ts";
import type { Environment } from "./environment.ts";
import { drawnFrequencies, readFrequencies } from "./frequencies.ts";
import { fileOperand, openCircuit } from "./netlist.ts";
import { destination } from "./output.ts";
import { Refusal, readTogether } from "./refusal.ts";
import { settle } from "./settle.ts";
import { compareCommand, playbackCommand, tapeQuestion } from "./tape-response.ts";

/** `preprobe response`: gain and phase of every path against frequency. */
export function responseCommand(given: Arguments, environment: Environment): number {
  const to = destination(given, "response");
  const question = tapeQuestion(given);
  const hertz = question === undefined ? readFrequencies(given) : [];
  const netlist = openCircuit(fileOperand(given, "response"), given, environment);
  const { circuit } = netlist;
  if (question !== undefined) {
    const asked = { given, environment, netlist, to };
    return question === "standard" ? playbackCommand(asked) : compareCommand(asked);
  }
  const { paths, conditions } = readTogether({
    paths: () => readPaths(given, circuit),
    conditions: () => readConditions(given, circuit),
  });
  const { results, failures } = response(circuit, { ...conditions, paths }, hertz);
  const drawn = () => {
    const closer = drawnFrequencies(given);
    return closer === undefined ? results : response(circuit, { ...conditions, paths }, closer).results;
  };
  if (results.length === 0 && failures.length === 0) throw noPathThere(circuit, paths);
  const phrases = () => conditionPhrases(circuit, conditions, results);
  const run = { command: "response", netlist, results, failures, to, quiet: has(given, "quiet") };
  return settle(
    run,
    {
      table: () => {
        const closer = drawn();
        return `${responsePlot(closer, environment)}\n${responseTable(results, environment, closer)}`;
      },
      csv: () => responseCsv(results),
      files: {
        ".svg": () => bodeSvg(drawn(), { title: circuit.title, conditions: phrases() }),
        ".html": () => reportHtml(circuit, { conditions: phrases(), responses: drawn() }),
      },
    },
    environment,
  );
}

/** Names of the paths to follow. */
export function readPaths(given: Arguments, circuit: Circuit): readonly string[] {
  const names = circuit.paths.map(({ name }) => name);
  if (names.length === 0) {
    throw new Refusal(
      "the netlist names no path to follow",
      "add a line such as: path amplifier from G1 to out",
    );
  }
  const chosen = known(listGiven(given, "path"), "path", names);
  return chosen.length > 0 ? chosen : names;
}

/** Every path chosen belongs to a mode that was not. */
export function noPathThere(circuit: Circuit, names: readonly string[]): Refusal {
  const paths = circuit.paths.filter(({ name }) => names.includes(name));
  const where = paths.map(({ name, mode }) => `${name} in ${mode}`).join(", ");
  return new Refusal("none of the paths is followed in the modes asked for", `there are ${where}`);
}

import type { Condition } from "../bench/adjust/condition.ts";
import { type Knob, knobOf, knobsOf } from "../bench/adjust/knob.ts";
import { adjust } from "../bench/adjust.ts";
import type { Conditions } from "../bench/conditions.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { nearestWord } from "../language/index.ts";
import { adjustCsv } from "../report/adjust-csv.ts";
import { adjustSvg } from "../report/adjust-svg.ts";
import { adjustTable } from "../report/adjust-table.ts";
import { conditionPhrases } from "../report/condition-phrases.ts";
import { type Arguments, has, valueGiven } from "./arguments.ts";
import { quantity, readConditions } from "./conditions.ts";
import type { Environment } from "./environment.ts";
import { openCircuit } from "./netlist.ts";
import { destination } from "./output.ts";
import { Refusal, readTogether } from "./refusal.ts";
import { settle } from "./settle.ts";
import { readUntil } from "./until.ts";

const USAGE = 'preprobe adjust FILE P2 --until "T6.ic = 5 mA"';

/** `preprobe adjust`: the setting or part value that meets a condition. */
export function adjustCommand(given: Arguments, environment: Environment): number {
  const to = destination(given, "adjust");
  const [file, name, extra] = given.operands;
  if (file === undefined) throw new Refusal("adjust needs a netlist and a part", USAGE);
  if (name === undefined) throw new Refusal("adjust needs a part to turn behind the netlist", USAGE);
  if (extra !== undefined) throw new Refusal(`adjust turns one part, but "${extra}" follows ${name}`, USAGE);
  const until = valueGiven(given, "until");
  if (until === undefined) throw new Refusal("adjust needs a condition", USAGE);
  const netlist = openCircuit(file, given, environment);
  const { circuit } = netlist;
  const { condition, knob, plain } = readTogether({
    condition: () => readUntil(until, circuit),
    knob: () => readKnob(name, given, circuit),
    plain: () => readConditions(given, circuit),
  });
  const conditions = inItsModes(plain, condition, circuit);
  const { results, failures } = adjust(circuit, knob, condition, conditions);
  const phrases = conditionPhrases(circuit, conditions, results);
  const run = { command: "adjust", netlist, results, failures, to, quiet: has(given, "quiet") };
  return settle(
    run,
    {
      table: () => adjustTable(circuit, results, phrases, environment),
      csv: () => adjustCsv(results),
      files: { ".svg": () => adjustSvg(circuit, results, phrases) },
    },
    environment,
  );
}

/** `P2`, `R7`, `C2.esr`; with `--from` and `--to` over another range. */
function readKnob(name: string, given: Arguments, circuit: Circuit): Knob {
  const [partName = "", key] = name.split(".");
  const names = circuit.parts.map((part) => part.name);
  const part = circuit.parts.find((each) => each.name === partName);
  if (part === undefined) {
    const near = nearestWord(partName, names);
    throw new Refusal(
      `there is no part ${partName} to turn`,
      near === undefined ? undefined : `did you mean ${near}?`,
    );
  }
  const knob = knobOf(part, circuit, key);
  if (knob === undefined) throw nothingToTurn(name, knobsOf(part));
  const { unit } = knob;
  const [from, to] = ["from", "to"].map((option) => {
    const text = valueGiven(given, option);
    return text === undefined ? undefined : quantity(option, text, unit);
  });
  return ranged(knob, from, to);
}

function nothingToTurn(name: string, knobs: readonly string[]): Refusal {
  const [partName = "", key] = name.split(".");
  if (knobs.length === 0)
    return new Refusal(`${partName} has nothing to turn`, "turn a setting or a part's value");
  return new Refusal(
    `${partName} has no ${key ?? "setting"}`,
    `it has ${knobs.map((each) => `${partName}.${each}`).join(", ")}`,
  );
}

function ranged(knob: Knob, from = knob.low, to = knob.high): Knob {
  if (!(from < to)) throw new Refusal("--from lies above --to", "exchange them");
  if (knob.key === "setting" && (from < 0 || to > 1)) {
    throw new Refusal("a setting lies between 0 % and 100 %");
  }
  if (knob.key !== "setting" && !(from > 0))
    throw new Refusal("a value lies above 0", "give --from a value above 0");
  return { ...knob, low: from, high: to };
}

/** A gain is looked at in the mode of its path. */
function inItsModes(conditions: Conditions, { looked }: Condition, circuit: Circuit): Conditions {
  const path = "path" in looked ? circuit.paths.find(({ name }) => name === looked.path) : undefined;
  if (path?.mode === undefined) return conditions;
  if (conditions.modes !== undefined && !conditions.modes.includes(path.mode)) {
    throw new Refusal(
      `the path ${path.name} is followed in ${path.mode}`,
      `leave out --mode, or give --mode ${path.mode}`,
    );
  }
  return { ...conditions, modes: [path.mode] };
}

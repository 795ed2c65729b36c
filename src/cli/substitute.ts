import type { Conditions } from "../bench/conditions.ts";
import { preferredFrequencies, response } from "../bench/response.ts";
import type { Substitution } from "../bench/substitute/results.ts";
import { substitute } from "../bench/substitute.ts";
import type { Circuit, DeviceType, Part } from "../circuit/circuit.ts";
import { libraryTypes, nearestWord } from "../language/index.ts";
import { bodeSvg } from "../report/bode-svg.ts";
import { conditionPhrases } from "../report/condition-phrases.ts";
import { substituteCsv } from "../report/substitute-csv.ts";
import { substituteTable } from "../report/substitute-table.ts";
import { type Arguments, has } from "./arguments.ts";
import { known, readConditions } from "./conditions.ts";
import type { Environment } from "./environment.ts";
import { openCircuit } from "./netlist.ts";
import { destination } from "./output.ts";
import { Refusal, readEach, readTogether } from "./refusal.ts";
import { settle } from "./settle.ts";

const USAGE = "preprobe substitute FILE T3 TYPE…, or --all for every type of the library";

/** `preprobe substitute`: other types in the socket of a transistor, the least change first. */
export function substituteCommand(given: Arguments, environment: Environment): number {
  const to = destination(given, "substitute");
  const [file, name, ...wanted] = given.operands;
  if (file === undefined || name === undefined) {
    throw new Refusal("substitute needs a netlist and the name of a transistor", USAGE);
  }
  const netlist = openCircuit(file, given, environment);
  const circuit = { ...netlist.circuit, types: { ...libraryTypes(), ...netlist.circuit.types } };
  const [part, ...also] = transistorsNamed(circuit, name);
  const { types, conditions } = readTogether({
    types: () => typesWanted(circuit, part, wanted, has(given, "all")),
    conditions: () => readConditions(given, netlist.circuit),
  });
  const quiet = has(given, "quiet");
  const { results, failures } = substitute(circuit, part.name, types, {
    ...conditions,
    also: also.map((other) => other.name),
    ...(has(given, "all") && { sufficientOnly: true }),
    ...(!quiet && { progress: (type: string) => environment.progress?.(type) }),
  });
  environment.progress?.("");
  const phrases = () => conditionPhrases(netlist.circuit, conditions, results);
  const run = { command: "substitute", netlist, results, failures, to, quiet };
  return settle(
    run,
    {
      table: () => substituteTable(circuit, results, phrases(), environment),
      csv: () => substituteCsv(results),
      files: { ".svg": () => plot(circuit, part, results, conditions, phrases()) },
    },
    environment,
  );
}

/** The transistors named, `T6` or `T6,T7`; those behind the first are of its polarity. */
function transistorsNamed(circuit: Circuit, text: string): readonly [Part, ...Part[]] {
  const transistors = circuit.parts.filter(({ kind }) => kind === "transistor");
  const names = known(
    text.split(",").map((name) => name.trim()),
    "transistor",
    transistors.map((part) => part.name),
  );
  const [first, ...others] = names.map((name) => transistors.find((part) => part.name === name)!);
  const device = (part: Part) => circuit.types[part.type ?? ""]?.device;
  const other = others.find((part) => device(part) !== device(first!));
  if (other === undefined) return [first!, ...others];
  throw new Refusal(
    `${other.name} is ${device(other)}, ${first!.name} is ${device(first!)}: no type fits both`,
    "give them one by one",
  );
}

const NUMERIC = { numeric: true };

/** Names of the types to try: those given, or every other one of the same polarity. */
function typesWanted(
  circuit: Circuit,
  part: Part,
  wanted: readonly string[],
  all: boolean,
): readonly string[] {
  const { device } = circuit.types[part.type ?? ""]!;
  const fitting = Object.values(circuit.types).filter((type) => type.device === device);
  if (all) {
    if (wanted.length > 0) throw new Refusal(`--all tries every type: leave out ${wanted.join(" ")}`);
    return fitting
      .map(({ name }) => name)
      .filter((name) => name !== part.type)
      .toSorted((a, b) => a.localeCompare(b, "en", NUMERIC));
  }
  if (wanted.length === 0) throw new Refusal(`no type to try in place of ${part.name} is given`, USAGE);
  readEach(wanted, (name) => checkType(circuit.types, name, device, part));
  return [...new Set(wanted)];
}

function checkType(
  types: Readonly<Record<string, DeviceType>>,
  name: string,
  device: DeviceType["device"],
  part: Part,
): void {
  const type = types[name];
  if (type === undefined) {
    const names = Object.values(types).flatMap((one) => (one.device === device ? [one.name] : []));
    const near = nearestWord(name, names);
    throw new Refusal(
      `neither the netlist nor the library has a type "${name}"`,
      near === undefined ? "preprobe types lists them" : `did you mean ${near}?`,
    );
  }
  if (type.device === device) return;
  throw new Refusal(
    `${name} is ${type.device === "diode" ? "a diode" : type.device}, but ${part.name} is ${device}`,
    "a transistor of the other polarity needs another circuit",
  );
}

/** Curves that one drawing shows. */
const MOST_CURVES = 5;

/** The first path through the transistor, with its own type and the best of the others. */
function plot(
  circuit: Circuit,
  part: Part,
  results: readonly Substitution[],
  conditions: Conditions,
  phrases: readonly string[],
): string {
  const one = results.find(({ fitted }) => Object.keys(fitted.paths).length > 0);
  const path = Object.keys(one?.fitted.paths ?? {})[0];
  if (one === undefined || path === undefined) {
    throw new Refusal(`no path goes through ${part.name}: there is no response to draw`);
  }
  const hertz = preferredFrequencies({ from: 20, to: 20_000, pointsPerOctave: 6 });
  const types = [one.fitted.type, ...one.candidates.map(({ type }) => type)].slice(0, MOST_CURVES);
  const responses = [...new Set(types)].flatMap((type) => {
    const sockets = type === one.fitted.type ? [] : [part.name, ...(one.also ?? [])];
    const fitted = sockets.map((socket) => ({ part: socket, key: "type", value: type }));
    const set = [...(conditions.set ?? []), ...fitted];
    const asked = { ...conditions, modes: [one.mode], paths: [path], set };
    return response(circuit, asked, hertz).results.map((found) => ({ ...found, path: type }));
  });
  return bodeSvg(responses, { title: `${circuit.title}: ${part.name}, ${path}`, conditions: phrases });
}

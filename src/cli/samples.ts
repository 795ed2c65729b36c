/** The samples of a transistor test: from options, or several from a file of comma-separated values. */
import type { Tested } from "../bench/grade.ts";
import type { TestCircuit } from "../bench/transistor-test.ts";
import type { DeviceType } from "../circuit/circuit.ts";
import { libraryTypes, nearestWord } from "../language/index.ts";
import { isLooseName } from "../language/names.ts";
import { type Arguments, has, valueGiven } from "./arguments.ts";
import { optional, quantity } from "./conditions.ts";
import { Refusal, Refusals, readEach, readTogether, refusalsIn } from "./refusal.ts";

/** Air temperatures at which anybody tests transistors, °C. */
const COLDEST = -40;
const HOTTEST = 80;

/** What the options say of the test and of the transistors, before any reading. */
interface Bench {
  readonly test: TestCircuit;
  /** The meter lies across the transistor, not across the collector resistor. */
  readonly acrossTransistor: boolean;
  readonly given: Arguments;
}

/** Supply and resistors of the test, from the options. */
function benchOf(given: Arguments): Bench {
  const { acrossTransistor, ...test } = readTogether({
    supplyVolts: () => positive(given, "supply"),
    collectorOhms: () => (valueGiven(given, "collector") === undefined ? 0 : positive(given, "collector")),
    baseOhms: () => positive(given, "base"),
    celsius: () => temperature(valueGiven(given, "temperature") ?? "25C"),
    acrossTransistor: () => isAcrossTransistor(valueGiven(given, "across") ?? "resistor"),
  });
  return { test, acrossTransistor, given };
}

function isAcrossTransistor(across: string): boolean {
  if (across === "resistor" || across === "transistor") return across === "transistor";
  throw new Refusal(
    `--across ${across}: a reading is taken across the resistor or across the transistor`,
    "--across resistor: the collector resistor; --across transistor: collector to emitter",
  );
}

function positive(given: Arguments, name: "supply" | "collector" | "base"): number {
  const text = valueGiven(given, name);
  if (text === undefined) {
    throw new Refusal(
      `grade needs --${name}, ${name === "supply" ? "the voltage of the test" : `the ${name} resistor of the test`}`,
      "for example grade --supply 9V --collector 2k47 --base 2M2 --open 0.23V --fed 1.33V",
    );
  }
  const value = quantity(name, text, name === "supply" ? "volt" : "ohm");
  if (value > 0) return value;
  throw new Refusal(`--${name} ${text}: more than 0 is needed`);
}

function temperature(text: string): number {
  const celsius = quantity("temperature", text, "celsius");
  if (celsius >= COLDEST && celsius <= HOTTEST) return celsius;
  throw new Refusal(
    `--temperature ${text}: nobody tests transistors there`,
    `give the temperature of the air, from ${COLDEST} to ${HOTTEST} °C`,
  );
}

/** The transistor that was tested, from the options. */
export function oneSample(given: Arguments): readonly Tested[] {
  const bench = benchOf(given);
  const { openAmps, fedAmps, device } = readTogether({
    openAmps: () => readingGiven(bench, "open"),
    fedAmps: () => readingGiven(bench, "fed"),
    device: () => markedAs(valueGiven(given, "like"), given),
  });
  const name = valueGiven(given, "name") ?? (device.marked ? `${device.type.name}_sample` : "sample");
  return [{ sample: sampleName(name), test: bench.test, readings: { openAmps, fedAmps }, ...device }];
}

function readingGiven(bench: Bench, name: "open" | "fed"): number {
  const text = valueGiven(bench.given, name);
  if (text !== undefined) return reading(bench, name, text);
  throw new Refusal(
    `grade needs --${name}, the reading with the base ${name}`,
    "give --open and --fed, or a file with columns sample,open,fed",
  );
}

function sampleName(name: string): string {
  if (isLooseName(name)) return name;
  throw new Refusal(`"${name}" is no name for a sample`, "letters, digits, _, - and / make a name");
}

/** Collector current of a reading: a current as it is, a voltage by the collector resistor. */
function reading({ test, acrossTransistor }: Bench, name: string, text: string): number {
  if (/A$/.test(text.trim())) return quantity(name, text, "ampere");
  const volts = quantity(name, text, "volt");
  if (test.collectorOhms > 0) {
    return (acrossTransistor ? test.supplyVolts - volts : volts) / test.collectorOhms;
  }
  throw new Refusal(
    `--${name} ${text}: a voltage needs --collector, the resistor it stands across`,
    "or give the collector current, for example 93uA",
  );
}

function markedAs(name: string | undefined, given: Arguments): { type: DeviceType; marked: boolean } {
  const polarity = polarityGiven(given);
  if (name === undefined) {
    const place = { file: "", line: 1, column: 1 };
    const material = has(given, "silicon") ? "silicon" : "germanium";
    return {
      type: { name: "sample", device: polarity ?? "pnp", material, figures: {}, place },
      marked: false,
    };
  }
  const type = libraryTransistor(name);
  if (polarity !== undefined && polarity !== type.device) {
    throw new Refusal(`${name} is ${type.device}, not ${polarity}`, `leave out --${polarity}`);
  }
  if (has(given, "silicon") && type.material !== "silicon") {
    throw new Refusal(`${name} is germanium, not silicon`, "leave out --silicon, or --like");
  }
  return { type, marked: true };
}

function libraryTransistor(name: string): DeviceType {
  const types = libraryTypes();
  const type = types[name];
  if (type !== undefined && type.device !== "diode") return type;
  if (type !== undefined) throw new Refusal(`${name} is a diode`, "--like names a transistor");
  const names = Object.values(types).flatMap(({ device, name }) => (device === "diode" ? [] : [name]));
  const near = nearestWord(name, names);
  throw new Refusal(
    `the library has no type "${name}"`,
    near === undefined
      ? "preprobe types lists them; without --like nothing is judged by a sheet"
      : `did you mean ${near}?`,
  );
}

function polarityGiven(given: Arguments): "pnp" | "npn" | undefined {
  if (has(given, "pnp") && has(given, "npn")) throw new Refusal("--pnp and --npn exclude each other");
  return has(given, "npn") ? "npn" : has(given, "pnp") ? "pnp" : undefined;
}

const COLUMNS = ["sample", "open", "fed", "like", "temperature"] as const;
type Column = (typeof COLUMNS)[number];

/**
 * Samples from the text of a file: a heading with `sample`, `open`, `fed` and, if wanted, `like` and
 * `temperature` in any order; commas, semicolons or tabs between.
 */
export function samplesFrom(text: string, file: string, given: Arguments): readonly Tested[] {
  const bench = benchOf(given);
  const taken = (["open", "fed", "name"] as const).find((name) => valueGiven(given, name) !== undefined);
  if (taken !== undefined) throw new Refusal(`--${taken} and a file of samples exclude each other`);
  const lines = text.split(/\r?\n/).map((line, k) => ({ line, number: k + 1 }));
  const [head, ...rows] = lines.filter(({ line }) => line.trim() !== "" && !line.startsWith("#"));
  if (head === undefined) throw new Refusal(`${file} is empty`, "its first line is: sample,open,fed");
  const separator = /[;\t,]/.exec(head.line)?.[0] ?? ",";
  const columns = headingOf(cells(head.line, separator), file);
  if (rows.length === 0) throw new Refusal(`${file} has no samples`, "a line each below the heading");
  const samples = readEach(rows, ({ line, number }) =>
    sampleOfRow(cells(line, separator), columns, bench, `${file}, line ${number}`),
  );
  const twice = samples.find(({ sample }, k) => samples.findIndex((one) => one.sample === sample) < k);
  if (twice !== undefined) throw new Refusal(`${file} has two samples called ${twice.sample}`);
  return samples;
}

const cells = (line: string, separator: string): readonly string[] =>
  (line.match(new RegExp(`("(?:[^"]|"")*"|[^${separator}]*)(?:${separator}|$)`, "g")) ?? []).map((cell) => {
    const bare = cell.endsWith(separator) ? cell.slice(0, -1) : cell;
    const text = bare.trim();
    return text.startsWith('"') ? text.slice(1, -1).replaceAll('""', '"') : text;
  });

function headingOf(heads: readonly string[], file: string): ReadonlyMap<Column, number> {
  const found = new Map<Column, number>();
  heads.forEach((head, k) => {
    const column = COLUMNS.find((name) => name === head.toLowerCase());
    if (column !== undefined) found.set(column, k);
    else if (head !== "") {
      throw new Refusal(`${file} has a column "${head}"`, `the columns are ${COLUMNS.join(", ")}`);
    }
  });
  for (const needed of ["sample", "open", "fed"] as const) {
    if (!found.has(needed)) {
      throw new Refusal(`${file} has no column "${needed}"`, "its first line is: sample,open,fed");
    }
  }
  return found;
}

function sampleOfRow(
  row: readonly string[],
  columns: ReadonlyMap<Column, number>,
  bench: Bench,
  where: string,
): Tested {
  const cell = (name: Column) => row[columns.get(name) ?? -1] || undefined;
  const needed = (name: Column) => {
    const text = cell(name);
    if (text === undefined) throw new Refusal(`no ${name} is given`);
    return text;
  };
  try {
    const { sample, celsius, openAmps, fedAmps, device } = readTogether({
      sample: () => sampleName(needed("sample")),
      celsius: () => optional(cell("temperature"), temperature),
      openAmps: () => reading(bench, "open", needed("open")),
      fedAmps: () => reading(bench, "fed", needed("fed")),
      device: () => markedAs(cell("like") ?? valueGiven(bench.given, "like"), bench.given),
    });
    const test = { ...bench.test, ...(celsius !== undefined && { celsius }) };
    return { sample, test, readings: { openAmps, fedAmps }, ...device };
  } catch (error) {
    const placed = ({ message, hint }: Refusal) =>
      new Refusal(`${where}: ${message.replace(/^--/, "")}`, hint);
    throw new Refusals(refusalsIn(error).map(placed));
  }
}

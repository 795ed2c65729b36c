import { nearestWord } from "../language/nearest.ts";
import type { Option } from "./options.ts";
import { Refusal, readEach } from "./refusal.ts";

/** A command line, taken apart but not yet understood. */
export interface Arguments {
  /** What is not an option, in order: files, names. */
  readonly operands: readonly string[];
  /** The values given to each option, by its long name; a plain switch has one empty value. */
  readonly given: ReadonlyMap<string, readonly string[]>;
}

/**
 * Takes `words` apart by the options a command knows. `--option value` and `--option=value` are the
 * same; `-` is an operand (standard input); behind `--` everything is.
 */
export function parseArguments(words: readonly string[], options: readonly Option[]): Arguments {
  const operands: string[] = [];
  const given = new Map<string, string[]>();
  const rest = [...words];
  const taken = function* () {
    for (let word = rest.shift(); word !== undefined && word !== "--"; word = rest.shift()) yield word;
  };
  readEach(taken(), (word) => {
    if (word === "-" || !word.startsWith("-")) operands.push(word);
    else takeOption(word, rest, options, given);
  });
  return { operands: [...operands, ...rest], given };
}

function takeOption(
  word: string,
  rest: string[],
  options: readonly Option[],
  given: Map<string, string[]>,
): void {
  const { name, attached } = split(word);
  const option = options.find((known) => `--${known.name}` === name || `-${known.short}` === name);
  if (option === undefined) throw unknownOption(name, options);
  const values = given.get(option.name) ?? [];
  if (values.length > 0 && option.value !== undefined && option.repeatable !== true) {
    throw new Refusal(`--${option.name} is given twice`, "give it once");
  }
  given.set(option.name, [...values, takeValue(option, name, attached, rest)]);
}

/** `--name=value`, `-nvalue`, `--name` or `-n`. */
function split(word: string): { name: string; attached: string | undefined } {
  if (!word.startsWith("--")) {
    return {
      name: word.slice(0, 2),
      attached: word.length > 2 ? word.slice(2).replace(/^=/, "") : undefined,
    };
  }
  const equals = word.indexOf("=");
  if (equals < 0) return { name: word, attached: undefined };
  return { name: word.slice(0, equals), attached: word.slice(equals + 1) };
}

function takeValue(option: Option, name: string, attached: string | undefined, rest: string[]): string {
  if (option.value === undefined) {
    if (attached !== undefined) throw new Refusal(`${name} takes no value, but "${attached}" is given`);
    return "";
  }
  const next = attached ?? rest[0];
  // a value may begin with one dash (--ambient -10C), not with two
  if (next === undefined || next === "" || (attached === undefined && next.startsWith("--"))) {
    throw new Refusal(`${name} needs a value`, `for example ${name} ${option.value}`);
  }
  if (attached === undefined) rest.shift();
  return next;
}

function unknownOption(name: string, options: readonly Option[]): Refusal {
  const near = nearestWord(
    name.replace(/^-+/, ""),
    options.map((option) => option.name),
  );
  const all = options.map((option) => `--${option.name}`).join(" ");
  return new Refusal(
    `there is no option ${name} here`,
    near === undefined ? `there are ${all}` : `did you mean --${near}?`,
  );
}

/** Whether a plain switch is given. */
export const has = (from: Arguments, name: string): boolean => from.given.has(name);

/** The value of an option given once. */
export const valueGiven = (from: Arguments, name: string): string | undefined => from.given.get(name)?.[0];

/** All values of a repeatable option. */
export const valuesGiven = (from: Arguments, name: string): readonly string[] => from.given.get(name) ?? [];

/** All values of a repeatable option whose values are lists with commas. */
export const listGiven = (from: Arguments, name: string): readonly string[] =>
  valuesGiven(from, name)
    .flatMap((value) => value.split(","))
    .map((word) => word.trim())
    .filter((word) => word !== "");

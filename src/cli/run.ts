import { nearestWord } from "../language/nearest.ts";
import { type Arguments, has, parseArguments } from "./arguments.ts";
import { COMMANDS, type Command } from "./commands.ts";
import { complain } from "./complaints.ts";
import type { Environment } from "./environment.ts";
import { commandHelp, PROGRAM_OPTIONS, programHelp } from "./help.ts";
import { EXIT, Refusal } from "./refusal.ts";

/** Runs one command line; returns the exit code and never throws. */
export async function run(words: readonly string[], environment: Environment): Promise<number> {
  const command = COMMANDS.find(({ name }) => name === words[0]);
  try {
    return command === undefined
      ? await withoutCommand(words, environment)
      : await runCommand(command, words.slice(1), environment);
  } catch (error) {
    return complain(error, { command: command?.name ?? "", json: words.includes("--json") }, environment);
  }
}

async function runCommand(command: Command, words: readonly string[], environment: Environment) {
  const given: Arguments = parseArguments(words, command.options);
  if (has(given, "help")) {
    environment.stdout(commandHelp(command));
    return EXIT.done;
  }
  const answer = await command.load();
  return answer(given, environment);
}

async function withoutCommand(words: readonly string[], environment: Environment): Promise<number> {
  const [first] = words;
  if (first === undefined) {
    environment.stderr(programHelp());
    return EXIT.badInput;
  }
  if (first === "help") return helpFor(words[1], environment);
  if (!first.startsWith("-") || first === "-") throw unknownCommand(first);
  const given = parseArguments(words, PROGRAM_OPTIONS);
  if (has(given, "version")) environment.stdout(`${(await import("./version.ts")).version}\n`);
  else environment.stdout(programHelp());
  return EXIT.done;
}

function helpFor(name: string | undefined, environment: Environment): number {
  const command = COMMANDS.find((known) => known.name === name);
  if (name !== undefined && command === undefined) throw unknownCommand(name);
  environment.stdout(command === undefined ? programHelp() : commandHelp(command));
  return EXIT.done;
}

function unknownCommand(word: string): Refusal {
  if (word === "-" || word.endsWith(".netlist")) {
    return new Refusal(`the command is missing before ${word}`, `did you mean preprobe voltages ${word}?`);
  }
  const names = COMMANDS.map(({ name }) => name);
  const near = nearestWord(word, names);
  const hint = near === undefined ? `the commands are ${names.join(", ")}` : `did you mean ${near}?`;
  return new Refusal(`there is no command "${word}"`, hint);
}

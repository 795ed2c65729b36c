import { COMMANDS, type Command } from "./commands.ts";
import { HELP, type Option, VERSION } from "./options.ts";

const EXIT_CODES = `Exit codes
  0   done
  1   no solution: not converged, or thermal runaway
  2   bad input or usage
  70  a fault in preprobe itself`;

/** Rows of two columns, the second aligned. */
function columns(rows: readonly (readonly [string, string])[]): string {
  const width = Math.max(...rows.map(([left]) => left.length));
  return rows.map(([left, right]) => `  ${left.padEnd(width)}  ${right}`).join("\n");
}

function optionRow(option: Option): readonly [string, string] {
  const short = option.short === undefined ? "" : `-${option.short}, `;
  const value = option.value === undefined ? "" : ` ${option.value}`;
  return [`${short}--${option.name}${value}`, option.help];
}

/** Examples as shell lines with what they answer as a comment above. */
const examples = (rows: Command["examples"]): string =>
  rows.map(([command, meaning]) => `  # ${meaning}\n  preprobe ${command}`).join("\n");

/** Help for one command, examples first. */
export function commandHelp(command: Command): string {
  const input = command.operands.includes("FILE") ? "\n  FILE is a netlist; - is standard input." : "";
  return `preprobe ${command.name}: ${command.summary}

Examples
${examples(command.examples)}

Usage
  preprobe ${command.name} ${command.operands} [options]${input}

Options
${columns(command.options.map(optionRow))}

${EXIT_CODES}
`;
}

/** Help for the program, examples first. */
export function programHelp(): string {
  return `preprobe: operating points and responses of germanium-era audio stages

Examples
  # the voltage chart of a circuit
  preprobe voltages recorder.netlist
  # gain and phase against frequency, to print
  preprobe response recorder.netlist -o bode.svg

Commands
${columns(COMMANDS.map((command) => [`${command.name} ${command.operands}`, command.summary] as const))}

Options
${columns([["-h, --help", "this text, or that of a command: preprobe voltages -h"], optionRow(VERSION)])}

${EXIT_CODES}
`;
}

/** Options that stand before any command. */
export const PROGRAM_OPTIONS: readonly Option[] = [HELP, VERSION];

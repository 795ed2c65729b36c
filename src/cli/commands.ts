import type { Arguments } from "./arguments.ts";
import type { Environment } from "./environment.ts";
import {
  ADJUST_OPTIONS,
  ALL_TYPES,
  CONDITION_OPTIONS,
  FORMAT,
  FREQUENCY_OPTIONS,
  GRADE_OPTIONS,
  HELP,
  HISS_OPTIONS,
  METER,
  type Option,
  OSCILLATION_OPTIONS,
  outputOptions,
  PATH,
  POWER_OPTIONS,
  REGULATION_OPTIONS,
  SHEET_MODE,
  SHEET_OPTIONS,
  SPREAD_OPTIONS,
  SUSPECTS_OPTIONS,
  TAPE_OPTIONS,
  TYPES_OPTIONS,
  WAVEFORM_CONDITIONS,
  WAVEFORM_OPTIONS,
} from "./options.ts";

/** Answers one command; returns the exit code. */
export type Answer = (given: Arguments, environment: Environment) => number | Promise<number>;

export interface Command {
  readonly name: string;
  /** What follows the name, as the usage line shows it. */
  readonly operands: string;
  readonly summary: string;
  readonly examples: readonly (readonly [command: string, meaning: string])[];
  readonly options: readonly Option[];
  /** Loaded when the command is run and not before, so that each starts fast. */
  readonly load: () => Promise<Answer>;
}

export const COMMANDS: readonly Command[] = [
  {
    name: "check",
    operands: "FILE",
    summary: "is it sound: errors, reversed parts, exceeded limits",
    examples: [
      ["check recorder.netlist", "every error and warning, with its line"],
      ["check recorder.netlist --mode record", "the operating point of one mode only"],
      ["check recorder.netlist --format", "print the file in canonical layout"],
    ],
    options: [FORMAT, ...CONDITION_OPTIONS, ...outputOptions("check"), HELP],
    load: async () => (await import("./check.ts")).check,
  },
  {
    name: "voltages",
    operands: "FILE",
    summary: "the voltage chart: every transistor and net, per mode",
    examples: [
      ["voltages recorder.netlist", "all modes, side by side"],
      ["voltages recorder.netlist --meter 20k/V", "with what such a meter would show"],
      ["voltages recorder.netlist --set B1=5.2V --ambient 35C", "a tired battery on a hot day"],
      ["voltages recorder.netlist --meter 20k/V -o chart.fods", "a worksheet with room for readings"],
    ],
    options: [METER, ...CONDITION_OPTIONS, ...outputOptions("voltages"), HELP],
    load: async () => (await import("./voltages.ts")).voltagesCommand,
  },
  {
    name: "response",
    operands: "FILE",
    summary: "gain and phase against frequency, per path",
    examples: [
      ["response recorder.netlist", "every path, 20 Hz to 20 kHz, table and plot"],
      ["response recorder.netlist --path playback --at 50,1k,10k", "one path at three frequencies"],
      ["response recorder.netlist --set P1=30%", "with a control turned"],
      ["response recorder.netlist -o bode.svg", "a Bode plot to print"],
      ['response recorder.netlist --standard "DIN 1962" --tape 9.53cm/s', "playback as the tape sees it"],
      ["response recorder.netlist --compare playback,recording", "play against record"],
    ],
    options: [
      PATH,
      ...FREQUENCY_OPTIONS,
      ...TAPE_OPTIONS,
      ...CONDITION_OPTIONS,
      ...outputOptions("response"),
      HELP,
    ],
    load: async () => (await import("./response.ts")).responseCommand,
  },
  {
    name: "stages",
    operands: "FILE",
    summary: "what each transistor does; gains, loops, idle currents",
    examples: [
      ["stages recorder.netlist", "every transistor in every mode"],
      ["stages recorder.netlist --mode play -o idle.svg", "idle currents of the pair, to print"],
      ["stages recorder.netlist --set C9=22µ", "with a tired bypass capacitor"],
    ],
    options: [...CONDITION_OPTIONS, ...outputOptions("stages"), HELP],
    load: async () => (await import("./stages.ts")).stagesCommand,
  },
  {
    name: "spread",
    operands: "FILE",
    summary: "least, typical and greatest among many specimens",
    examples: [
      ["spread recorder.netlist", "every net, current and gain, with the causes"],
      ["spread recorder.netlist --battery 6V..9.3V --ambient 10C..35C", "in use"],
      ["spread recorder.netlist --aged", "as it comes out of the attic"],
      ["spread recorder.netlist -o spread.svg", "bands, with the printed voltages"],
    ],
    options: [
      ...SPREAD_OPTIONS,
      ...CONDITION_OPTIONS.filter(({ name }) => name !== "ambient"),
      ...outputOptions("spread"),
      HELP,
    ],
    load: async () => (await import("./spread.ts")).spreadCommand,
  },
  {
    name: "substitute",
    operands: "FILE T3 …",
    summary: "other types in a socket, and what changes",
    examples: [
      ["substitute recorder.netlist T3 OC71 AC126", "two types in place of T3"],
      ["substitute recorder.netlist T3 --all", "every type whose limits suffice, best first"],
      ["substitute recorder.netlist T3 BC557", "silicon: with the bias resistor it needs"],
      ["substitute recorder.netlist T6,T7 AC128 AD162", "both halves of a push-pull stage"],
    ],
    options: [ALL_TYPES, ...CONDITION_OPTIONS, ...outputOptions("substitute"), HELP],
    load: async () => (await import("./substitute.ts")).substituteCommand,
  },
  {
    name: "hiss",
    operands: "FILE",
    summary: "noise at the output and at the source, part by part",
    examples: [
      ["hiss recorder.netlist --path playback", "how much, weighted and not, and from where"],
      ["hiss recorder.netlist --emf K1=0.5mV", "signal to noise of a tape that gives 0.5 mV"],
      ["hiss recorder.netlist --from 250Hz --to 10kHz", "in another band"],
      ["hiss recorder.netlist -o hiss.svg", "its density against frequency, to print"],
    ],
    options: [PATH, ...HISS_OPTIONS, ...CONDITION_OPTIONS, ...outputOptions("hiss"), HELP],
    load: async () => (await import("./hiss.ts")).hissCommand,
  },
  {
    name: "oscillation",
    operands: "FILE",
    summary: "natural frequencies: what grows, with what margin",
    examples: [
      ["oscillation recorder.netlist", "does it oscillate, where, how strongly, by which parts"],
      ["oscillation recorder.netlist --mode record --at erase,T6.c", "how far two nets swing"],
      ["oscillation recorder.netlist --margins", "when does it motorboat"],
      ["oscillation recorder.netlist -o map.svg", "all natural frequencies on a map"],
    ],
    options: [...OSCILLATION_OPTIONS, ...CONDITION_OPTIONS, ...outputOptions("oscillation"), HELP],
    load: async () => (await import("./oscillation.ts")).oscillationCommand,
  },
  {
    name: "waveform",
    operands: "FILE",
    summary: "voltages against time: switch-on, oscillation, clipping",
    examples: [
      ["waveform recorder.netlist --for 5s", "switch-on: from rest, the battery connected at 0"],
      ["waveform recorder.netlist --tone 1kHz,2mV --show speaker", "a sine at the input, and its distortion"],
      ["waveform recorder.netlist --mode record --for 1ms --start erase=1mV", "an oscillator builds up"],
      ['waveform recorder.netlist --at "50ms S1=record" --for 2s', "a switch is turned"],
      ["waveform recorder.netlist --for 5s --show quiet,LS1.1 -o on.svg", "an oscillogram to print"],
    ],
    options: [...WAVEFORM_OPTIONS, ...WAVEFORM_CONDITIONS, ...outputOptions("waveform"), HELP],
    load: async () => (await import("./waveform.ts")).waveformCommand,
  },
  {
    name: "power",
    operands: "FILE",
    summary: "output power and distortion against level, clipping",
    examples: [
      ["power recorder.netlist", "up to where it clips, in every mode with a loudspeaker"],
      ["power recorder.netlist --each P2=20%,40%,60%", "against quiescent current"],
      ["power recorder.netlist --ambient 5C,25C,40C -o cold.svg", "against temperature, to print"],
      ["power recorder.netlist --path preamplifier --emf 1mV..20mV", "another path, these levels"],
    ],
    options: [
      { ...PATH, help: "follow these paths only (default: to a loudspeaker)" },
      ...POWER_OPTIONS,
      ...CONDITION_OPTIONS.filter(({ name }) => name !== "ambient"),
      ...outputOptions("power"),
      HELP,
    ],
    load: async () => (await import("./power.ts")).powerCommand,
  },
  {
    name: "regulation",
    operands: "FILE",
    summary: "speed of a governed motor against battery and load",
    examples: [
      ["regulation motor.netlist", "from half to full battery, from no load to four times its own"],
      ["regulation motor.netlist --battery 4V..9V --points 11", "how far the battery may fall"],
      ["regulation motor.netlist --load 0..2mNm -o speed.svg", "the chart to print"],
    ],
    options: [...REGULATION_OPTIONS, ...CONDITION_OPTIONS, ...outputOptions("regulation"), HELP],
    load: async () => (await import("./regulation.ts")).regulationCommand,
  },
  {
    name: "suspects",
    operands: "FILE",
    summary: "from readings: which fault, and where to probe next",
    examples: [
      ["suspects recorder.netlist --reading play:T1.c=-6.1V --meter 20k/V", "one voltage is wrong"],
      [
        "suspects recorder.netlist --readings chart.ods",
        "the worksheet of voltages -o chart.fods, filled in",
      ],
      ['suspects recorder.netlist --reading "play: B1 current = 35 mA"', "a current; R7 voltage: a drop"],
      ['suspects recorder.netlist --reading "play off: T1.c = 4k7"', "ohms to chassis, battery out"],
      ["suspects recorder.netlist --readings readings.csv --pairs", "a list; two faults at once"],
    ],
    options: [...SUSPECTS_OPTIONS, ...CONDITION_OPTIONS, ...outputOptions("suspects"), HELP],
    load: async () => (await import("./suspects.ts")).suspectsCommand,
  },
  {
    name: "sheet",
    operands: "FILE",
    summary: "a page for the bench that is solved while you look at it",
    examples: [
      ["sheet recorder.netlist -o recorder.html", "opens in any browser, offline; prints on A4"],
      ["sheet recorder.netlist --mode record --set B1=7.5V -o tired.html", "as the set stands"],
      ["sheet recorder.netlist --meter 20k/V -o recorder.html", "voltages as such a meter reads them"],
    ],
    options: [
      SHEET_MODE,
      METER,
      ...CONDITION_OPTIONS.filter(({ name }) => name !== "mode"),
      ...SHEET_OPTIONS,
      HELP,
    ],
    load: async () => (await import("./sheet.ts")).sheetCommand,
  },
  {
    name: "grade",
    operands: "[SAMPLES.csv]",
    summary: "transistors from the drawer: leakage, hfe, pairs",
    examples: [
      [
        "grade --supply 9V --collector 2k47 --base 2M2 --open 0.23 --fed 1.33",
        "one transistor, from two readings over the collector resistor",
      ],
      [
        "grade drawer.csv --supply 9V --collector 2k47 --base 2M2 --like OC71",
        "several: a file with columns sample,open,fed; sorted, and paired",
      ],
    ],
    options: [...GRADE_OPTIONS, ...outputOptions("grade"), HELP],
    load: async () => (await import("./grade.ts")).gradeCommand,
  },
  {
    name: "adjust",
    operands: "FILE PART",
    summary: "the setting or part value that meets a condition",
    examples: [
      ['adjust recorder.netlist P2 --mode play --until "T6.ic = 5 mA"', "idle current"],
      ['adjust recorder.netlist R9 --until "T1.c = -4.5 V"', "a value, and preferred ones"],
      ['adjust recorder.netlist T8.hfe --until "T8.e = -7 V"', "the sample behind a reading"],
      ['adjust recorder.netlist P1 --until "gain playback at 1kHz = 50 dB"', "a gain"],
      ['adjust recorder.netlist C4 --until "lower -3dB of playback = 80Hz"', "a limit"],
      ['adjust tape.netlist L2 --until "least |trap| at oscillation from K2"', "tune a trap"],
    ],
    options: [...ADJUST_OPTIONS, ...CONDITION_OPTIONS, ...outputOptions("adjust"), HELP],
    load: async () => (await import("./adjust.ts")).adjustCommand,
  },
  {
    name: "types",
    operands: "[NAME] [FILE]",
    summary: "the device library, and what follows from the data",
    examples: [
      ["types", "every type of the library, a line each"],
      ["types recorder.netlist", "with the types of this netlist"],
      ["types OC71", "one type in full: given, default and derived figures"],
      ["types --pnp --germanium --vce 24V", "those that bear 24 V"],
      ["types --like OC71 --ic 1mA", "the nearest to it, by what matters in a socket"],
      ["types AC128 --curves -o ac128.svg", "its characteristics, to print"],
    ],
    options: [...TYPES_OPTIONS, ...outputOptions("types"), HELP],
    load: async () => (await import("./types.ts")).types,
  },
];

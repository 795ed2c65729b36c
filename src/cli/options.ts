/** Every option there is, in one table: what is accepted and what the help says are the same list. */
export interface Option {
  readonly name: string;
  readonly short?: string;
  /** What follows it, as the help shows it; a plain switch has none. */
  readonly value?: string;
  readonly repeatable?: true;
  readonly help: string;
}

const option = (name: string, value: string, help: string, more: Partial<Option> = {}): Option => ({
  name,
  value,
  help,
  ...more,
});

const flag = (name: string, help: string, more: Partial<Option> = {}): Option => ({ name, help, ...more });

export const HELP = flag("help", "this text", { short: "h" });
export const VERSION = flag("version", "the version of preprobe");

/** Endings of the files that each command writes. */
export const ENDINGS = {
  check: [".json", ".csv"],
  voltages: [".json", ".csv", ".html", ".fods"],
  response: [".json", ".csv", ".svg", ".html"],
  types: [".json", ".csv", ".svg"],
  stages: [".json", ".csv", ".svg"],
  spread: [".json", ".csv", ".svg"],
  adjust: [".json", ".csv", ".svg"],
  hiss: [".json", ".csv", ".svg"],
  oscillation: [".json", ".csv", ".svg"],
  substitute: [".json", ".csv", ".svg"],
  waveform: [".json", ".csv", ".svg"],
  regulation: [".json", ".csv", ".svg"],
  power: [".json", ".csv", ".svg"],
  grade: [".json", ".csv", ".svg", ".netlist"],
  suspects: [".json", ".csv"],
  sheet: [".html"],
} as const;

/** Where results go. */
export const outputOptions = (command: keyof typeof ENDINGS): readonly Option[] => [
  flag("json", "print the results as JSON"),
  flag("csv", "print the results as comma-separated values"),
  option("output", "FILE", `write to FILE instead: ${ENDINGS[command].join(" ")}`, {
    short: "o",
    repeatable: true,
  }),
  flag("quiet", "no warnings and no progress"),
];

export const SHEET_MODE: Option = option("mode", "NAME", "the mode that it opens in (default: the first)", {
  repeatable: true,
});

/** The page is written to a file and nowhere else. */
export const SHEET_OPTIONS: readonly Option[] = [
  option("output", "OUT.html", "where to write the page", { short: "o", repeatable: true }),
  flag("quiet", "no warnings"),
];

/** What a run changes of the netlist. */
export const CONDITION_OPTIONS: readonly Option[] = [
  option("mode", "NAME[,NAME]", "look at these modes only (default: all)", { repeatable: true }),
  option("set", "NAME=VALUE", "P1=30%, R7=4k7, S1=record, B1=5.2V; repeatable", { repeatable: true }),
  option("ambient", "35C", "ambient temperature (default: the netlist's)"),
  flag("isothermal", "no self-heating: hold every junction at ambient"),
];

export const METER: Option = option("meter", "20k/V", "with what such a meter would show; or 10M");

export const FREQUENCY_OPTIONS: readonly Option[] = [
  option("from", "20Hz", "lowest frequency (default 20 Hz)"),
  option("to", "20kHz", "highest frequency (default 20 kHz)"),
  option("points-per-octave", "6", "how closely (default 6)"),
  option("at", "50,1k,10k", "at these frequencies instead", { repeatable: true }),
];

export const PATH: Option = option("path", "NAME[,NAME]", "follow these paths only (default: all)", {
  repeatable: true,
});

/** Questions about tape that `response` answers. */
export const TAPE_OPTIONS: readonly Option[] = [
  option("standard", "NAME", "play a tape of it; or of time constants, 3180/120"),
  option("tape", "9.53cm/s", "speed of the tape; or 3.75in/s"),
  option("re", "315Hz", "where tape curves are 0 dB (default 1 kHz)"),
  option("field", "3dB", "tolerance field: 3dB (default), another width, DIN45500"),
  option("compare", "PATH,PATH", "two paths against each other, and their sum"),
  option("tape-loss", "FILE.csv", "with --compare: what the medium loses"),
];

export const FORMAT: Option = flag("format", "print the file in canonical layout, comments kept");

/** What differs from specimen to specimen. */
export const SPREAD_OPTIONS: readonly Option[] = [
  option("trials", "2000", "how many specimens (default 2000)"),
  option("seed", "1", "draw other specimens (default 1)"),
  option("battery", "4.2V..6.3V", "range of EMF; B1=4.2V..6.3V where there are several", {
    repeatable: true,
  }),
  option("ambient", "10C..35C", "range of temperature (default: the netlist's)"),
  flag("aged", "electrolytics and carbon resistors as after decades"),
];

/** A transistor's test and its readings. */
export const GRADE_OPTIONS: readonly Option[] = [
  option("supply", "9V", "voltage of the test"),
  option("collector", "2k47", "collector resistor; none with a current meter"),
  option("base", "2M2", "base resistor, from the supply"),
  option("open", "0.23V", "reading with the base open; or a current, 93uA"),
  option("fed", "1.33V", "reading with the base fed through its resistor"),
  option("across", "transistor", "meter there, not across the resistor (default)"),
  option("temperature", "22C", "of the air during the test (default 25 °C)"),
  option("like", "AC126", "the library type it is marked as"),
  flag("pnp", "PNP (default without --like)"),
  flag("npn", "NPN"),
  flag("silicon", "silicon, not germanium"),
  option("name", "T7", "what to call it"),
];

/** What is wanted, and over which range it is looked for. */
export const ADJUST_OPTIONS: readonly Option[] = [
  option("until", '"T6.ic = 5 mA"', "the condition; or least, greatest (see the examples)"),
  option("from", "1k", "lowest value to try (default: 0 %, a hundredth)"),
  option("to", "100k", "highest value to try (default: 100 %, a hundredfold)"),
];

export const OSCILLATION_OPTIONS: readonly Option[] = [
  option("at", "NET[,NET]", "how far these nets swing (default: those that do)", { repeatable: true }),
  flag("margins", "how far batteries may age and electrolytics dry out"),
];

/** Band, densities and signal of the noise. */
export const HISS_OPTIONS: readonly Option[] = [
  option("from", "20Hz", "lower end of the band (default 20 Hz)"),
  option("to", "20kHz", "upper end of the band (default 20 kHz)"),
  option("at", "50,1k,10k", "densities there (default: preferred frequencies)", { repeatable: true }),
  option("emf", "0.5mV", "signal at 1 kHz to compare with; or K1=0.5mV", { repeatable: true }),
];

/** As `CONDITION_OPTIONS`, of a command that runs one mode if none is named: it takes its time. */
export const WAVEFORM_CONDITIONS: readonly Option[] = CONDITION_OPTIONS.map((each) =>
  each.name === "mode" ? { ...each, help: "run these modes (default: the first)" } : each,
);

/** How long, from what, and what happens meanwhile. */
export const WAVEFORM_OPTIONS: readonly Option[] = [
  option("for", "5s", "how long (default 1 s; 20 periods of a tone)"),
  option("every", "10ms", "distance of values written down (default: 1000)"),
  option("start", "rest", "all discharged; or point; or NET=VOLTS: displaced", { repeatable: true }),
  option("at", '"50ms S1=record"', "what happens when: S1=record, B1=on, R4=4k7, G1=off", {
    repeatable: true,
  }),
  option("tone", "1kHz,20mV[,G1]", "a sine EMF, rms; repeatable", { repeatable: true }),
  option("show", "NET[,NET]", "also A minus B, R5 current, M1 speed (default: all)", {
    repeatable: true,
  }),
  option("tolerance", "1e-4", "allowed error, as a share of the swing"),
];

/** Readings, and the instrument they were taken with. */
export const SUSPECTS_OPTIONS: readonly Option[] = [
  option("reading", "play:T1.c=-3.2V", "a reading; repeatable", { repeatable: true }),
  option("readings", "FILE", "readings from .ods, .fods (see voltages -o), .csv", { repeatable: true }),
  option("meter", "20k/V", "the voltmeter they were taken with; or 10M"),
  option("accuracy", "3%", "its error, of the reading (default 3 %)"),
  option("weights", "FILE", "how common faults are, as: electrolytic: leaky = 8"),
  flag("pairs", "the best pairs of faults as well"),
];

export const ALL_TYPES: Option = flag("all", "try every type of the library whose limits suffice");

/** Which types are shown, and how. */
export const TYPES_OPTIONS: readonly Option[] = [
  option("like", "NAME", "the transistors that come nearest to this one, at --ic"),
  flag("curves", "the characteristics of NAME; -o x.svg draws them"),
  flag("pnp", "PNP types only"),
  flag("npn", "NPN types only; with --like a PNP type: its complements"),
  flag("diodes", "diodes only"),
  flag("germanium", "germanium only"),
  flag("silicon", "silicon only"),
  option("vce", "20V", "that bear it; --curves draws to it"),
  option("ic", "1mA", "that bear it; --like compares at it, --curves draws to it"),
  option("ft", "1MHz", "no slower than this"),
  option("ambient", "45C", "temperature of the junction for --curves (default 25 °C)"),
];

/** What a governed motor meets. */
export const REGULATION_OPTIONS: readonly Option[] = [
  option("battery", "4V..9V", "range of EMF (default: half to full); or B1=4V..9V", {
    repeatable: true,
  }),
  option("load", "0..2mNm", "range of load (default: none to four times the motor's)"),
  option("points", "7", "how many values of each (default 7)"),
];

/** Level and frequency of the tone, and what a curve each is drawn for. */
export const POWER_OPTIONS: readonly Option[] = [
  option("tone", "1kHz", "frequency (default 1 kHz)"),
  option("emf", "1mV..50mV", "range of its EMF, rms (default: up to where it clips)"),
  option("points", "12", "how many levels of --emf (default 12)"),
  option("each", "P2=30%,40%", "a curve each; repeatable: each with each", { repeatable: true }),
  option("ambient", "10C,25C,40C", "ambient temperature; several: a curve each", { repeatable: true }),
];

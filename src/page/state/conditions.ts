/** From the settings on the sheet to the conditions of a question, and the controls that the circuit offers. */
import type { Conditions } from "../../bench/conditions.ts";
import type { Circuit, Mode, Part, PartState } from "../../circuit/circuit.ts";
import { modesOf } from "../../circuit/conditions.ts";
import type { Settings } from "./document.ts";

/** The mode looked at: the one chosen where the circuit has it, else its first. */
export function presentMode(circuit: Circuit, { mode }: Settings): Mode {
  const modes = modesOf(circuit);
  return modes.find(({ name }) => name === mode) ?? modes[0]!;
}

/** Whether the circuit still has what a setting is about; an edited netlist may not. */
function applies({ parts }: Circuit, { part, key, value }: PartState): boolean {
  const found = parts.find(({ name }) => name === part);
  if (found === undefined) return false;
  if (typeof value === "number") return key in found.values && Number.isFinite(value);
  return key === "position" ? (found.positions?.includes(value) ?? false) : true;
}

/** What the sheet changes of the netlist, in every mode. */
export function conditionsOf(circuit: Circuit, settings: Settings): Conditions {
  const set = settings.set.filter((state) => applies(circuit, state));
  return {
    ...(set.length > 0 && { set }),
    ...(settings.ambientCelsius !== null && { ambientCelsius: settings.ambientCelsius }),
    ...(settings.isothermal && { isothermal: true }),
  };
}

/** A slider: a value of a part, where it stands, and from where to where it goes. */
export interface Control {
  readonly part: string;
  readonly key: string;
  readonly unit: "percent" | "volt";
  readonly value: number;
  readonly least: number;
  readonly greatest: number;
  readonly step: number;
}

function valueIn(part: Part, key: string, states: readonly PartState[]): number {
  const found = states.findLast((state) => state.part === part.name && state.key === key)?.value;
  return typeof found === "number" ? found : (part.values[key] ?? 0);
}

/** Slider positions of a battery of `emf` volts: from half of it to a sixth more, in twentieths of a volt. */
function batteryRange(emf: number): Pick<Control, "least" | "greatest" | "step"> {
  const step = emf >= 20 ? 0.1 : 0.05;
  const rounded = (value: number) => Number((Math.round(value / step) * step).toFixed(2));
  return { least: rounded(emf * 0.5), greatest: Math.max(rounded(emf * 1.15), step), step };
}

function controlOf(part: Part, states: readonly PartState[]): Control[] {
  const { name } = part;
  if (part.kind === "battery") {
    const value = valueIn(part, "emf", states);
    const range = batteryRange(part.values.emf ?? 0);
    const least = Math.min(range.least, value);
    return [
      {
        part: name,
        key: "emf",
        unit: "volt",
        value,
        ...range,
        least,
        greatest: Math.max(range.greatest, value),
      },
    ];
  }
  if (part.values.setting === undefined) return [];
  const value = valueIn(part, "setting", states);
  return [{ part: name, key: "setting", unit: "percent", value, least: 0, greatest: 1, step: 0.01 }];
}

/** Every battery, pot, trimmer and adjustable core as it stands in the mode looked at, in the netlist's order. */
export function controlsOf(circuit: Circuit, settings: Settings): readonly Control[] {
  const states = [...presentMode(circuit, settings).states, ...settings.set];
  return circuit.parts.flatMap((part) => controlOf(part, states));
}

/** A switch that no mode speaks of everywhere: it is turned by hand. */
export interface HandSwitch {
  readonly part: string;
  readonly positions: readonly string[];
  readonly position: string;
}

/** Switches that not every mode has in a position of its own. */
export function handSwitches(circuit: Circuit, settings: Settings): readonly HandSwitch[] {
  const modes = modesOf(circuit);
  const states = [...presentMode(circuit, settings).states, ...settings.set];
  return circuit.parts.flatMap((part): HandSwitch[] => {
    const { name, positions } = part;
    if (positions === undefined) return [];
    if (modes.every((mode) => mode.states.some((state) => state.part === name))) return [];
    const set = states.findLast((state) => state.part === name && state.key === "position")?.value;
    const position = typeof set === "string" ? set : (part.choices.position ?? positions[0]!);
    return [{ part: name, positions, position }];
  });
}

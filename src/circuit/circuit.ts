/**
 * The circuit as plain data: what the netlist says, checked and in SI units, with nothing of text or
 * equations. Everything here can be cloned, sent to a worker and written as JSON.
 */

import type { TakenReading } from "./look.ts";

/** Where something stands in a file; lines and columns count from 1. */
export interface Place {
  readonly file: string;
  readonly line: number;
  readonly column: number;
}

/** A set of connection points that are one conductor. Index 0 of `Circuit.nets` is always `chassis`. */
export interface Net {
  /** The shown name: the given one, else the first transistor pin, else the first pin. */
  readonly name: string;
  /** Pins on the net, such as `T1.b`, in file order. */
  readonly points: readonly string[];
  /** Other names that the netlist gives it, where it gives several. */
  readonly otherNames?: readonly string[];
}

/** Whether a net goes by this name, shown or not, or has this pin. */
export const isCalled = (net: Net, name: string): boolean =>
  net.name === name || net.points.includes(name) || net.otherNames?.includes(name) === true;

/** A pin and the net it is on (an index into `Circuit.nets`). */
export interface Pin {
  readonly name: string;
  readonly net: number;
}

/** Relative deviations: −20 % +100 % is `{ low: -0.2, high: 1 }`. */
export interface Tolerance {
  readonly low: number;
  readonly high: number;
}

/** A transformer winding: sections between neighbouring pins, each with its turns. */
export interface Winding {
  readonly name: string;
  /** Turns of each section, start to end. */
  readonly turns: readonly number[];
  /** Indices into `Part.pins`, one more than there are sections. */
  readonly pins: readonly number[];
  /** Ohms of the whole winding; split over the sections by turns. */
  readonly dcr: number;
}

/** One pole of a switch. */
export interface Pole {
  readonly name: string;
  /** Index into `Part.pins` of the common contact. */
  readonly common: number;
  /** Index into `Part.pins` by position; a position not named is open. */
  readonly throws: Readonly<Record<string, number>>;
}

export interface Part {
  readonly name: string;
  /** The keyword of its kind, such as `resistor`. */
  readonly kind: string;
  readonly pins: readonly Pin[];
  /** SI values by property key, defaults filled in. A property that is off has no key. */
  readonly values: Readonly<Record<string, number>>;
  /** Words chosen: the law of a potentiometer, the position of a switch, the part a thermistor tracks. */
  readonly choices: Readonly<Record<string, string>>;
  /** The device type of a transistor or diode. */
  readonly type?: string;
  readonly tolerance?: Tolerance;
  readonly windings?: readonly Winding[];
  readonly positions?: readonly string[];
  readonly poles?: readonly Pole[];
  readonly place: Place;
}

/** Figures of a data sheet, SI units, as given: nothing is derived here. */
export interface DeviceType {
  readonly name: string;
  readonly device: "pnp" | "npn" | "diode";
  readonly material: "germanium" | "silicon";
  /** By figure, such as `vbe` or `vbe.at`; see `src/devices/sheet.ts` for the keys. */
  readonly figures: Readonly<Record<string, number>>;
  readonly source?: string;
  /** In the words of the netlist, `TO-1`. */
  readonly case?: string;
  /** Order of the leads, and from where it is seen. */
  readonly leads?: string;
  readonly place: Place;
}

/** A named state of the circuit: switch positions (words) and settings or values (numbers) by part. */
export interface Mode {
  readonly name: string;
  readonly states: readonly PartState[];
}

/** One thing a mode or `--set` fixes. `key` is the property: `setting`, `resistance`, `position` … */
export interface PartState {
  readonly part: string;
  readonly key: string;
  readonly value: number | string;
}

/** Where a path's output is taken. */
export type PathEnd =
  | { readonly net: number; readonly minus?: number }
  | { readonly part: string; readonly quantity: "voltage" | "current" };

export interface SignalPath {
  readonly name: string;
  /** Without one the path is looked at in every mode. */
  readonly mode?: string;
  /** The generator or head whose EMF is the reference. */
  readonly from: string;
  readonly to: PathEnd;
  /** As written, for titles. */
  readonly toText: string;
  readonly place: Place;
}

/** A voltage somebody measured (`reading`) or a service sheet prints (`printed`). */
export interface GivenVoltage {
  readonly mode: string;
  readonly net: number;
  /** As written: a pin or a net. */
  readonly point: string;
  readonly volts: number;
  readonly place: Place;
}

export interface Circuit {
  readonly title: string;
  readonly ambientCelsius: number;
  readonly nets: readonly Net[];
  readonly parts: readonly Part[];
  readonly types: Readonly<Record<string, DeviceType>>;
  readonly modes: readonly Mode[];
  readonly paths: readonly SignalPath[];
  /** Voltages against chassis. */
  readonly readings: readonly GivenVoltage[];
  /** Readings of another kind: drops, currents, resistances, gains. */
  readonly otherReadings?: readonly TakenReading[];
  readonly printed: readonly GivenVoltage[];
}

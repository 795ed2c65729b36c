/**
 * How common each fault is in equipment of 1955 to 1970 that has lain for decades, in parts against each
 * other: common practice, no source. Keys are `kind: fault`; a file of the user's may put others in their place.
 */
export const COMMON_WEIGHTS = {
  "resistor: open": 1,
  "resistor: drifted up": 3,
  "resistor: drifted down": 0.4,
  "resistor: short": 0.1,
  "capacitor: leaky": 1,
  "capacitor: short": 0.3,
  "capacitor: open": 0.2,
  "electrolytic: dried out": 5,
  "electrolytic: leaky": 4,
  "electrolytic: short": 0.7,
  "electrolytic: open": 1.5,
  "electrolytic: put in backwards": 0.05,
  "inductor: open": 0.5,
  "inductor: shorted turns": 0.2,
  "head: open": 0.6,
  "head: shorted turns": 0.2,
  "loudspeaker: open": 0.6,
  "loudspeaker: short": 0.1,
  "meter: open": 0.3,
  "lamp: open": 1,
  "motor: open": 0.5,
  "generator: open": 0.3,
  "thermistor: open": 0.5,
  "thermistor: short": 0.1,
  "thermistor: drifted up": 0.5,
  "thermistor: drifted down": 0.3,
  "diode: open": 0.5,
  "diode: short": 0.6,
  "diode: put in backwards": 0.05,
  "transistor: base-emitter open": 0.4,
  "transistor: base-emitter short": 0.4,
  "transistor: collector-base open": 0.4,
  "transistor: collector-base short": 0.5,
  "transistor: emitter-collector short": 1.2,
  "transistor: base lead open": 0.3,
  "transistor: hfe low": 1,
  "transistor: leakage high": 3,
  "transistor: lead shorted to its screen": 4,
  "transistor: put in backwards": 0.05,
  "transformer: winding open": 0.5,
  "transformer: shorted turns": 0.2,
  "transformer: windings touch": 0.1,
  "switch: contact open": 0.7,
  "switch: contact high": 1.5,
  "switch: contact stuck": 0.1,
  "governor: contact open": 1,
  "governor: contact high": 1.5,
  "governor: contact stuck": 0.5,
  "battery: weak": 2,
  "battery: open": 0.7,
  "potentiometer: worn at the wiper": 1.5,
  "potentiometer: drifted up": 0.3,
  "potentiometer: track open": 0.3,
  "potentiometer: bridge between pins": 0.1,
  "trimmer: worn at the wiper": 1.5,
  "trimmer: drifted up": 0.3,
  "trimmer: track open": 0.3,
  "trimmer: bridge between pins": 0.1,
} as const;

export type FaultKey = keyof typeof COMMON_WEIGHTS;

/** Other weights by key; 0 leaves a fault out. */
export type Weights = Readonly<Partial<Record<FaultKey, number>>>;

/** Share of all cases in which nothing is wrong but the tolerances; common practice, no source. */
export const NO_FAULT_SHARE = 0.5;

export const isFaultKey = (key: string): key is FaultKey => Object.hasOwn(COMMON_WEIGHTS, key);

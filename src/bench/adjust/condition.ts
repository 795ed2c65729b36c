import type { Unit } from "../../parts/kind.ts";

/** Hz, or where the circuit oscillates in the mode looked at. */
export type Frequency = number | "oscillation";

/** What a condition looks at. Parts, paths and nets by name or index into the circuit. */
export type Looked<At = Frequency> =
  | { readonly kind: "voltage"; readonly net: number; readonly minus: number }
  | { readonly kind: "transistor"; readonly part: string; readonly figure: TransistorFigure }
  | { readonly kind: "part"; readonly part: string; readonly quantity: "voltage" | "current" }
  | { readonly kind: "gain"; readonly path: string; readonly hertz: At }
  /** The −3 dB point below or above 1 kHz, re the gain there. */
  | { readonly kind: "half power"; readonly path: string; readonly end: "lower" | "upper" }
  /** Size of the alternating voltage between two nets for 1 V of EMF. */
  | {
      readonly kind: "signal";
      readonly net: number;
      readonly minus: number;
      readonly hertz: At;
      readonly from: string;
    };

/** Whether its frequency is that of the oscillation, still to be found. */
export const atOscillation = (looked: Looked): boolean => "hertz" in looked && looked.hertz === "oscillation";

/** What is looked at with the oscillation's frequency, Hz, where it is meant; undefined if there is none. */
export function lookedWith(looked: Looked, oscillation: number | undefined): Looked<number> | undefined {
  if (looked.kind !== "gain" && looked.kind !== "signal") return looked;
  const hertz = looked.hertz === "oscillation" ? oscillation : looked.hertz;
  return hertz === undefined ? undefined : { ...looked, hertz };
}

export const TRANSISTOR_FIGURES = ["ic", "ib", "ie", "vbe", "vce", "ptot", "tj"] as const;
export type TransistorFigure = (typeof TRANSISTOR_FIGURES)[number];

/** What is wanted of it: a value, or as little or as much as there is. */
export type Condition = { readonly text: string; readonly looked: Looked } & (
  | { readonly aim: "equal"; readonly target: number }
  | { readonly aim: "least" | "greatest" }
);

const OF_TRANSISTOR: Readonly<Record<TransistorFigure, Unit>> = {
  ic: "ampere",
  ib: "ampere",
  ie: "ampere",
  vbe: "volt",
  vce: "volt",
  ptot: "watt",
  tj: "celsius",
};

/** The unit of what is looked at; gains and signals count in dB. */
export function unitOf(looked: Looked): Unit | "decibel" {
  switch (looked.kind) {
    case "voltage":
      return "volt";
    case "transistor":
      return OF_TRANSISTOR[looked.figure];
    case "part":
      return looked.quantity === "voltage" ? "volt" : "ampere";
    case "half power":
      return "hertz";
    default:
      return "decibel";
  }
}

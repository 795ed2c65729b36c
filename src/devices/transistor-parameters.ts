import { REFERENCE_KELVIN, thermalVoltage } from "./constants.ts";
import type { JunctionCapacitance } from "./junction-capacitance.ts";
import { MATERIALS, type Material, type MaterialName } from "./material.ts";

/** What the equations of `transistor.ts` need, at the reference temperature, SI units. */
export interface TransistorParameters {
  /** +1 for NPN, −1 for PNP. */
  readonly polarity: 1 | -1;
  readonly material: Material;
  readonly saturationCurrent: number;
  /** Collector current at which high injection halves the gain; Infinity where no second point is given. */
  readonly kneeCurrent: number;
  readonly forwardGain: number;
  readonly reverseGain: number;
  /** Collector leakage generator, A. */
  readonly leakageCurrent: number;
  readonly doubling: number;
  readonly earlyVoltage: number;
  readonly baseResistance: number;
  readonly transitTime: number;
  readonly storageTime: number;
  readonly collectorJunction: JunctionCapacitance;
  readonly emitterJunction: JunctionCapacitance;
  /** K/W; 0 where the sheet gives none: the junction is then at ambient. */
  readonly thermalResistance: number;
  /** Corner of the low-frequency noise of the base current, Hz. */
  readonly flickerCorner: number;
}

/** The sheet's figures contradict each other. */
export interface SheetProblem {
  readonly problem: string;
  readonly hint: string;
}

type Figures = Readonly<Record<string, number>>;

/** Current gain at 1 mA where the sheet gives none. */
export const DEFAULT_HFE = 50;

/** Current gains, knee and saturation current from the hfe points and V_BE. */
function injection(figures: Figures, material: Material) {
  const h1 = figures.hfe ?? DEFAULT_HFE;
  const i1 = figures["hfe.at"] ?? 1e-3;
  const h2 = figures.hfe2;
  const i2 = figures["hfe2.at"];
  // h1·(1 + i1/IK) = h2·(1 + i2/IK) solved for IK
  const kneeCurrent = h2 === undefined || i2 === undefined ? Infinity : (h2 * i2 - h1 * i1) / (h1 - h2);
  const volts = figures.vbe ?? material.vbe.volts;
  const amps = figures.vbe === undefined ? material.vbe.at : (figures["vbe.at"] ?? material.vbe.at);
  const saturationCurrent =
    (amps * (1 + amps / kneeCurrent)) / Math.expm1(volts / thermalVoltage(REFERENCE_KELVIN));
  return { h1, i1, kneeCurrent, forwardGain: h1 * (1 + i1 / kneeCurrent), saturationCurrent };
}

/** The least leakage that V_BE and hfe allow, A: the emitter-base junction's own share. */
export function leastLeakage(materialName: MaterialName, figures: Figures): number {
  const { saturationCurrent, forwardGain } = injection(figures, MATERIALS[materialName]);
  return saturationCurrent / (forwardGain + 1);
}

/** The sheet's leakage carried to 25 °C by its own doubling rule, A. */
function leakageAtReference(figures: Figures, doubling: number): number | undefined {
  const leakage = figures.leakage;
  return leakage === undefined ? undefined : leakage * 2 ** ((25 - (figures["leakage.at"] ?? 25)) / doubling);
}

/** Splits the measured leakage into the junctions' own saturation currents and the leakage generator. */
function leakageSplit(leakage: number, saturation: number, forwardGain: number, reverseGain: number) {
  const generator = leakage - saturation / (forwardGain + 1) - saturation / reverseGain;
  if (generator >= 0) return { leakageCurrent: generator, reverseGain };
  const forJunction = leakage - saturation / (forwardGain + 1);
  return forJunction > 0 ? { leakageCurrent: 0, reverseGain: saturation / forJunction } : undefined;
}

function transitTime(figures: Figures, material: Material, h1: number, i1: number): number {
  const given = (key: string, toFt: (f: number) => number, defaultAt: number) => {
    const value = figures[key];
    return value === undefined ? undefined : { ft: toFt(value), at: figures[`${key}.at`] ?? defaultAt };
  };
  const { ft, at } = given("ft", (f) => f, i1) ??
    given("falpha", (f) => f / 1.2, i1) ??
    given("fbeta", (f) => f * h1, i1) ?? { ft: material.ft, at: i1 };
  const capacitances = (figures.ceb ?? 0) + (figures.ccb ?? material.ccb.farads);
  return Math.max(0, 1 / (2 * Math.PI * ft) - (capacitances * thermalVoltage(REFERENCE_KELVIN)) / at);
}

function earlyVoltage(figures: Figures, material: Material): number {
  if (figures.early !== undefined) return figures.early;
  const h22 = figures.h22;
  return h22 === undefined ? material.early : (figures["h22.at"] ?? 1e-3) / h22;
}

/**
 * Model parameters from data-sheet figures (keys of `sheet.ts`), at 25 °C. Figures left out take the
 * material's default. Source of the equations: docs/models.md.
 */
export function transistorParameters(
  polarity: 1 | -1,
  materialName: MaterialName,
  figures: Figures,
): TransistorParameters | SheetProblem {
  const material = MATERIALS[materialName];
  const { h1, i1, kneeCurrent, forwardGain, saturationCurrent } = injection(figures, material);
  if (!(kneeCurrent > 0)) return kneeProblem(figures);
  const reverseGain = figures.hfe_reverse ?? material.hfeReverse;
  const doubling = figures.doubling ?? material.doubling;
  // no sample leaks less than its junctions' own saturation currents
  const least = saturationCurrent / (forwardGain + 1) + saturationCurrent / reverseGain;
  const leakage = leakageAtReference(figures, doubling) ?? Math.max(material.leakage, least);
  const split = leakageSplit(leakage, saturationCurrent, forwardGain, reverseGain);
  if (split === undefined) return leakageProblem(leakage, saturationCurrent, forwardGain);
  const potential = material.junctionPotential;
  return {
    polarity,
    material,
    saturationCurrent,
    kneeCurrent,
    forwardGain,
    ...split,
    doubling,
    earlyVoltage: earlyVoltage(figures, material),
    baseResistance: figures.rbb ?? material.rbb,
    transitTime: transitTime(figures, material, h1, i1),
    storageTime: figures.storage ?? 0,
    collectorJunction: {
      farads: figures.ccb ?? material.ccb.farads,
      at: figures["ccb.at"] ?? material.ccb.at,
      potential,
    },
    emitterJunction: { farads: figures.ceb ?? 0, at: figures["ceb.at"] ?? 0, potential },
    thermalResistance: figures.rth ?? 0,
    flickerCorner: figures.flicker ?? material.flicker,
  };
}

/** Above the least leakage there must be a little left for the collector junction. */
const ABOVE_LEAST = 1.001;

/** What of one transistor may differ from its type: hfe at the type's first point, leakage at 25 °C in A. */
export interface Sample {
  readonly hfe?: number | undefined;
  readonly leakage?: number | undefined;
}

/**
 * Parameters of one sample of a type. The fall-off of hfe at high current keeps its shape, so knee and
 * saturation current stay; a leakage below what the emitter-base junction alone needs is raised to that.
 */
export function sampleOf(type: TransistorParameters, figures: Figures, sample: Sample): TransistorParameters {
  const { material, doubling, saturationCurrent } = type;
  const h1 = figures.hfe ?? DEFAULT_HFE;
  const hfe = sample.hfe ?? h1;
  const forwardGain = type.forwardGain * (hfe / h1);
  const reverseGain = figures.hfe_reverse ?? material.hfeReverse;
  const own = saturationCurrent / (forwardGain + 1);
  const leakage =
    sample.leakage ??
    leakageAtReference(figures, doubling) ??
    Math.max(material.leakage, own + saturationCurrent / reverseGain);
  const split = leakageSplit(
    Math.max(leakage, ABOVE_LEAST * own),
    saturationCurrent,
    forwardGain,
    reverseGain,
  );
  const transit =
    figures.fbeta === undefined
      ? type.transitTime
      : transitTime(figures, material, hfe, figures["hfe.at"] ?? 1e-3);
  return { ...type, forwardGain, ...split, transitTime: transit };
}

const microamps = (amps: number) => `${(amps * 1e6).toPrecision(3)} µA`;

function kneeProblem(figures: Figures): SheetProblem {
  return {
    problem: `the two hfe points (${figures.hfe} and ${figures.hfe2}) give no fall-off at high current`,
    hint: "the second point must have the higher current and the lower hfe, but not fall faster than the current rises",
  };
}

function leakageProblem(leakage: number, saturation: number, gain: number): SheetProblem {
  const least = saturation / (gain + 1);
  return {
    problem: `leakage ${microamps(leakage)} is less than the ${microamps(least)} that V_BE and hfe imply for the emitter-base junction alone`,
    hint: "give a higher leakage, a higher vbe at its current, or both from the same sheet",
  };
}

/** What the device library knows: each figure of a type, whence it comes, and the model parameters. */
import type { DeviceType } from "../circuit/circuit.ts";
import { diodeParameters } from "../devices/diode.ts";
import { MATERIALS, type Material } from "../devices/material.ts";
import {
  DIODE_FIGURES,
  DIODE_LIMITS,
  type Figure,
  TRANSISTOR_FIGURES,
  TRANSISTOR_LIMITS,
} from "../devices/sheet.ts";
import { type TransistorParameters, transistorParameters } from "../devices/transistor-parameters.ts";

/** `given` in the netlist, the material's `default`, or `derived` from other figures of the type. */
export type Origin = "given" | "default" | "derived";

/** One figure in SI units (temperatures in °C), at the condition it holds for. */
export interface TypeFigure {
  readonly figure: string;
  readonly meaning: string;
  readonly value: number;
  readonly unit: Figure["unit"];
  readonly at?: number;
  readonly at_unit?: Figure["unit"];
  readonly origin: Origin;
}

export interface TypeSheet {
  readonly type: string;
  readonly device: DeviceType["device"];
  readonly material: DeviceType["material"];
  readonly figures: readonly TypeFigure[];
  /** What the equations use, at 25 °C, SI units named in the key. Infinite ones are left out. */
  readonly parameters: Readonly<Record<string, number>>;
  readonly case?: string;
  readonly leads?: string;
  readonly source?: string;
}

/** What a list of types is narrowed down to; all of it must hold. */
export interface TypeFilter {
  readonly devices?: readonly DeviceType["device"][];
  readonly materials?: readonly DeviceType["material"][];
  /** Least collector-emitter voltage that it must bear, V; a diode's reverse voltage. */
  readonly volts?: number;
  /** Least collector (or forward) current that it must bear, A. */
  readonly amps?: number;
  /** Least transition frequency, Hz. */
  readonly ft?: number;
}

/** Whether a type is among those asked for. A limit that is not known is not met. */
export function fits(type: DeviceType, { devices, materials, volts, amps, ft }: TypeFilter): boolean {
  const { figures } = type;
  const reaches = (value: number | undefined, least: number | undefined) =>
    least === undefined || (value !== undefined && value >= least);
  return (
    (devices?.includes(type.device) ?? true) &&
    (materials?.includes(type.material) ?? true) &&
    reaches(figures["limits.vce"] ?? figures["limits.vr"], volts) &&
    reaches(figures["limits.ic"] ?? figures["limits.if"], amps) &&
    (ft === undefined || reaches(typeSheet(type).figures.find(({ figure }) => figure === "ft")?.value, ft))
  );
}

/** Everything known of a type that the reader has accepted. */
export function typeSheet(type: DeviceType): TypeSheet {
  const sheet = type.device === "diode" ? diodeSheet(type) : transistorSheet(type);
  return {
    type: type.name,
    device: type.device,
    material: type.material,
    ...sheet,
    ...(type.case !== undefined && { case: type.case }),
    ...(type.leads !== undefined && { leads: type.leads }),
    ...(type.source !== undefined && { source: type.source }),
  };
}

/** The sheets of all types, in order of their names. */
export const typeSheets = (types: Readonly<Record<string, DeviceType>>): readonly TypeSheet[] =>
  Object.values(types)
    .toSorted((a, b) => a.name.localeCompare(b.name, "en", { numeric: true }))
    .map(typeSheet);

/** A figure that stands in for one left out. */
interface Substitute {
  readonly value: number;
  readonly at?: number;
  readonly origin: Origin;
}

type Substitutes = Readonly<Record<string, Substitute>>;

const fallback = (value: number, at?: number): Substitute => ({
  value,
  ...(at !== undefined && { at }),
  origin: "default",
});

function transistorSheet(type: DeviceType): Pick<TypeSheet, "figures" | "parameters"> {
  const parameters = transistorParameters(type.device === "npn" ? 1 : -1, type.material, type.figures);
  if ("problem" in parameters) throw new Error(`${type.name}: ${parameters.problem}`);
  const substitutes = transistorSubstitutes(type, MATERIALS[type.material], parameters);
  return {
    figures: figuresOf(type, TRANSISTOR_FIGURES, TRANSISTOR_LIMITS, substitutes),
    parameters: finite({
      saturation_amps: parameters.saturationCurrent,
      knee_amps: parameters.kneeCurrent,
      forward_gain: parameters.forwardGain,
      reverse_gain: parameters.reverseGain,
      leakage_amps: parameters.leakageCurrent,
      doubling_kelvin: parameters.doubling,
      early_volts: parameters.earlyVoltage,
      base_ohms: parameters.baseResistance,
      transit_seconds: parameters.transitTime,
      storage_seconds: parameters.storageTime,
      collector_farads: parameters.collectorJunction.farads,
      collector_at_volts: parameters.collectorJunction.at,
      emitter_farads: parameters.emitterJunction.farads,
      emitter_at_volts: parameters.emitterJunction.at,
      thermal_kelvin_per_watt: parameters.thermalResistance,
      flicker_hertz: parameters.flickerCorner,
    }),
  };
}

/** What a transistor sheet leaves out: the defaults of docs/models.md, or what other figures imply. */
function transistorSubstitutes(type: DeviceType, material: Material, p: TransistorParameters): Substitutes {
  const { figures } = type;
  const hfeCurrent = figures["hfe.at"] ?? 1e-3;
  return {
    hfe: fallback(50, 1e-3),
    hfe_reverse: fallback(material.hfeReverse),
    vbe: fallback(material.vbe.volts, material.vbe.at),
    leakage: leakageSubstitute(material, p),
    doubling: fallback(material.doubling),
    ft: transitionFrequency(figures, hfeCurrent) ?? fallback(material.ft, hfeCurrent),
    ccb: fallback(material.ccb.farads, material.ccb.at),
    ceb: fallback(0),
    rbb: fallback(material.rbb),
    early:
      figures.h22 === undefined ? fallback(material.early) : { value: p.earlyVoltage, origin: "derived" },
    storage: fallback(0),
    flicker: fallback(material.flicker),
    rth: fallback(0),
  };
}

/** The material's leakage, or that of the junctions alone where it is greater. */
function leakageSubstitute(material: Material, p: TransistorParameters): Substitute {
  const junctions = p.saturationCurrent / (p.forwardGain + 1) + p.saturationCurrent / p.reverseGain;
  return junctions > material.leakage
    ? { value: junctions, at: 25, origin: "derived" }
    : fallback(material.leakage, 25);
}

function transitionFrequency(figures: DeviceType["figures"], hfeCurrent: number): Substitute | undefined {
  const { falpha, fbeta } = figures;
  if (falpha !== undefined) {
    return { value: falpha / 1.2, at: figures["falpha.at"] ?? hfeCurrent, origin: "derived" };
  }
  if (fbeta === undefined) return undefined;
  return { value: fbeta * (figures.hfe ?? 50), at: figures["fbeta.at"] ?? hfeCurrent, origin: "derived" };
}

function diodeSheet(type: DeviceType): Pick<TypeSheet, "figures" | "parameters"> {
  const parameters = diodeParameters(type.material, type.figures);
  if ("problem" in parameters) throw new Error(`${type.name}: ${parameters.problem}`);
  const { vbe } = MATERIALS[type.material];
  const substitutes = {
    vf: fallback(vbe.volts, vbe.at),
    ideality: fallback(1),
    rs: fallback(0),
    cj: fallback(0),
  };
  return {
    figures: figuresOf(type, DIODE_FIGURES, DIODE_LIMITS, substitutes),
    parameters: finite({
      saturation_amps: parameters.saturationCurrent,
      ideality: parameters.ideality,
      series_ohms: parameters.seriesResistance,
      junction_farads: parameters.junction.farads,
      junction_at_volts: parameters.junction.at,
    }),
  };
}

const finite = (parameters: Record<string, number>): Record<string, number> =>
  Object.fromEntries(Object.entries(parameters).filter(([, value]) => Number.isFinite(value)));

function figuresOf(
  type: DeviceType,
  known: readonly Figure[],
  limits: readonly Figure[],
  substitutes: Substitutes,
): TypeFigure[] {
  const given = type.figures;
  return [
    ...known.flatMap((figure) => figureRows(figure, given, substitutes[figure.key])),
    ...plainRow(given, "spread.least", "number", "hfe of the weakest sample"),
    ...plainRow(given, "spread.greatest", "number", "hfe of the strongest sample"),
    ...limits.flatMap((limit) => plainRow(given, `limits.${limit.key}`, limit.unit, limit.meaning)),
  ];
}

function plainRow(
  given: DeviceType["figures"],
  figure: string,
  unit: Figure["unit"],
  meaning: string,
): TypeFigure[] {
  const value = given[figure];
  return value === undefined ? [] : [{ figure, meaning, value, unit, origin: "given" }];
}

/** The rows of one figure: as given, with a second point and a maximum where it has them, or its substitute. */
function figureRows(
  figure: Figure,
  given: DeviceType["figures"],
  substitute: Substitute | undefined,
): TypeFigure[] {
  const row = (value: number, at: number | undefined, origin: Origin): TypeFigure => {
    const unit = figure.tails?.find((tail) => tail.word === "at")?.unit;
    return {
      figure: figure.key,
      meaning: figure.meaning,
      value,
      unit: figure.unit,
      ...(at !== undefined && unit !== undefined && { at, at_unit: unit }),
      origin,
    };
  };
  const value = given[figure.key];
  if (value === undefined) {
    return substitute === undefined ? [] : [row(substitute.value, substitute.at, substitute.origin)];
  }
  const second = given[`${figure.key}2`];
  return [
    row(value, given[`${figure.key}.at`] ?? substitute?.at, "given"),
    ...(second === undefined ? [] : [row(second, given[`${figure.key}2.at`], "given")]),
    ...plainRow(given, `${figure.key}.max`, figure.unit, "the greatest a sound sample has"),
  ];
}

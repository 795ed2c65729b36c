/** Which types come nearest to a given one, by the figures that matter in a socket. */
import type { DeviceType } from "../circuit/circuit.ts";
import { gainAt, junctionVoltsAt } from "./type-gain.ts";
import { typeSheet } from "./types.ts";

/** A type beside the one asked for, which comes first, at difference 0. Voltages and currents are magnitudes. */
export interface AlikeType {
  readonly type: string;
  readonly device: DeviceType["device"];
  readonly material: DeviceType["material"];
  /** Sum of the weighed differences: 1 is a doubled or halved hfe and nothing else. */
  readonly difference: number;
  /** The collector current of the comparison. */
  readonly at_amps: number;
  readonly hfe: number;
  readonly vbe_volts: number;
  readonly ft_hertz: number;
  readonly leakage_amps: number;
  readonly flicker_hertz: number;
  readonly vce_volts?: number;
  readonly ic_amps?: number;
  readonly ptot_watts?: number;
  readonly case?: string;
  readonly leads?: string;
  /** What it does not do as well, or not in the same way. */
  readonly cautions: readonly string[];
}

type Measured = Omit<AlikeType, "difference" | "cautions">;

/**
 * The transistors among `types` by their likeness to `wanted`, which comes first, compared at collector
 * current `amps`. Another polarity counts for nothing: it finds the complement.
 */
export function typesLike(wanted: DeviceType, types: readonly DeviceType[], amps: number): AlikeType[] {
  const standard = measured(wanted, amps);
  const others = types
    .filter(({ name, device }) => device !== "diode" && name !== wanted.name)
    .map((type) => measured(type, amps))
    .map((each) => ({ ...each, difference: difference(each, standard), cautions: cautions(each, standard) }))
    .toSorted((a, b) => a.difference - b.difference || (a.type < b.type ? -1 : 1));
  return [{ ...standard, difference: 0, cautions: [] }, ...others];
}

function measured(type: DeviceType, amps: number): Measured {
  const value = (name: string) => typeSheet(type).figures.find(({ figure }) => figure === name)?.value;
  const { "limits.vce": vce, "limits.ic": ic, "limits.ptot": ptot } = type.figures;
  return {
    type: type.name,
    device: type.device,
    material: type.material,
    at_amps: amps,
    hfe: gainAt(type, amps),
    vbe_volts: junctionVoltsAt(type, amps),
    ft_hertz: value("ft") ?? 0,
    leakage_amps: value("leakage") ?? 0,
    flicker_hertz: value("flicker") ?? 0,
    ...(vce !== undefined && { vce_volts: vce }),
    ...(ic !== undefined && { ic_amps: ic }),
    ...(ptot !== undefined && { ptot_watts: ptot }),
    ...(type.case !== undefined && { case: type.case }),
    ...(type.leads !== undefined && { leads: type.leads }),
  };
}

/** What another semiconductor weighs: three halvings of hfe. */
const OTHER_MATERIAL = 3;
/** Difference of V_BE that weighs as much as a halved hfe, V. */
const VBE_STEP = 0.05;

const octaves = (a: number, b: number): number => (a > 0 && b > 0 ? Math.log2(a / b) : 0);

/** Less than wanted weighs `less` an octave, more than wanted `more`. */
const weighed = (found: number, wanted: number, less: number, more: number): number => {
  const above = octaves(found, wanted);
  return above < 0 ? -above * less : above * more;
};

/** A rating weighs where it falls short; a limit that is not known counts as half of what is wanted. */
const rated = (found: number | undefined, wanted: number | undefined, weight: number): number =>
  wanted === undefined ? 0 : weight * weighed(found ?? wanted / 2, wanted, 1, 0.1);

function difference(found: Measured, wanted: Measured): number {
  return (
    (found.material === wanted.material ? 0 : OTHER_MATERIAL) +
    weighed(found.hfe, wanted.hfe, 1, 1) +
    weighed(found.ft_hertz, wanted.ft_hertz, 0.5, 0.2) +
    weighed(found.leakage_amps, wanted.leakage_amps, 0.05, 0.25) +
    weighed(found.flicker_hertz, wanted.flicker_hertz, 0.05, 0.5) +
    Math.abs(found.vbe_volts - wanted.vbe_volts) / VBE_STEP +
    rated(found.vce_volts, wanted.vce_volts, 1) +
    rated(found.ic_amps, wanted.ic_amps, 0.5) +
    rated(found.ptot_watts, wanted.ptot_watts, 0.5)
  );
}

/** Below this share of what is wanted a figure is worth a word. */
const CLEARLY_LESS = 0.8;
/** Ratio of noise corners worth a word. */
const MUCH_NOISIER = 1.5;

function cautions(found: Measured, wanted: Measured): string[] {
  const less = (a: number | undefined, b: number | undefined) =>
    a !== undefined && b !== undefined && a < CLEARLY_LESS * b;
  const short = [
    ...(less(found.vce_volts, wanted.vce_volts) ? ["voltage"] : []),
    ...(less(found.ic_amps, wanted.ic_amps) ? ["current"] : []),
    ...(less(found.ptot_watts, wanted.ptot_watts) ? ["dissipation"] : []),
  ];
  const leads = found.leads !== undefined && wanted.leads !== undefined && found.leads !== wanted.leads;
  return [
    ...(found.material === wanted.material ? [] : [`${found.material}: other bias`]),
    ...(short.length > 0 ? [`less ${short.join(", ")}`] : []),
    ...(less(found.ft_hertz, wanted.ft_hertz) ? ["slower"] : []),
    ...(found.flicker_hertz > MUCH_NOISIER * wanted.flicker_hertz ? ["noisier"] : []),
    ...(leads ? ["other leads"] : []),
  ];
}

/** A transistor type's characteristics, as a data book draws them. */
import type { DeviceType } from "../circuit/circuit.ts";
import { REFERENCE_KELVIN, ZERO_CELSIUS } from "../devices/constants.ts";
import { Transistor } from "../devices/transistor.ts";
import { parametersOf } from "../parts/transistor.ts";
import { gainAt } from "./type-gain.ts";

export interface CurveConditions {
  /** Temperature of the junction, held: a curve tracer's pulses are short. 25 °C if not given. */
  readonly celsius?: number;
  /** Greatest collector-emitter voltage drawn, V; the type's limit if not given. */
  readonly volts?: number;
  /** Greatest collector current drawn, A; the type's limit if not given. */
  readonly amps?: number;
}

/** Collector current against collector-emitter voltage at one base current. */
export interface OutputCurve {
  readonly ib_amps: number;
  readonly vce_volts: readonly number[];
  readonly ic_amps: readonly number[];
}

/** hfe freed of leakage, against collector current. */
export interface GainCurve {
  readonly sample: "weakest" | "typical" | "strongest";
  readonly ic_amps: readonly number[];
  readonly hfe: readonly number[];
}

/** All voltages and currents are magnitudes, of PNP types too. */
export interface TypeCurves {
  readonly type: string;
  readonly device: DeviceType["device"];
  readonly material: DeviceType["material"];
  readonly junction_celsius: number;
  readonly output: readonly OutputCurve[];
  readonly gain: readonly GainCurve[];
  /** The points of hfe that the sheet gives. */
  readonly given: readonly { readonly ic_amps: number; readonly hfe: number }[];
  /** Greatest dissipation, W. */
  readonly ptot_watts?: number;
}

/** Curves of the output characteristics, besides that of the open base. */
const MOST_CURVES = 10;
const VOLTS_WITHOUT_LIMIT = 20;
/** hfe is shown over so many decades of current. */
const DECADES = 3;
const POINTS_PER_DECADE = 16;
/** Voltages that a table shows, V. */
export const ROUND_VOLTS = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100] as const;

/** The characteristics of a transistor type; gives nothing for a diode. */
export function typeCurves(type: DeviceType, conditions: CurveConditions = {}): TypeCurves | undefined {
  if (type.device === "diode") return undefined;
  const { figures } = type;
  const celsius = conditions.celsius ?? REFERENCE_KELVIN - ZERO_CELSIUS;
  const volts = conditions.volts ?? figures["limits.vce"] ?? VOLTS_WITHOUT_LIMIT;
  const amps = conditions.amps ?? figures["limits.ic"] ?? 10 * (figures["hfe.at"] ?? 1e-3);
  const ptot = figures["limits.ptot"];
  return {
    type: type.name,
    device: type.device,
    material: type.material,
    junction_celsius: celsius,
    output: outputCurves(type, celsius + ZERO_CELSIUS, volts, amps),
    // the sheet's second point may lie beyond the limit, which is one of the average current
    gain: gainCurves(
      type,
      celsius + ZERO_CELSIUS,
      conditions.amps ?? Math.max(amps, figures["hfe2.at"] ?? 0),
    ),
    given: givenPoints(type),
    ...(ptot !== undefined && { ptot_watts: ptot }),
  };
}

/** Least and greatest voltage across the emitter junction that is looked at, V. */
const LEAST_JUNCTION = -2;
const GREATEST_JUNCTION = 3;

/**
 * The emitter junction's voltage at which `current`, which rises with it, is `wanted`; halving until no
 * number lies between.
 */
function junctionAt(wanted: number, current: (u: number) => number): number {
  let [low, high] = [LEAST_JUNCTION, GREATEST_JUNCTION];
  for (;;) {
    const middle = (low + high) / 2;
    if (middle <= low || middle >= high) return middle;
    if (current(middle) < wanted) low = middle;
    else high = middle;
  }
}

function outputCurves(type: DeviceType, kelvin: number, volts: number, amps: number): OutputCurve[] {
  const physics = new Transistor(parametersOf(type));
  const at = (u: number, vce: number) => physics.evaluate(u, u - vce, kelvin);
  const greatest = at(
    junctionAt(amps, (u) => at(u, volts).collector),
    volts,
  ).base;
  const grid = voltagesUpTo(volts);
  return baseCurrents(greatest).map((ib) => ({
    ib_amps: ib,
    vce_volts: grid,
    ic_amps: grid.map(
      (vce) =>
        at(
          junctionAt(ib, (u) => at(u, vce).base),
          vce,
        ).collector,
    ),
  }));
}

/** Round steps from 0 to `greatest`. Where even the open base draws more than is drawn, it alone. */
function baseCurrents(greatest: number): number[] {
  if (!(greatest > 0)) return [0];
  const rough = greatest / MOST_CURVES;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((digit) => digit * power).find((size) => size >= rough * (1 - 1e-9))!;
  const count = Math.floor(greatest / step + 1e-9);
  return Array.from({ length: count + 1 }, (_, k) => Number((k * step).toPrecision(9)));
}

const GRID = 80;

/** Closer where the curves bend, and at round values. */
function voltagesUpTo(volts: number): number[] {
  const even = Array.from({ length: GRID + 1 }, (_, k) => volts * (k / GRID) ** 2);
  const round = ROUND_VOLTS.filter((value) => value < volts);
  return [...new Set([...even, ...round])].sort((a, b) => a - b);
}

function gainCurves(type: DeviceType, kelvin: number, amps: number): GainCurve[] {
  const { hfe, "spread.least": least, "spread.greatest": greatest } = type.figures;
  const currents = Array.from(
    { length: DECADES * POINTS_PER_DECADE + 1 },
    (_, k) => amps * 10 ** (k / POINTS_PER_DECADE - DECADES),
  );
  const warmth = (kelvin / REFERENCE_KELVIN) ** 1.5;
  const curve = (sample: GainCurve["sample"], share: number): GainCurve => ({
    sample,
    ic_amps: currents,
    hfe: currents.map((ic) => share * warmth * gainAt(type, ic)),
  });
  return [
    ...(hfe !== undefined && greatest !== undefined ? [curve("strongest", greatest / hfe)] : []),
    curve("typical", 1),
    ...(hfe !== undefined && least !== undefined ? [curve("weakest", least / hfe)] : []),
  ];
}

function givenPoints({ figures: f }: DeviceType): TypeCurves["given"] {
  const points = [
    [f["hfe.at"], f.hfe],
    [f["hfe2.at"], f.hfe2],
  ] as const;
  return points.flatMap(([ic, hfe]) => (ic === undefined || hfe === undefined ? [] : [{ ic_amps: ic, hfe }]));
}

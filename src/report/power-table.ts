/** Output power and distortion on a terminal. */
import type { PowerCurve, PowerPoint } from "../bench/power/results.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { type Column, harmless, layOut, rule, unbound, widthOf, wrap } from "./columns.ts";
import { type Ink, inkFor } from "./ink.ts";
import { decimal, hertz, withUnit } from "./numbers.ts";
import { curveName, hasPower, limitsText, outputUnit, percent, quiescentText } from "./power-words.ts";
import { titled } from "./titled.ts";
import type { TableOptions } from "./voltage-table.ts";

const RIGHT: Column = { align: "right", gap: 2 };
const REMARK: Column = { align: "left", gap: 2 };
/** Powers at which several curves are compared, W. */
const COMPARED = [1e-3, 0.01, 0.1, 1];

function block(rows: readonly (readonly string[])[], ink: Ink): readonly string[] {
  const cells = rows.map((row) => row.map((cell) => unbound(harmless(cell))));
  const heads = cells[0]!;
  const columns = heads.map(
    (head, k): Column => (k === 0 ? { align: "left" } : head === "" ? REMARK : RIGHT),
  );
  const laid = layOut(cells, columns).map((line) => line.trimEnd());
  return [ink.faint(laid[0]!), ink.faint(rule(Math.max(...laid.map(widthOf)))), ...laid.slice(1)];
}

/** Power drawn without a signal is the least there is; efficiency is of all that the batteries give. */
function row(curve: PowerCurve, point: PowerPoint): readonly string[] {
  const { output_watts: watts, supply_watts: supply, harmonics } = point;
  const limit = curve.limits.find(({ emf_volts }) => emf_volts === point.emf_volts);
  return [
    withUnit(point.emf_volts, "V"),
    withUnit(point.output, outputUnit(curve)),
    ...(hasPower(curve) ? [watts === undefined ? "" : withUnit(watts, "W")] : []),
    `${decimal(point.gain_db, 1)} dB`,
    percent(point.distortion),
    percent(harmonics[0] ?? 0),
    percent(harmonics[1] ?? 0),
    ...(hasPower(curve) ? [watts === undefined || !(supply > 0) ? "" : percent(watts / supply)] : []),
    limit === undefined ? "" : `◂ ${limit.what}`,
  ];
}

function curveLines(curve: PowerCurve, { width }: TableOptions, ink: Ink): readonly string[] {
  const power = hasPower(curve);
  const heads = ["EMF", "output", ...(power ? ["power"] : []), "gain", "THD", "2nd", "3rd"];
  const said = [quiescentText(curve), limitsText(curve)].filter((text) => text !== "");
  return [
    "",
    ...wrap(harmless(`${curveName(curve)}, ${curve.from} to ${curve.to}, ${hertz(curve.hertz)}`), width).map(
      ink.strong,
    ),
    ...said.flatMap((line) => wrap(harmless(line), width).map(unbound)),
    "",
    ...block(
      [[...heads, ...(power ? ["efficiency"] : []), ""], ...curve.points.map((point) => row(curve, point))],
      ink,
    ),
  ];
}

/** Distortion at a power, by straight line between the logarithms; nothing outside the levels. */
function distortionAt({ points }: PowerCurve, power: number): number | undefined {
  const k = points.findIndex(({ output_watts: watts }, at) => at > 0 && (watts ?? 0) >= power);
  const [a, b] = [points[k - 1], points[k]];
  if (a?.output_watts === undefined || b?.output_watts === undefined || a.output_watts > power)
    return undefined;
  const share = Math.log(power / a.output_watts) / Math.log(b.output_watts / a.output_watts);
  return a.distortion * (b.distortion / a.distortion) ** share;
}

/** Several curves of one path beside each other. */
function comparison(curves: readonly PowerCurve[], ink: Ink): readonly string[] {
  const compared = curves.filter((curve) => curve.variant !== undefined && hasPower(curve));
  if (compared.length < 2) return [];
  const powers = COMPARED.filter((power) =>
    compared.some((curve) => distortionAt(curve, power) !== undefined),
  );
  const limit = ({ limits }: PowerCurve, what: string) => {
    const watts = limits.find((each) => each.what === what)?.output_watts;
    return watts === undefined ? "" : withUnit(watts, "W");
  };
  const quiescent = ({ quiescent_amps: amps }: PowerCurve) =>
    Object.values(amps)
      .map((each) => withUnit(each, "A"))
      .join(" ");
  return [
    "",
    ink.strong("Distortion compared"),
    "",
    ...block(
      [
        [
          "",
          "quiescent",
          ...powers.map((power) => `at ${withUnit(power, "W", 1)}`),
          "10 % at",
          "1 dB less at",
        ],
        ...compared.map((curve) => [
          curve.variant ?? "",
          quiescent(curve),
          ...powers.map((power) => {
            const found = distortionAt(curve, power);
            return found === undefined ? "" : percent(found);
          }),
          limit(curve, "10 % distortion"),
          limit(curve, "1 dB less gain"),
        ]),
      ],
      ink,
    ),
  ];
}

const NOTE =
  "Steady state under a sine, junctions as warm as without a signal. THD: root of the sum of squares of harmonics 2 to 15, over the fundamental. 10\u00a0% distortion and 1\u00a0dB less gain than the greatest: common practice.";

/** For every path, mode and variant: what comes out at each level; then the variants beside each other. */
export function powerTable(
  circuit: Circuit,
  curves: readonly PowerCurve[],
  phrases: readonly string[],
  options: TableOptions,
): string {
  const ink = inkFor(options.color);
  const found = [
    ...curves.flatMap((curve) => curveLines(curve, options, ink)),
    ...comparison(curves, ink),
    "",
    ...wrap(NOTE, options.width).map(unbound),
  ];
  return titled(circuit, ["Output power and distortion", ...phrases], found, options);
}

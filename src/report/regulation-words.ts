/** Words for speeds of a governed motor. */
import type { RegulationCurve, RegulationPoint } from "../bench/regulation/results.ts";
import { decimal, plain } from "./numbers.ts";

const SPACE = "\u00a0";

/** `6.75 V`, `1.5 mN·m`. */
export const turnedText = (value: number, unit: RegulationCurve["unit"]): string =>
  unit === "volt" ? `${plain(value)}${SPACE}V` : `${plain(1e3 * value)}${SPACE}mN·m`;

/** The number alone, for columns and axes: V or mN·m. */
export const turnedNumber = (value: number, unit: RegulationCurve["unit"]): number =>
  unit === "volt" ? value : 1e3 * value;

export const unitText = (unit: RegulationCurve["unit"]): string => (unit === "volt" ? "V" : "mN·m");

export const rpmText = (rpm: number): string => `${decimal(rpm, 0)}${SPACE}rpm`;

/** `GV1 of M1 in run, against B1`. */
export const curveName = ({ mode, motor, governor, against }: RegulationCurve): string =>
  `${mode}: ${motor} by ${governor}, against ${against}`;

const regulated = ({ held }: RegulationPoint) => held === "regulated";

/** How well the speed is held, in a sentence. */
export function holdText({ points, unit }: RegulationCurve): string {
  const held = points.filter(regulated);
  const speeds = held.map(({ rpm }) => rpm);
  const [first, last] = [held[0], held.at(-1)];
  if (first === undefined || last === undefined) return "The speed is held nowhere in this range.";
  const [least, greatest] = [Math.min(...speeds), Math.max(...speeds)];
  const swing = decimal((100 * (greatest - least)) / greatest, 2);
  const range =
    held.length === 1
      ? `at ${turnedText(first.value, unit)}`
      : `from ${turnedText(first.value, unit)} to ${turnedText(last.value, unit)}`;
  const speed =
    held.length === 1 ? rpmText(greatest) : `${rpmText(least)} to ${rpmText(greatest)}, ${swing} %`;
  return `Regulated ${range}: ${speed}.`;
}

/** Where it can no longer hold. */
export function limitText({ limit, unit, against, points }: RegulationCurve): string {
  if (limit === undefined) return "";
  const below = points[0] !== undefined && !regulated(points[0]) && points[0].held !== "runs away";
  return `The motor comes to the governor's speed ${below ? "above" : "up to"} ${turnedText(limit, unit)} (${against}).`;
}

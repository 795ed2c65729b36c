/** What table and drawing of output power share. */
import type { PowerCurve, PowerPoint } from "../bench/power/results.ts";
import { decimal, withUnit } from "./numbers.ts";

export const percent = (share: number): string => {
  const value = 100 * share;
  return `${decimal(value, value < 1 ? 2 : 1)}\u00a0%`;
};

/** What a level is told by: power in the load, or the output where there is none. */
export const hasPower = (curve: PowerCurve): boolean =>
  curve.points.some(({ output_watts }) => output_watts !== undefined);

export const outputUnit = ({ quantity }: PowerCurve): "V" | "A" => (quantity === "voltage" ? "V" : "A");

export const levelText = (curve: PowerCurve, { output, output_watts: watts }: PowerPoint): string =>
  watts === undefined ? withUnit(output, outputUnit(curve)) : withUnit(watts, "W");

/** `playback in play · P2 30 %`. */
export const curveName = ({ path, mode, variant }: PowerCurve): string =>
  `${path} in ${mode}${variant === undefined ? "" : ` · ${variant}`}`;

/** The currents of the pair without a signal. */
export function quiescentText({ quiescent_amps: amps }: PowerCurve): string {
  const names = Object.keys(amps);
  if (names.length === 0) return "";
  return `${names.map((name) => `${name} ${withUnit(amps[name]!, "A")}`).join(", ")} without a signal`;
}

/** Where it clips, in a sentence. */
export function limitsText(curve: PowerCurve): string {
  const said = curve.limits.map((limit) => {
    const where = `${levelText(curve, limit)} with ${withUnit(limit.emf_volts, "V")} EMF`;
    return limit.what === "10 % distortion"
      ? `Distortion reaches 10\u00a0% at ${where}.`
      : `The gain has fallen by 1\u00a0dB at ${where}.`;
  });
  const lost = curve.lost_above_volts;
  if (lost !== undefined) said.push(`No steady state was found above ${withUnit(lost, "V")} EMF.`);
  if (curve.interrupted) said.push("Interrupted: higher levels were not looked at.");
  return said.length > 0 ? said.join(" ") : "It does not clip within these levels.";
}

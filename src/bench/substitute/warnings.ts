/** What to know of a candidate before soldering, beyond the limits at the operating point. */
import type { DeviceType, Part } from "../../circuit/circuit.ts";
import { MATERIALS } from "../../devices/material.ts";
import { DEFAULT_HFE } from "../../devices/transistor-parameters.ts";
import type { Fit } from "./fit.ts";
import { coilAtCollector, tankFrequencies } from "./nets.ts";

/** An oscillator wants a transistor with at least so many times its frequency; common practice, no source. */
const OSCILLATOR_MARGIN = 5;
/** A dissipation above this part of the greatest leaves no reserve for a hot day; a rule of ours. */
const RESERVE = 0.8;
/** A cut-off that falls by more than this is told. */
const FALLS_BY = 0.7;
/** Above this an upper half-power point does not matter, Hz. */
const AUDIBLE = 20_000;

const three = (value: number) => Number(value.toPrecision(3));

function hertz(value: number): string {
  const [scale, prefix] = value >= 1e6 ? [1e6, "M"] : value >= 1e3 ? [1e3, "k"] : [1, ""];
  return `${three(value / scale)} ${prefix}Hz`;
}

/** Transition frequency, Hz: given, from a cut-off frequency, or the material's usual one. */
export function transitionFrequency({ figures, material }: DeviceType): number {
  const { ft, falpha, fbeta, hfe = DEFAULT_HFE } = figures;
  if (ft !== undefined) return ft;
  if (falpha !== undefined) return falpha / 1.2;
  return fbeta === undefined ? MATERIALS[material].ft : fbeta * hfe;
}

/** A sentence each. `fits` are the modes with the candidate, `before` those with the type fitted. */
export function warningsOf(
  part: Part,
  fitted: DeviceType,
  candidate: DeviceType,
  before: readonly Fit[],
  fits: readonly Fit[],
): readonly string[] {
  return [
    ...ratedVoltage(part, fitted, candidate, before),
    ...dissipation(part, candidate, fits),
    ...oscillator(part, fitted, candidate, before),
    ...bandwidth(before, fits),
    ...leads(fitted, candidate),
  ];
}

/** The greatest voltage between any two nets, V: what stands across a transistor that is cut off. */
const span = ({ chart }: Fit) => {
  const volts = Object.values(chart.nets).map((net) => net.volts);
  return Math.max(...volts) - Math.min(...volts);
};

function ratedVoltage(
  part: Part,
  fitted: DeviceType,
  candidate: DeviceType,
  before: readonly Fit[],
): string[] {
  const rated = candidate.figures["limits.vce"];
  const own = fitted.figures["limits.vce"];
  if (rated === undefined || (own !== undefined && rated >= own)) return [];
  const supply = Math.max(...before.map(span));
  const coil = before.some(({ circuit }) => coilAtCollector(circuit, part));
  const needed = coil ? 2 * supply : supply;
  if (rated >= needed) return [];
  const why = coil
    ? `a coil at its collector may swing to ${three(needed)} V`
    : `cut off, it has the ${three(needed)} V of the supply across it`;
  return [`V_CE: ${candidate.name} stands ${three(rated)} V; ${why}`];
}

function dissipation(part: Part, candidate: DeviceType, fits: readonly Fit[]): string[] {
  const most = candidate.figures["limits.ptot"];
  if (most === undefined) return [];
  const watts = Math.max(...fits.map(({ chart }) => chart.transistors[part.name]?.dissipation_watts ?? 0));
  if (watts <= RESERVE * most || watts > most) return [];
  return [
    `dissipation: ${three(1e3 * watts)} mW of the ${three(1e3 * most)} mW that ${candidate.name} stands leave no reserve`,
  ];
}

function oscillator(part: Part, fitted: DeviceType, candidate: DeviceType, before: readonly Fit[]): string[] {
  const tanks = before.flatMap(({ circuit }) => tankFrequencies(circuit, part));
  const ft = transitionFrequency(candidate);
  const highest = Math.max(0, ...tanks);
  if (ft >= OSCILLATOR_MARGIN * highest || ft >= transitionFrequency(fitted)) return [];
  return [
    `cut-off: the resonant circuit at ${part.name} is tuned to ${hertz(highest)}; an f_T of ${hertz(ft)} is less than ${OSCILLATOR_MARGIN} times that`,
  ];
}

function bandwidth(before: readonly Fit[], fits: readonly Fit[]): string[] {
  const told = fits.flatMap((now) =>
    Object.entries(now.paths).flatMap(([name, { high_hertz: after = Infinity }]) => {
      const then = before.find(({ mode }) => mode === now.mode)?.paths[name]?.high_hertz ?? Infinity;
      if (after >= AUDIBLE || after >= FALLS_BY * then) return [];
      const from = Number.isFinite(then) ? hertz(then) : "beyond 100 MHz";
      return [`cut-off: the upper −3 dB point of ${name} falls from ${from} to ${hertz(after)}`];
    }),
  );
  return [...new Set(told)];
}

function leads(fitted: DeviceType, candidate: DeviceType): string[] {
  if (fitted.name === candidate.name) return [];
  if (candidate.leads === undefined || fitted.leads === undefined) {
    const unknown = [fitted, candidate].filter((type) => type.leads === undefined).map(({ name }) => name);
    return [`leads: those of ${unknown.join(" and ")} are not known here; look them up before soldering`];
  }
  if (candidate.leads === fitted.leads) return [];
  const of = (type: DeviceType) => [type.case, type.leads].filter((text) => text !== undefined).join(", ");
  return [`leads: ${candidate.name} ${of(candidate)}; ${fitted.name} ${of(fitted)}`];
}

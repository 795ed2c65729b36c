/** Responses as curves to draw: ascending in frequency, phase unwrapped, on one scale of gain. */
import type { PathResponse } from "../bench/results.ts";
import { type Bandwidth, bandwidth } from "./bandwidth.ts";
import { pathLabels } from "./labels.ts";
import { decibels, finiteDecibels, SILENCE_DB } from "./numbers.ts";

export interface CurvePoint {
  readonly hertz: number;
  /** On the curves' common scale, dB. Silence is −400 dB. */
  readonly gain: number;
  /** Unwrapped, degrees; undefined where there is no output. */
  readonly phase: number | undefined;
}

export interface Curve {
  readonly label: string;
  readonly points: readonly CurvePoint[];
  readonly bandwidth: Bandwidth;
  readonly quantity: PathResponse["quantity"];
  /** Where the gain is drawn relative to that at 1 kHz: the gain at 1 kHz, dB. */
  readonly offset: number | undefined;
}

export interface Curves {
  readonly curves: readonly Curve[];
  /** What 0 dB is, for the axis. */
  readonly reference: string;
}

/** Adds whole turns so that no step of phase is longer than half a turn; about 1 kHz it is within ±180°. */
export function unwrapped(phases: readonly (number | undefined)[], hertz: readonly number[]) {
  let turns = 0;
  let last: number | undefined;
  const continuous = phases.map((phase) => {
    if (phase === undefined) return undefined;
    if (last !== undefined) turns -= Math.round((phase - last) / 360);
    last = phase;
    return phase + 360 * turns;
  });
  const shift = 360 * Math.round((nearestTo1k(continuous, hertz) ?? 0) / 360);
  return continuous.map((phase) => (phase === undefined ? undefined : phase - shift));
}

function nearestTo1k(phases: readonly (number | undefined)[], hertz: readonly number[]): number | undefined {
  let best: { distance: number; phase: number } | undefined;
  phases.forEach((phase, i) => {
    const distance = Math.abs(Math.log(hertz[i]! / 1000));
    if (phase !== undefined && (best === undefined || distance < best.distance)) best = { distance, phase };
  });
  return best?.phase;
}

function curve(response: PathResponse, label: string, offset?: number): Curve {
  const order = response.hertz.map((_, i) => i).sort((a, b) => response.hertz[a]! - response.hertz[b]!);
  const hertz = order.map((i) => response.hertz[i]!);
  const gains = order.map((i) => finiteDecibels(response.gain_db[i] ?? Number.NaN));
  const heard = order.map((i, k) => {
    const phase = response.phase_degrees[i];
    return gains[k]! > SILENCE_DB && Number.isFinite(phase) ? phase : undefined;
  });
  const phases = unwrapped(heard, hertz);
  return {
    label,
    bandwidth: bandwidth(response),
    quantity: response.quantity,
    offset,
    points: hertz.map((f, k) => ({
      hertz: f,
      gain: gains[k]! > SILENCE_DB ? gains[k]! - (offset ?? 0) : SILENCE_DB,
      phase: phases[k],
    })),
  };
}

/**
 * The curves of some responses. Voltage and current gains have no common scale: drawn together, each
 * is taken relative to its own gain at 1 kHz where all have one, and its label says how much that is.
 */
export function curvesOf(responses: readonly PathResponse[]): Curves {
  const labels = pathLabels(responses);
  const quantities = new Set(responses.map((response) => response.quantity));
  const references = responses.map((response) => bandwidth(response).reference_db);
  const comparable = responses.every(
    (response, i) => references[i] !== undefined || bandwidth(response).greatest_db <= SILENCE_DB,
  );
  if (quantities.size > 1 && comparable) {
    return {
      curves: responses.map((response, i) => curve(response, labels[i]!, references[i])),
      reference: "dB, each relative to its gain at 1 kHz",
    };
  }
  const reference = { voltage: "dB re 1 V/V", current: "dB re 1 A/V" };
  return {
    curves: responses.map((response, i) => curve(response, labels[i]!)),
    reference: quantities.size > 1 ? "dB re 1 V/V or 1 A/V" : reference[responses[0]?.quantity ?? "voltage"],
  };
}

/** A curve that is nowhere heard: there is nothing to draw. */
export const silent = ({ points }: Curve): boolean => points.every(({ gain }) => gain <= SILENCE_DB);

/** What 0 dB is for a curve drawn relative to its gain at 1 kHz: `62.3 dB V/V at 1 kHz`; else empty. */
export const offsetText = ({ offset, quantity }: Curve): string =>
  offset === undefined ? "" : `${decibels(offset)} dB ${quantity === "current" ? "A/V" : "V/V"} at 1 kHz`;

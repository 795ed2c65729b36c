/** How a tested sample stands against the type it is marked as. */
import type { DeviceType } from "../circuit/circuit.ts";

/** Leakage currents in A, hfe freed of leakage; at one temperature. */
export interface Worth {
  /** Collector to emitter, base open. */
  readonly iceo_amps: number;
  /** Collector to base, emitter open, estimated: I_CEO/(1 + hfe). */
  readonly icbo_amps: number;
  readonly hfe: number;
}

export interface Verdict {
  /** hfe of the sample counted as the sheet counts it: at its first point, at 25 °C, at no collector-base voltage. */
  readonly sheet_hfe: number;
  readonly sheet_amps: number;
  /** Against the spread of the type; absent where there is none. */
  readonly hfe?: "inside" | "weak" | "strong";
  readonly spread?: { readonly least: number; readonly greatest: number };
  /** Absent where no limit is known. */
  readonly leakage?: "good" | "high" | "condemned";
  /** One sentence a limit that was looked at. */
  readonly reasons: readonly string[];
  /** Whence the limits are. */
  readonly sources: readonly string[];
}

/**
 * Limits of I_CEO at room temperature for small germanium transistors, A: 100 µA is common and 200 µA often
 * met, above 300 µA is suspect, above 500 µA bad. Source: R. G. Keen's test for germanium transistors.
 */
const OFTEN = 200e-6;
const SUSPECT = 300e-6;
const BAD = 500e-6;
const TRADE =
  "I_CEO of small germanium transistors: 100 µA common, 200 µA often met, above 300 µA suspect, above 500 µA bad (R. G. Keen's test)";
/** Above this dissipation a transistor is no small one, W. */
const SMALL = 1.05;
/** So much above its greatest sound value a leakage condemns, where only the sheet is asked. A rule of ours. */
const SHEET_CONDEMNS = 3;

type Leakage = NonNullable<Verdict["leakage"]>;
const ORDER: readonly Leakage[] = ["good", "high", "condemned"];

const micro = (amps: number) => {
  const value = amps * 1e6;
  return value >= 0.01 ? `${Number(value.toPrecision(3))} µA` : `${Number((value * 1e3).toPrecision(3))} nA`;
};

/** Judges the sample (its own type, and its worth at 25 °C) against `type`. */
export function verdictOf(type: DeviceType, marked: boolean, sample: DeviceType, at25: Worth): Verdict {
  const gain = gainVerdict(type, marked, sample.figures.hfe!);
  const findings = [...trade(type, at25), ...(marked ? sheet(type, at25) : [])];
  const worst = findings.map(({ leakage }) => ORDER.indexOf(leakage));
  return {
    sheet_hfe: sample.figures.hfe!,
    sheet_amps: sample.figures["hfe.at"]!,
    ...gain.verdict,
    ...(worst.length > 0 && { leakage: ORDER[Math.max(...worst)]! }),
    reasons: [...gain.reasons, ...findings.map(({ reason }) => reason)],
    sources: findings.map(({ source }) => source),
  };
}

function gainVerdict(type: DeviceType, marked: boolean, hfe: number) {
  const { "spread.least": least, "spread.greatest": greatest } = type.figures;
  if (!marked || least === undefined || greatest === undefined) {
    return { verdict: {}, reasons: marked ? [`${type.name} gives no spread of hfe`] : [] };
  }
  const stands = hfe < least ? "weak" : hfe > greatest ? "strong" : "inside";
  const where = { inside: "inside", weak: "below", strong: "above" }[stands];
  return {
    verdict: { hfe: stands, spread: { least, greatest } } as const,
    reasons: [
      `hfe ${hfe.toPrecision(3)}, counted as the sheet does, is ${where} the ${least} to ${greatest} of ${type.name}`,
    ],
  };
}

interface Finding {
  readonly leakage: Leakage;
  readonly reason: string;
  readonly source: string;
}

/** What the trade says of I_CEO, where the transistor is a small germanium one. */
function trade(type: DeviceType, { iceo_amps: iceo }: Worth): Finding[] {
  if (type.material !== "germanium" || (type.figures["limits.ptot"] ?? 0) > SMALL) return [];
  const leakage = iceo > BAD ? "condemned" : iceo > OFTEN ? "high" : "good";
  const shown = `I_CEO ${micro(iceo)} at 25 °C is`;
  const reason =
    iceo > BAD
      ? `${shown} above 500 µA: bad`
      : iceo > SUSPECT
        ? `${shown} above 300 µA: suspect`
        : iceo > OFTEN
          ? `${shown} above the 200 µA that is often met`
          : `${shown} no more than is often met`;
  return [{ leakage, reason, source: TRADE }];
}

/** What the type's own sheet says of I_CBO. */
function sheet(type: DeviceType, { icbo_amps: icbo }: Worth): Finding[] {
  const most = type.figures["leakage.max"];
  if (most === undefined) return [];
  const shown = `I_CBO about ${micro(icbo)} at 25 °C`;
  const source = `I_CBO of ${type.name}: at most ${micro(most)} (${type.source ?? "its type block"})`;
  if (icbo <= most)
    return [{ leakage: "good", reason: `${shown} keeps to the ${micro(most)} of ${type.name}`, source }];
  const leakage = icbo > SHEET_CONDEMNS * most ? "condemned" : "high";
  return [{ leakage, reason: `${shown} is above the ${micro(most)} of ${type.name}`, source }];
}

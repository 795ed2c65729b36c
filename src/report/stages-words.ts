/** What a stage does in words, for the table and the plot. */
import type { FeedbackLoop, QuiescentPoint, StageReading } from "../bench/stages/results.ts";
import { decimal, hertz, ohms, withUnit } from "./numbers.ts";

/** Three significant digits, two decimals at most for gains about one. */
export const gain = (value: number): string => {
  const size = Math.abs(value);
  return decimal(value, size >= 100 ? 0 : size >= 10 ? 1 : size >= 1 ? 2 : 3);
};

/** Resistances as people read them, to three digits. */
export const resistance = (value: number): string => ohms(Number(value.toPrecision(3)));

/** The formula with the numbers put in: `−6.8 kΩ/(52.9 Ω + 270 Ω)`. */
function numbersPutIn({ hand_formula = "", resistances }: StageReading): string {
  const longest = resistances.toSorted((a, b) => b.symbol.length - a.symbol.length);
  const marked = longest.reduce(
    (text, { symbol }, i) => text.replaceAll(symbol, `\u0000${i}\u0000`),
    hand_formula,
  );
  return longest.reduce(
    (text, each, i) => text.replaceAll(`\u0000${i}\u0000`, resistance(each.ohms)),
    marked,
  );
}

/** `gain by hand −R7/(r_e + R8) = −6.8 kΩ/(52.9 Ω + 270 Ω) = −21.1, solved −11.6`; empty without one. */
export function gainSentence(stage: StageReading): string {
  const { hand_formula, hand_gain, solved_gain, difference } = stage;
  if (hand_formula === undefined || hand_gain === undefined || solved_gain === undefined) return "";
  const byHand = `gain by hand ${hand_formula} = ${numbersPutIn(stage)} = ${gain(hand_gain)}`;
  return `${byHand}, solved ${gain(solved_gain)}${difference === undefined ? "" : `: ${difference}`}`;
}

/** The symbols of the formula that stand for no part, explained. */
export function symbolSentence({ resistances }: StageReading): string {
  return resistances
    .filter(({ symbol }) => symbol === "R′" || symbol === "R_E")
    .map(({ symbol, meaning }) => `${symbol}: ${meaning}`)
    .join("; ");
}

/** Transconductance, r_e, and what test currents find at the pins. */
export function resistanceSentence(stage: StageReading): string {
  const { gm_siemens, re_ohms, input_ohms, output_ohms, input_net_ohms, output_net_ohms } = stage;
  const pair = (words: string, pin: number | undefined, net: number | undefined) =>
    pin === undefined || net === undefined ? [] : [`${words} ${resistance(pin)}, its net ${resistance(net)}`];
  return [
    ...(re_ohms === undefined ? [] : [`g_m ${withUnit(gm_siemens, "S")}, r_e ${resistance(re_ohms)}`]),
    ...pair("into it", input_ohms, input_net_ohms),
    ...pair("out of it", output_ohms, output_net_ohms),
  ].join("; ");
}

export function feedbackSentence({ dc_feedback, ac_feedback }: StageReading): string {
  const by = (what: string, parts: readonly string[]) =>
    parts.length === 0 ? [] : [`${what} feedback by ${parts.join(" ")}`];
  return [...by("DC", dc_feedback), ...by("AC", ac_feedback)].join("; ");
}

/** Why it is what it is, its gain, resistances and feedback; a sentence each, none empty. */
export const stageSentences = (stage: StageReading): readonly string[] =>
  [
    stage.because,
    gainSentence(stage),
    symbolSentence(stage),
    resistanceSentence(stage),
    feedbackSentence(stage),
  ].filter((sentence) => sentence !== "");

/** `T3 → T2`; a stage on itself by its name. */
export const loopName = ({ from, to }: FeedbackLoop): string => {
  const [start, end] = [from.join(" "), to.join(" ")];
  return start === end ? start : `${start} → ${end}`;
};

/** `79° at 11.2 Hz`; an en dash where the loop gain is nowhere 1. */
export const marginText = ({ phase_margin_degrees, crossover_hertz }: FeedbackLoop): string =>
  phase_margin_degrees === undefined || crossover_hertz === undefined
    ? "–"
    : `${decimal(phase_margin_degrees, 0)}° at ${hertz(Number(crossover_hertz.toPrecision(3)))}`;

/** Milliamperes of one half, or a dagger where there is no operating point. */
export const milliamps = ({ amps }: QuiescentPoint, half: 0 | 1): string =>
  amps === undefined ? "†" : decimal(amps[half] * 1e3, amps[half] < 0.0995 ? 2 : 1);

/** The sentence under a table with daggers. */
export function daggerSentence(points: readonly QuiescentPoint[]): string {
  const reasons = [...new Set(points.flatMap(({ failure }) => (failure === undefined ? [] : [failure])))];
  return reasons.length === 0 ? "" : `† no operating point: ${reasons.join(", ")}`;
}

/** What every transistor does, on a terminal. */
import type { FeedbackLoop, QuiescentCurrents, StageReading, StagesResult } from "../bench/stages/results.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { type Column, harmless, layOut, unbound, wrap } from "./columns.ts";
import { type Ink, inkFor } from "./ink.ts";
import { decimal, hertz } from "./numbers.ts";
import { daggerSentence, gain, loopName, marginText, milliamps, stageSentences } from "./stages-words.ts";
import { titled } from "./titled.ts";
import type { TableOptions } from "./voltage-table.ts";

/** One transistor: its name and configuration, then a few sentences under them. */
function stageLines(circuit: Circuit, stage: StageReading, width: number, ink: Ink): readonly string[] {
  const name = harmless(stage.transistor);
  const type = circuit.parts.find((part) => part.name === stage.transistor)?.type ?? "";
  const indent = "    ";
  return [
    `${ink.strong(name.padEnd(indent.length - 1))} ${ink.strong(stage.configuration)}${type === "" ? "" : ` (${harmless(type)})`}`,
    ...stageSentences(stage).flatMap((sentence) =>
      wrap(harmless(sentence), width - indent.length).map((line) => indent + line),
    ),
  ];
}

const LOOP_COLUMNS: readonly Column[] = [
  { align: "left" },
  { align: "point" },
  { align: "point" },
  { align: "left" },
  { align: "left" },
  { align: "left" },
];

/** Headings of `loopRow`. */
export const LOOP_HEAD: readonly string[] = [
  "loop",
  "at DC",
  "1 kHz",
  "greatest",
  "phase margin",
  "closed by",
];

/** A loop gain too small to matter is a dash. */
const loopGain = (value: number): string => (Math.abs(value) < 0.01 ? "–" : gain(value));

/** Names, loop gains at DC, 1 kHz and where it is greatest, phase margin, what closes it. */
export function loopRow(loop: FeedbackLoop): readonly string[] {
  const { dc_parts, ac_parts, dc_loop_gain, ac_loop_gain, greatest_loop_gain, greatest_hertz } = loop;
  const parts = (what: string, names: readonly string[]) =>
    names.length === 0 ? [] : [`${what} ${names.join(" ")}`];
  const where = greatest_hertz < 0.01 ? "DC" : hertz(Number(greatest_hertz.toPrecision(2)));
  return [
    loopName(loop),
    loopGain(dc_loop_gain),
    loopGain(ac_loop_gain),
    `${gain(greatest_loop_gain)} at ${where}`,
    marginText(loop),
    [...parts("DC", dc_parts), ...parts("AC", ac_parts)].join(", ") || "a direct connection",
  ].map((cell) => unbound(harmless(cell)));
}

/** On a narrow terminal the last columns go. */
function loopLines(loops: readonly FeedbackLoop[], width: number, ink: Ink): readonly string[] {
  if (loops.length === 0) return [];
  const rows = [LOOP_HEAD, ...loops.map(loopRow)];
  const laid = (columns: number) =>
    layOut(
      rows.map((row) => row.slice(0, columns)),
      LOOP_COLUMNS.slice(0, columns),
    ).map((line) => line.trimEnd());
  const fits = [6, 5, 4, 3].find((columns) => laid(columns).every((line) => [...line].length <= width)) ?? 3;
  const [first, ...rest] = laid(fits);
  return ["", ink.strong("Loop gain (return ratio)"), ink.faint(first!), ...rest];
}

function quiescentLines({ pair, ...runs }: QuiescentCurrents, width: number, ink: Ink): readonly string[] {
  const [first] = pair;
  const signed = (value: number, text: string) => (value > 0 ? `+${text}` : text);
  const rows = [
    { head: "ambient, °C", points: runs.ambient_celsius, text: (at: number) => decimal(at, 0) },
    { head: `hfe of ${first}`, points: runs.hfe_share, text: (at: number) => `× ${at}` },
    {
      head: `V_BE of ${first}, mV`,
      points: runs.vbe_shift_volts,
      text: (at: number) => signed(at, decimal(at * 1e3, 0)),
    },
  ];
  const blocks = rows.flatMap(({ head, points, text }) => {
    const cells = [
      [head, ...points.map(({ at }) => text(at))],
      ...([0, 1] as const).map((half) => [
        `  ${pair[half]}`,
        ...points.map((point) => milliamps(point, half)),
      ]),
    ];
    const columns = cells[0]!.map((_, i): Column => ({ align: i === 0 ? "left" : "right" }));
    const [top, ...rest] = layOut(
      cells.map((row) => row.map(harmless)),
      columns,
    );
    return [ink.faint(top!), ...rest];
  });
  const all = [...runs.ambient_celsius, ...runs.hfe_share, ...runs.vbe_shift_volts];
  const dagger = daggerSentence(all);
  return [
    "",
    ink.strong(`Quiescent current of ${harmless(pair.join(" and "))}, mA`),
    ...blocks,
    ...(dagger === "" ? [] : wrap(dagger, width)),
  ];
}

function modeLines(circuit: Circuit, result: StagesResult, width: number, ink: Ink): readonly string[] {
  return [
    "",
    ink.strong(harmless(result.mode)),
    ...result.stages.flatMap((stage) => ["", ...stageLines(circuit, stage, width, ink)]),
    ...loopLines(result.loops, width, ink),
    ...result.push_pull.flatMap((each) => quiescentLines(each, width, ink)),
  ];
}

/** For every mode: each transistor's task, gain, resistances and feedback; the loops; push-pull pairs. */
export function stagesTable(
  circuit: Circuit,
  results: readonly StagesResult[],
  conditions: readonly string[],
  options: TableOptions,
): string {
  const ink = inkFor(options.color);
  const found = [...results.flatMap((result) => modeLines(circuit, result, options.width, ink))];
  return titled(circuit, ["gains and resistances at 1 kHz", ...conditions], found, options);
}

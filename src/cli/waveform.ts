import type { Answer } from "../bench/run.ts";
import type { WaveformConditions } from "../bench/waveform/conditions.ts";
import { commonHertz } from "../bench/waveform/periodic.ts";
import type { Waveform } from "../bench/waveform/results.ts";
import { waveforms } from "../bench/waveform.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { modesOf } from "../circuit/conditions.ts";
import type { Diagnostic } from "../circuit/diagnostic.ts";
import { conditionPhrases } from "../report/condition-phrases.ts";
import { waveformCsv } from "../report/waveform-csv.ts";
import { waveformPlot } from "../report/waveform-plot.ts";
import { waveformSvg } from "../report/waveform-svg.ts";
import { waveformTable } from "../report/waveform-table.ts";
import { coarseText, fastestSwing, stripsOf, waveformPhrases } from "../report/waveform-words.ts";
import { type Arguments, has } from "./arguments.ts";
import { sentence } from "./complaints.ts";
import type { Environment } from "./environment.ts";
import { fileOperand, openCircuit } from "./netlist.ts";
import { destination } from "./output.ts";
import { settle } from "./settle.ts";
import { typed, withQuotes } from "./waveform-events.ts";
import { readWaveform } from "./waveform-options.ts";

/** `preprobe waveform`: voltages against time. */
export async function waveformCommand(words: Arguments, environment: Environment): Promise<number> {
  const given = withQuotes(words);
  const to = destination(given, "waveform");
  const netlist = openCircuit(fileOperand(given, "waveform"), given, environment);
  const { circuit } = netlist;
  const asked = readWaveform(given, circuit);
  const conditions = {
    ...asked,
    modes:
      asked.modes ??
      modesOf(circuit)
        .slice(0, 1)
        .map(({ name }) => name),
  };
  const quiet = has(given, "quiet");
  const { results, failures } = await run(
    circuit,
    conditions,
    quiet ? undefined : environment.progress,
    environment,
  );
  for (const { mode, interrupted_seconds: at } of results)
    if (at !== undefined && !quiet)
      environment.stderr(
        sentence({
          message: `mode ${mode}: interrupted at ${typed(at)} of ${typed(conditions.seconds)}; what was computed until then follows`,
        }),
      );
  const doubts = results.flatMap((result) => coarseDoubt(result, netlist.file));
  const unread = tonesDoubt(conditions, netlist.file);
  if (!quiet) {
    const said = to.form !== "table" || has(given, "every") ? doubts : [];
    [...unread, ...said].map(sentence).forEach(environment.stderr);
  }
  const phrases = [...conditionPhrases(circuit, conditions, results), ...waveformPhrases(conditions)];
  return settle(
    {
      command: "waveform",
      netlist: { ...netlist, warnings: [...netlist.warnings, ...unread, ...doubts] },
      results,
      failures,
      to,
      quiet,
    },
    {
      table: () =>
        `${waveformPlot(circuit, results, environment)}\n${waveformTable(circuit, results, phrases, environment)}`,
      csv: () => waveformCsv(results),
      files: { ".svg": () => waveformSvg(circuit, results, phrases) },
    },
    environment,
  );
}

/** That a run is too short for what its tones make together to be read off. */
function tonesDoubt({ tones, events, seconds }: WaveformConditions, file: string): Diagnostic[] {
  if (tones.length === 0) return [];
  const last = Math.max(0, ...events.map((event) => event.seconds));
  const period = 1 / commonHertz(tones);
  if ((seconds - last) * (1 + 1e-9) >= period) return [];
  const what = tones.length === 1 ? "the tone repeats itself" : "the tones repeat themselves together";
  const since = last > 0 ? "what follows the last event" : "the run";
  return [
    {
      severity: "warning",
      message: `${what} every ${typed(period)}, longer than ${since}: no level and no harmonics are read`,
      hint: `for example --for ${typed(last + 2 * period, 6)}`,
      file,
      line: 1,
      column: 1,
      length: 1,
    },
  ];
}

/** Values for each period that show a swing. */
const SHOWN = 10;

/** That values are farther apart than half a period of what swings. */
function coarseDoubt(result: Waveform, file: string): Diagnostic[] {
  const text = coarseText(result, stripsOf(result));
  if (text === undefined) return [];
  const hertz = fastestSwing(result);
  const shorter = hertz > 0 ? `--every ${typed(1 / (SHOWN * hertz), 1)} shows each; ` : "";
  return [
    {
      severity: "warning",
      message: `mode ${result.mode}: ${text}`,
      hint: `${shorter}least and greatest between them are written beside, and readings are taken from all that is computed`,
      file,
      line: 1,
      column: 1,
      length: 1,
    },
  ];
}

/** Steps between two looks at clock and keyboard. */
const STEPS = 50;
const SHOWN_EVERY_MS = 200;

/** Runs to the end, or until interrupted; shows how far it has come. */
async function run(
  circuit: Circuit,
  conditions: WaveformConditions,
  progress: Environment["progress"],
  { interrupted, pause }: Environment,
): Promise<Answer<Waveform>> {
  const steps = waveforms(circuit, conditions);
  let next = steps.next();
  let shown = Date.now();
  for (let count = 1; next.done !== true; count++) {
    if (count % STEPS === 0 && Date.now() - shown > SHOWN_EVERY_MS) {
      shown = Date.now();
      const { mode, seconds, of } = next.value;
      progress?.(`${mode}: ${seconds.toPrecision(3)} s of ${of} s`);
      await pause?.();
    }
    next = steps.next(interrupted?.() ?? false);
  }
  progress?.("");
  return next.value;
}

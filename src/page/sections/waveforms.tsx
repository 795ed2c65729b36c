/** Voltages against time, when they are asked for. */
import type { WaveformConditions } from "../../bench/waveform/conditions.ts";
import type { Waveform } from "../../bench/waveform/results.ts";
import type { Circuit } from "../../circuit/circuit.ts";
import { conditionPhrases } from "../../report/condition-phrases.ts";
import { waveformCsv } from "../../report/waveform-csv.ts";
import { waveformSvg } from "../../report/waveform-svg.ts";
import {
  BUILD_UP_HEAD,
  buildUpRows,
  LEVEL_HEAD,
  levelRows,
  PERIODIC_HEAD,
  pathLines,
  periodicRows,
} from "../../report/waveform-table.ts";
import { drawnStrips, secondsText, waveformPhrases } from "../../report/waveform-words.ts";
import { circuit } from "../compute/netlist.ts";
import { FiguresTable } from "../controls/figures-table.tsx";
import { Failures } from "../controls/worked.tsx";
import { Downloads } from "./downloads.tsx";
import { Oscillogram } from "./oscillogram.tsx";
import { hasGovernor, Regulation } from "./regulation.tsx";
import { RunLine } from "./run-line.tsx";
import type { Section } from "./section.ts";
import { AMISS, Begin, More, Nets, Tones } from "./waveform-fields.tsx";
import { amiss, ID, lastRun, outOfDate, type Run, run, work } from "./waveform-state.ts";

function Amiss() {
  const message = amiss.value?.message ?? "";
  return (
    <p id={AMISS} class="look" role="alert" hidden={message === ""}>
      {message === "" ? "" : `No run: ${message}${message.endsWith("?") ? "" : "."}`}
    </p>
  );
}

/** Of what has not settled a dash says that nothing is missing; a column of nothing else is left out. */
const dashed = (cells: readonly string[], _: number, rows: readonly (readonly string[])[]) =>
  cells.map((text, k) => (text === "" && rows.some((row) => row[k] !== "") ? "–" : text));

function Readings({ now, result }: { readonly now: Circuit; readonly result: Waveform }) {
  const drawn = new Set(drawnStrips(now, result).map(({ name }) => name));
  const [levels, periodic, growth] = [
    levelRows(result).map(dashed),
    periodicRows(result),
    buildUpRows(result),
  ];
  const shown = (rows: readonly (readonly string[])[]) => rows.filter(([name = ""]) => drawn.has(name));
  return (
    <>
      {pathLines(result).map((text) => (
        <p key={text}>{text}.</p>
      ))}
      <FiguresTable caption="Readings" head={LEVEL_HEAD} rows={shown(levels)} />
      {shown(periodic).length === 0 ? null : (
        <FiguresTable caption="What repeats itself" head={PERIODIC_HEAD} rows={shown(periodic)} />
      )}
      {shown(growth).length === 0 ? null : (
        <FiguresTable caption="What builds up" head={BUILD_UP_HEAD} rows={shown(growth)} />
      )}
      {levels.length === shown(levels).length ? null : (
        <details>
          <summary>Readings of all {levels.length} traces</summary>
          <FiguresTable caption="Readings of all traces" head={LEVEL_HEAD} rows={levels} />
          {periodic.length === 0 ? null : (
            <FiguresTable caption="All that repeats itself" head={PERIODIC_HEAD} rows={periodic} />
          )}
        </details>
      )}
    </>
  );
}

/** What was asked, in a line: it may be another thing than the fields say by now. */
const askedText = (result: Waveform, asked: WaveformConditions): string =>
  [
    result.mode,
    ...waveformPhrases(asked),
    ...asked.events.map(({ seconds, what }) => `${secondsText(seconds)} ${what}`),
    secondsText(asked.seconds),
  ].join(" · ");

function BrokenOff({ result, asked }: { readonly result: Waveform; readonly asked: WaveformConditions }) {
  const { interrupted_seconds: at } = result;
  if (at === undefined) return null;
  return (
    <p class="look">
      Broken off at {secondsText(at)} of {secondsText(asked.seconds)}: what follows ends there.
    </p>
  );
}

function Drawn({ run: { circuit: now, asked }, result }: { readonly run: Run; readonly result: Waveform }) {
  const title = askedText(result, asked);
  const phrases = () => [...conditionPhrases(now, asked, [result]), ...waveformPhrases(asked)];
  return (
    <figure>
      <BrokenOff result={result} asked={asked} />
      <Oscillogram now={now} result={result} title={`Oscillogram: ${title}`} />
      <figcaption>
        <p class="faint">{title}</p>
        <Readings now={now} result={result} />
      </figcaption>
      <Downloads
        what="oscillogram"
        files={[
          { ending: "-waveform.svg", text: () => waveformSvg(now, [result], phrases()) },
          { ending: "-waveform.csv", text: () => waveformCsv([result]) },
        ]}
      />
    </figure>
  );
}

function Found() {
  const done = lastRun.value;
  if (done === undefined) return null;
  const { found, failures } = done.output;
  const nothing = found !== undefined && found.seconds.length < 2;
  return (
    <div class={outOfDate.value ? "earlier" : ""}>
      {outOfDate.value ? <p>This is of an earlier state; run it again for the present one.</p> : null}
      <Failures failures={failures} />
      {nothing ? <p>Broken off before anything could be written down.</p> : null}
      {found === undefined || nothing ? null : <Drawn run={done} result={found} />}
    </div>
  );
}

function Waveforms() {
  const now = circuit.value;
  if (now === undefined) return <p class="faint">There is no circuit yet.</p>;
  return (
    <>
      <Begin now={now} />
      <Tones now={now} />
      <More now={now} />
      <Nets now={now} />
      <Amiss />
      <RunLine
        name="run"
        state={work.state.value}
        disabled={amiss.value !== undefined}
        onRun={run}
        onCancel={work.cancel}
      />
      <Found />
      {hasGovernor(now) ? <Regulation now={now} /> : null}
    </>
  );
}

export const waveforms: Section = { id: ID, title: "Waveforms", Content: Waveforms };

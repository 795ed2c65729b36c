/** The voltage chart: a row a transistor, then the nets; and a field for the reading beside every figure. */
import { useComputed } from "@preact/signals";
import { amps as ampsText, decimal, volts as voltsText } from "../../report/numbers.ts";
import { huntingTexts, voltageNotes } from "../../report/voltage-notes.ts";
import { type Figures, figuresOf, type PointFigure, type TransistorFigures } from "../compute/figures.ts";
import { chart, conditions, mode, present, settledChart } from "../compute/live.ts";
import { circuit, labelOf } from "../compute/netlist.ts";
import { Halting } from "../controls/worked.tsx";
import { useFollowed } from "../long-work/follow.ts";
import { held } from "../state/hand.ts";
import { settings } from "../state/store.ts";
import { furtherOpen, opened } from "./chart-state.ts";
import type { Section } from "./section.ts";
import { CurrentCell, type Parts, PartsLine, PointCell } from "./voltage-cell.tsx";

interface RowProps {
  readonly row: TransistorFigures;
  readonly before: TransistorFigures | undefined;
  readonly stale: boolean;
  readonly parts: Parts;
}

function TransistorRow({ row, before, stale, parts }: RowProps) {
  const { name, type, pins, current } = row;
  const shown = [...pins, current].find(({ key }) => key === opened.value);
  return (
    <>
      <tr role="row">
        <th role="rowheader" scope="row">
          <span class="designator">{name}</span> {type}
          <span class="label">{labelOf(name)}</span>
        </th>
        {pins.map((figure, k) => (
          <td key={figure.key} role="cell" data-pin={COLUMNS[k]}>
            <PointCell figure={figure} before={before?.pins[k]} stale={stale} />
          </td>
        ))}
        <td role="cell" data-pin="current">
          <CurrentCell figure={current} before={before?.current} stale={stale} />
        </td>
      </tr>
      {shown === undefined ? null : (
        <tr role="row" class="parts-row">
          <td role="cell" colSpan={5}>
            <PartsLine figure={shown} parts={parts} />
          </td>
        </tr>
      )}
    </>
  );
}

const COLUMNS = ["emitter", "base", "collector"] as const;

interface NetsProps {
  readonly list: readonly PointFigure[];
  readonly before: readonly PointFigure[] | undefined;
  readonly stale: boolean;
  readonly parts: Parts;
}

function Nets({ list, before, stale, parts }: NetsProps) {
  if (list.length === 0) return null;
  const shown = list.find(({ key }) => key === opened.value);
  return (
    <>
      <ul class="nets" aria-label="Nets">
        {list.map((figure) => (
          <li key={figure.key}>
            <span class="net">{figure.key}</span>
            <PointCell figure={figure} before={before?.find(({ key }) => key === figure.key)} stale={stale} />
          </li>
        ))}
      </ul>
      {shown === undefined ? null : <PartsLine figure={shown} parts={parts} />}
    </>
  );
}

/** The nets between parts, which one seldom probes: behind a line that opens. */
function FurtherNets(props: NetsProps) {
  const { length } = props.list;
  if (length === 0) return null;
  return (
    <details
      open={furtherOpen.value}
      onToggle={({ currentTarget }) => {
        furtherOpen.value = currentTarget.open;
      }}
    >
      <summary>{length === 1 ? "one further net" : `${length} further nets`}</summary>
      <Nets {...props} />
    </details>
  );
}

/** Batteries, hot junctions, what does not amplify: a sentence. */
function notesText({ rows }: Figures): string {
  const supplies = rows.supplies.flatMap(({ name, values: [value] }) =>
    value === undefined ? [] : [`${name} gives ${voltsText(value.volts)}, ${ampsText(value.amps)}`],
  );
  const motors = rows.motors.flatMap(({ name, values: [value] }) =>
    value === undefined
      ? []
      : [
          `${name} ${value.stalled ? "is stalled" : `turns at ${decimal(value.rpm, 0)} rpm`}, ${ampsText(value.amps)}`,
        ],
  );
  return [...supplies, ...motors, ...huntingTexts(rows), ...voltageNotes(rows, [0])].join(" · ");
}

function Head() {
  return (
    <thead role="rowgroup">
      <tr role="row">
        <th role="columnheader" scope="col">
          <span class="unseen">transistor</span>
        </th>
        {[...COLUMNS, "current"].map((name) => (
          <th key={name} role="columnheader" scope="col">
            <span>{name}</span>
          </th>
        ))}
      </tr>
    </thead>
  );
}

const question = () => {
  const now = circuit.value;
  return now === undefined ? undefined : { circuit: now, conditions: conditions.value, mode: mode.value };
};

function Voltages() {
  const bands = useFollowed("bands", "spread", question);
  const parts = useFollowed("parts of a figure", "influences", () =>
    opened.value === undefined ? undefined : question(),
  );
  const spread = useComputed(() => {
    const found = bands.value.value;
    return found?.mode === mode.value ? found.chart : undefined;
  });
  const figures = useComputed(() =>
    present.value === undefined || circuit.value === undefined || chart.value === undefined
      ? undefined
      : figuresOf(circuit.value, chart.value, spread.value),
  );
  const before = useComputed(() =>
    held.value === undefined || circuit.value === undefined || settledChart.value === undefined
      ? undefined
      : figuresOf(circuit.value, settledChart.value),
  );
  const now = figures.value;
  if (now === undefined) return <p class="faint">Nothing could be solved yet.</p>;
  const { stale, progress, failure } = bands.value;
  const { meter } = settings.value;
  const notes = notesText(now);
  if (now.transistors.length + now.nets.length + now.further.length === 0) {
    return <p class="faint">In {mode} every net rests at 0 V: there is nothing to measure.</p>;
  }
  return (
    <div class={present.value?.failure === undefined ? "" : "stale"}>
      <p class="faint">
        Volts against chassis, in {mode}
        {meter.trim() === "" ? "" : `, as a meter of ${meter.trim()} reads them`}; beneath them the healthy
        band, in italics what is printed.{" "}
        <span class="progress in-line">
          {progress === undefined ? "" : `${Math.round(100 * progress)} %`}
          <Halting state={bands.value} doing="working out the bands" />
        </span>
        {failure === undefined ? "" : ` No bands: ${failure}.`}
      </p>
      {now.transistors.length === 0 ? null : (
        <table class="chart" role="table">
          <Head />
          <tbody role="rowgroup">
            {now.transistors.map((row) => (
              <TransistorRow
                key={row.name}
                row={row}
                before={before.value?.transistors.find(({ name }) => name === row.name)}
                stale={stale}
                parts={parts.value}
              />
            ))}
          </tbody>
        </table>
      )}
      <Nets list={now.nets} before={before.value?.nets} stale={stale} parts={parts.value} />
      <FurtherNets list={now.further} before={before.value?.further} stale={stale} parts={parts.value} />
      <p class="faint chart-notes">
        {notes}
        <span class="progress">
          {notes === "" ? "" : " · "}press a figure, or the arrow down in its field, for what makes it so
        </span>
      </p>
    </div>
  );
}

export const voltages: Section = { id: "voltages", title: "Voltages", Content: Voltages };

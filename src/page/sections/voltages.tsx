/** The voltage chart: a row a transistor, then the nets; and a field for the reading beside every figure. */
import { signal, useComputed } from "@preact/signals";
import { amps as ampsText, plain, volts as voltsText } from "../../report/numbers.ts";
import { voltageNotes } from "../../report/voltage-notes.ts";
import {
  type CurrentFigure,
  expected,
  type Figures,
  figuresOf,
  type PointFigure,
  type TransistorFigures,
} from "../compute/figures.ts";
import { chart, conditions, mode, present, settledChart } from "../compute/live.ts";
import { circuit, labelOf } from "../compute/netlist.ts";
import { type Followed, useFollowed } from "../long-work/follow.ts";
import type { InfluencesOutput } from "../long-work/influences.ts";
import { held } from "../state/hand.ts";
import type { Band } from "../state/marks.ts";
import { settings } from "../state/store.ts";
import { pointWords } from "../words.ts";
import { furtherOpen, ReadingField } from "./reading-field.tsx";
import type { Section } from "./section.ts";
import { bandText, influencesText, meterText, wasText } from "./voltage-text.ts";

/** The figure whose parts are shown, by its key. */
const opened = signal<string | undefined>(undefined);

function open(key: string): void {
  opened.value = opened.value === key ? undefined : key;
}

interface FigureProps {
  readonly id: string;
  readonly value: number | undefined;
  readonly before: number | undefined;
  readonly unit: string;
}

/** A figure, and before it what it was as long as a control is held; the room for that is always there. */
function Figure({ id, value, before, unit }: FigureProps) {
  const was = held.value === undefined ? "" : wasText(before, value);
  return (
    <>
      <span class="was">{was === "" ? "" : `${was}\u2009→`}</span>
      <button
        type="button"
        class="figure"
        aria-expanded={opened.value === id}
        aria-controls={opened.value === id ? "parts-of-figure" : undefined}
        title="what makes it so"
        onClick={() => open(id)}
      >
        <span class="unseen">{pointWords(id)} </span>
        {value === undefined ? "open" : plain(value)}
        {unit === "" ? null : <span class="unit">{unit}</span>}
      </button>
    </>
  );
}

const BandLine = ({ band, stale }: { band: Band | undefined; stale: boolean }) => (
  <span class={stale ? "band stale" : "band"}>{band === undefined ? "" : bandText(band)}</span>
);

interface CellProps {
  readonly figure: PointFigure;
  readonly before: PointFigure | undefined;
  readonly figures: Figures;
  readonly stale: boolean;
}

function PointCell({ figure, before, figures, stale }: CellProps) {
  if (figure.net === "") return <span class="cell on-chassis">0</span>;
  return (
    <span class="cell">
      <Figure id={figure.key} value={expected(figure)} before={before && expected(before)} unit="" />
      <ReadingField figure={figure} figures={figures} />
      <BandLine band={figure.band} stale={stale} />
      <span class="printed">{figure.printed === undefined ? "" : plain(figure.printed)}</span>
    </span>
  );
}

function CurrentCell({
  figure,
  before,
  stale,
}: {
  figure: CurrentFigure;
  before: CurrentFigure | undefined;
  stale: boolean;
}) {
  const { key, amps, band } = figure;
  const thousandfold = band && { least: 1e3 * band.least, greatest: 1e3 * band.greatest };
  return (
    <span class="cell current">
      <Figure id={key} value={1e3 * amps} before={before && 1e3 * before.amps} unit="mA" />
      <BandLine band={thousandfold} stale={stale} />
    </span>
  );
}

type Parts = Followed<InfluencesOutput>;

function partsText(
  key: string,
  figure: PointFigure | CurrentFigure,
  { value, progress, failure }: Parts,
): string {
  const now = circuit.value;
  if (failure !== undefined) return failure;
  if (value?.found === undefined || now === undefined) {
    return progress === undefined ? "" : "looking at every part …";
  }
  if ("amps" in figure) {
    const list = value.found.transistors[key.replace(/ current$/, "")] ?? [];
    return `${key} ${ampsText(figure.amps)}. ${influencesText(list, "A", now)}`;
  }
  const list = value.found.nets[figure.net] ?? [];
  const at = expected(figure);
  const volts = at === undefined ? "held by nothing" : voltsText(at);
  return `${pointWords(key)} ${volts}. ${meterText(figure)}${influencesText(list, "V", now)}`;
}

/** One line beneath a row: the parts that make the pressed figure what it is. */
function PartsLine({ figure, parts }: { figure: PointFigure | CurrentFigure; parts: Parts }) {
  return (
    <p id="parts-of-figure" class={parts.stale ? "parts stale" : "parts"} aria-live="polite">
      {partsText(figure.key, figure, parts)}
    </p>
  );
}

interface RowProps {
  readonly row: TransistorFigures;
  readonly before: TransistorFigures | undefined;
  readonly figures: Figures;
  readonly stale: boolean;
  readonly parts: Parts;
}

function TransistorRow({ row, before, figures, stale, parts }: RowProps) {
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
            <PointCell figure={figure} before={before?.pins[k]} figures={figures} stale={stale} />
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
  readonly figures: Figures;
  readonly stale: boolean;
  readonly parts: Parts;
}

function Nets({ list, before, figures, stale, parts }: NetsProps) {
  if (list.length === 0) return null;
  const shown = list.find(({ key }) => key === opened.value);
  return (
    <>
      <ul class="nets" aria-label="Nets">
        {list.map((figure) => (
          <li key={figure.key}>
            <span class="net">{figure.key}</span>
            <PointCell
              figure={figure}
              before={before?.find(({ key }) => key === figure.key)}
              figures={figures}
              stale={stale}
            />
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
  return [...supplies, ...voltageNotes(rows, [0])].join(" · ");
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
            {name}
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
  return (
    <div class={present.value?.failure === undefined ? "" : "stale"}>
      <p class="faint">
        Volts against chassis{meter.trim() === "" ? "" : `, as a meter of ${meter.trim()} reads them`}, in{" "}
        {mode}. Beneath each figure the band of healthy specimens
        {progress === undefined ? "" : ` (${Math.round(100 * progress)} % of them looked at)`}, beside it the
        printed value. {failure === undefined ? "" : `No bands: ${failure}.`}
      </p>
      <table class="chart" role="table">
        <Head />
        <tbody role="rowgroup">
          {now.transistors.map((row) => (
            <TransistorRow
              key={row.name}
              row={row}
              before={before.value?.transistors.find(({ name }) => name === row.name)}
              figures={now}
              stale={stale}
              parts={parts.value}
            />
          ))}
        </tbody>
      </table>
      <Nets list={now.nets} before={before.value?.nets} figures={now} stale={stale} parts={parts.value} />
      <FurtherNets
        list={now.further}
        before={before.value?.further}
        figures={now}
        stale={stale}
        parts={parts.value}
      />
      <p class="faint">{notesText(now)}</p>
    </div>
  );
}

export const voltages: Section = { id: "voltages", title: "Voltages", Content: Voltages };

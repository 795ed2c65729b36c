/** One figure of the voltage chart with its band, and the line of what makes it so. */
import { amps as ampsText, plain, volts as voltsText } from "../../report/numbers.ts";
import { type CurrentFigure, expected, type PointFigure } from "../compute/figures.ts";
import { circuit } from "../compute/netlist.ts";
import { Halting } from "../controls/worked.tsx";
import type { Followed } from "../long-work/follow.ts";
import type { InfluencesOutput } from "../long-work/influences.ts";
import { held } from "../state/hand.ts";
import type { Band } from "../state/marks.ts";
import { pointWords } from "../words.ts";
import { open, opened } from "./chart-state.ts";
import { CurrentField } from "./current-field.tsx";
import { ReadingField } from "./reading-field.tsx";
import { bandText, changeText, influencesText, meterText, wasText } from "./voltage-text.ts";

interface FigureProps {
  readonly id: string;
  readonly value: number | undefined;
  readonly unit: string;
}

/** A figure; the keyboard gets to what makes it so from the field beside it. */
function Figure({ id, value, unit }: FigureProps) {
  return (
    <button
      type="button"
      class="figure"
      tabIndex={-1}
      aria-expanded={opened.value === id}
      aria-controls={opened.value === id ? "parts-of-figure" : undefined}
      title="what makes it so"
      onClick={() => open(id)}
    >
      <span class="unseen">{pointWords(id)} </span>
      {value === undefined ? "open" : plain(value)}
      {unit === "" ? null : <span class="unit">{unit}</span>}
    </button>
  );
}

interface BeneathProps {
  readonly value: number | undefined;
  readonly before: number | undefined;
  readonly band: Band | undefined;
  readonly stale: boolean;
}

/** Beneath a figure its band; as long as a control is held and moves it, old and new in its place. */
function Beneath({ value, before, band, stale }: BeneathProps) {
  const was = held.value === undefined ? "" : wasText(before, value);
  if (was !== "") return <span class="was">{changeText(was, plain(value!))}</span>;
  return <span class={stale ? "band stale" : "band"}>{band === undefined ? "" : bandText(band)}</span>;
}

interface CellProps<Of> {
  readonly figure: Of;
  readonly before: Of | undefined;
  readonly stale: boolean;
}

export function PointCell({ figure, before, stale }: CellProps<PointFigure>) {
  if (figure.net === "") return <span class="cell on-chassis">0</span>;
  const [value, old] = [expected(figure), before && expected(before)];
  return (
    <span class="cell">
      <Figure id={figure.key} value={value} unit="" />
      <ReadingField figure={figure} />
      <Beneath value={value} before={old} band={figure.band} stale={stale} />
      <span class="printed">{figure.printed === undefined ? "" : plain(figure.printed)}</span>
    </span>
  );
}

export function CurrentCell({ figure, before, stale }: CellProps<CurrentFigure>) {
  const { key, amps, band } = figure;
  const thousandfold = band && { least: 1e3 * band.least, greatest: 1e3 * band.greatest };
  return (
    <span class="cell current">
      <Figure id={key} value={1e3 * amps} unit="mA" />
      <CurrentField figure={figure} />
      <Beneath value={1e3 * amps} before={before && 1e3 * before.amps} band={thousandfold} stale={stale} />
    </span>
  );
}

export type Parts = Followed<InfluencesOutput>;

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
export function PartsLine({ figure, parts }: { figure: PointFigure | CurrentFigure; parts: Parts }) {
  return (
    <p id="parts-of-figure" class={parts.stale ? "parts stale" : "parts"} aria-live="polite">
      {partsText(figure.key, figure, parts)}
      <span class="progress in-line">
        <Halting state={parts} doing="looking at every part" />
      </span>
    </p>
  );
}

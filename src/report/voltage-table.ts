/** The voltage chart on a terminal, as the trade prints it. */
import type { VoltageChart } from "../bench/results.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { type ChartRows, chartRows } from "./chart-rows.ts";
import { harmless, unbound, widthOf, wrap } from "./columns.ts";
import { differenceText } from "./differences.ts";
import { gridBlock } from "./grid-block.ts";
import { type Ink, inkFor } from "./ink.ts";
import { celsius } from "./numbers.ts";
import { titled } from "./titled.ts";
import {
  type Grid,
  motorGrid,
  netGrid,
  supplyGrid,
  type Thoroughness,
  transistorGrid,
} from "./voltage-grids.ts";
import { huntingTexts, restText, voltageNotes } from "./voltage-notes.ts";

export interface TableOptions {
  /** Characters a line may have. */
  readonly width: number;
  /** Whether the terminal shows colour and weight. */
  readonly color: boolean;
}

/** How many modes stand side by side, and which columns each has. */
interface Plan {
  readonly abreast: number;
  readonly thoroughness: Thoroughness;
}

const THOROUGHNESS: readonly Thoroughness[] = ["full", "lean"];

/** From everything in one row to one mode above the other. */
function plans(modes: number): readonly Plan[] {
  const widths = Array.from({ length: modes }, (_, i) => modes - i);
  return widths.flatMap((abreast) => THOROUGHNESS.map((thoroughness) => ({ abreast, thoroughness })));
}

function blocks(rows: ChartRows, { abreast, thoroughness }: Plan, ink: Ink): readonly string[] {
  const modes = rows.modes.map((_, i) => i);
  const starts = modes.filter((i) => i % abreast === 0);
  return starts.flatMap((start) => {
    const shown = modes.slice(start, start + abreast);
    const grids: readonly Grid[] = [
      transistorGrid(rows, shown, thoroughness),
      netGrid(rows, shown),
      supplyGrid(rows, shown),
      motorGrid(rows, shown),
    ];
    const heads = shown.map((i) => harmless(rows.modes[i]!));
    return [...gridBlock(heads, grids, ink), "", ...notes(rows, shown, thoroughness)];
  });
}

/** The lines under a block: what its columns leave out. */
function notes(rows: ChartRows, shown: readonly number[], thoroughness: Thoroughness): readonly string[] {
  const lines = thoroughness === "full" ? [] : voltageNotes(rows, shown).map(unbound).map(harmless);
  return lines.length === 0 ? [] : [...lines, ""];
}

/**
 * The voltage chart: transistors with emitter, base and collector, then nets, batteries and motors, the modes
 * side by side where `width` allows; what differs between modes last. Lines may come out wider than
 * `width` only where a single mode does not fit.
 */
export function voltageTable(
  circuit: Circuit,
  charts: readonly VoltageChart[],
  options: TableOptions,
): string {
  const rows = chartRows(circuit, charts);
  const plain = inkFor(false);
  const fits = (plan: Plan) => blocks(rows, plan, plain).every((line) => widthOf(line) <= options.width);
  const plan = plans(rows.modes.length).find(fits) ?? { abreast: 1, thoroughness: "lean" };
  const ink = inkFor(options.color);
  const ambient = `Volts against chassis, ambient ${rows.ambient.map(celsius).join(", ")}`;
  const found = [
    "",
    ...blocks(rows, plan, ink),
    ...[...huntingTexts(rows), restText(rows), differenceText(rows)].flatMap((text) =>
      text === "" ? [] : wrap(harmless(text), options.width),
    ),
  ];
  return titled(circuit, [ambient], found, options);
}

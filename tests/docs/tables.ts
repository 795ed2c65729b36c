/** Tables of the documents that the code knows better: written between two comments by `UPDATE=1`. */

import { COMMON_WEIGHTS } from "../../src/bench/suspects/weights.ts";
import { MATERIALS } from "../../src/devices/material.ts";
import {
  DIODE_FIGURES,
  DIODE_LIMITS,
  type Figure,
  TRANSISTOR_FIGURES,
  TRANSISTOR_LIMITS,
} from "../../src/devices/sheet.ts";
import { type AnyUnit, writeValue } from "../../src/language/units.ts";
import { PART_KINDS } from "../../src/parts/index.ts";
import type { PartKind, Property, Tail } from "../../src/parts/kind.ts";
import { STANDARDS } from "../../src/tape/standards.ts";

const table = (head: readonly string[], rows: readonly (readonly string[])[]): string =>
  [head, head.map(() => "---"), ...rows].map((cells) => `| ${cells.join(" | ")} |`).join("\n");

const written = (value: number, unit: AnyUnit): string =>
  unit === "percent" ? `${value * 100} %` : writeValue(value, unit, 3).replace(/^-/, "−");

const range = (unit: AnyUnit, plausible: readonly [number, number] | undefined): string =>
  plausible === undefined ? "" : plausible.map((limit) => written(limit, unit)).join(" to ");

interface Row {
  readonly word: string;
  readonly property: Pick<Property, "unit" | "meaning" | "zero" | "default" | "plausible">;
}

const tailRows = (behind: string, tails: readonly Tail[] = []): Row[] =>
  tails.flatMap((tail) => ("names" in tail ? [] : [{ word: `${behind} … ${tail.word}`, property: tail }]));

function rowsOf({ bare = [], words = {} }: PartKind): Row[] {
  const named = Object.entries(words);
  return [
    ...bare.flatMap((property) => [{ word: "", property }, ...tailRows("value", property.tails)]),
    ...named.flatMap(([word, property]) => [{ word, property }, ...tailRows(word, property.tails)]),
  ];
}

const defaultOf = ({ unit, zero, default: value }: Row["property"]): string => {
  if (value !== undefined) return written(value, unit);
  return zero ? "none; 0 allowed" : "";
};

const code = (word: string) => (word === "" ? "" : `\`${word}\``);

function partsTable(): string {
  const rows = PART_KINDS.flatMap((kind) =>
    rowsOf(kind).map(({ word, property }, k) => [
      k === 0 ? code(kind.keyword) : "",
      code(word),
      property.meaning,
      defaultOf(property),
      range(property.unit, property.plausible),
    ]),
  );
  return table(["part", "word", "meaning", "default", "usual range"], rows);
}

const conditions = ({ tails = [] }: Figure): string =>
  tails
    .map(({ word, meaning, optional }) => `\`${word}\` ${meaning}${optional ? " (optional)" : ""}`)
    .join(", ");

function figuresTable(figures: readonly Figure[], limits: readonly Figure[]): string {
  const rows = figures.map((figure) => [
    code(figure.key),
    figure.meaning,
    conditions(figure),
    range(figure.unit, figure.plausible),
  ]);
  const limitRows = limits.map(({ key, meaning }) => [code(`limits ${key}`), meaning, "", ""]);
  return table(["figure", "meaning", "holds", "usual range"], [...rows, ...limitRows]);
}

function defaultsTable(): string {
  const { germanium, silicon } = MATERIALS;
  const row = (
    figure: string,
    unit: AnyUnit,
    pick: (m: typeof germanium) => number,
    at?: (m: typeof germanium) => string,
  ) => [
    figure,
    ...[germanium, silicon].map(
      (m) => `${writeValue(pick(m), unit)}${at === undefined ? "" : ` at ${at(m)}`}`,
    ),
  ];
  return table(
    ["figure", "germanium", "silicon"],
    [
      row(
        "`vbe`, and `vf` of a diode",
        "volt",
        (m) => m.vbe.volts,
        (m) => writeValue(m.vbe.at, "ampere"),
      ),
      row("`leakage` at 25 °C, or what the junctions alone leak if that is more", "ampere", (m) => m.leakage),
      row("`doubling`", "kelvin", (m) => m.doubling),
      row("`hfe_reverse`", "number", (m) => m.hfeReverse),
      row("`early`", "volt", (m) => m.early),
      row("`ft`, at the current of `hfe`", "hertz", (m) => m.ft),
      row(
        "`ccb`",
        "farad",
        (m) => m.ccb.farads,
        (m) => writeValue(m.ccb.at, "volt"),
      ),
      row("`rbb`", "ohm", (m) => m.rbb),
      row("`flicker`", "hertz", (m) => m.flicker),
      ["band gap Eg", ...[germanium, silicon].map((m) => `${m.bandGap} eV`)],
      row("built-in voltage φ", "volt", (m) => m.junctionPotential),
    ],
  );
}

/** By the name in `<!-- begin NAME -->`. */
const microseconds = (seconds: number): string =>
  Number.isFinite(seconds) ? String(Number((1e6 * seconds).toPrecision(4))) : "–";

const standards = (): string =>
  table(
    ["cm/s", "name", "bass, µs", "treble, µs", "published by", "source"],
    STANDARDS.map(({ speed, name, low, high, bodies, source }) => [
      String(Number((100 * speed).toPrecision(4))),
      `\`${name}\``,
      microseconds(low),
      microseconds(high),
      bodies,
      source,
    ]),
  );

const faultWeights = (): string =>
  table(
    ["part", "fault", "weight"],
    Object.entries(COMMON_WEIGHTS).map(([key, weight]) => [...key.split(": "), String(weight)]),
  );

export const TABLES: Readonly<Record<string, () => string>> = {
  parts: partsTable,
  "transistor-figures": () => figuresTable(TRANSISTOR_FIGURES, TRANSISTOR_LIMITS),
  "diode-figures": () => figuresTable(DIODE_FIGURES, DIODE_LIMITS),
  defaults: defaultsTable,
  standards,
  "fault-weights": faultWeights,
};

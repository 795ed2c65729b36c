/** The spread as rows, before anyone lays it out: transistors pin by pin, other nets, gains. */
import type { Cause, GivenInBand, NetSpread, SpreadChart } from "../bench/spread/results.ts";
import type { Circuit } from "../circuit/circuit.ts";

export interface SpreadRow {
  /** `E`, `B`, `C`, `Ic`, a net or a path. */
  readonly label: string;
  readonly unit: "V" | "mA" | "dB" | "dB A/V";
  readonly least: number;
  readonly typical: number;
  readonly greatest: number;
  readonly causes: readonly Cause[];
  readonly printed?: GivenInBand;
  readonly reading?: GivenInBand;
}

export interface SpreadGroup {
  readonly name: string;
  /** The device type of a transistor. */
  readonly type?: string;
  readonly rows: readonly SpreadRow[];
}

const PINS = [
  ["e", "E"],
  ["b", "B"],
  ["c", "C"],
] as const;

const netRow = (label: string, net: NetSpread): SpreadRow => ({
  label,
  unit: "V",
  least: net.least_volts,
  typical: net.typical_volts,
  greatest: net.greatest_volts,
  causes: net.causes,
  ...(net.printed !== undefined && { printed: net.printed }),
  ...(net.reading !== undefined && { reading: net.reading }),
});

/** In mA, positive in the direction of the type's arrow. */
function currentRow(circuit: Circuit, type: string, band: SpreadChart["transistors"][string]["ic_amps"]) {
  const pnp = circuit.types[type]?.device === "pnp";
  const row = { label: "Ic", unit: "mA" as const, typical: 1e3 * (pnp ? -1 : 1) * band.typical };
  const [least, greatest] = pnp ? [-band.greatest, -band.least] : [band.least, band.greatest];
  return { ...row, least: 1e3 * least, greatest: 1e3 * greatest, causes: band.causes };
}

function transistorGroup(circuit: Circuit, chart: SpreadChart, name: string): SpreadGroup {
  const { type, ic_amps } = chart.transistors[name]!;
  const pins = PINS.flatMap(([pin, label]) => {
    const net = Object.values(chart.nets).find(({ points }) => points.includes(`${name}.${pin}`));
    return net === undefined ? [] : [netRow(label, net)];
  });
  return { name, type, rows: [...pins, currentRow(circuit, type, ic_amps)] };
}

/** Below this a net does not leave 0 V, V. */
const AT_REST = 5e-4;
const MOVES = (row: SpreadRow): boolean => Math.max(Math.abs(row.least), Math.abs(row.greatest)) >= AT_REST;

/** Transistors, then nets with a name or a given voltage that no transistor shows, then gains. */
export function spreadGroups(circuit: Circuit, chart: SpreadChart): readonly SpreadGroup[] {
  const names = Object.keys(chart.transistors);
  const shown = (net: NetSpread) =>
    net.points.some((point) => names.includes(point.slice(0, point.indexOf("."))));
  const nets = Object.entries(chart.nets)
    .filter(
      ([name, net]) =>
        !shown(net) && (!name.includes(".") || net.printed !== undefined || net.reading !== undefined),
    )
    .map(([name, net]) => netRow(name, net))
    .filter(MOVES);
  const gains = Object.entries(chart.paths).map(
    ([label, { quantity, gain_db }]): SpreadRow => ({
      label,
      unit: quantity === "current" ? "dB A/V" : "dB",
      ...gain_db,
    }),
  );
  return [
    ...names.map((name) => transistorGroup(circuit, chart, name)),
    { name: "nets", rows: nets },
    { name: "gain", rows: gains },
  ].filter(({ rows }) => rows.length > 0);
}

/** `R5 44 %`, `T1 hfe 12 %`: the part alone where its main value is meant. */
export function causeText({ part, quantity, share }: Cause): string {
  const what = quantity === "hfe" || quantity === "leakage" ? ` ${quantity}` : "";
  return `${part}${what} ${Math.round(100 * share)}\u00a0%`;
}

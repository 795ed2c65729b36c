import type { Circuit, DeviceType, Part } from "../circuit/circuit.ts";
import type { Diagnostic } from "../circuit/diagnostic.ts";
import { kindOf } from "../parts/index.ts";
import type { Limit } from "../parts/kind.ts";
import type { PartReading, TransistorReading, VoltageChart } from "./results.ts";

/** Something out of bounds in one mode. */
interface Excess {
  readonly part: Part;
  readonly mode: string;
  /** Complete but for the mode: `C3 stands 7.2 V, above its rated voltage of 6 V`. */
  readonly finding: string;
  readonly hint: string;
}

/**
 * Warnings that only the operating point can give: electrolytics the wrong way round, and parts beyond
 * what they stand. One warning a part and finding, naming the modes it holds in.
 */
export function operatingWarnings(circuit: Circuit, charts: readonly VoltageChart[]): Diagnostic[] {
  const found = charts.flatMap((chart) =>
    circuit.parts.flatMap((part) => [
      ...partExcesses(circuit, part, chart),
      ...transistorExcesses(circuit, part, chart),
      ...hotDiode(circuit, part, chart),
    ]),
  );
  const byKey = new Map<string, Excess[]>();
  for (const excess of found) {
    const key = `${excess.part.name} ${excess.hint}`;
    byKey.set(key, [...(byKey.get(key) ?? []), excess]);
  }
  return [...byKey.values()].map(diagnosticOf);
}

function diagnosticOf(same: readonly Excess[]): Diagnostic {
  const first = same[0]!;
  const modes = [...new Set(same.map(({ mode }) => mode))];
  const { file, line, column } = first.part.place;
  return {
    severity: "warning",
    message: `${first.finding} (mode${modes.length > 1 ? "s" : ""} ${modes.join(", ")})`,
    hint: first.hint,
    file,
    line,
    column,
    length: first.part.name.length,
  };
}

const UNITS = { volts: "V", amps: "A", watts: "W" } as const;

/** Three significant digits with a prefix: `72.4 mW`. */
function shown(value: number, unit: string): string {
  const size = Math.abs(value);
  const [scale, prefix] = size >= 1 || size === 0 ? [1, ""] : size >= 1e-3 ? [1e3, "m"] : [1e6, "µ"];
  return `${Number((value * scale).toPrecision(3))
    .toString()
    .replace("-", "−")} ${prefix}${unit}`;
}

function partExcesses(circuit: Circuit, part: Part, chart: VoltageChart): Excess[] {
  const reading = chart.parts[part.name];
  if (reading === undefined) return [];
  return (kindOf(part).limits?.(part, circuit) ?? []).flatMap((limit) =>
    excessOf(part, reading, limit, chart.mode),
  );
}

function excessOf(part: Part, reading: PartReading, limit: Limit, mode: string): Excess[] {
  const { quantity, least, greatest, meaning } = limit;
  const value = reading[quantity];
  const unit = UNITS[quantity];
  if (greatest !== undefined && value > greatest) {
    const finding = `${part.name} has ${shown(value, unit)}, above ${shown(greatest, unit)}, ${meaning}`;
    return [
      { part, mode, finding, hint: `a part of a higher rating, or look for what drives ${part.name} so far` },
    ];
  }
  if (least === undefined || value >= least) return [];
  if (part.kind === "electrolytic" && meaning === "the right polarity") {
    const finding = `${part.name} is the wrong way round: its plus is ${shown(-value, unit)} below its minus`;
    return [{ part, mode, finding, hint: "exchange plus and minus, or check the voltages around it" }];
  }
  const finding = `${part.name} has ${shown(value, unit)}, beyond ${shown(least, unit)}, ${meaning}`;
  return [
    { part, mode, finding, hint: `a part of a higher rating, or look for what drives ${part.name} so far` },
  ];
}

/** What a transistor's sheet limits, as it reads at the operating point. */
function strains(
  reading: TransistorReading,
  type: DeviceType,
): [key: string, value: number, unit: string, what: string][] {
  const sign = type.device === "pnp" ? -1 : 1;
  const vcb = sign * (reading.c_volts - reading.b_volts);
  const veb = -sign * reading.vbe_volts;
  return [
    ["vce", sign * reading.vce_volts, "V", "V_CE"],
    ["vcb", vcb, "V", "V_CB"],
    ["veb", veb, "V", "reverse V_EB"],
    ["ic", Math.abs(reading.ic_amps), "A", "I_C"],
    ["ptot", reading.dissipation_watts, "W", "dissipation"],
    ["tj", reading.junction_celsius, "°C", "junction temperature"],
  ];
}

function transistorExcesses(circuit: Circuit, part: Part, chart: VoltageChart): Excess[] {
  const reading = chart.transistors[part.name];
  const type = circuit.types[part.type ?? ""];
  if (reading === undefined || type === undefined) return [];
  return strains(reading, type).flatMap(([key, value, unit, what]) => {
    const limit = type.figures[`limits.${key}`];
    if (limit === undefined || value <= limit) return [];
    return {
      part,
      mode: chart.mode,
      finding: `${part.name}: ${what} ${shown(value, unit)} is above the ${shown(limit, unit)} that ${type.name} stands`,
      hint: `a type with a higher ${what}, or look for what drives ${part.name} so far`,
    };
  });
}

/** A diode does not heat itself here: its junction has the temperature of its surroundings. */
function hotDiode(circuit: Circuit, part: Part, chart: VoltageChart): Excess[] {
  const type = circuit.types[part.type ?? ""];
  const limit = type?.figures["limits.tj"];
  if (part.kind !== "diode" || type === undefined || limit === undefined) return [];
  const celsius = chart.ambient_celsius;
  if (celsius <= limit) return [];
  const finding = `${part.name}: the ambient of ${shown(celsius, "°C")} is above the ${shown(limit, "°C")} that the junction of ${type.name} stands`;
  return [{ part, mode: chart.mode, finding, hint: "a type that stands more, or a cooler place" }];
}

import type { Conditions, Meter } from "../bench/conditions.ts";
import type { Circuit, PartState } from "../circuit/circuit.ts";
import { withPartStates } from "../circuit/conditions.ts";
import { partKind } from "../parts/index.ts";
import { quantityText } from "./quantities.ts";

/**
 * The conditions of a run as short phrases for titles: `modes play, record`, `B1 9 V`, `ambient 25 °C`,
 * what was set, and the meter.
 */
export function conditionPhrases(
  circuit: Circuit,
  conditions: Conditions,
  results: readonly { readonly mode: string }[],
  meter?: Meter,
): readonly string[] {
  const set = conditions.set ?? [];
  const batteries = withPartStates(circuit, set).parts.filter(({ kind }) => kind === "battery");
  const names = [...new Set(results.map(({ mode }) => mode))];
  const others = set.filter(({ part }) => !batteries.some(({ name }) => name === part));
  return [
    ...(names.length === 0 ? [] : [`${names.length > 1 ? "modes" : "mode"} ${names.join(", ")}`]),
    ...batteries.flatMap(({ name, values }) =>
      values.emf === undefined ? [] : [`${name} ${quantityText(values.emf, "volt")}`],
    ),
    `ambient ${quantityText(conditions.ambientCelsius ?? circuit.ambientCelsius, "celsius")}`,
    ...(conditions.isothermal ? ["no self-heating"] : []),
    ...others.map((state) => statePhrase(circuit, state)),
    ...(meter === undefined ? [] : [meterPhrase(meter)]),
  ];
}

/** `P1 30 %`, `S1 record`, `R7 4.7 kΩ`. */
function statePhrase(circuit: Circuit, { part, key, value }: PartState): string {
  if (typeof value === "string") return `${part} ${value}`;
  const kind = partKind(circuit.parts.find(({ name }) => name === part)?.kind ?? "");
  const known = [...(kind?.bare ?? []), ...Object.values(kind?.words ?? {})];
  const unit = known.find((property) => property.key === key)?.unit ?? "number";
  return `${part} ${quantityText(value, unit)}`;
}

const meterPhrase = (meter: Meter): string =>
  "ohms" in meter
    ? `meter ${quantityText(meter.ohms, "ohm")}`
    : `meter ${quantityText(meter.ohmsPerVolt, "ohm")}/V`;

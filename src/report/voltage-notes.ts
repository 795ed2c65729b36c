import { atRest, type ChartRows } from "./chart-rows.ts";
import { celsius, decimal, watts } from "./numbers.ts";

/** What the lean columns leave out, a line a transistor and mode: regions other than active, hot junctions. */
export function voltageNotes(rows: ChartRows, shown: readonly number[]): readonly string[] {
  return rows.transistors.flatMap(({ name, values }) =>
    shown.flatMap((i) => {
      const value = values[i];
      if (value === undefined) return [];
      const facts = [
        ...(value.region === "active" ? [] : [value.region]),
        ...(value.warm ? [`junction at ${celsius(value.celsius)}, ${watts(value.watts)}`] : []),
      ];
      const where = rows.modes.length > 1 ? ` in ${rows.modes[i]}` : "";
      return facts.length === 0 ? [] : [`${name}${where}: ${facts.join(", ")}`];
    }),
  );
}

/** The nets at 0 V in every mode, in a sentence; empty if there are none. */
export function restText({ nets, modes }: ChartRows): string {
  const names = nets.filter(atRest).map(({ name }) => name);
  if (names.length === 0) return "";
  return `At 0\u00a0V${modes.length > 1 ? " in every mode" : ""}: ${names.join(", ")}.`;
}

/** Governors that find no rest, a sentence each and mode. */
export const huntingTexts = ({ governors, modes }: ChartRows): readonly string[] =>
  governors.flatMap(({ name, values }) =>
    values.flatMap((value, i) => {
      if (value?.closed_rpm === undefined || value.open_rpm === undefined) return [];
      const where = modes.length > 1 ? ` in ${modes[i]}` : "";
      const [closed, open] = [value.closed_rpm, value.open_rpm].map((rpm) => `${decimal(rpm, 0)}\u00a0rpm`);
      return [
        `${name} hunts${where}: ${value.motor} would run at ${closed} with the contact closed, which opens it, and at ${open} with it open, which closes it. Shown with the contact as at rest.`,
      ];
    }),
  );

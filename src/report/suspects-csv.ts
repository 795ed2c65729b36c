import type { SuspectsResult } from "../bench/suspects/results.ts";
import { type Field, lines } from "./csv.ts";

const HEAD = [
  "what",
  "group",
  "part",
  "fault",
  "probability",
  "amount",
  "amount_unit",
  "mode",
  "point",
  "unit",
  "taken",
  "predicted",
  "bits",
];

/** Rows of readings, then of suspects by group, of the readings that each predicts, and of the next probes. */
export function suspectsCsv(result: SuspectsResult): string {
  const { readings, suspects, next, pairs = [] } = result;
  const row = (what: string, fields: Readonly<Record<string, Field>>): Field[] =>
    HEAD.map((key) => (key === "what" ? what : fields[key]));
  return lines([
    HEAD,
    row("no fault", { probability: result.no_fault_probability }),
    row("faults not seen", { probability: result.unseen_probability }),
    ...readings.map(({ mode, point, unit, taken, expected }) =>
      row("reading", { mode, point, unit, taken, predicted: expected }),
    ),
    ...suspects.flatMap((suspect, k) => [
      ...suspect.alike.map(({ part, fault, probability, amount }) =>
        row("suspect", {
          group: k + 1,
          part,
          fault,
          probability,
          amount: amount?.value,
          amount_unit: amount?.unit,
        }),
      ),
      ...readings.map(({ mode, point, unit, taken }, n) =>
        row("prediction", {
          group: k + 1,
          part: suspect.part,
          fault: suspect.fault,
          mode,
          point,
          unit,
          taken,
          predicted: suspect.predicted[n],
        }),
      ),
    ]),
    ...pairs.map(({ faults, probability }) =>
      row("pair", {
        part: faults.map(({ part }) => part).join(" "),
        fault: faults.map(({ fault }) => fault).join(" and "),
        probability,
      }),
    ),
    ...next.map(({ mode, point, bits }) => row("next", { mode, point, bits })),
  ]);
}

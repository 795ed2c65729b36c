/** Graded transistors for machines and for other commands: records, rows, and `type` blocks. */
import type { Grade } from "../bench/grade.ts";
import { lines } from "./csv.ts";

/** A grade with the `type` block of the sample as text. */
export interface WrittenGrade extends Grade {
  readonly netlist: string;
}

/** A grade as the machine-readable output has it: the block instead of the type. */
export function gradeRecord({ type: _, ...grade }: WrittenGrade): object {
  return grade;
}

const HEADS = [
  "sample",
  "like",
  "device",
  "material",
  "celsius",
  "open_amps",
  "fed_amps",
  "iceo_amps",
  "icbo_amps",
  "hfe",
  "iceo_amps_25",
  "icbo_amps_25",
  "hfe_25",
  "naive_hfe",
  "naive_error",
  "sheet_hfe",
  "sheet_amps",
  "hfe_verdict",
  "leakage_verdict",
  "pair_with",
];

/** A row a sample. */
export function gradesCsv(grades: readonly Grade[]): string {
  return lines([
    HEADS,
    ...grades.map((one) => [
      one.sample,
      one.like,
      one.device,
      one.material,
      one.celsius,
      one.readings.open_amps,
      one.readings.fed_amps,
      one.measured.iceo_amps,
      one.measured.icbo_amps,
      one.measured.hfe,
      one.at_25.iceo_amps,
      one.at_25.icbo_amps,
      one.at_25.hfe,
      one.naive_hfe,
      one.naive_error,
      one.verdict.sheet_hfe,
      one.verdict.sheet_amps,
      one.verdict.hfe,
      one.verdict.leakage,
      one.pair?.with,
    ]),
  ]);
}

/** The `type` blocks of all samples, ready for `use "FILE"`. */
export const gradesNetlist = (grades: readonly WrittenGrade[]): string =>
  `# Measured samples, as device types.\n\n${grades.map(({ netlist }) => netlist).join("\n")}`;

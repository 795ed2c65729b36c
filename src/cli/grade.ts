import { type Grades, grade } from "../bench/grade.ts";
import { writeType } from "../language/write-type.ts";
import { gradeRecord, gradesCsv, gradesNetlist } from "../report/grade-files.ts";
import { gradeSvg } from "../report/grade-svg.ts";
import { gradeTable, testText, type WrittenGrades } from "../report/grade-table.ts";
import { errorsJson, resultsJson } from "../report/json.ts";
import { celsius } from "../report/numbers.ts";
import { type Arguments, has } from "./arguments.ts";
import { sentence } from "./complaints.ts";
import type { Environment } from "./environment.ts";
import { deliver, destination } from "./output.ts";
import { readText } from "./reading.ts";
import { EXIT, Refusal } from "./refusal.ts";
import { oneSample, samplesFrom } from "./samples.ts";

/** `preprobe grade`: transistors from the drawer, from two readings each of a simple test. */
export function gradeCommand(given: Arguments, environment: Environment): number {
  const to = destination(given, "grade");
  const [file, extra] = given.operands;
  if (extra !== undefined)
    throw new Refusal(`grade takes one file of samples, but "${extra}" follows ${file}`);
  const tested =
    file === undefined ? oneSample(given) : samplesFrom(readText(file, environment, "table"), file, given);
  const grades = written(grade(tested));
  const { test } = tested[0]!;
  const errors = grades.refused.map(({ sample, message, hint }) => ({
    message: `${sample}: ${message}`,
    ...(hint !== undefined && { hint }),
  }));
  for (const error of errors) environment.stderr(sentence(error));
  const forms = {
    table: () => gradeTable(grades, test, environment),
    json: () => json(grades, `transistor test, ${testText(test)}`, errors),
    csv: () => gradesCsv(grades.results),
    files: {
      ".netlist": () => gradesNetlist(grades.results),
      ".svg": () => gradeSvg(grades, "Transistors tested", phrases(grades, testText(test))),
    },
  };
  if (grades.results.length > 0) deliver(forms, to, has(given, "quiet"), environment);
  else if (to.form === "json") environment.stdout(errorsJson({ command: "grade", errors }));
  return errors.length > 0 ? EXIT.badInput : EXIT.done;
}

const written = (grades: Grades): WrittenGrades => ({
  ...grades,
  results: grades.results.map((one) => ({ ...one, netlist: writeType(one.type) })),
});

const json = (grades: WrittenGrades, circuit: string, errors: readonly { message: string }[]): string =>
  resultsJson({
    command: "grade",
    circuit,
    warnings: [],
    results: grades.results.map(gradeRecord),
    ...(errors.length > 0 && { errors }),
  });

/** The test, the temperatures and the types, for the title of the plot. */
function phrases({ results }: Grades, test: string): readonly string[] {
  const degrees = [...new Set(results.map(({ celsius: tested }) => celsius(tested)))];
  const like = [...new Set(results.flatMap(({ like: type }) => type ?? []))];
  return [
    test,
    `tested at ${degrees.join(", ")}`,
    ...(like.length > 0 ? [`judged as ${like.join(", ")}`] : []),
  ];
}

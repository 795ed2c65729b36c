/** The netlist of the sheet, read; and the last one that was good. */
import { computed, type ReadonlySignal } from "@preact/signals";
import type { Circuit, Part } from "../../circuit/circuit.ts";
import type { Diagnostic } from "../../circuit/diagnostic.ts";
import { beside } from "../../language/files.ts";
import { type ReadResult, readNetlist } from "../../language/index.ts";
import { files, sheet } from "../state/store.ts";

/** Reads the file `main` and those that it uses. Never throws. */
export function readFiles(texts: Readonly<Record<string, string>>, main: string): ReadResult {
  const own = new Map(Object.entries(texts));
  const read = readNetlist(own.get(main) ?? "", {
    file: main,
    files: (name, from) => own.get(beside(name, from)),
  });
  if (read.circuit === undefined || read.circuit.parts.length > 0) return read;
  return { diagnostics: [...read.diagnostics, noParts(main)], sources: read.sources };
}

const noParts = (file: string): Diagnostic => ({
  severity: "error",
  message: "The netlist names no parts",
  hint: "a netlist has a line for each part",
  file,
  line: 1,
  column: 1,
  length: 0,
});

const main = computed(() => sheet.value.main);

/** Circuit, errors and warnings of the netlist as it is now. */
export const netlist: ReadonlySignal<ReadResult> = computed(() => readFiles(files.value, main.value));

export const diagnostics = computed(() => netlist.value.diagnostics);
export const errors = computed(() => diagnostics.value.filter(({ severity }) => severity === "error"));

let good: { readonly circuit: Circuit; readonly sources: ReadonlyMap<string, string> } | undefined;

const lastGood = computed(() => {
  const { circuit, sources } = netlist.value;
  if (circuit !== undefined) good = { circuit, sources };
  return good;
});

/** The last good circuit; undefined before there has been one. */
export const circuit: ReadonlySignal<Circuit | undefined> = computed(() => lastGood.value?.circuit);

/** Longer remarks are sentences about the circuit, no names. */
const LONGEST_LABEL = 34;

function labelIn(line: string): string {
  const remark = /#\s*(.*?)\s*$/.exec(line)?.[1] ?? "";
  return remark.length <= LONGEST_LABEL ? remark : "";
}

/** Of all parts at once: looked for one by one, thousands would take seconds. */
const labels = computed((): ReadonlyMap<string, string> => {
  const { circuit, sources } = lastGood.value ?? {};
  const lines = new Map([...(sources ?? [])].map(([file, text]) => [file, text.split("\n")]));
  const lineOf = ({ file, line }: Part["place"]) => lines.get(file)?.[line - 1] ?? "";
  return new Map(circuit?.parts.map(({ name, place }) => [name, labelIn(lineOf(place))]));
});

/** What a part is called: the short remark behind its line in the netlist, `# volume`; else empty. */
export const labelOf = (part: string): string => labels.value.get(part) ?? "";

import { readdirSync, readFileSync } from "node:fs";
import {
  type Circuit,
  operatingPoint,
  type PathResponse,
  readNetlist,
  response,
  type VoltageChart,
} from "../../src/index.ts";

const folder = new URL("../../netlists/", import.meta.url);

/** Every circuit of the folder, without the library of types. */
export const DEMOS = readdirSync(folder)
  .filter((file) => file.endsWith(".netlist") && file !== "library.netlist")
  .map((file) => file.slice(0, -".netlist".length));

export const textOf = (name: string): string => readFileSync(new URL(`${name}.netlist`, folder), "utf8");

export const readDemo = (name: string) => readNetlist(textOf(name), { file: `${name}.netlist` });

export function demo(name: string): Circuit {
  const { circuit, diagnostics } = readDemo(name);
  if (circuit === undefined) throw new Error(`${name}: ${diagnostics[0]?.message}`);
  return circuit;
}

/** The chart of one mode, which must have an operating point. */
export function chart(
  circuit: Circuit,
  mode: string,
  conditions: Parameters<typeof operatingPoint>[1] = {},
): VoltageChart {
  const { results, failures } = operatingPoint(circuit, { ...conditions, modes: [mode] });
  const [only] = results;
  if (only === undefined) throw new Error(failures[0]?.message ?? `no mode ${mode}`);
  return only;
}

/** Gain in dB of one path at the frequencies given, in the first mode it runs in or the one named. */
export function gains(
  circuit: Circuit,
  path: string,
  hertz: readonly number[],
  conditions: Parameters<typeof response>[1] = {},
): readonly number[] {
  return traced(circuit, path, hertz, conditions).gain_db;
}

export function traced(
  circuit: Circuit,
  path: string,
  hertz: readonly number[],
  conditions: Parameters<typeof response>[1] = {},
): PathResponse {
  const { results, failures } = response(circuit, { ...conditions, paths: [path], hertz });
  const [only] = results;
  if (only === undefined) throw new Error(failures[0]?.message ?? `no path ${path}`);
  return only;
}

/** The circuit with samples of transistors whose hfe is so many times that of their type. */
export function withHfe(circuit: Circuit, factors: Readonly<Record<string, number>>): Circuit {
  const types = { ...circuit.types };
  const parts = circuit.parts.map((part) => {
    const factor = factors[part.name];
    const type = types[part.type ?? ""];
    if (factor === undefined || type === undefined) return part;
    const name = `${type.name} in ${part.name}`;
    const { hfe = 1, hfe2 } = type.figures;
    types[name] = {
      ...type,
      name,
      figures: { ...type.figures, hfe: hfe * factor, ...(hfe2 !== undefined && { hfe2: hfe2 * factor }) },
    };
    return { ...part, type: name };
  });
  return { ...circuit, parts, types };
}

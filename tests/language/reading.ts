/** Shared by the tests of the language: a netlist's circuit, or what was said about it. */
import { readFileSync } from "node:fs";
import type { Circuit, Part } from "../../src/circuit/circuit.ts";
import { readNetlist } from "../../src/language/index.ts";

export const SAMPLE = readFileSync(new URL("sample.netlist", import.meta.url), "utf8");

/** The circuit of a netlist that must have no error. */
export function circuitOf(text: string): Circuit {
  const { circuit, diagnostics } = readNetlist(text);
  if (circuit === undefined) throw new Error(diagnostics.map((d) => `${d.line}: ${d.message}`).join("\n"));
  return circuit;
}

export function partOf(circuit: Circuit, name: string): Part {
  const part = circuit.parts.find((candidate) => candidate.name === name);
  if (part === undefined) throw new Error(`no part ${name}`);
  return part;
}

/** `LINE severity: sentence` of everything said about a netlist. */
export const said = (text: string): string[] =>
  readNetlist(text).diagnostics.map((d) => `${d.line} ${d.severity}: ${d.message}`);

/** Errors only. */
export const errors = (text: string): string[] => said(text).filter((line) => line.includes(" error: "));

/** A circuit around the statements given: a battery on `rail`. */
export const around = (...lines: string[]): string =>
  ["battery B1 6 V internal 1 ohm plus chassis minus rail", "resistor R0 1k rail to chassis", ...lines].join(
    "\n",
  );

/** The value that a resistor, capacitor … of this marking has, and its tolerance. */
export function marked(
  kind: string,
  marking: string,
): { value: number; tolerance?: readonly [number, number] } {
  const circuit = circuitOf(around(`${kind} X1 ${marking} rail to chassis`));
  const part = partOf(circuit, "X1");
  const value = Object.values(part.values)[0] ?? Number.NaN;
  const { tolerance } = part;
  return tolerance === undefined ? { value } : { value, tolerance: [tolerance.low, tolerance.high] };
}

import type { Circuit } from "../circuit/circuit.ts";
import { harmless, wrap } from "./columns.ts";
import { inkFor } from "./ink.ts";
import type { TableOptions } from "./voltage-table.ts";

/** A text for the terminal: the circuit's title, what was asked and under which conditions, what was found. */
export function titled(
  { title }: Circuit,
  phrases: readonly string[],
  found: readonly string[],
  { width, color }: TableOptions,
): string {
  const lines = [
    ...wrap(harmless(title), width).map(inkFor(color).strong),
    ...wrap(harmless(phrases.join(" · ")), width),
    ...found,
  ];
  return `${lines.join("\n").trimEnd()}\n`;
}

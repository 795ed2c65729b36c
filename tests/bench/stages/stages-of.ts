import type { Conditions } from "../../../src/bench/conditions.ts";
import type { FeedbackLoop, StageReading, StagesResult } from "../../../src/bench/stages/results.ts";
import { stages } from "../../../src/bench/stages.ts";
import type { Circuit } from "../../../src/circuit/circuit.ts";
import { readNetlist } from "../../../src/language/index.ts";

/** The circuit of `text`, which must be free of errors. */
export function circuitOf(text: string): Circuit {
  const { circuit, diagnostics } = readNetlist(text);
  if (circuit === undefined) throw new Error(diagnostics.map(({ message }) => message).join("\n"));
  return circuit;
}

/** The stages of the first mode, or of the one asked for. */
export function stagesOf(circuit: Circuit | string, conditions: Conditions = {}): StagesResult {
  const { results, failures } = stages(
    typeof circuit === "string" ? circuitOf(circuit) : circuit,
    conditions,
  );
  const [first] = results;
  if (first === undefined) throw new Error(failures[0]?.message ?? "no mode");
  return first;
}

export function stageIn({ stages: all }: StagesResult, name: string): StageReading {
  const found = all.find(({ transistor }) => transistor === name);
  if (found === undefined) throw new Error(`no ${name}`);
  return found;
}

export function loopIn({ loops }: StagesResult, from: string, to: string): FeedbackLoop {
  const found = loops.find((loop) => loop.from.includes(from) && loop.to.includes(to));
  if (found === undefined) throw new Error(`no loop from ${from} to ${to}`);
  return found;
}

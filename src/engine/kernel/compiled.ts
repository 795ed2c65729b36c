import type { ComplexReplay } from "./complex-replay.ts";
import type { Elimination } from "./elimination.ts";

export type CompiledReplay = ComplexReplay;

export function compileReplay(_elimination: Elimination): CompiledReplay | undefined {
  return undefined;
}

import type { Circuit, Part } from "../../circuit/circuit.ts";
import { type Variable, variablesOf } from "../spread/variables.ts";

/** The ends of what a good sample of a transistor's type has: hfe at the type's point, leakage at 25 °C in A. */
export function typicalSample(
  part: Part,
  circuit: Circuit,
): { readonly leastHfe: number; readonly greatestLeakage: number } {
  const { hfe, leakage, ...values } = part.values;
  const variables = variablesOf({ ...circuit, parts: [{ ...part, values }] }, {});
  const at = (quantity: string, t: number) =>
    variables.find((variable: Variable) => variable.quantity === quantity)?.values[0]?.at(t) ?? 0;
  return {
    leastHfe: Math.min(hfe ?? Number.POSITIVE_INFINITY, at("hfe", -1)),
    greatestLeakage: Math.max(leakage ?? 0, at("leakage", 1)),
  };
}

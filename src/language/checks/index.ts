/** What can be said of a circuit without solving it. */
import type { Circuit, Part } from "../../circuit/circuit.ts";
import { kindOf } from "../../parts/index.ts";
import type { Draft } from "../draft.ts";
import { CHASSIS, type NetTable } from "../nets.ts";
import { checkBatteryPole } from "./battery-pole.ts";
import { Examined } from "./checked.ts";
import { checkDangling } from "./dangling.ts";
import { chassisMeant } from "./ground-names.ts";
import { checkGrounding } from "./grounding.ts";
import { checkLoops } from "./loops.ts";

/** Adds to the draft's complaints what is wrong or doubtful in the circuit as a whole. */
export function checkCircuit(circuit: Circuit, draft: Draft, table: NetTable): void {
  const examined = new Examined(circuit, draft, table);
  if (circuit.parts.length === 0) {
    checkNotEmpty(draft);
    return;
  }
  checkParts(examined);
  checkLoops(examined);
  const grounded = table.grounded || draft.incomplete || draft.uncertain.has(CHASSIS);
  if (!grounded) complainOfChassis(examined);
  const loose = grounded ? checkGrounding(examined) : new Set<number>();
  checkDangling(examined, loose);
  checkBatteryPole(examined);
}

/** A file of types alone is sound; one that ought to be a circuit is not. */
function checkNotEmpty(draft: Draft): void {
  if (draft.complaints.errors > 0 || draft.types.size > 0 || draft.title === undefined) return;
  draft.complaints.error(draft.title, "The circuit has no parts", "add a line for each part");
}

/** The values of each part, as its own line and then as every mode has them. */
function checkParts(examined: Examined): void {
  const { circuit } = examined;
  const said = new Set<string>();
  for (const part of circuit.parts) checkPart(part, circuit, examined, said);
  for (const standing of examined.inModes) {
    standing.parts.forEach((part, k) => {
      if (part !== circuit.parts[k]) checkPart(part, standing, examined, said);
    });
  }
}

function checkPart(part: Part, circuit: Circuit, examined: Examined, said: Set<string>): void {
  const { complaints } = examined.draft;
  if (!examined.sound(part)) return;
  for (const { message, hint, severity, key } of kindOf(part).check?.(part, circuit) ?? []) {
    if (said.has(message)) continue;
    said.add(message);
    const at = examined.partSpan(part, key);
    if (severity === "warning") complaints.warning(at, message, hint);
    else complaints.error(at, message, hint);
  }
}

function complainOfChassis({ circuit, draft }: Examined): void {
  const battery = circuit.parts.find((part) => part.kind === "battery") ?? circuit.parts[0]!;
  draft.complaints.error(
    draft.parts.get(battery.name)!.name,
    "Nothing is connected to chassis, the net that all voltages are measured against",
    chassisMeant(circuit.nets.map(({ name }) => name)) ??
      (battery.kind === "battery" ? `connect a pole of ${battery.name} to chassis` : "name a net chassis"),
  );
}

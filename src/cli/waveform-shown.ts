import type { Shown } from "../bench/waveform/conditions.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { nearestWord } from "../language/index.ts";
import { Refusal } from "./refusal.ts";
import { netOf } from "./waveform-start.ts";

/** A net or pin, `A minus B`, `PART current`, `MOTOR speed`. */
export function readShown(text: string, circuit: Circuit): Shown {
  const [, part = "", quantity_] = /^(\S+) (current|speed)$/.exec(text) ?? [];
  if (quantity_ !== undefined) return shownOfPart(part, quantity_ as "current" | "speed", text, circuit);
  const [plus = "", minus, ...more] = text.split(" minus ");
  if (more.length > 0) throw new Refusal(`--show ${text}: not a voltage`, "write A minus B");
  return {
    kind: "net",
    net: netOf("show", plus.trim(), circuit),
    ...(minus !== undefined && { minus: netOf("show", minus.trim(), circuit) }),
    name: text,
  };
}

function shownOfPart(name: string, kind: "current" | "speed", text: string, { parts }: Circuit): Shown {
  const part = parts.find((each) => each.name === name);
  if (part === undefined) {
    const near = nearestWord(
      name,
      parts.map((each) => each.name),
    );
    throw new Refusal(
      `--show ${text}: there is no part ${name}`,
      near === undefined ? "write a part of the netlist, such as R5 current" : `did you mean ${near}?`,
    );
  }
  if (kind === "speed" && part.kind !== "motor")
    throw new Refusal(`--show ${text}: ${name} is no motor`, "only motors have a speed");
  return { kind, part: name, name: text };
}

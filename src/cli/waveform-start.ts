import type { Start } from "../bench/waveform/conditions.ts";
import type { Circuit } from "../circuit/circuit.ts";
import { nearestWord } from "../language/index.ts";
import { netNamed } from "../language/net-named.ts";
import { type Arguments, valuesGiven } from "./arguments.ts";
import { quantity } from "./conditions.ts";
import { Refusal, readEach, readTogether } from "./refusal.ts";

/** `rest`, `point`, and nets put to other voltages. Without a word: rest, or the point where something is done to it. */
export function readStart(given: Arguments, circuit: Circuit, disturbed: boolean): Start {
  const words = valuesGiven(given, "start");
  const plain = words.filter((word) => word === "rest" || word === "point");
  const others = words.filter((word) => word !== "rest" && word !== "point");
  const { displaced } = readTogether({
    plain: () => {
      if (new Set(plain).size > 1)
        throw new Refusal("--start rest and --start point exclude each other", "give one of them");
    },
    displaced: () => readEach(others, (word) => displacement(word, circuit)),
  });
  const fallback = disturbed || displaced.length > 0 ? "point" : "rest";
  return { from: (plain[0] as Start["from"] | undefined) ?? fallback, displaced };
}

function displacement(text: string, circuit: Circuit): Start["displaced"][number] {
  const equals = text.lastIndexOf("=");
  if (equals <= 0) {
    throw new Refusal(
      `--start ${text}: nothing starts so`,
      "write rest, point, or NET=VOLTS such as tank=10mV",
    );
  }
  const net = netOf("start", text.slice(0, equals).trim(), circuit);
  if (net === 0) throw new Refusal(`--start ${text}: chassis is 0 V, always`, "displace another net");
  return { net, volts: quantity("start", text.slice(equals + 1), "volt") };
}

/** A net by its name or by a pin on it. */
export function netOf(option: string, name: string, circuit: Circuit): number {
  const found = netNamed(circuit, name);
  if (found >= 0) return found;
  const near = nearestWord(
    name,
    circuit.nets.flatMap((net) => [net.name, ...net.points]),
  );
  throw new Refusal(
    `--${option}: there is no net or pin ${name}`,
    near === undefined
      ? `there are ${circuit.nets
          .slice(1, 9)
          .map((net) => net.name)
          .join(", ")}`
      : `did you mean ${near}?`,
  );
}

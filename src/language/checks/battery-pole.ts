import type { Examined } from "./checked.ts";

/** With PNP transistors the battery's plus is usually on chassis, with NPN its minus. */
export function checkBatteryPole(examined: Examined): void {
  const { circuit, draft } = examined;
  const polarities = new Set(
    circuit.parts
      .filter((part) => part.kind === "transistor" && part.type !== undefined)
      .map((part) => circuit.types[part.type!]?.device),
  );
  if (polarities.size !== 1 || draft.incomplete) return;
  const [polarity] = polarities;
  if (polarity !== "pnp" && polarity !== "npn") return;
  const usual = polarity === "pnp" ? "plus" : "minus";
  const batteries = circuit.parts.filter((part) => part.kind === "battery" && examined.sound(part));
  const poles = batteries.map((part) => part.pins.filter((pin) => pin.net === 0).map((pin) => pin.name));
  if (poles.length === 0 || poles.some((own) => own.length !== 1 || own[0] === usual)) return;
  for (const part of batteries) {
    const other = usual === "plus" ? "minus" : "plus";
    draft.complaints.warning(
      examined.partSpan(part),
      `${part.name} has its ${other} on chassis, but all transistors are ${polarity.toUpperCase()}, which usually have ${usual} there`,
      "exchange plus and minus, unless the circuit is really built so",
    );
  }
}

/**
 * Parts that a mode's switches connect in one of two modes and not in the other, found from the circuit:
 * from every contact point that is in use in one mode only, through parts of two points, up to points that
 * belong to the circuit in both modes.
 */
import type { Circuit, Part } from "../../circuit/circuit.ts";
import { contacts } from "../../parts/switch.ts";

/** A part that hangs on a contact, and the first or the second of the circuits in which that is closed. */
export interface SwitchedPart {
  /** Index into `Circuit.parts`. */
  readonly part: number;
  readonly connectedIn: 0 | 1;
}

/** How many closed contacts lead to each net. */
function closedAt(circuit: Circuit): Map<number, number> {
  const count = new Map<number, number>();
  for (const part of circuit.parts) {
    if (part.kind !== "switch") continue;
    for (const { common, thrown, closed } of contacts(part)) {
      for (const pin of [common, thrown]) {
        const net = part.pins[pin]!.net;
        count.set(net, (count.get(net) ?? 0) + (closed ? 1 : 0));
      }
    }
  }
  return count;
}

const throwsOf = (part: Part): readonly number[] =>
  part.kind === "switch" ? contacts(part).map(({ thrown }) => part.pins[thrown]!.net) : [];

/** Kinds whose points belong to the circuit itself, whatever the switches do. */
const ANCHORS = new Set(["transistor", "battery"]);

function anchored({ parts }: Circuit): ReadonlySet<number> {
  const nets = parts
    .filter(({ kind }) => ANCHORS.has(kind))
    .flatMap(({ pins }) => pins.map(({ net }) => net));
  return new Set([0, ...nets]);
}

/** The same circuit with its switches in two positions: the parts that only one of them connects. */
export function switchedParts(circuits: readonly [Circuit, Circuit]): readonly SwitchedPart[] {
  const [first, second] = circuits;
  const counts = [closedAt(first), closedAt(second)] as const;
  const uses = (net: number) => counts.map((count) => (count.get(net) ?? 0) > 0);
  const anchors = anchored(first);
  const stops = (net: number) => anchors.has(net) || uses(net).every(Boolean);
  const found = new Map<number, 0 | 1>();
  const starts = new Set(first.parts.flatMap(throwsOf).filter((net) => !stops(net)));
  for (const net of starts) {
    const [inFirst, inSecond] = uses(net);
    if (inFirst === inSecond) continue;
    for (const part of hanging(first, net, stops)) found.set(part, inFirst ? 0 : 1);
  }
  return [...found].map(([part, connectedIn]) => ({ part, connectedIn })).sort((a, b) => a.part - b.part);
}

/** Parts reached from `start` through parts of two points, none beyond a net that stops the search. */
function hanging({ parts }: Circuit, start: number, stops: (net: number) => boolean): ReadonlySet<number> {
  const reached = new Set<number>();
  const seen = new Set([start]);
  for (const net of seen) {
    parts.forEach(({ kind, pins }, k) => {
      if (kind === "switch" || ANCHORS.has(kind) || !pins.some((pin) => pin.net === net)) return;
      reached.add(k);
      if (pins.length !== 2) return;
      for (const pin of pins) if (!stops(pin.net)) seen.add(pin.net);
    });
  }
  return reached;
}

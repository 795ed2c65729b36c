import { meant } from "../nearest.ts";
import type { Examined } from "./checked.ts";

/** Nets and pins that only one thing is connected to. `reported` ones have an error already. */
export function checkDangling(examined: Examined, reported: ReadonlySet<number>): void {
  const { circuit, table, draft } = examined;
  circuit.nets.forEach((net, k) => {
    const isLoose = k > 0 && net.points.length < 2;
    if (draft.complaints.isFull("warning")) return;
    if (isLoose && !table.uncertain.has(k) && !reported.has(k)) warn(examined, k);
  });
}

function warn({ circuit, table, draft, netSpan }: Examined, k: number): void {
  const { name, points } = circuit.nets[k]!;
  const [point] = points;
  if (point === name) {
    draft.complaints.warning(
      netSpan(k),
      `Nothing is connected to ${point}`,
      "connect it, or wire it to a net",
    );
  } else if (point === undefined) {
    draft.complaints.warning(
      netSpan(k),
      `No part is connected to the net "${name}"`,
      meant(name, table.names),
    );
  } else {
    const message = `The net "${name}" joins ${point} to nothing else`;
    draft.complaints.warning(netSpan(k), message, meant(name, table.names));
  }
}

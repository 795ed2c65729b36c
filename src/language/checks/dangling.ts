import { listed } from "../names.ts";
import { meant } from "../nearest.ts";
import type { Examined } from "./checked.ts";

/** Nets and pins that only one thing is connected to. `reported` ones have an error already. */
export function checkDangling(examined: Examined, reported: ReadonlySet<number>): void {
  const { circuit, table, draft } = examined;
  circuit.nets.forEach((net, k) => {
    if (k === 0 || net.points.length > 1 || table.uncertain.has(k) || reported.has(k)) return;
    const [point] = net.points;
    if (point === net.name) {
      const label =
        point.includes(".") && isTransistorPin(examined, point)
          ? "nothing is connected to it"
          : "it leads nowhere";
      draft.complaints.warning(
        examined.netSpan(k),
        `${point} is not connected: ${label}`,
        "connect it in another statement, or with wire",
      );
      return;
    }
    const others = table.names.filter((name) => name !== net.name);
    draft.complaints.warning(
      examined.netSpan(k),
      point === undefined
        ? `No part is connected to the net "${net.name}"`
        : `The net "${net.name}" joins ${listed([point])} to nothing else`,
      meant(net.name, others),
    );
  });
}

function isTransistorPin({ draft }: Examined, point: string): boolean {
  return draft.parts.get(point.slice(0, point.indexOf(".")))?.kind.keyword === "transistor";
}

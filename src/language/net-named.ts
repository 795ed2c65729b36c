import { type Circuit, isCalled } from "../circuit/circuit.ts";
import { kindOf } from "../parts/index.ts";

/** Index into `Circuit.nets` of the net that goes by a name or has a pin, `T1.c` or `T1.collector`; −1 if none does. */
export function netNamed({ parts, nets }: Circuit, name: string): number {
  const [owner = "", pin = ""] = name.split(".");
  const part = parts.find((each) => each.name === owner);
  const point = part === undefined ? name : `${owner}.${kindOf(part).aliases?.[pin] ?? pin}`;
  return nets.findIndex((net) => isCalled(net, name) || net.points.includes(point));
}

import type { Look } from "../../circuit/look.ts";

export type { Look, TakenReading as Reading } from "../../circuit/look.ts";

/** The same for the same look. */
export function keyOf(look: Look): string {
  switch (look.kind) {
    case "voltage":
      return `${look.net} ${look.minus}`;
    case "current":
      return `I ${look.part} ${look.pin}`;
    case "resistance":
      return `R ${look.net}`;
    case "gain":
      return `gain ${look.path} ${look.hertz}`;
  }
}

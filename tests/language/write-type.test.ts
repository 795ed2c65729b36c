import { describe, expect, it } from "vitest";
import { libraryTypes, readNetlist } from "../../src/language/index.ts";
import { writeType } from "../../src/language/write-type.ts";

describe("a device type written as a block", () => {
  it.each(Object.values(libraryTypes()))("reads back as what it was: $name", (type) => {
    const kind = type.device === "diode" ? "diode" : "transistor";
    const pins = type.device === "diode" ? "anode chassis cathode a" : "e chassis b a c a";
    const { circuit } = readNetlist(
      `${writeType(type)}${kind} X1 ${type.name} ${pins}\nbattery B1 1 V internal 1 ohm plus a minus chassis\n`,
    );
    const { place: _, ...written } = type;
    const { place: __, ...read } = circuit?.types[type.name] ?? { place: undefined };
    const { figures, ...words } = written;
    const { figures: found = {}, ...foundWords } = read as typeof written;
    expect(foundWords).toEqual(words);
    expect(Object.keys(found).toSorted()).toEqual(Object.keys(figures).toSorted());
    for (const [key, value] of Object.entries(figures)) {
      expect(Math.abs((found[key] ?? 0) - value), key).toBeLessThanOrEqual(1e-8 * Math.abs(value));
    }
  });
});

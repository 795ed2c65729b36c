import { describe, expect, it } from "vitest";
import { formatNetlist, readNetlist, readQuantity } from "../../src/language/index.ts";
import { writeValue } from "../../src/language/units.ts";

const read = (text: string) => readNetlist(text, { file: "head.netlist", files: () => undefined });
const head = (words: string) =>
  `head K1 40mH ${words} in to chassis\nresistor R1 1k in to chassis\npath p from K1 to in\n`;

describe("lengths of a head", () => {
  it("are read in micrometres and millimetres, as metres", () => {
    for (const text of ["3 µm", "3µm", "3um", "3µ", "0.003mm", "0.003 mm", "3000 nm"]) {
      expect(readQuantity(text, "metre"), text).toBe(3e-6);
    }
    expect(writeValue(3e-6, "metre")).toBe("3 µm");
  });

  it("stand in the part under gap, spacing and coating, and are off when not given", () => {
    const values = read(head("gap 3 µm spacing 0.5µm coating 12 µm")).circuit?.parts[0]?.values;
    expect(values).toMatchObject({ gap: 3e-6, spacing: 0.5e-6, coating: 12e-6 });
    const bare = Object.keys(read(head("")).circuit?.parts[0]?.values ?? {});
    expect(bare).not.toEqual(expect.arrayContaining(["gap"]));
  });

  it("are doubted where no head has them, and refused in another unit", () => {
    expect(read(head("gap 3")).diagnostics[0]?.message).toContain("is read as 3 m");
    expect(read(head("gap 3 Hz")).diagnostics[0]?.severity).toBe("error");
  });

  it("do not make a metre of the m that is milli elsewhere", () => {
    expect(readQuantity("3m", "henry")).toBe(3e-3);
    expect(readQuantity("500m", "volt")).toBe(0.5);
  });

  it("are kept by the formatter", () => {
    expect(formatNetlist(head("gap 3 µm"))).toContain("gap 3 µm");
  });
});

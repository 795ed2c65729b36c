import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { formatNetlist } from "../../src/language/index.ts";
import { SAMPLE } from "./reading.ts";

const formatted = (text: string) => {
  const found = formatNetlist(text);
  if (typeof found !== "string") throw new Error(found.map((d) => d.message).join("\n"));
  return found;
};

describe("A formatted netlist", () => {
  it("has its columns, comments and values", () => {
    const untidy = [
      "# first",
      'circuit   "Two parts"   # title',
      "",
      "",
      "resistor R1   4.7 kΩ  ±10%  rail to  chassis # load",
      "electrolytic C10 100µ plus chassis",
      "      minus rail",
      "type X   pnp germanium",
      "  hfe 70 at 1 mA , 45 at 50 mA#gain",
      "   # from the book",
      "",
    ];
    expect(formatted(untidy.join("\r\n"))).toBe(
      [
        "# first",
        'circuit "Two parts"  # title',
        "",
        "resistor       R1  4.7 kΩ ±10%  rail to chassis  # load",
        "electrolytic   C10 100µ         plus chassis",
        "    minus rail",
        "type  X  pnp germanium",
        "    hfe      70 at 1 mA, 45 at 50 mA             #gain",
        "    # from the book",
        "",
      ].join("\n"),
    );
  });

  it("puts the ends of windings and the contacts of poles under each other", () => {
    const text = [
      "transformer TR1",
      " winding a 1200 turns dcr 95 ohm x to y",
      " winding bb 10 turns x to y to z",
      "switch S1 p q",
      " pole a x p y q z",
      " pole long xx q y",
    ];
    expect(formatted(text.join("\n"))).toBe(
      [
        "transformer    TR1",
        "    winding a  1200 turns dcr 95 ohm  x to y",
        "    winding bb 10 turns               x to y to z",
        "switch         S1  p q",
        "    pole a    x   p y  q z",
        "    pole long xx  q y",
        "",
      ].join("\n"),
    );
  });

  it("does not change when it is formatted again", () => {
    const once = formatted(SAMPLE);
    expect(formatted(once)).toBe(once);
  });

  it("is refused where a statement cannot be read, with the reasons", () => {
    const found = formatNetlist("resistor R1 4k7 a ot b\nresistor R2 4 nF a to b", { file: "x" });
    expect(typeof found === "string" ? [] : found.map((d) => `${d.file}:${d.line}`)).toEqual(["x:1", "x:2"]);
  });

  it("is made of any netlist whose names lead nowhere: that is no matter of layout", () => {
    expect(formatted("resistor R1 4k7 T9.b to b")).toBe("resistor       R1  4k7  T9.b to b\n");
  });
});

const demos = new URL("../../netlists/", import.meta.url);

describe("The netlists that ship with the tool", () => {
  it.each(readdirSync(demos).filter((name) => name.endsWith(".netlist")))(
    "%s is formatted once and for all",
    (name) => {
      const once = formatted(readFileSync(new URL(name, demos), "utf8"));
      expect(formatted(once)).toBe(once);
    },
  );
});

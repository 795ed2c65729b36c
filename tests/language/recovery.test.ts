import { describe, expect, it } from "vitest";
import { readNetlist } from "../../src/language/index.ts";
import { around, errors, SAMPLE, said } from "./reading.ts";

/** The sample with one line replaced. */
function withLine(from: string, to: string): string {
  if (!SAMPLE.includes(from)) throw new Error(`the sample has no ${from}`);
  return SAMPLE.replace(from, to);
}

describe("One mistake gives one message, and hides no other", () => {
  it.each([
    ["a mistyped kind of part", "resistor R1 47k", "resitor R1 47k"],
    ["a kind forgotten", "resistor R1 47k", "R1 47k"],
    ["a value of the wrong unit", "resistor R1 47k", "resistor R1 47 nF"],
    ["a value that cannot be read", "electrolytic C2 10µ", "electrolytic C2 10?"],
    ["a mistyped pin", "rail to T1.b", "rail to T1.bb"],
    ["a mistyped part", "rail to T1.b", "rail to T11.b"],
    ["a mistyped to", "to T1.b", "ot T1.b"],
    ["a point too few", "4k7J rail to T1.c", "4k7J rail"],
    ["a part that others refer to", "transistor T1 PN1", "transistr T1 PN1"],
    ["a type that others refer to", "type PN1 pnp", "type PN1 pmp"],
    ["a missing type", "transistor T2 PN1 e T2e", "transistor T2 e T2e"],
    ["a switch that modes refer to", "switch S1 play record", "swich S1 play record"],
    ["a mistyped position", "play speaker", "paly speaker"],
    ["a mistyped winding line", "winding primary 1200 turns", "winding primary turns"],
    ["a mode that paths refer to", "mode record S1 record", "mode record S1 recrd"],
    ["a source that a path refers to", "head K1 80mH", "haed K1 80mH"],
    ["a label without its point", "plus input minus T1.b", "plus input minus"],
    ["a quotation mark not closed", 'statement once"', "statement once"],
    ["a mistyped figure", "doubling 9 K", "dobling 9 K"],
    ["a property with nothing behind it", "dcr 100 ohm capacitance", "dcr capacitance"],
    ["a tail with nothing behind it", "q 40 at 60 kHz", "q 40 at"],
    ["a percentage without its sign", "P1 70%", "P1 0.7"],
    ["a file that is missing", "ambient 22 °C", 'use "gone.netlist"'],
    ["a net that nobody else names in a path", "K1 to LS1 voltage", "K1 to speakr"],
  ])("%s", (_, from, to) => expect(errors(withLine(from, to))).toHaveLength(1));

  const statements = SAMPLE.split(/\n(?=\S)/).filter((line) => /^[a-z]/.test(line));

  it.each(statements.map((line) => [line.split(/\s+/).slice(0, 2).join(" "), line]))(
    "a slip in the first word of %s",
    (_, line) => {
      expect(said(SAMPLE.replace(line, `x${line}`))).toHaveLength(1);
    },
  );

  it.each(statements.map((line) => [line.split(/\s+/).slice(0, 2).join(" "), line]))(
    "a sign that means nothing at the end of %s",
    (_, line) => {
      expect(said(SAMPLE.replace(line, line.replace(/ *(#.*)?$/, " ?")))).toHaveLength(1);
    },
  );

  it("even where there are many", () => {
    const text = withLine("resistor R1 47k", "resitor R1 47k")
      .replace("capacitor C1 22n", "capacitor C1 22")
      .replace("doubling 9 K", "dobling 9 K")
      .replace("path between from G1", "path between form G1");
    expect(errors(text)).toHaveLength(4);
  });

  it("up to a thousand", () => {
    const found = errors("foo\n".repeat(5000));
    expect(found).toHaveLength(1001);
    expect(found.at(-1)).toBe("1001 error: There are more than 1000 errors; the rest are not reported");
  });

  it("nor does a mistyped position hide the unknown parts behind it", () => {
    const text = withLine("mode record S1 record P1 30%", "mode record S1 recrd Q9 5k R77 10k P1 30%");
    expect(errors(text).map((line) => line.replace(/^\d+ error: /, ""))).toEqual([
      'S1 has no position "recrd"',
      "There is no part Q9 to be set",
      "There is no part R77 to be set",
    ]);
  });

  it("nor is the value of an unknown part taken for a part", () => {
    const text = withLine("mode record S1 record P1 30%", "mode record S1 record Q9 R47 P1 30%");
    expect(errors(text)).toHaveLength(1);
  });

  it("nor does a failed statement leave nets dangling", () => {
    const text = around("capacitor C1 22 rail to middle", "resistor R1 1k middle to chassis");
    expect(said(text)).toHaveLength(1);
  });

  it("nor is a net that hangs on a failed part said to have no path to chassis", () => {
    const text = around(
      "resistor R1 4k7 Ohms rail too a",
      "resistor R2 1k a to b",
      "capacitor C1 10n b to chassis",
    );
    expect(said(text)).toHaveLength(1);
  });
});

describe("A habit from elsewhere is answered with the way to write it", () => {
  it.each([
    ["// a comment", "a comment begins with #"],
    ["* a comment", "a comment begins with #"],
    ["; a comment", "a comment begins with #"],
    ["coil L1 10mH rail to chassis", "write inductor"],
    ["Speaker LS1 8 ohm rail to chassis", "write loudspeaker"],
    ["resistor R1: 4k7 rail to chassis", "write R1 alone"],
    ["resistor 4k7 rail to chassis", "a name begins with a letter, such as R1"],
  ])("%s", (line, hint) => {
    expect(readNetlist(around(line)).diagnostics.map((d) => d.hint)).toEqual([hint]);
  });
});

describe("The circuit as a whole is checked", () => {
  it("for nets that no direct current can reach in any mode", () => {
    const found = errors(around("capacitor C1 22n rail to a", "capacitor C2 22n a to chassis"));
    expect(found).toEqual([
      "3 error: No direct current can flow between the net a and chassis; on it are C1 and C2",
    ]);
  });

  it("but not for those that a switch leaves alone in some mode", () => {
    const found = said(
      around(
        "switch S1 play record",
        "  pole a rail play x",
        "capacitor C1 22n x to chassis",
        "reading record x 0 V",
      ),
    );
    expect(found).toEqual([]);
  });

  it.each(["gnd", "GND", "earth", "0V", "0"])(
    "with the name of the 0 V net where it is called %s",
    (name) => {
      const hint = `the 0 V net is called chassis: write that for "${name}", or wire ${name} to chassis`;
      const beside = around(`capacitor C1 22n rail to ${name}`, `resistor R1 1k ${name} to a`);
      expect(readNetlist(beside).diagnostics[0]?.hint).toBe(hint);
      const instead = `battery B1 6 V plus ${name} minus rail\nresistor R1 1k rail to ${name}`;
      expect(readNetlist(instead).diagnostics[0]?.hint).toBe(hint);
    },
  );

  it("with one message for nets that hang together", () => {
    const found = errors(
      around(
        "transformer TR1",
        "  winding p 100 turns dcr 1 ohm rail to chassis",
        "  winding s 100 turns a to b to c",
        "loudspeaker LS1 8 ohm a to c",
        "resistor R1 1k b to c",
      ),
    );
    expect(found).toHaveLength(1);
    expect(found[0]).toContain("a, b and c");
  });

  it("for loops of sources without resistance, of whatever length", () => {
    const loop = around(
      "battery B2 6 V plus a minus chassis",
      "inductor L1 1mH a to b",
      "generator G1 1 mV b to chassis",
    );
    expect(errors(loop)).toEqual([
      "5 error: B2, G1 and L1 form a loop without any resistance: the current in it would have no limit",
    ]);
    expect(errors(loop.replace("1mH", "1mH dcr 5 ohm"))).toEqual([]);
  });

  it("for values that contradict each other in a mode, as in the part's own line", () => {
    const coupled = around(
      "transformer TR1 coupling 0.9",
      "  winding p 100 turns dcr 1 ohm rail to chassis",
      "mode loose TR1 coupling 0.8",
      "mode tight TR1 coupling 1.1",
    );
    expect(errors(coupled)).toEqual(["3 error: TR1: a coupling factor is at most 1"]);
    expect(errors(coupled.replace("1.1", "1"))).toEqual([]);
  });

  it("for a source whose ends are one", () => {
    expect(errors(around("battery B2 6 V plus rail minus rail"))).toHaveLength(1);
  });

  it("for nets and pins that lead nowhere", () => {
    const { diagnostics } = readNetlist(around("resistor R1 1k rail to lose"));
    expect(diagnostics[0]?.hint).toBeUndefined();
    expect(said(around("resistor R1 1k rail to lose"))).toEqual([
      '3 warning: The net "lose" joins R1.2 to nothing else',
    ]);
    expect(said(around("transistor T1 PN1 e chassis b rail", "type PN1 pnp germanium"))).toEqual([
      "3 warning: Nothing is connected to T1.c",
    ]);
    expect(said(around("wire lose to loser"))).toEqual(['3 warning: No part is connected to the net "lose"']);
  });

  it("for the pole of the battery that the transistors want on chassis", () => {
    const lines = ["transistor T1 X e chassis b rail c rail", "type X npn silicon"];
    expect(said(around(...lines))).toEqual([
      "1 warning: B1 has its plus on chassis, but all transistors are NPN, which usually have minus there",
    ]);
    expect(said(around(lines[0]!, "type X pnp silicon"))).toEqual([]);
    // a battery with neither pole on chassis says nothing
    expect(
      said(
        around(...lines, "battery B2 1 V internal 1 ohm plus rail minus x", "resistor R1 1k x to chassis"),
      ),
    ).toEqual([]);
  });

  it("for something on chassis at all", () => {
    expect(errors("battery B1 6 V internal 1 ohm plus a minus b\nresistor R1 1k a to b")).toEqual([
      "1 error: Nothing is connected to chassis, the net that all voltages are measured against",
    ]);
  });

  it("for a title without a circuit, but a file of types may stand alone", () => {
    expect(errors('circuit "Empty"')).toHaveLength(1);
    expect(said("type X pnp germanium")).toEqual([]);
  });
});

import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { libraryTypes, readNetlist } from "../../src/language/index.ts";
import { around, circuitOf, errors } from "./reading.ts";

const whole = readNetlist(readFileSync(new URL("../../netlists/library.netlist", import.meta.url), "utf8"), {
  file: "library.netlist",
});
const [first = ""] = Object.keys(libraryTypes()).filter((name) => libraryTypes()[name]?.device === "pnp");

describe("The library that ships with the tool", () => {
  it("is read whole without a word", () => expect(whole.diagnostics).toEqual([]));

  it("gives the same types one by one as in one piece", () => {
    expect(libraryTypes()).toEqual(whole.circuit?.types);
    expect(Object.keys(libraryTypes()).length).toBeGreaterThan(5);
  });

  it("lends a netlist the types that it mentions, and no others", () => {
    const circuit = circuitOf(around("use library", `transistor T1 ${first} e chassis b rail c rail`));
    expect(Object.keys(circuit.types)).toEqual([first]);
  });

  it("gives way to a type of the same name in the netlist", () => {
    const circuit = circuitOf(
      around("use library", `transistor T1 ${first} e chassis b rail c rail`, `type ${first} pnp germanium`),
    );
    expect(circuit.types[first]?.figures).toEqual({});
  });

  it("is named where a netlist forgets to use it", () => {
    const text = around(`transistor T1 ${first} e chassis b rail c rail`);
    expect(errors(text)).toEqual([`3 error: There is no device type ${first}`]);
    expect(readNetlist(text).diagnostics[0]?.hint).toBe(
      "it is in the library: add a line that says use library",
    );
  });
});

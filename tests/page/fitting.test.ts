import { describe, expect, it } from "vitest";
import { readNetlist } from "../../src/language/index.ts";
import { alikeTo, refitted, typeProblem } from "../../src/page/compute/fitting.ts";
import { readFiles } from "../../src/page/compute/netlist.ts";
import { STAGE } from "../cli/desk.ts";

const circuit = readNetlist(STAGE).circuit!;
const part = circuit.parts.find(({ kind }) => kind === "transistor")!;
const other = alikeTo(circuit.types[part.type!]!, circuit.types)[0]!.type;

describe("another type in a socket", () => {
  it("is offered by likeness, of the same polarity, without the type that is there", () => {
    const offered = alikeTo(circuit.types[part.type!]!, circuit.types);
    expect(offered.map(({ type }) => type)).not.toContain(part.type);
    const differences = offered.map(({ difference }) => difference);
    expect(differences).toEqual(differences.toSorted((a, b) => a - b));
    expect(new Set(offered.map(({ device }) => device))).toEqual(
      new Set([circuit.types[part.type!]!.device]),
    );
  });

  it("is refused in a sentence where there is none of that name, with the nearest name", () => {
    expect(typeProblem(circuit, part, `${other}x`)).toContain(`did you mean ${other}?`);
    expect(typeProblem(circuit, part, "constructor")).toContain("neither the netlist nor the library");
    expect(typeProblem(circuit, part, other)).toBeUndefined();
  });

  it("changes one word of the netlist, and the circuit that is read from it has that type", () => {
    const texts = { "stage.netlist": STAGE };
    const read = readFiles(texts, "stage.netlist").circuit!;
    const socket = read.parts.find(({ name }) => name === part.name)!;
    const { file, text } = refitted(texts, "stage.netlist", socket, other)!;
    const now = readFiles({ [file]: text }, "stage.netlist").circuit!;
    expect(now.parts.find(({ name }) => name === part.name)!.type).toBe(other);
    const others = ({ parts }: typeof now) =>
      parts
        .filter(({ name }) => name !== part.name)
        .map(({ name, type, values }) => ({ name, type, values }));
    expect(others(now)).toEqual(others(read));
  });

  it("leaves a line alone that is not the part's own", () => {
    const texts = { "stage.netlist": STAGE };
    const socket = { ...part, place: { ...part.place, file: "stage.netlist", line: 1 } };
    expect(refitted(texts, "stage.netlist", socket, other)).toBeUndefined();
    expect(refitted({}, "stage.netlist", part, other)).toBeUndefined();
  });
});

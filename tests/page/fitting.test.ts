import { describe, expect, it } from "vitest";
import { readNetlist } from "../../src/language/index.ts";
import { alikeTo, otherHalf, refitted, typeProblem } from "../../src/page/compute/fitting.ts";
import { readFiles } from "../../src/page/compute/netlist.ts";
import { DEMOS } from "../../src/page/demos.ts";
import { STAGE } from "../cli/desk.ts";

const circuit = readNetlist(STAGE).circuit!;
const part = circuit.parts.find(({ kind }) => kind === "transistor")!;
const other = alikeTo(circuit.types[part.type!]!, circuit.types)[0]!.type;

/** The one file that was changed. */
function only(changed: ReturnType<typeof refitted>) {
  if ("message" in changed) throw new Error(changed.message);
  expect(changed).toHaveLength(1);
  return changed[0]!;
}

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
    const { file, text } = only(refitted(texts, "stage.netlist", [socket], other));
    const now = readFiles({ [file]: text }, "stage.netlist").circuit!;
    expect(now.parts.find(({ name }) => name === part.name)!.type).toBe(other);
    const others = ({ parts }: typeof now) =>
      parts
        .filter(({ name }) => name !== part.name)
        .map(({ name, type, values }) => ({ name, type, values }));
    expect(others(now)).toEqual(others(read));
  });

  const partOf = (texts: Record<string, string>, main: string, name: string) =>
    readFiles(texts, main).circuit!.parts.find((each) => each.name === name)!;

  it.each([
    ["over several lines", "transistor\n   T1 # the first\n\n    PN e foot"],
    ["with a remark behind it", "transistor T1 PN# small\n    e foot"],
    ["behind blanks of other kinds", "transistor\tT1\u00a0PN\u2003e foot"],
    ["at the end of its line", "transistor T1  PN\n  e foot"],
    ["with a type called as the part is", "transistor T1 T1 e foot", "T1"],
  ])("is written into a statement %s", (_, statement, type = "PN") => {
    const text = STAGE.replace("transistor T1 PN", statement).replace("type PN", `type ${type}`);
    const texts = { "a.netlist": text };
    const read = readFiles(texts, "a.netlist");
    expect(read.diagnostics.filter(({ severity }) => severity === "error")).toEqual([]);
    const changed = only(refitted(texts, "a.netlist", [partOf(texts, "a.netlist", "T1")], other));
    expect(partOf({ "a.netlist": changed.text }, "a.netlist", "T1").type).toBe(other);
    const lines = (all: string) => all.split("\n").filter((line) => line !== "use library").length;
    expect(lines(changed.text)).toBe(lines(text));
  });

  it("is written into a file that the netlist uses, and into both halves of a push-pull stage at once", () => {
    const texts = { "recorder.netlist": DEMOS["recorder.netlist"]! };
    const one = partOf(texts, "recorder.netlist", "T6");
    const half = otherHalf(readFiles(texts, "recorder.netlist").circuit!, one)!;
    expect(half.name).toBe("T7");
    const { text } = only(refitted(texts, "recorder.netlist", [one, half], "AC150"));
    for (const name of ["T6", "T7"])
      expect(partOf({ "recorder.netlist": text }, "recorder.netlist", name).type).toBe("AC150");
    const used = { "main.netlist": 'use "stage.netlist"\n', "stage.netlist": STAGE };
    const changed = only(refitted(used, "main.netlist", [partOf(used, "main.netlist", "T1")], other));
    expect(changed.file).toBe("stage.netlist");
  });

  it("says why it cannot be written", () => {
    const texts = { "stage.netlist": STAGE };
    const at = (place: object) => ({ ...part, place: { ...part.place, file: "stage.netlist", ...place } });
    const why = (some: Record<string, string>, socket: typeof part) =>
      refitted(some, "stage.netlist", [socket], other);
    expect(why(texts, at({ line: 1 }))).toEqual({ message: "the line of T1 is not as it was read" });
    expect(why(texts, at({ file: "away" }))).toMatchObject({
      message: expect.stringContaining("no file of"),
    });
    expect(why({ "stage.netlist": `${STAGE}\nresistor` }, at({}))).toMatchObject({
      message: expect.stringContaining("mend it first"),
    });
    expect(refitted(texts, "stage.netlist", [at({})], "no such")).toMatchObject({
      message: expect.stringContaining("could not be read"),
    });
  });
});

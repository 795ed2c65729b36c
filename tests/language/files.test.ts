import { describe, expect, it } from "vitest";
import { readNetlist } from "../../src/language/index.ts";
import { around } from "./reading.ts";

const TYPES = "type X pnp germanium\n    hfe 70 at 1 mA\n";
const USER = around("transistor T1 X e chassis b rail c rail");

/** What is said about `text` with these files beside it. */
function read(text: string, files: Record<string, string> = {}, file = "main.netlist") {
  const asked: string[] = [];
  const found = readNetlist(text, {
    file,
    files: (name, from) => {
      asked.push(`${name} from ${from}`);
      return Object.hasOwn(files, name) ? files[name] : undefined;
    },
  });
  return { ...found, asked, messages: found.diagnostics.map((d) => `${d.file}:${d.line} ${d.message}`) };
}

describe("A file that is used", () => {
  it("adds its types to the netlist, and is asked for once", () => {
    const text = `use "types.netlist"\nuse "types.netlist"\n${USER}`;
    const { circuit, asked, sources } = read(text, { "types.netlist": TYPES });
    expect(circuit?.types.X?.place.file).toBe("types.netlist");
    expect(asked).toEqual(["types.netlist from main.netlist"]);
    expect([...sources.keys()]).toEqual(["main.netlist", "types.netlist"]);
  });

  it("is looked for beside the file that uses it", () => {
    const files = { "lib/a.netlist": 'use "b.netlist"', "b.netlist": TYPES };
    const { asked, circuit } = read(`use "lib/a.netlist"\n${USER}`, files, "demos/main.netlist");
    expect(asked).toEqual(["lib/a.netlist from demos/main.netlist", "b.netlist from demos/lib/a.netlist"]);
    expect(circuit?.types.X?.place.file).toBe("demos/lib/b.netlist");
  });

  it("has its errors reported under its own name", () => {
    const { messages } = read(`use "types.netlist"\n${USER}`, { "types.netlist": `${TYPES}    hfee 3\n` });
    expect(messages).toEqual(['types.netlist:3 X: "hfee" is no figure of a transistor']);
  });

  it("may be missing, which is one error and no more", () => {
    const { messages } = read(`use "types.netlist"\n${USER}\nresistor R9 1k T9.b to rail`);
    expect(messages).toEqual(['main.netlist:1 There is no file "types.netlist"']);
  });

  it("is suggested where only its ending is missing", () => {
    const { diagnostics } = read('use "Types"', { "types.netlist": TYPES });
    expect(diagnostics[0]?.hint).toBe('did you mean "types.netlist"?');
  });

  it("must not use the file that uses it", () => {
    const files = { "a.netlist": 'use "b.netlist"', "b.netlist": 'use "a.netlist"' };
    expect(read(`use "a.netlist"\n${around()}`, files).messages).toEqual([
      "b.netlist:1 The files use each other in a circle: a.netlist uses b.netlist uses a.netlist",
    ]);
    expect(read('use "main.netlist"', { "main.netlist": "" }).messages).toHaveLength(1);
  });

  it("cannot lead on for ever", () => {
    const { diagnostics } = readNetlist('use "x/y"', { files: () => 'use "x/y"' });
    expect(diagnostics).toHaveLength(1);
  });

  it("keeps the title and ambient of the netlist that uses it", () => {
    const files = { "a.netlist": 'circuit "Other"\nambient 40 °C' };
    const { circuit } = read(`circuit "Mine"\nuse "a.netlist"\n${around()}`, files);
    expect(circuit?.title).toBe("Mine");
    expect(circuit?.ambientCelsius).toBe(40);
  });

  it("gives way to the netlist's own title and ambient, wherever they stand", () => {
    const files = { "a.netlist": 'circuit "Other"\nambient 40 °C' };
    const { circuit } = read(`use "a.netlist"\ncircuit "Mine"\nambient 20 °C\n${around()}`, files);
    expect(circuit?.title).toBe("Mine");
    expect(circuit?.ambientCelsius).toBe(20);
  });

  it("may be there and still be none to use, and the reason given is said", () => {
    const { diagnostics } = readNetlist('use "a"', {
      files: () => ({ message: "a is a folder, not a netlist", hint: "it holds a/b.netlist" }),
    });
    expect(diagnostics).toMatchObject([
      { message: "a is a folder, not a netlist", hint: "it holds a/b.netlist", line: 1, column: 5 },
    ]);
  });

  it("is named where both give a tolerance for the same kind", () => {
    const files = { "a.netlist": "tolerance resistor ±5%" };
    const { messages } = read(`use "a.netlist"\ntolerance resistor ±10%\n${around()}`, files);
    expect(messages).toEqual([
      'main.netlist:2 The tolerance of "resistor" is given already, in line 1 of a.netlist',
    ]);
  });

  it("cannot be reached where nothing gives files", () => {
    expect(readNetlist('use "a.netlist"').diagnostics[0]?.message).toBe(
      'The file "a.netlist" cannot be reached from here',
    );
  });
});

describe("A text that is no netlist is one clear error", () => {
  it.each([
    ["an empty one", "", "is empty"],
    ["blanks alone", " \n\t\n", "is empty"],
    ["one with NUL characters", "resistor\u0000R1", "is not a text file"],
    ["one of control characters", "\u0001\u0002\u0003 abc".repeat(20), "is not a text file"],
    ["one that was saved in another encoding", "\ufffd\ufffd\ufffdab".repeat(20), "is not a text file"],
    ["one that is far too long", "resistor R1 4k7 a to b\n".repeat(250_000), "million characters"],
  ])("%s", (_, text, message) => {
    const { circuit, diagnostics } = readNetlist(text, { file: "x.netlist" });
    expect(circuit).toBeUndefined();
    expect(diagnostics).toHaveLength(1);
    expect(diagnostics[0]?.message).toContain(`x.netlist`);
    expect(diagnostics[0]?.message).toContain(message);
  });

  it("but comments alone are a circuit without parts", () => {
    expect(readNetlist("# to be written").circuit?.parts).toEqual([]);
  });
});

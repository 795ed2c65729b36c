import { describe, expect, it } from "vitest";
import { readText } from "../../src/cli/reading.ts";
import { Refusal } from "../../src/cli/refusal.ts";
import { deskEnvironment, type Files } from "./desk.ts";

function refusal(path: string, files: Files): Refusal {
  try {
    readText(path, deskEnvironment(files).environment);
  } catch (error) {
    if (error instanceof Refusal) return error;
    throw error;
  }
  throw new Error("accepted");
}

describe("reading a netlist file", () => {
  it("gives the text without a byte-order mark", () => {
    const files = { "a.netlist": "\uFEFFwire a to b\n" };
    expect(readText("a.netlist", deskEnvironment(files).environment)).toBe("wire a to b\n");
  });

  it("names the nearest file where there is none of that name", () => {
    const files = { "demo/recorder.netlist": "x", "demo/motor.netlist": "x" };
    expect(refusal("demo/recoder.netlist", files)).toMatchObject({
      message: "there is no file demo/recoder.netlist",
      hint: "did you mean demo/recorder.netlist?",
    });
  });

  it("supplies the ending that was left off", () => {
    const files = { "demo/recorder.netlist": "x", "demo/recorders.txt": "x" };
    expect(refusal("demo/recorder", files).hint).toBe("did you mean demo/recorder.netlist?");
  });

  it("does not count the ending that all netlists have for likeness", () => {
    const files = { "osc.netlist": "x", "amplifier.netlist": "x" };
    expect(refusal("nosuch.netlist", files).hint).toBe("it holds osc.netlist, amplifier.netlist");
    expect(refusal("amplfier.netlist", files).hint).toBe("did you mean amplifier.netlist?");
  });

  it("lists netlists of a folder given in place of a file", () => {
    const files = { "demo/a.netlist": "x", "demo/b.netlist": "x", "demo/c.txt": "x" };
    expect(refusal("demo", files)).toMatchObject({
      message: "demo is a folder, not a netlist",
      hint: "it holds demo/a.netlist, demo/b.netlist",
    });
  });

  it("refuses what cannot be a netlist, in a sentence", () => {
    const cases: readonly (readonly [name: string, content: string | Uint8Array, message: RegExp])[] = [
      ["binary", new Uint8Array([0x7f, 0x45, 0x4c, 0x46, 0, 0]), /^f is not text$/],
      ["UTF-16", new Uint8Array([0xff, 0xfe, 0x41, 0]), /UTF-16/],
      ["Latin-1", new Uint8Array([0x41, 10, 0xb5, 10]), /line 2 holds bytes/],
      ["50 MB", new Uint8Array(50 * 2 ** 20).fill(32), /larger than 5 MB/],
    ];
    for (const [, content, message] of cases) expect(refusal("f", { f: content }).message).toMatch(message);
  });

  it("tells a person at the keyboard that it waits", () => {
    const desk = deskEnvironment({ "-": "wire a to b" }, { keyboard: true });
    readText("-", desk.environment);
    expect(desk.err.join("")).toContain("from the keyboard");
  });

  it("says what the system said of a file that cannot be read", () => {
    const environment = (code: string) => ({
      ...deskEnvironment({}).environment,
      readFile: () => {
        throw Object.assign(new Error(), { code });
      },
    });
    expect(() => readText("f", environment("EACCES"))).toThrow("f may not be read");
    expect(() => readText("f", environment("EIO"))).toThrow("f cannot be read (EIO)");
  });
});

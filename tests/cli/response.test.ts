import { XMLValidator } from "fast-xml-parser";
import { describe, expect, it } from "vitest";
import { preprobe, STAGE } from "./desk.ts";

const files = { "stage.netlist": STAGE };

const results = async (words: string) => {
  const done = await preprobe(`response stage.netlist --json ${words}`, files);
  return JSON.parse(done.out).results as { path: string; mode: string; hertz: number[]; gain_db: number[] }[];
};

describe("preprobe response", () => {
  it("prints plot and table of every path from 20 Hz to 20 kHz", async () => {
    const done = await preprobe("response stage.netlist", files);
    expect(done).toMatchObject({ code: 0, err: "" });
    for (const word of ["playback", "recording", "20", "20k", "1 kHz"]) expect(done.out).toContain(word);
  });

  it("follows the paths asked for", async () => {
    expect((await results("")).map(({ path }) => path)).toEqual(["playback", "recording"]);
    expect((await results("--path recording")).map(({ path }) => path)).toEqual(["recording"]);
    expect((await results("--mode play")).map(({ path }) => path)).toEqual(["playback"]);
  });

  it("takes frequencies one by one, in the order given", async () => {
    expect((await results("--at 50,1k,10k --path playback"))[0]?.hertz).toEqual([50, 1000, 10000]);
    expect((await results("--at 1kHz --at=63 --path playback"))[0]?.hertz).toEqual([1000, 63]);
  });

  it("sweeps between the ends asked for, both included", async () => {
    const [path] = await results("--from 100Hz --to 400Hz --points-per-octave 2 --path playback");
    expect(path?.hertz[0]).toBe(100);
    expect(path?.hertz.at(-1)).toBe(400);
    expect(path?.hertz.length).toBeLessThanOrEqual(6);
  });

  it("draws more closely than the table is, unless told how closely", async () => {
    const points = async (words: string) => {
      const done = await preprobe(`response stage.netlist --path playback -o bode.svg ${words}`, files);
      const [, path = ""] = /<path[^>]* d="([^"]*)"/.exec(done.written["bode.svg"] ?? "") ?? [];
      return path.split(/[ML]/).length - 1;
    };
    expect(await points("--from 100Hz --to 800Hz")).toBe(3 * 48 + 2);
    expect(await points("--from 125Hz --to 1kHz --points-per-octave 8")).toBe(25);
    expect(await points("--at 100,200,400")).toBe(3);
  });

  it("writes a well-formed drawing that names path, battery and temperature", async () => {
    const done = await preprobe("response stage.netlist -o bode.svg --set B1=6V --ambient 35C", files);
    const svg = done.written["bode.svg"] ?? "";
    expect(XMLValidator.validate(svg)).toBe(true);
    for (const word of ["one stage", "playback", "B1 6", "35"]) expect(svg).toContain(word);
  });

  it("refuses a netlist without paths and says how one is written", async () => {
    const done = await preprobe("response a.netlist", { "a.netlist": STAGE.replace(/^path.*\n/gm, "") });
    expect(done).toMatchObject({ code: 2, out: "" });
    expect(done.err).toContain("path amplifier from G1 to out");
  });

  it("refuses a path that belongs to none of the modes asked for", async () => {
    const done = await preprobe("response stage.netlist --path playback --mode record", files);
    expect(done.code).toBe(2);
    expect(done.err).toContain("playback in play");
  });

  it("refuses frequencies that are none", async () => {
    const cases = [
      "--at 0",
      "--at 1k,-5",
      "--from 2k --to 1k",
      "--points-per-octave 0",
      "--points-per-octave 1.5",
    ];
    for (const words of [...cases, "--at 5V", "--at 1k --from 20"]) {
      const done = await preprobe(`response stage.netlist ${words}`, files);
      expect(done, words).toMatchObject({ code: 2, out: "" });
      expect(done.err, words).toMatch(/^preprobe: --/);
    }
  });
});

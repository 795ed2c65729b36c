import { describe, expect, it } from "vitest";
import { readNetlist } from "../../src/language/index.ts";
import { FIELDS, waveformQuestion } from "../../src/page/compute/waveform-question.ts";
import { waveformJob } from "../../src/page/long-work/waveform.ts";
import { preprobe, STAGE } from "../cli/desk.ts";

const circuit = readNetlist(STAGE).circuit!;
const asked = (some: Partial<typeof FIELDS> = {}) =>
  waveformQuestion(circuit, {}, "play", { ...FIELDS, ...some });

describe("the question of the waveforms", () => {
  it("asks for a second from switch-on where nothing is said", () => {
    expect(asked()).toMatchObject({
      seconds: 1,
      every: 0.001,
      start: { from: "rest" },
      tones: [],
      modes: ["play"],
    });
  });

  it("asks for twenty periods of a tone", () => {
    expect(asked({ source: "G1", hertz: "50 Hz", volts: "20 mV" })).toMatchObject({
      seconds: 0.4,
      tones: [{ part: "G1", hertz: 50, volts: 0.02 }],
    });
  });

  it("shows nets by name, and passes over one that an edited netlist has no more", () => {
    expect(asked({ nets: ["out", "gone"] })).toMatchObject({ shown: [{ kind: "net", name: "out" }] });
  });

  it("says in words what is no duration, frequency or level", () => {
    expect(asked({ seconds: "soon" })).toHaveProperty("message");
    expect(asked({ seconds: "0" })).toMatchObject({ message: expect.stringContaining("more than 0") });
    expect(asked({ seconds: "100000" })).toMatchObject({ message: expect.stringContaining("ten hours") });
    expect(asked({ source: "G1", hertz: "-1" })).toHaveProperty("message");
    expect(asked({ source: "G1", volts: "loud" })).toHaveProperty("message");
  });

  it("comes to the numbers of the command", async () => {
    const question = asked({ start: "point", source: "G1", hertz: "1 kHz", volts: "1 mV", seconds: "2 ms" });
    if ("message" in question) throw new Error(question.message);
    const { found } = waveformJob({ circuit, conditions: question }, () => {});
    const { out } = await preprobe(
      "waveform stage.netlist --mode play --start point --tone 1kHz,1mV,G1 --for 2ms --json",
      { "stage.netlist": STAGE },
    );
    expect(found!.readings).toEqual(JSON.parse(out).results[0].readings);
  });
});

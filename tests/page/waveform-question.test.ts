import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { readNetlist } from "../../src/language/index.ts";
import { FIELDS, waveformQuestion } from "../../src/page/compute/waveform-question.ts";
import { DEMOS } from "../../src/page/demos.ts";
import type { Steps } from "../../src/page/long-work/jobs.ts";
import { regulationJob } from "../../src/page/long-work/regulation.ts";
import { waveformJob } from "../../src/page/long-work/waveform.ts";
import { preprobe, STAGE } from "../cli/desk.ts";

const circuit = readNetlist(STAGE).circuit!;
/** All steps of a job, or as many as are let happen. */
function ran<Output>(steps: Steps<Output>, most = Number.POSITIVE_INFINITY): Output {
  let next = steps.next();
  for (let k = 1; next.done !== true; k++) next = steps.next(k >= most);
  return next.value;
}

const sound = (some: Partial<typeof FIELDS> = {}) => {
  const question = asked(some);
  if ("message" in question) throw new Error(question.message);
  return question;
};

/** A word of a line in quotes may have blanks in it. */
const commanded = async (line: string) => {
  const words = [...line.matchAll(/"([^"]*)"|(\S+)/g)].map(([, quoted, plain]) => quoted ?? plain ?? "");
  const { out, err } = await preprobe(["waveform", "stage.netlist", "--mode", "play", ...words, "--json"], {
    "stage.netlist": STAGE,
  });
  if (err !== "") throw new Error(err);
  return JSON.parse(out).results[0];
};

const asked = (some: Partial<typeof FIELDS> = {}) =>
  waveformQuestion(circuit, {}, "play", { ...FIELDS, ...some });

describe("the question of the waveforms", () => {
  it("knows a net by each of its names", () => {
    const { circuit: wired } = readNetlist(
      "battery B1 6 V plus rail minus chassis\nresistor R1 1k rail to middle\nresistor R2 1k centre to chassis\nwire middle to centre\n",
    );
    for (const net of ["middle", "centre"])
      expect(waveformQuestion(wired!, {}, "as-drawn", { ...FIELDS, also: net })).not.toHaveProperty(
        "message",
      );
  });

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
    expect(asked({ seconds: "1 ps" })).toMatchObject({ message: expect.stringContaining("so fast") });
    expect(asked({ seconds: "100000" })).toMatchObject({ message: expect.stringContaining("ten hours") });
    expect(asked({ source: "G1", hertz: "-1" })).toHaveProperty("message");
    expect(asked({ source: "G1", volts: "loud" })).toHaveProperty("message");
  });

  it("says in words and with the nearest name what is no event, no net and no part", () => {
    const wrong: [Partial<typeof FIELDS>, string, string][] = [
      [{ events: "soon" }, "events", "does not say what happens when"],
      [{ events: "1 ms B9 = off" }, "events", "no part B9"],
      [{ events: "1 ms B1 = perhaps" }, "events", "what happens"],
      [{ events: "-1 ms B1 = off" }, "events", "time begins at 0"],
      [{ events: "2 s B1 = off" }, "events", "beyond the end of the run"],
      [{ events: "1 ms B1 = off\n1 ms B1 = on" }, "events", "at once"],
      [{ events: "1 ms B1 = off\n2 ms B1 = off" }, "events", "off already"],
      [{ events: "1 ms G1 = off" }, "events", "no tone to switch"],
      [{ displaced: "outt = 1 V" }, "displaced", "did you mean out?"],
      [{ displaced: "out" }, "displaced", "which net starts where"],
      [{ displaced: "out = high" }, "displaced", "tank = 10 mV"],
      [{ displaced: "chassis = 1 V" }, "displaced", "0 V, always"],
      [{ also: "R99 current" }, "also", "no part R99"],
      [{ also: "B1 speed" }, "also", "no motor"],
      [{ also: "a minus b minus c" }, "also", "A minus B"],
      [{ also: "constructor" }, "also", "no net or pin constructor"],
      [{ source: "G1", sound: "tones", otherHertz: "0" }, "otherHertz", "more than 0"],
      [{ source: "G1", sound: "burst", from: "5 ms", until: "5 ms" }, "until", "before it begins"],
      [{ source: "G1", sound: "burst", seconds: "5 ms" }, "until", "beyond the end"],
      [{ source: "G1", sound: "burst", events: "1 ms G1 = off" }, "events", "already"],
    ];
    for (const [fields, field, words] of wrong)
      expect(asked(fields)).toMatchObject({ field, message: expect.stringContaining(words) });
  });

  it("never throws, whatever stands in its fields", () => {
    const text = fc.oneof(
      fc.string(),
      fc.stringMatching(/^[0-9mskV=,; .onfBGR1]*$/),
      fc.constantFrom("1 ms B1 = off", "out = 1 V", "R1 current", "1e999 s", "G1.hot minus out"),
    );
    const every = fc.record(
      Object.fromEntries(
        Object.entries(FIELDS).map(([name, value]) => [
          name,
          typeof value === "string" ? text : fc.array(text),
        ]),
      ),
    );
    fc.assert(fc.property(every, (fields) => void asked({ source: "G1", ...fields })));
  });

  it.each([
    [
      "a tone",
      { start: "point", source: "G1", seconds: "2 ms" },
      "--start point --tone 1kHz,1mV,G1 --for 2ms",
    ],
    [
      "two tones",
      {
        start: "point",
        source: "G1",
        sound: "tones",
        otherHertz: "3 kHz",
        otherVolts: "2 mV",
        seconds: "2 ms",
      },
      "--start point --tone 1kHz,1mV,G1 --tone 3kHz,2mV,G1 --for 2ms",
    ],
    [
      "a burst",
      { start: "point", source: "G1", sound: "burst", from: "1 ms", until: "3 ms", seconds: "5 ms" },
      '--start point --tone 1kHz,1mV,G1 --at "1ms G1=on" --at "3ms G1=off" --for 5ms',
    ],
    [
      "a battery switched off, a current, and a net that starts elsewhere",
      {
        start: "point",
        seconds: "4 ms",
        events: "at 1 ms B1 = off",
        displaced: "out = 0.1 V",
        also: "T1.c, B1 current, out minus T1.e",
      },
      '--start "out=0.1V" --at "1ms B1=off" --show "T1.c,B1 current,out minus T1.e" --for 4ms',
    ],
  ] as const)("comes to the numbers of the command with %s", async (_, fields, line) => {
    const { found } = ran(waveformJob({ circuit, conditions: sound(fields) }));
    const wanted = await commanded(line);
    expect(found!.readings).toEqual(wanted.readings);
    expect(found!.currents).toEqual(wanted.currents);
    expect(found!.marks).toEqual(wanted.marks);
  });

  it("gives what has been computed when it is broken off", () => {
    const { found } = ran(waveformJob({ circuit, conditions: sound() }), 40);
    expect(found!.interrupted_seconds).toBeGreaterThan(0);
    expect(found!.interrupted_seconds).toBeLessThan(1);
    expect(found!.seconds.length).toBe(found!.nets.out!.length);
    expect(found!.seconds.at(-1)).toBeLessThanOrEqual(found!.interrupted_seconds!);
  });
});

describe("the regulation on the page", () => {
  const motor = readNetlist(DEMOS["motor-regulator.netlist"]!).circuit!;

  it("tells how far it has come, and gives the points that it has when it is broken off", () => {
    const steps = regulationJob({ circuit: motor, conditions: {}, mode: "run" });
    const shares: number[] = [];
    let next = steps.next();
    while (next.done !== true) {
      shares.push(next.value);
      next = steps.next(next.value > 0);
    }
    expect(shares[0]).toBe(0);
    expect(next.value.results.flatMap(({ points }) => points).length).toBe(1);
  });

  it("has nothing to say of a mode that holds the contact", () => {
    expect(ran(regulationJob({ circuit: motor, conditions: {}, mode: "slow" }))).toEqual({
      results: [],
      failures: [],
    });
  });
});

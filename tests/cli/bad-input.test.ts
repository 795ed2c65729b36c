import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Files, preprobe, STAGE } from "./desk.ts";

const text = (body: string) => `circuit "bad"\n${body}\n`;
const files: Files = {
  "stage.netlist": STAGE,
  "empty.netlist": "",
  "blank.netlist": "\n  \n# nothing\n",
  "binary.netlist": new Uint8Array(200).map((_, i) => (i * 37) % 256),
  "huge.netlist": new Uint8Array(50 * 2 ** 20).fill(0x61),
  "folder/a.netlist": STAGE,
  "notype.netlist": text("battery B1 9V plus chassis minus r\ntransistor T1 NOPE e chassis b r c r"),
  "round.netlist": text('use "round.netlist"\nresistor R1 1k a to chassis'),
  "nofile.netlist": text('use "nowhere.netlist"\nresistor R1 1k a to chassis'),
  "usefolder.netlist": text('use "folder"\nresistor R1 1k a to chassis'),
  "usehuge.netlist": text('use "huge.netlist"\nresistor R1 1k a to chassis'),
  "unit.netlist": text("resistor R1 10µF a to chassis\nbattery B1 9V plus chassis minus a"),
  "one.netlist": text("battery B1 9V plus chassis minus a\nresistor R1 1k a to chassis"),
  "onepos.netlist": text("switch S1 only\n  pole a x only y\nbattery B1 9V plus chassis minus x"),
  "turns.netlist": text(
    "transformer T1\n  winding p 0 turns a to chassis\n  winding s 100 turns b to chassis",
  ),
  "negative.netlist": text("resistor R1 -5k a to chassis\nbattery B1 9V plus chassis minus a"),
};

const CASES: readonly (readonly [words: string, says: RegExp])[] = [
  ["voltages", /voltages needs a netlist/],
  ["voltages stage.netlist again.netlist", /takes one netlist/],
  ["voltages empty.netlist", /empty\.netlist is empty/],
  ["voltages blank.netlist", /blank\.netlist names no parts/],
  ["voltages -", /there is no file -/],
  ["voltages folder", /folder is a folder/],
  ["voltages binary.netlist", /is not text/],
  ["voltages huge.netlist", /larger than 5 MB/],
  ["voltages stag.netlist", /did you mean stage\.netlist\?/],
  ["voltages notype.netlist", /NOPE/],
  ["voltages round.netlist", /round\.netlist/],
  ["voltages nofile.netlist", /nowhere\.netlist/],
  ["voltages usefolder.netlist", /usefolder\.netlist:2:5: error: folder is a folder, not a netlist/],
  ["voltages usehuge.netlist", /usehuge\.netlist:2:5: error: huge\.netlist is larger than 5 MB/],
  ["voltages unit.netlist", /10µF/],
  ["voltages onepos.netlist", /S1|only/],
  ["voltages turns.netlist", /turns/],
  ["voltages negative.netlist", /-5k|R1/],
  ["voltages stage.netlist --set P9=30%", /--set P9=30%.*P9/],
  ["voltages stage.netlist --set R1=5V", /--set R1=5V/],
  ["voltages stage.netlist --set S1=rekord", /record/],
  ["voltages stage.netlist --set R1", /--set R1/],
  ["voltages stage.netlist --set =", /--set =/],
  ["voltages stage.netlist --mode recrod", /did you mean record\?/],
  ["voltages stage.netlist --mode zzzzzz", /the modes are play, record/],
  ["voltages one.netlist --mode zzzzzz", /the only mode is as-drawn/],
  ["response stage.netlist --path playbak", /did you mean playback\?/],
  ["voltages stage.netlist --ambient hot", /--ambient hot/],
  ["voltages stage.netlist --ambient 9000C", /--ambient 9000C/],
  ["voltages stage.netlist --ambient 180C", /give a temperature from -60 to 150 °C/],
  ["voltages stage.netlist --meter 0", /--meter 0/],
  ["voltages stage.netlist --meter 20", /did you mean 20k\/V\?/],
  ["voltages stage.netlist --meter 20V", /--meter 20V/],
  ["voltages stage.netlist --json --csv", /exclude each other/],
  ["voltages stage.netlist -o chart.pdf", /\.json \.csv \.html \.fods/],
  ["response stage.netlist -o bode.fods", /\.json \.csv \.svg \.html/],
  [
    "voltages stage.netlist -o nowhere/chart.csv",
    /nowhere\/chart\.csv cannot be written: its folder does not exist/,
  ],
  ["types stage.netlist other.netlist", /one netlist/],
  ["types A B", /one name/],
];

describe("bad input or usage", () => {
  it.each(CASES)("%s: a clear sentence and exit code 2", async (words, says) => {
    const done = await preprobe(words, files);
    expect(done.code).toBe(2);
    if (!words.includes("--json")) expect(done.out).toBe("");
    expect(done.err).toMatch(says);
    expect(done.err).not.toMatch(/fault in preprobe|\n {4}at |undefined|NaN|\[object/);
  });

  it.each(CASES)("%s --json: the same as an error object on standard output", async (words) => {
    const done = await preprobe(`${words} --json`, files);
    if (words.includes("--csv")) return;
    expect(done.code).toBe(2);
    const run = JSON.parse(done.out);
    expect(run).toMatchObject({ format: "preprobe/1", command: words.split(" ")[0] });
    expect(run.errors.length).toBeGreaterThan(0);
    for (const error of run.errors) expect(error.message).toMatch(/\w/);
  });
});

describe("the last resort", () => {
  const WORDS = [
    ...["voltages", "response", "check", "types", "--json", "--csv", "--format", "--isothermal", "--quiet"],
    ...[
      "--mode",
      "play",
      "--set",
      "R1=",
      "R1=1k",
      "B1=0",
      "S1=record",
      "--ambient",
      "-40C",
      "--at",
      "1k",
      "1e9",
    ],
    ...[
      "-o",
      "x.json",
      "x.svg",
      "--meter",
      "20k/V",
      "10M",
      "--from",
      "--to",
      "20",
      "--path",
      "stage.netlist",
      "-",
    ],
  ];

  it("is never needed, whatever the words", async () => {
    const word = fc.oneof({ weight: 6, arbitrary: fc.constantFrom(...WORDS) }, fc.string({ maxLength: 8 }));
    await fc.assert(
      fc.asyncProperty(
        fc.constantFrom("voltages", "response", "check", "types"),
        fc.array(word, { maxLength: 7 }),
        async (command, words) => {
          const done = await preprobe([command, "stage.netlist", ...words], files);
          expect([0, 1, 2]).toContain(done.code);
          expect(done.out + done.err).not.toMatch(/fault in preprobe|NaN|undefined/);
        },
      ),
      { numRuns: 300 },
    );
  });

  it("calls an unexpected exception a fault of ours, with exit code 70 and no stack", async () => {
    const fault = await preprobe("voltages stage.netlist", files, {
      readFile: () => {
        throw new TypeError("x is not a function\nat y");
      },
    });
    expect(fault.code).toBe(70);
    expect(fault.err).toBe(
      "preprobe: this is a fault in preprobe itself: x is not a function\n    → please report it, with the netlist and the command\n",
    );
  });
});

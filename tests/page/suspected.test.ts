import { describe, expect, it } from "vitest";
import type { SuspectsResult } from "../../src/bench/suspects/results.ts";
import { suspects } from "../../src/bench/suspects.ts";
import { readNetlist } from "../../src/language/index.ts";
import { nextOf } from "../../src/page/compute/suspected.ts";
import { takenReadings } from "../../src/page/compute/taken.ts";
import { suspectsJob } from "../../src/page/long-work/suspects.ts";
import { placeText, verdictText } from "../../src/page/sections/suspects-words.ts";
import { STAGE } from "../cli/desk.ts";

const circuit = readNetlist(STAGE).circuit!;
const mode = circuit.modes[0]?.name ?? "play";
const net = (point: string) => circuit.nets.findIndex(({ points }) => points.includes(point));
const collector = circuit.nets[net("T1.c")]!.name;
const minus = () => -3;

describe("readings on the sheet", () => {
  it("take the sign of what is expected where none is written", () => {
    const { readings } = takenReadings(circuit, { [mode]: { [collector]: "1,5" } }, minus);
    expect(readings.find(({ point }) => point === collector)?.value).toBe(-1.5);
  });

  it("come over those of the netlist, and an emptied one takes the netlist's away", () => {
    const stated = {
      ...circuit,
      readings: [
        { mode, net: net("T1.c"), point: "T1.c", volts: -2, place: { file: "", line: 1, column: 1 } },
      ],
    };
    const values = (typed: Record<string, string>) =>
      takenReadings(stated, { [mode]: typed }, minus).readings.map(({ value }) => value);
    expect(values({})).toEqual([-2]);
    expect(values({ [collector]: "-1" })).toEqual([-1]);
    expect(values({ [collector]: " " })).toEqual([]);
  });

  it("that are none are told in a sentence and left out; those of modes that are gone wait unseen", () => {
    const typed = {
      [mode]: { [collector]: "4 bananas" },
      gone: { [collector]: "1" },
      constructor: { x: "1" },
    };
    const { readings, problems } = takenReadings(circuit, typed, minus);
    expect(readings).toEqual([]);
    expect(problems).toHaveLength(1);
    expect(problems[0]).toMatch(/T1 collector: .*bananas/);
  });
});

describe("the point to measure next", () => {
  const result = (outside: boolean, next: SuspectsResult["next"]) =>
    ({ readings: [{ outside }], next }) as unknown as SuspectsResult;

  it("is named only when a reading is off", () => {
    const next = [{ mode: "play", point: "T1.c", bits: 1 }];
    expect(nextOf(result(false, next), "play")).toBeUndefined();
    expect(nextOf(result(true, next), "play")).toEqual({ mode: "play", point: "T1.c" });
    expect(nextOf(result(true, []), "play")).toBeUndefined();
    expect(nextOf(undefined, "play")).toBeUndefined();
  });

  it("is none that has been read since", () => {
    const next = ["T1.c", "T1.e"].map((point, k) => ({ mode: "play", point, bits: 2 - k }));
    const isRead = ({ point }: { point: string }) => point === "T1.c";
    expect(nextOf(result(true, next), "play", isRead)).toEqual({ mode: "play", point: "T1.e" });
    expect(nextOf(result(true, next), "play", () => true)).toBeUndefined();
  });

  it("is in the mode looked at, if another tells hardly more", () => {
    const next = [
      { mode: "record", point: "T1.c", bits: 1 },
      { mode: "play", point: "T1.e", bits: 0.99 },
      { mode: "play", point: "T1.b", bits: 0.5 },
    ];
    expect(nextOf(result(true, next), "play")).toEqual({ mode: "play", point: "T1.e" });
    expect(nextOf(result(true, [next[0]!, next[2]!]), "play")).toEqual({ mode: "record", point: "T1.c" });
  });
});

describe("the work in the background", () => {
  const { readings } = takenReadings(circuit, { [mode]: { [collector]: "-0.01" } }, minus);
  const asked = () => structuredClone({ circuit, conditions: {}, meter: undefined, readings });

  it("finds what the command finds, the first time and the next", () => {
    const { suspects: found } = suspects(circuit, readings, { accuracy: 0.03 });
    const names = found.map(({ part, fault }) => `${part} ${fault}`);
    for (let k = 0; k < 2; k++) {
      const { result } = suspectsJob(asked(), () => {});
      expect(result?.suspects.map(({ part, fault }) => `${part} ${fault}`)).toEqual(names);
      expect(verdictText(result!)).toMatch(/No fault: .*%/);
    }
  });

  it("tells where a suspect lies in words", () => {
    const { name, place } = circuit.parts.find(({ kind }) => kind === "resistor")!;
    expect(placeText(name, circuit)).toMatch(
      new RegExp(`^${name} is the resistor between .* and .*; line ${place.line} of`),
    );
  });
});

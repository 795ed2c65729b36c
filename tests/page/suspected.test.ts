import { describe, expect, it } from "vitest";
import type { SuspectsResult } from "../../src/bench/suspects/results.ts";
import { suspects } from "../../src/bench/suspects.ts";
import { readNetlist } from "../../src/language/index.ts";
import { nextOf } from "../../src/page/compute/suspected.ts";
import { takenReadings } from "../../src/page/compute/taken.ts";
import { suspectsJob } from "../../src/page/long-work/suspects.ts";
import {
  asShown,
  placeText,
  rangeText,
  takenText,
  verdictText,
} from "../../src/page/sections/suspects-words.ts";
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

describe("a reading in the table of the suspects", () => {
  const current = {
    mode: "play",
    point: "T1 current",
    unit: "A",
    taken: -9e-4,
    expected: -5e-4,
    least: -6e-4,
    greatest: -4e-4,
    outside: true,
  } as const;
  const plain = (text: string) => text.replaceAll("\u00a0", " ");

  it("is marked as in the chart: a current by its size, a voltage with its sign", () => {
    expect(plain(takenText(current))).toBe("900 µA ▲");
    expect(plain(takenText({ ...current, taken: -3e-4 }))).toBe("300 µA ▼");
    expect(plain(takenText({ ...current, unit: "V", taken: -3e-4 }))).toBe("−300 µV ▲");
    expect(plain(takenText({ ...current, outside: false, taken: -5e-4 }))).toBe("500 µA");
  });

  it("has a band from less to more, and a current against the usual direction is negative", () => {
    expect(plain(rangeText(current))).toBe("400 µA … 600 µA");
    expect(plain(rangeText({ ...current, unit: "V" }))).toBe("−600 µV … −400 µV");
    expect(asShown(current, 1e-4)).toBe(-1e-4);
    expect(asShown(current, 0)).toBe(0);
  });

  it("is not counted among all that are as they should be when it cannot be", () => {
    const result = {
      explained: true,
      no_fault_probability: 0.9,
      unseen_probability: 0.1,
      readings: [],
      suspects: [],
    } as unknown as SuspectsResult;
    expect(verdictText(result)).toMatch(/^All readings lie/);
    expect(verdictText(result, 2)).toMatch(/^All readings that can be lie/);
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

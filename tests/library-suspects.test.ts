import { describe, expect, it } from "vitest";
import { NoHealthyPoint } from "../src/bench/suspects/stand.ts";
import { readNetlist, readReading, suspects, type TakenReading } from "../src/index.ts";
import { explainedOr } from "../src/library-suspects.ts";
import { STAGE } from "./cli/desk.ts";

const circuitOf = (text: string) => readNetlist(text).circuit!;
const stage = circuitOf(STAGE);
const taken = (text: string) => readReading(stage, text) as TakenReading;

describe("the library's suspects", () => {
  it("explains readings, or those that the netlist states", () => {
    const given = suspects(stage, [taken("play: T1.c = -0.2 V"), taken("play: B1 current = 2 mA")]);
    const stated = suspects(circuitOf(`${STAGE}reading play T1.c -0.2 V\nreading play B1 current 2 mA\n`));
    expect(given.failures).toEqual([]);
    expect(given.results[0]!.readings.map((each) => each.outside)).toEqual([true, true]);
    expect(given.results[0]!.suspects[0]!.probability).toBeGreaterThan(0.1);
    expect(stated).toEqual(given);
  });

  it("says why a text is no reading", () => {
    expect(readReading(stage, "play: T9.c = -3 V")).toMatchObject({ hint: "did you mean T1.c?" });
    expect(readReading(stage, "play")).toMatchObject({ message: "this is no reading" });
  });

  it("names all readings that no circuit shows, and what else cannot be", () => {
    const wrong = [taken("play: T1.c = 3 V"), taken("record: T1.e = -40 V")];
    expect(() => suspects(stage, wrong)).toThrow(/T1\.c: 3 V has the wrong sign.*T1\.e: −40 V is beyond/);
    expect(() => suspects(stage)).toThrow(/no reading/);
    const right = [taken("play: T1.c = -3 V")];
    expect(() => suspects(stage, right, { modes: ["record"] })).toThrow(/no reading/);
    expect(() => suspects(stage, right, { modes: ["pley"] })).toThrow(/play/);
    expect(() => suspects(stage, [{ ...right[0]!, mode: "pley" }])).toThrow(/play/);
    expect(() => suspects(stage, right, { accuracy: 0 })).toThrow(RangeError);
  });

  it("has a failure for a circuit that does not work even without a fault", () => {
    const answer = explainedOr(() => {
      throw new NoHealthyPoint("play");
    }, []);
    expect(answer).toMatchObject({ results: [], failures: [{ kind: "no solution", mode: "play" }] });
  });
});

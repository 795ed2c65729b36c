import { describe, expect, it } from "vitest";
import { compare, playback } from "../src/index.ts";
import { circuitOf, IDEAL, PLAIN, SWITCHED } from "./bench/tape-circuits.ts";

describe("the library's playback", () => {
  it("is flat where the circuit is what the time constants ask for", () => {
    const [result] = playback(circuitOf(PLAIN), { standard: "3180/120" }).results;
    for (const deviation of result!.tape.deviation_db) expect(deviation).toBeCloseTo(0, 6);
    expect(result!.tape.within).toBe(true);
  });

  it("knows standards by their names at a speed, and then what the head loses", () => {
    const [result] = playback(circuitOf(IDEAL), { standard: "DIN 1962", speed: 0.0953 }).results;
    expect(result!.tape).toMatchObject({ standard: "DIN 1962", high_seconds: 120e-6, reference_hertz: 1000 });
    expect(result!.tape.deviation_db.at(-1)).toBeLessThan(-3);
  });

  it("refuses standards, paths, modes and frequencies that there are not", () => {
    const circuit = circuitOf(PLAIN);
    const refused = (options: Parameters<typeof playback>[1]) => () => playback(circuit, options);
    expect(refused({ standard: "DIN 1962" })).toThrow(/needs the speed/);
    expect(refused({ standard: "DIN 1066", speed: 0.0953 })).toThrow(/no standard "DIN 1066".*DIN 1962/);
    expect(refused({ standard: "3180/120", paths: ["playbak"] })).toThrow(/playback/);
    expect(refused({ standard: "3180/120", modes: ["record"] })).toThrow(RangeError);
    expect(refused({ standard: "3180/120", hertz: [0] })).toThrow(/above 0, not 0/);
    expect(refused({ standard: "3180/120", speed: Number.NaN })).toThrow(/a speed is above 0/);
  });
});

describe("the library's comparison", () => {
  it("adds and subtracts two paths and knows what is switched between them", () => {
    const pair = [{ path: "playback" }, { path: "recording" }] as const;
    const [result] = compare(circuitOf(SWITCHED), pair, { hertz: [100, 1000, 10_000] }).results;
    const [play, record] = result!.paths;
    result!.sum_db.forEach((sum, k) => {
      expect(sum).toBeCloseTo(play.gain_db[k]! + record.gain_db[k]!, 9);
      expect(result!.difference_db[k]).toBeCloseTo(play.gain_db[k]! - record.gain_db[k]!, 9);
    });
    expect(result!.switched.map(({ part }) => part)).toEqual(expect.arrayContaining(["C1", "L1"]));
  });

  it("refuses paths and modes that there are not, and a path in the wrong mode", () => {
    const circuit = circuitOf(SWITCHED);
    const to = (path: string, mode?: string) => () =>
      compare(circuit, [{ path: "playback" }, { path, ...(mode !== undefined && { mode }) }]);
    expect(to("recordin")).toThrow(/did you mean recording|recording/);
    expect(to("recording", "pause")).toThrow(/no mode "pause"/);
    expect(to("recording", "play")).toThrow(/in mode record, not in play/);
  });

  it("asks for the mode of a path that is followed in all", () => {
    const open = circuitOf(SWITCHED.replace("recording in record from", "recording from"));
    expect(() => compare(open, [{ path: "playback" }, { path: "recording" }])).toThrow(/name one/);
  });
});

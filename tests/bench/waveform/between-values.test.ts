import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Envelope } from "../../../src/bench/waveform/envelope.ts";
import { History } from "../../../src/bench/waveform/history.ts";
import { waveformOf } from "./run.ts";

const GOVERNED = `battery B1 7 V internal 1 ohm plus feed minus chassis
governor GV1 of M1 opens 2400 rpm closes 2380 rpm feed to rail
resistor R1 47R feed to rail
motor M1 18 ohm emf 2.1 mV/rpm inertia 40 gcm2 drag 0.4 mNm load 0.6 mNm plus rail minus chassis
`;
const TONE = `generator G1 1 V source 1 ohm in to chassis
resistor R1 1M in to chassis
`;
const tone = (hertz: number) => ({ tones: [{ part: "G1", hertz, volts: Math.SQRT1_2 }] });

/** A sine of 1 V peak, computed at 64 points a period and written down at every so many seconds. */
function sine(hertz: number, every: number, seconds: number): Envelope {
  const envelope = new Envelope(Math.ceil(seconds / every) + 2);
  const step = 1 / (64 * hertz);
  const value = (t: number) => Math.sin(2 * Math.PI * hertz * t);
  let place = 0;
  for (let t = 0; t <= seconds; t += step) {
    while (place * every <= t) envelope.write(place, value(place++ * every));
    envelope.take(value(t));
  }
  return envelope;
}

describe("The envelope of a trace", () => {
  it("is asked for where values are farther apart than half a period, and knows the frequency to one turn", () => {
    fc.assert(
      fc.property(fc.double({ min: 1.2, max: 200, noNaN: true }), (halves) => {
        const every = halves / 2;
        const envelope = sine(1, every, 4 * every);
        expect(envelope.isCoarse).toBe(true);
        expect(Math.abs(envelope.mostTurns - halves)).toBeLessThanOrEqual(1.1);
      }),
    );
  });

  it("is not asked for where a period has twenty values or more", () => {
    fc.assert(
      fc.property(fc.double({ min: 20, max: 60, noNaN: true }), (count) => {
        expect(sine(1, 1 / count, 5).isCoarse).toBe(false);
      }),
    );
  });

  it("holds the whole swing of a tone whose values, one a period, are all alike", () => {
    const { nets, envelopes, readings } = waveformOf(TONE, { ...tone(1000), seconds: 0.02, every: 1e-3 });
    expect(Math.max(...nets.in!.map(Math.abs))).toBeLessThan(1e-3);
    const { least, greatest, about_hertz } = envelopes!.in!;
    expect(Math.min(...greatest.slice(1))).toBeGreaterThan(0.99);
    expect(Math.max(...least.slice(1))).toBeLessThan(-0.99);
    expect(about_hertz).toBeCloseTo(1000, 6);
    expect(readings.in?.greatest).toBeGreaterThan(0.99);
    expect(readings.in?.periodic?.peak).toBeCloseTo(1, 3);
  });

  it("shows a spike that falls between two values", () => {
    const rc = `battery B1 9 V plus a minus chassis
capacitor C1 1u a to out
resistor R1 100R out to chassis
`;
    const events = [{ seconds: 15e-3, what: "B1=on", states: [{ part: "B1", key: "power", value: "on" }] }];
    const { nets, envelopes } = waveformOf(rc, { seconds: 0.05, every: 10e-3, events });
    expect(Math.max(...nets.out!)).toBeLessThan(1e-3);
    expect(Math.max(...envelopes!.out!.greatest)).toBeGreaterThan(8.99);
    expect(envelopes!.out!.about_hertz).toBeUndefined();
  });
});

describe("What a contact does of itself", () => {
  it("changes no value before it happens", () => {
    const held = waveformOf(GOVERNED.replace("opens 2400", "opens 24000"), { seconds: 0.5, every: 1e-3 });
    const free = waveformOf(GOVERNED, { seconds: 0.5, every: 1e-3 });
    const first = free.marks[0]!.seconds;
    const before = free.seconds.filter((at) => at < first).length;
    expect(before).toBeGreaterThan(300);
    for (let k = 0; k < before; k++) expect(free.nets.rail![k]).toBeCloseTo(held.nets.rail![k]!, 3);
    expect(free.nets.rail![before]).toBeLessThan(held.nets.rail![before]! - 1);
  });
});

describe("The points that readings are taken from", () => {
  it("keep beginning and end when there are more than the memory holds", () => {
    const history = new History(1, 100, 10);
    for (let k = 0; k < 1000; k++) {
      const place = history.next(k);
      history.values[0]![place] = 2 * k;
    }
    const seconds = [...history.seconds.subarray(0, history.length)];
    expect(history.length).toBeLessThanOrEqual(100);
    expect(seconds.slice(0, 25)).toEqual(Array.from({ length: 25 }, (_, k) => k));
    expect(history.gap).toBe(25);
    const after = seconds.slice(25);
    expect(after).toEqual(after.map((_, k) => 1000 - after.length + k));
    expect([...history.values[0]!.subarray(0, history.length)]).toEqual(seconds.map((k) => 2 * k));
  });
});

describe("What is read over whole periods of tones", () => {
  /** A load line without bend: what goes in comes out. */
  const two = (first: number, second: number) => [
    { part: "G1", hertz: first, volts: 0.3 },
    { part: "G1", hertz: second, volts: 0.4 },
  ];

  it("counts of two tones neither as distortion of the other", () => {
    const { readings } = waveformOf(TONE, { tones: two(1000, 1500), seconds: 0.02, tolerance: 1e-6 });
    expect(readings.in!.periodic).toMatchObject({ hertz: 500 });
    expect(readings.in!.periodic!.rms).toBeCloseTo(0.5, 4);
    expect(readings.in!.periodic!.distortion).toBeLessThan(1e-2);
  });

  it("finds what two tones mix to in a diode", () => {
    const text = `generator G1 1 V source 1k in to chassis
type DX diode silicon
    vf 600 mV at 1 mA
diode D1 DX anode in cathode chassis
`;
    const { readings } = waveformOf(text, { tones: two(1000, 1500), seconds: 0.02 });
    expect(readings.in!.periodic!.distortion).toBeGreaterThan(0.05);
  });

  it("leaves out the silence before the last burst, and tells nothing of silence", () => {
    const keyed = (seconds: number, on: boolean) => ({
      seconds,
      what: `G1=${on ? "on" : "off"}`,
      states: [],
      keyed: { part: "G1", on },
    });
    const events = [keyed(2e-3, true), keyed(5e-3, false), keyed(20e-3, true)];
    const burst = waveformOf(TONE, { ...tone(1000), seconds: 0.03, events });
    expect(burst.readings.in!.periodic!.rms).toBeCloseTo(Math.SQRT1_2, 3);
    const silent = waveformOf(TONE, { ...tone(1000), seconds: 0.03, events: events.slice(0, 2) });
    expect(silent.readings.in!.periodic).toBeUndefined();
  });
});

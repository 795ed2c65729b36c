import { describe, expect, it } from "vitest";
import { readNetlist, regulation } from "../../../src/index.ts";
import { waveformOf } from "./run.ts";

const GOVERNED = `battery B1 7 V internal 1 ohm plus feed minus chassis
governor GV1 of M1 opens 2400 rpm closes 2380 rpm feed to rail
resistor R1 47R feed to rail
motor M1 18 ohm emf 2.1 mV/rpm inertia 40 gcm2 drag 0.4 mNm load 0.6 mNm plus rail minus chassis
`;
const load = (newtonMetres: number) => [{ part: "M1", key: "load", value: newtonMetres }];
const contactAt = (newtonMetres: number, volts = 7) =>
  waveformOf(GOVERNED, {
    seconds: 3,
    set: [...load(newtonMetres), { part: "B1", key: "emf", value: volts }],
  }).contacts![0]!;

describe("The contact of a governor in a waveform", () => {
  it("has the frequency, the duty and the speed of the regulation chart", () => {
    const { circuit } = readNetlist(GOVERNED);
    const { results } = regulation(circuit!, { points: 2, batteries: { B1: { from: 7, to: 8 } } });
    const [chart] = results[0]!.points;
    const { bursts } = contactAt(0.6e-3);
    expect(bursts!.per_second / chart!.periods_per_second!).toBeCloseTo(1, 3);
    expect(bursts!.open_share).toBeCloseTo(chart!.worked_share!, 3);
    expect(bursts!.rpm / chart!.rpm).toBeCloseTo(1, 4);
  });

  it("opens for the time that its marks say", () => {
    const { marks, contacts } = waveformOf(GOVERNED, { seconds: 2 });
    const at = (what: string) => marks.filter((mark) => mark.what === what).map(({ seconds }) => seconds);
    const [opens, closes] = [at("GV1 opens"), at("GV1 closes")];
    expect(contacts![0]!.workings).toBe(marks.length);
    const last = opens.length - 2;
    expect(contacts![0]!.bursts!.open_seconds).toBeCloseTo(closes[last]! - opens[last]!, 4);
    expect(contacts![0]!.bursts!.per_second).toBeCloseTo(1 / (opens[last + 1]! - opens[last]!), 1);
  });

  it("is open for shorter times the greater the load, and the lower the battery", () => {
    const [easy, usual, hard] = [0.5e-3, 0.8e-3, 1.4e-3].map((torque) => contactAt(torque).bursts!);
    expect(usual!.open_seconds).toBeLessThan(easy!.open_seconds);
    expect(hard!.open_seconds).toBeLessThan(usual!.open_seconds);
    expect(contactAt(0.6e-3, 6.2).bursts!.open_seconds).toBeLessThan(contactAt(0.6e-3).bursts!.open_seconds);
  });

  it("never opens when the motor is overloaded", () => {
    const { bursts, workings, open_at_end: open, last_rpm: rpm } = contactAt(2.4e-3);
    expect({ bursts, workings, open }).toEqual({ bursts: undefined, workings: 0, open: false });
    expect(rpm).toBeLessThan(2380);
  });

  it("stays open where the motor is fast enough without it", () => {
    const { workings, open_at_end: open, last_rpm: rpm } = contactAt(0, 9);
    expect({ workings, open }).toEqual({ workings: 1, open: true });
    expect(rpm).toBeGreaterThan(2400);
  });

  it("is read since the last event: what came before is no part of the average", () => {
    const during = (after: number) =>
      waveformOf(GOVERNED, {
        seconds: 3,
        events: [{ seconds: 1.5, what: "M1.load", states: load(after) }],
      }).contacts![0]!;
    const [changed, constant] = [during(1.4e-3), contactAt(1.4e-3)];
    expect(changed.bursts!.open_share).toBeCloseTo(constant.bursts!.open_share, 3);
    const overloaded = during(2.4e-3);
    expect(overloaded.bursts).toBeUndefined();
    expect(overloaded.workings).toBeGreaterThan(10);
  });
});

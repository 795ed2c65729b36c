import { describe, expect, it } from "vitest";
import { checkOf } from "../../../src/bench/suspects/advice.ts";
import type { Look } from "../../../src/bench/suspects/looks.ts";
import { COMMON_WEIGHTS, type FaultKey } from "../../../src/bench/suspects/weights.ts";
import { Workshop } from "../../../src/bench/suspects/workshop.ts";
import { modesOf } from "../../../src/circuit/conditions.ts";
import { readNetlist } from "../../../src/language/index.ts";

/** A part of every kind, each where a fault of it shows in a voltage or in a gain. */
const EVERYTHING = `use library
battery        B1 6 V internal 1 ohm  plus chassis minus rail
lamp           LA1 6 V 50 mA          rail to chassis
motor          M1 12 ohm emf 1 mV/rpm inertia 15 gcm2 drag 0.3 mNm  plus hub minus rail
governor       GV1 of M1 opens 2400 rpm closes 2390 rpm  hub to chassis
resistor       R6 100R                hub to chassis
meter          M2 650R full 250 µA    plus chassis minus needle
resistor       R1 22k                 rail to needle
generator      G1 1 mV source 600 ohm source to chassis
electrolytic   C1 10µ 10 V            plus source minus T1.b
resistor       R2 39k                 rail to T1.b
thermistor     TH1 10k at 25 °C bvalue 3000 K  T1.b to chassis
transistor     T1 AF117
resistor       R3 2k2                 rail to top
inductor       L1 100mH dcr 40 ohm    top to T1.c
trimmer        P1 1k                  T1.e to chassis
switch         S1 loud soft
    pole foot  T1.e  loud bypass  soft half
resistor       R4 470R                bypass to under
resistor       R9 1k5                 half to under
electrolytic   C2 100µ 3 V            plus chassis minus under
capacitor      C3 100n                T1.c to next
potentiometer  P2 22k setting 50%     next to slider to chassis
head           K1 40mH dcr 90 ohm     slider to chassis
trimmer        P3 22k setting 50%     rail to T2.b to chassis
transistor     T2 DR
diode          D1 DB                  anode T2.e cathode foot
resistor       R5 100R                chassis to foot
transformer    TR1 magnetising 1 H on primary coupling 0.999
    winding primary   1000 turns dcr 100 ohm  T2.c to rail
    winding secondary 100 turns dcr 1 ohm     speaker to chassis
loudspeaker    LS1 5 ohm              speaker to chassis
capacitor      C4 1µ                  T1.c to T2.b
mode           loud S1 loud
mode           soft S1 soft
mode           fast S1 loud GV1 open
path           all from G1 to LS1 voltage
path           head from G1 to slider
`;

const circuit = readNetlist(EVERYTHING).circuit!;
const modes = modesOf(circuit).map(({ name }) => name);
const workshop = new Workshop(circuit, {});
const volts = circuit.nets.slice(1).map((_, k): Look => ({ kind: "voltage", net: k + 1, minus: 0 }));
const gains = circuit.paths.map(({ name }): Look => ({ kind: "gain", path: name, hertz: 200 }));
const ohms = circuit.nets.slice(1).map((_, k): Look => ({ kind: "resistance", net: k + 1 }));

/** What moves, in volts, decibels and logarithms of resistances. */
function greatestChange(way: Parameters<ReturnType<Workshop["stand"]>["see"]>[0]): number {
  const changes = modes.flatMap((mode) =>
    [
      [mode, [...volts, ...gains]],
      [`${mode} off`, ohms],
    ].map(([name, looks]) => {
      const see = (each: typeof way) =>
        workshop.stand(name as string).see(each, looks as Look[], "loaded")?.mean ?? new Float64Array();
      const healthy = see(undefined);
      return Math.max(...see(way).map((value, k) => Math.abs(value - healthy[k]!)));
    }),
  );
  return Math.max(...changes);
}

describe("every kind of fault", () => {
  it.each(Object.keys(COMMON_WEIGHTS) as FaultKey[])(
    "%s is tried, shows, and has something to check",
    (key) => {
      const own = workshop.faults.filter((fault) => fault.key === key);
      expect(own.length).toBeGreaterThan(0);
      for (const fault of own) expect(checkOf(fault)).toContain(fault.part);
      const most = Math.max(...own.flatMap(({ ways }) => ways.map(greatestChange)));
      expect(most).toBeGreaterThan(0.02);
    },
  );

  it("a dirty contact of one position leaves the other modes alone", () => {
    const dirty = workshop.faults.find(({ fault }) => fault === "contact of pole foot open in soft")!;
    const seen = modes.map((mode) => [
      workshop.stand(mode).see(dirty.ways[0], gains, "loaded")!.mean[0]!,
      workshop.stand(mode).see(undefined, gains, "loaded")!.mean[0]!,
    ]);
    expect(seen[0]![0]).toBe(seen[0]![1]);
    expect(seen[1]![0]).toBeLessThan(seen[1]![1]! - 1);
  });
});

import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { network, restingState, retune } from "../../src/engine/network.ts";
import { noiseSources } from "../../src/engine/noise.ts";
import { isSolved, OperatingPointSolver, operatingPoint } from "../../src/engine/operating-point.ts";
import { SmallSignal } from "../../src/engine/small-signal.ts";
import { TimeRun } from "../../src/engine/time/run.ts";
import { RPM } from "../../src/parts/motor.ts";
import { battery, build, type Draft, draft, generator, ohms } from "./build.ts";

const CONDITIONS = { ambientCelsius: 25, isothermal: true };

// K·i = M: with K = 0.02 N·m/A, 1 mN·m takes 50 mA
const K = 0.02;
const MOTOR = { resistance: 18, emf: K * RPM, inertia: 4e-6, drag: 0.4e-3, load: 0.6e-3 };
const CURRENT = 0.05;

const motor = (values: Partial<typeof MOTOR> = {}, plus = "rail", minus = "chassis") =>
  draft("motor", "M1", { ...MOTOR, ...values }, plus, minus);

function solved(drafts: readonly Draft[]) {
  const point = operatingPoint(network(build(drafts), CONDITIONS));
  if (!isSolved(point)) throw new Error(point.failure);
  const speed = point.state[point.network.unknowns.speed.get("M1") ?? -1] ?? Number.NaN;
  const index = point.network.circuit.parts.findIndex(({ name }) => name === "M1");
  return { point, speed, amps: point.currents.amps[point.currents.start[index] ?? 0] ?? Number.NaN };
}

describe("A motor at direct current", () => {
  it("runs at the speed where torque balances: v = R·i + K·ω, K·i = drag + load", () => {
    const { speed, amps } = solved([battery("B1", 6, "rail", "chassis", 1), motor()]);
    expect(amps).toBeCloseTo(CURRENT, 12);
    expect(speed).toBeCloseTo((6 - 19 * CURRENT) / K, 8);
  });

  it("runs the other way round with the battery the other way round", () => {
    const { speed, amps } = solved([battery("B1", 6, "chassis", "rail", 1), motor()]);
    expect(amps).toBeCloseTo(-CURRENT, 12);
    expect(speed).toBeCloseTo(-(6 - 19 * CURRENT) / K, 8);
  });

  it("stands still, with the current of its resistance, where friction is the stronger", () => {
    const { speed, amps } = solved([battery("B1", 0.9, "rail", "chassis", 1), motor()]);
    expect(speed).toBe(0);
    expect(amps).toBeCloseTo(0.9 / 19, 12);
  });

  it("without friction takes no current, and runs at the whole EMF", () => {
    const { speed, amps } = solved([battery("B1", 6, "rail", "chassis", 1), motor({ drag: 0, load: 0 })]);
    expect(amps).toBeCloseTo(0, 12);
    expect(speed).toBeCloseTo(6 / K, 8);
  });

  it("balances or stands still at any battery, resistance and friction", () => {
    const either = fc.record({
      emf: fc.double({ min: -12, max: 12, noNaN: true }),
      internal: fc.double({ min: 0.1, max: 200, noNaN: true }),
      drag: fc.double({ min: 0, max: 5e-3, noNaN: true }),
    });
    fc.assert(
      fc.property(either, ({ emf, internal, drag }) => {
        const { speed, amps } = solved([
          battery("B1", Math.abs(emf), emf < 0 ? "chassis" : "rail", emf < 0 ? "rail" : "chassis", internal),
          motor({ drag, load: 0 }),
        ]);
        const blocked = emf / (internal + 18);
        const stalls = Math.abs(K * blocked) < drag;
        const expected = stalls ? blocked : (Math.sign(emf) * drag) / K;
        expect(amps).toBeCloseTo(expected, 10);
        expect(speed * K).toBeCloseTo(stalls ? 0 : emf - expected * (internal + 18), 8);
      }),
      { numRuns: 200 },
    );
  });
});

/** Impedance of the motor seen by a generator of 1 V behind 10 Ω, at a battery of so many volts. */
function impedance(volts: number, hertz: number) {
  const drafts = [
    battery("B1", volts, "feed", "chassis"),
    generator("G1", "hot", "feed", 0),
    ohms("R1", 10, "hot", "rail"),
    motor(),
  ];
  const { point } = solved(drafts);
  const smallSignal = new SmallSignal(point);
  smallSignal.tune(hertz);
  smallSignal.drive(1);
  const { re, im } = smallSignal.pinCurrent(3, 0);
  const size = re * re + im * im;
  return { re: re / size - 10, im: -im / size };
}

describe("A motor for small signals", () => {
  it.each([0.1, 1, 10, 100])("is R + K²/(jω·J) while it turns, at %d Hz", (hertz) => {
    const { re, im } = impedance(6, hertz);
    expect(re).toBeCloseTo(18, 8);
    expect(im).toBeCloseTo(-(K * K) / (2 * Math.PI * hertz * MOTOR.inertia), 6);
  });

  it("is its resistance alone while it is stalled", () => {
    const { re, im } = impedance(0.5, 10);
    expect(re).toBeCloseTo(18, 8);
    expect(im).toBeCloseTo(0, 8);
  });

  it("makes the noise of its resistance, 4kT·R in series", () => {
    const { point } = solved([battery("B1", 6, "rail", "chassis", 1), motor()]);
    const own = noiseSources(point).filter(({ part }) => part === 1);
    expect(own).toHaveLength(1);
    // k from the 2019 SI
    expect(own[0]?.white).toBeCloseTo(4 * 1.380649e-23 * 298.15 * 18, 26);
  });
});

function running(drafts: readonly Draft[], tolerance = 1e-7) {
  const found = network(build(drafts), CONDITIONS);
  const options = { tolerance, longest: 0.01, drive() {} };
  const run = new TimeRun(found, restingState(found), options);
  const number = found.unknowns.speed.get("M1") ?? -1;
  if (!run.turn([])) throw new Error("no beginning");
  const to = (seconds: number) => {
    while (run.seconds < seconds) if (!run.step(seconds)) throw new Error(`stuck at ${run.seconds} s`);
    return run.state[number] ?? Number.NaN;
  };
  return { run, to };
}

describe("A motor in time", () => {
  it("comes up to speed with the time constant J·R/K²", () => {
    const { to } = running([battery("B1", 6, "rail", "chassis", 1), motor()]);
    const final = (6 - 19 * CURRENT) / K;
    const constant = (MOTOR.inertia * 19) / (K * K);
    for (const share of [0.5, 1, 2, 5]) {
      expect(to(share * constant) / (final * (1 - Math.exp(-share)))).toBeCloseTo(1, 4);
    }
  });

  it("never turns backwards, and does not creep, while it is stalled", () => {
    const { to } = running([battery("B1", 0.9, "rail", "chassis", 1), motor()]);
    for (const seconds of [0.01, 0.1, 1, 3]) expect(to(seconds)).toBeCloseTo(0, 9);
  });

  it("runs down on its friction in a straight line when the battery is taken off, and then stands", () => {
    const { run, to } = running([
      battery("B1", 6, "feed", "chassis", 1),
      ohms("R1", 1e-3, "feed", "rail"),
      motor(),
    ]);
    const start = to(3);
    run.turn([{ part: "R1", key: "resistance", value: 1e9 }]);
    const slope = (MOTOR.drag + MOTOR.load) / MOTOR.inertia;
    expect(to(3.5)).toBeCloseTo(start - 0.5 * slope, 3);
    const stands = to(3 + start / slope + 0.1);
    expect(Math.abs(stands)).toBeLessThan(1e-3);
    expect(to(6)).toBeCloseTo(0, 6);
  });
});

const governor = (opens: number, closes: number, state?: string): Draft => ({
  ...draft("governor", "GV1", { opens, closes, contact: 0.02 }, "feed", "rail"),
  choices: { of: "M1", ...(state !== undefined && { state }) },
});

const governed = (emf: number, contact: Draft, by = 47): readonly Draft[] => [
  battery("B1", emf, "feed", "chassis"),
  contact,
  ohms("R1", by, "feed", "rail"),
  motor(),
];

const stateOf = (drafts: readonly Draft[]) => {
  const { point, speed } = solved(drafts);
  const contact = point.network.circuit.parts[1]!;
  return { state: contact.choices.found ?? "at rest", hunting: point.hunting, rpm: speed / RPM };
};

describe("A governor at direct current", () => {
  it("stays closed where the battery does not reach the speed that opens it", () => {
    const { state, hunting, rpm } = stateOf(governed(5, governor(2400, 2380)));
    expect([state, hunting]).toEqual(["at rest", undefined]);
    expect(rpm).toBeCloseTo((5 - CURRENT * 18 - CURRENT * ((0.02 * 47) / 47.02)) / K / RPM, 6);
  });

  it("is open where even the speed with it open is above the one that closes it", () => {
    const { state, hunting, rpm } = stateOf(governed(9, governor(2400, 2380)));
    expect([state, hunting]).toEqual(["open", undefined]);
    expect(rpm).toBeCloseTo((9 - CURRENT * 65) / K / RPM, 6);
  });

  it("hunts where the closed contact drives the motor too fast and the open one too slow", () => {
    const { hunting } = stateOf(governed(7, governor(2400, 2380)));
    expect(hunting).toHaveLength(1);
    expect([...(hunting?.[0]?.between.keys() ?? [])].toSorted()).toEqual(["closed", "open"]);
  });

  it("that closes above its speed is open at rest, and closed where the motor is fast", () => {
    // across the motor's series resistor it would hunt: here it only looks on
    const aside = (emf: number) => [
      battery("B1", emf, "rail", "chassis"),
      {
        ...draft("governor", "GV1", { opens: 2380, closes: 2400, contact: 0.02 }, "rail", "dial"),
        choices: { of: "M1" },
      },
      ohms("R1", 1000, "dial", "chassis"),
      motor(),
    ];
    expect(stateOf(aside(5)).state).toBe("at rest");
    expect(stateOf(aside(9)).state).toBe("closed");
  });

  it.each(["open", "closed"])("is %s, whatever the speed, where a mode says so", (state) => {
    const { point } = solved(governed(7, governor(2400, 2380, state)));
    expect(point.hunting).toBeUndefined();
    expect(Math.abs(point.currents.amps[point.currents.start[1] ?? 0] ?? 0) > 1e-3).toBe(state === "closed");
  });

  it("is found anew when a warm solver gets another battery", () => {
    const circuit = (emf: number) => build(governed(emf, governor(2400, 2380)));
    const solver = new OperatingPointSolver(network(circuit(5), CONDITIONS));
    const found = [5, 9, 7, 5].map((emf) => {
      solver.retune(circuit(emf), 25);
      const point = solver.solve();
      if (!isSolved(point)) return point.failure;
      return point.hunting === undefined
        ? (point.network.circuit.parts[1]?.choices.found ?? "rest")
        : "hunts";
    });
    expect(found).toEqual(["rest", "open", "hunts", "rest"]);
  });

  it("makes another structure of a network only where a mode holds it otherwise", () => {
    const held = network(build(governed(7, governor(2400, 2380, "open"))), CONDITIONS);
    expect(retune(held, build(governed(7, governor(2400, 2380, "closed"))), 25)).toBe(false);
  });
});

describe("A governor in time", () => {
  it("opens and closes at its two speeds, and keeps the motor between them", () => {
    const { run, to } = running(governed(7, governor(2400, 2380)), 1e-6);
    to(2);
    const happened = run.happenings.map(({ what }) => what);
    expect(happened.length).toBeGreaterThan(10);
    happened.forEach((what, k) => {
      expect(what).toBe(k % 2 === 0 ? "GV1 opens" : "GV1 closes");
    });
    run.happenings = [];
    while (run.happenings.length < 4) {
      const before = run.happenings.length;
      run.step(10);
      const rpm = (run.state[run.network.unknowns.speed.get("M1") ?? -1] ?? 0) / RPM;
      expect(rpm).toBeGreaterThan(2379.9);
      expect(rpm).toBeLessThan(2400.1);
      if (run.happenings.length > before) {
        const opens = run.happenings.at(-1)?.what === "GV1 opens";
        expect(rpm).toBeCloseTo(opens ? 2400 : 2380, 3);
      }
    }
  });

  it("divides its time as the two slopes demand", () => {
    const { run, to } = running(governed(7, governor(2400, 2380)), 1e-6);
    to(2);
    const times = run.happenings.slice(-3).map(({ seconds }) => seconds);
    const spans = [times[1]! - times[0]!, times[2]! - times[1]!];
    // between two speeds under a constant drive the motor goes exponentially towards where it would settle
    const span = (settles: number, ohmsInAll: number, from: number, to: number) =>
      ((MOTOR.inertia * ohmsInAll) / (K * K)) * Math.log((settles - from) / (settles - to));
    const contact = (0.02 * 47) / 47.02;
    const settles = (series: number) => (7 - CURRENT * (18 + series)) / K / RPM;
    const up = span(settles(contact), 18 + contact, 2380, 2400);
    const down = span(settles(47), 65, 2400, 2380);
    for (const found of spans) {
      const near = Math.abs(found / up - 1) < Math.abs(found / down - 1) ? up : down;
      expect(found / near).toBeCloseTo(1, 3);
    }
    expect(spans[0]! + spans[1]!).toBeCloseTo(up + down, 5);
  });
});

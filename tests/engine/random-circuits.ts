import fc from "fast-check";
import type { DeviceType } from "../../src/circuit/circuit.ts";
import { battery, type Draft, deviceType, draft, farads, ohms, transistor } from "./build.ts";

/** Values over many decades, as a log-uniform number. */
export const decades = (from: number, to: number) =>
  fc.double({ min: Math.log10(from), max: Math.log10(to), noNaN: true }).map((x) => 10 ** x);

const pnpOrNpn = fc.constantFrom("pnp" as const, "npn" as const);
const material = fc.constantFrom("germanium" as const, "silicon" as const);

/** Types from feeble to fierce, the figures of a sheet that does not contradict itself. */
export const randomType = (name: string): fc.Arbitrary<DeviceType> =>
  fc
    .record({
      device: pnpOrNpn,
      material,
      hfe: decades(5, 500),
      early: decades(10, 500),
      rbb: fc.constantFrom(0, 20, 300),
      rth: fc.constantFrom(0, 0, 50, 400),
      droop: fc.boolean(),
      leakage: decades(1e-8, 1e-4),
    })
    .map(({ device, material: made, hfe, early, rbb, rth, droop, leakage }) =>
      deviceType(
        name,
        device,
        {
          hfe,
          "hfe.at": 1e-3,
          ...(droop && { hfe2: hfe / 2, "hfe2.at": 50e-3 }),
          early,
          rbb,
          rth,
          ...(made === "germanium" && { leakage: Math.max(leakage, 1e-5 / hfe + 2e-6) }),
        },
        made,
      ),
    );

/**
 * A random amplifier: each transistor's pins go to nets of a small pool, through resistors or at once,
 * and every net of the pool has a resistor to rail or chassis, so that a bias path exists.
 */
export const randomAmplifier = fc
  .record({
    transistors: fc.integer({ min: 1, max: 12 }),
    volts: decades(0.5, 60),
    negative: fc.boolean(),
    internal: fc.constantFrom(0, 0.5, 10),
    seeds: fc.array(fc.nat(), { minLength: 64, maxLength: 64 }),
    values: fc.array(decades(1, 3e6), { minLength: 64, maxLength: 64 }),
    types: fc.tuple(randomType("X0"), randomType("X1"), randomType("X2")),
  })
  .map(({ transistors, volts, negative, internal, seeds, values, types }) => {
    const nets = Array.from({ length: transistors + 2 }, (_, k) => `n${k}`);
    let next = 0;
    const pick = <T>(from: readonly T[]): T => from[seeds[next++ % seeds.length]! % from.length]!;
    const value = () => values[next++ % values.length]!;
    const drafts: Draft[] = [
      negative
        ? battery("B1", volts, "chassis", "rail", internal)
        : battery("B1", volts, "rail", "chassis", internal),
    ];
    nets.forEach((net, k) => {
      drafts.push(ohms(`R${k}`, value(), net, pick(["rail", "chassis"])));
      drafts.push(
        ohms(`Q${k}`, value(), net, pick(["rail", "chassis", ...nets.filter((other) => other !== net)])),
      );
    });
    for (let k = 0; k < transistors; k++) {
      const any = ["rail", "chassis", ...nets];
      const b = pick(nets);
      drafts.push(transistor(`T${k}`, pick(["X0", "X1", "X2"]), pick(any), b, pick(any)));
      drafts.push(farads(`C${k}`, 1e-6, b, pick(any)));
    }
    return { drafts, types };
  });

/** Resistors, capacitors and coils in a random connected network, without sources. */
export const randomPassive = fc
  .record({
    nodes: fc.integer({ min: 2, max: 10 }),
    seeds: fc.array(fc.nat(), { minLength: 80, maxLength: 80 }),
    values: fc.array(fc.double({ min: -1.5, max: 1.5, noNaN: true }), { minLength: 40, maxLength: 40 }),
  })
  .map(({ nodes, seeds, values }) => {
    const nets = ["chassis", ...Array.from({ length: nodes }, (_, k) => `n${k}`)];
    return Array.from({ length: nodes * 3 }, (_, k): Draft => {
      const a = nets[k < nodes ? k + 1 : seeds[2 * k]! % nets.length]!;
      const others = k < nodes ? nets.slice(0, k + 1) : nets.filter((net) => net !== a);
      const b = others[seeds[2 * k + 1]! % others.length]!;
      const scale = 10 ** values[k % values.length]!;
      if (k < nodes || seeds[k]! % 3 === 0) return ohms(`R${k}`, 1000 * scale, a, b);
      if (seeds[k]! % 3 === 1) return farads(`C${k}`, 1e-7 * scale, a, b);
      return draft("inductor", `L${k}`, { inductance: 0.1 * scale, dcr: 5 }, a, b);
    });
  });

import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { hiss } from "../../src/bench/hiss.ts";
import { inEachMode } from "../../src/bench/run.ts";
import { baseResistors, coilAtCollector, tankFrequencies } from "../../src/bench/substitute/nets.ts";
import { PathMeter } from "../../src/bench/substitute/path-meter.ts";
import { substitute } from "../../src/bench/substitute.ts";
import { voltages } from "../../src/bench/voltages.ts";
import type { Circuit } from "../../src/circuit/circuit.ts";
import { libraryTypes, readNetlist } from "../../src/language/index.ts";
import { expectNear } from "../outside/bench.ts";

const NETLISTS = new URL("../../netlists/", import.meta.url);
const demo = (name: string): Circuit => circuitFrom(readFileSync(new URL(name, NETLISTS), "utf8"));

function circuitFrom(text: string): Circuit {
  const { circuit, diagnostics } = readNetlist(text, { file: "test.netlist" });
  if (circuit === undefined) throw new Error(diagnostics[0]?.message);
  return { ...circuit, types: { ...libraryTypes(), ...circuit.types } };
}

const DEMOS = readdirSync(NETLISTS).filter((name) => name.endsWith(".netlist") && name !== "library.netlist");
const SOCKETS = DEMOS.flatMap((file) =>
  demo(file)
    .parts.filter(({ kind }) => kind === "transistor")
    .map(({ name, type }) => ({ file, name, type: type! })),
);

/** Types whose figures are known to the last digit; no output conductance, no self-heating. */
const TYPES = `
type GE pnp germanium
    hfe 80 at 1 mA
    vbe 150 mV at 1 mA
    leakage 1 µA at 25 °C
    early 100000 V
    rbb 0 ohm
    ccb 0 pF at 6 V
    ft 2 MHz at 1 mA
    limits vce 20 V ptot 100 mW tj 75 °C
    case "TO-1"
    leads "in line, c b e"
type SI pnp silicon
    hfe 80 at 1 mA
    vbe 600 mV at 1 mA
    leakage 1 nA at 25 °C
    early 100000 V
    rbb 0 ohm
    ccb 0 pF at 6 V
    ft 100 MHz at 1 mA
    limits vce 45 V ptot 300 mW tj 150 °C
    case "TO-92"
    leads "in line, c b e"
type SLOW pnp germanium
    hfe 80 at 1 mA
    vbe 150 mV at 1 mA
    ft 0.3 MHz at 1 mA
    limits vce 8 V ptot 4 mW tj 75 °C
`;
const DIVIDER = `circuit "divider bias"
${TYPES}
battery B1 9 V plus chassis minus rail
resistor R1 39k rail to T1.b
resistor R2 10k T1.b to chassis
resistor R3 3k3 rail to T1.c
resistor R4 1k5 T1.e to chassis
transistor T1 GE
electrolytic C1 10µ plus in minus T1.b
electrolytic C2 100µ plus chassis minus T1.e
generator G1 1 mV source 600 ohm in to chassis
path stage from G1 to T1.c
`;

describe("a type in place of itself", () => {
  it.each(SOCKETS)("changes nothing: $name in $file", ({ file, name, type }) => {
    const { results, failures } = substitute(demo(file), name, [type]);
    expect(failures).toEqual([]);
    for (const { fitted, candidates, left_out } of results) {
      expect(left_out).toEqual([]);
      const [same] = candidates;
      expect(same).toMatchObject({ type, change: 0, limits: [], warnings: [], moved: [] });
      expect(same).not.toHaveProperty("rebias");
      expect(same?.transistors).toEqual(fitted.transistors);
      for (const [path, figures] of Object.entries(fitted.paths)) {
        const noisy = figures.input_noise_volts_rms !== undefined;
        const { quantity, ...numbers } = figures;
        expect(same?.paths[path]).toMatchObject({
          quantity,
          change_db: 0,
          ...(noisy && { noise_change_db: 0 }),
        });
        for (const [key, value] of Object.entries(numbers)) {
          expectNear(same!.paths[path]![key as keyof typeof numbers]!, value, 1e-10);
        }
      }
    }
  });
});

describe("candidates", () => {
  const circuit = circuitFrom(DIVIDER);

  it("read as the netlist with that type written in reads", () => {
    const [{ candidates }] = substitute(circuit, "T1", ["SI"]).results as [never];
    const written = circuitFrom(DIVIDER.replace("transistor T1 GE", "transistor T1 SI"));
    expect((candidates as { transistors: unknown }[])[0]?.transistors).toEqual(
      voltages(written).results[0]?.transistors,
    );
  });

  it("come in the order of their change, the least first", () => {
    const types = ["SI", "SLOW", "GE", "OC71", "BC557", "AC126"];
    const changes = substitute(circuit, "T1", types).results[0]!.candidates.map(({ change }) => change);
    expect(changes).toHaveLength(6);
    expect(changes).toEqual(changes.toSorted((a, b) => a - b));
    expect(changes[0]).toBe(0);
  });

  it("that find no operating point are left out with the reason", () => {
    const hot = `${DIVIDER.replace("9 V plus", "24 V plus").replace("R4 1k5", "R4 1R").replace("R3 3k3", "R3 100R")}
type HOT pnp germanium
    hfe 200 at 10 mA
    leakage 200 µA at 25 °C
    limits tj 75 °C
    rth 2 K/mW
`;
    const { results } = substitute(circuitFrom(hot), "T1", ["HOT"]);
    expect(results[0]?.candidates).toEqual([]);
    expect(results[0]?.left_out).toMatchObject([{ type: "HOT", reason: /thermal runaway of T1/ }]);
  });

  it("with insufficient limits are left out where every type is tried, and told of where they are named", () => {
    const tried = substitute(circuit, "T1", ["SLOW", "SI"], { sufficientOnly: true }).results[0]!;
    expect(tried.candidates.map(({ type }) => type)).toEqual(["SI"]);
    expect(tried.left_out).toMatchObject([{ type: "SLOW" }]);
    const [named] = substitute(circuit, "T1", ["SLOW"]).results[0]!.candidates;
    const told = [...(named?.limits ?? []), ...(named?.warnings ?? [])].join("\n");
    expect(told).toMatch(/SLOW stands 8 V/);
  });

  it("go into the other transistors named with it as well", () => {
    const pair = demo("thermistor-bias.netlist");
    const [T1, T2] = pair.parts.filter(({ kind }) => kind === "transistor").map(({ name }) => name);
    const [one] = substitute(pair, T1!, ["AC128"], { also: [T2!] }).results;
    expect(one?.also).toEqual([T2]);
    const both = [T1!, T2!].map((name) => ({ part: name, key: "type", value: "AC128" }));
    const chart = voltages(pair, { set: both, modes: [one!.mode] }).results[0];
    expect(one?.candidates[0]?.transistors).toEqual(chart?.transistors);
  });

  it("whose collector current leaves the spread say so, with the spread", () => {
    const [si] = substitute(circuit, "T1", ["SI"]).results[0]!.candidates;
    const moved = si?.moved.find(({ what }) => what === "T1 I_C");
    expect(moved).toBeDefined();
    expect(Math.abs(moved!.to)).toBeLessThan(Math.min(Math.abs(moved!.least), Math.abs(moved!.greatest)));
  });
});

describe("the bias resistor for silicon in a germanium socket", () => {
  const circuit = circuitFrom(DIVIDER);
  const bias = substitute(circuit, "T1", ["SI"]).results[0]!.candidates[0]!.rebias!;
  const currentWith = (resistor: string, value: number, type: string) => {
    const set = [
      { part: "T1", key: "type", value: type },
      { part: resistor, key: "resistance", value },
    ];
    return voltages(circuit, { set }).results[0]!.transistors.T1!.ic_amps;
  };

  it("restores the collector current to 1e-6", () => {
    const wanted = currentWith("R1", 39e3, "GE");
    expect(bias.wanted_amps).toBe(wanted);
    expect(Math.abs(currentWith(bias.resistor, bias.exact_ohms, "SI") / wanted - 1)).toBeLessThan(1e-6);
  });

  it("is the one at the base that need be changed least", () => {
    const other = bias.resistor === "R1" ? { name: "R2", ohms: 10e3 } : { name: "R1", ohms: 39e3 };
    const share = Math.abs(Math.log(bias.exact_ohms / bias.ohms));
    const reached = [-1, 1].map((sign) =>
      Math.abs(currentWith(other.name, other.ohms * Math.exp(sign * share), "SI")),
    );
    expect(Math.max(...reached)).toBeLessThan(Math.abs(bias.wanted_amps));
  });

  it("agrees with the divider worked out by hand", () => {
    // hand calculation: I_E·R4 + V_BE at the base, I_B out of it (PNP), R2 to chassis carries V_B/R2, and R1
    // carries that and I_B; V_BE of silicon at the present current from 600 mV at 1 mA and kT/q = 25.69 mV
    const ic = Math.abs(bias.wanted_amps);
    const ib = ic / 80;
    const vb = (ic + ib) * 1500 + 0.6 + 0.025693 * Math.log(ic / 1e-3);
    const r1 = (9 - vb) / (vb / 10e3 + ib);
    const r2 = vb / ((9 - vb) / 39e3 - ib);
    expect(Math.abs(bias.exact_ohms / (bias.resistor === "R1" ? r1 : r2) - 1)).toBeLessThan(2e-3);
  });

  it("is given as the nearest value of E12 too, with what that one gives", () => {
    // IEC 60063, series E12
    const e12 = [1, 1.2, 1.5, 1.8, 2.2, 2.7, 3.3, 3.9, 4.7, 5.6, 6.8, 8.2];
    const mantissa = Number(bias.preferred_ohms.toExponential().split("e")[0]);
    expect(e12).toContain(mantissa);
    expect(Math.abs(Math.log(bias.preferred_ohms / bias.exact_ohms))).toBeLessThan(Math.log(1.15));
    expect(bias.transistor.ic_amps).toBe(currentWith(bias.resistor, bias.preferred_ohms, "SI"));
    expect(bias.paths.stage).toBeDefined();
  });

  it("of a single resistor to the rail is (supply − V_BE)/I_B", () => {
    // Kulshreshtha & Gupta's fixed bias: R_B = (V_CC − V_BE)/I_B; leakage of 1 nA left out
    const fixed = circuitFrom(`circuit "fixed bias"
${TYPES}
battery B1 9 V plus chassis minus rail
resistor R1 560k rail to T1.b
resistor R2 2k2 rail to T1.c
transistor T1 GE e chassis
`);
    const found = substitute(fixed, "T1", ["SI"]).results[0]!.candidates[0]!.rebias!;
    const ic = Math.abs(found.wanted_amps);
    const vbe = 0.6 + 0.025693 * Math.log(ic / 1e-3);
    expect(found.resistor).toBe("R1");
    expect(Math.abs(found.exact_ohms / ((9 - vbe) / (ic / 80)) - 1)).toBeLessThan(1e-3);
  });

  it("is said not to be there where the base hangs on a potentiometer alone", () => {
    const pot = DIVIDER.replace(
      /^resistor R1 .*\nresistor R2 .*$/m,
      "potentiometer P1 50k setting 20% chassis to T1.b to rail",
    );
    const [si] = substitute(circuitFrom(pot), "T1", ["SI"]).results[0]!.candidates;
    expect(si).not.toHaveProperty("rebias");
    expect(si?.warnings.join("\n")).toMatch(/^bias: no resistor at the base of T1 brings back/m);
  });

  it("lies behind a resistor in the base lead, and behind a winding", () => {
    const stopper = circuitFrom(DIVIDER.replaceAll("T1.b", "foot").concat("resistor R9 1k foot to T1.b\n"));
    const names = (of: Circuit, name: string) =>
      baseResistors(of, of.parts.find((part) => part.name === name)!).map((part) => part.name);
    expect(names(stopper, "T1").toSorted()).toEqual(["R1", "R2", "R9"]);
    expect(names(demo("motor-regulator.netlist"), "T1").toSorted()).toEqual(["R1", "R2"]);
    expect(names(circuit, "T1").toSorted()).toEqual(["R1", "R2"]);
  });
});

describe("paths", () => {
  it("have the half-power points of the closed form", () => {
    // a high-pass and a low-pass that do not load each other: |H|² = x²/(1 + x²)·1/(1 + y²)
    const passive = circuitFrom(`circuit "two corners"
generator G1 1 mV in to chassis
capacitor C1 1µ in to middle
resistor R1 10k middle to chassis
path high from G1 to middle
`);
    inEachMode(passive, {}, (solved) => {
      const { low_hertz, high_hertz } = new PathMeter(solved).figures(passive.paths[0]!)!;
      const corner = 1 / (2 * Math.PI * 1e-6 * 10e3);
      const square = (hertz: number) => (hertz / corner) ** 2 / (1 + (hertz / corner) ** 2);
      const level = square(1000) / 2;
      expect(low_hertz! / (corner * Math.sqrt(level / (1 - level)))).toBeCloseTo(1, 9);
      expect(high_hertz).toBeUndefined();
      return { results: [], failures: [] };
    });
  });

  it("are those that go through the transistor, not those beside it on the same battery", () => {
    const stage = (n: number) => `
resistor R${n}1 39k rail to T${n}.b
resistor R${n}2 10k T${n}.b to chassis
resistor R${n}3 3k3 rail to T${n}.c
resistor R${n}4 1k5 T${n}.e to chassis
transistor T${n} GE
electrolytic C${n} 10µ plus in${n} minus T${n}.b
generator G${n} 1 mV source 600 ohm in${n} to chassis
path p${n} from G${n} to T${n}.c
`;
    const text = `circuit "two"${TYPES}battery B1 9 V internal 1 ohm plus chassis minus rail${stage(1)}${stage(2)}`;
    const two = circuitFrom(text);
    const through = (name: string) => Object.keys(substitute(two, name, []).results[0]!.fitted.paths);
    expect(through("T1")).toEqual(["p1"]);
    expect(through("T2")).toEqual(["p2"]);
  });
});

describe("warnings", () => {
  it("name a transistor that no longer works, with the dissipation beside what the type stands", () => {
    // 0.35 V at the base: germanium conducts, silicon does not
    const low = circuitFrom(DIVIDER.replace("R2 10k", "R2 1k6").replace("R4 1k5", "R4 330R"));
    const [{ fitted, candidates }] = substitute(low, "T1", ["SI"]).results as [
      ReturnType<typeof substitute>["results"][number],
    ];
    expect(fitted.ptot_watts).toBe(0.1);
    expect(candidates[0]?.ptot_watts).toBe(0.3);
    expect(candidates[0]?.warnings[0]).toBe("T1 is as good as cut off");
  });

  const warningsFor = (text: string, type: string) =>
    substitute(circuitFrom(text), "T1", [type]).results[0]!.candidates[0]!.warnings.join("\n");

  it("name a rated voltage below what the transistor stands when it is cut off", () => {
    expect(warningsFor(DIVIDER, "SLOW")).toMatch(/^V_CE: SLOW stands 8 V; cut off, it has the 9 V/m);
  });

  it("count twice the supply where a coil is at the collector", () => {
    const coil = DIVIDER.replace("resistor R3 3k3 rail", "inductor L1 1 H dcr 300 ohm rail").replace(
      "limits vce 8 V",
      "limits vce 12 V",
    );
    expect(warningsFor(coil, "SLOW")).toMatch(/^V_CE: SLOW stands 12 V; a coil at its collector.*18 V/m);
  });

  it("name a cut-off frequency that a resonant circuit at the transistor is too high for", () => {
    // 1/(2π√(1 mH · 1.8 nF)) = 119 kHz: 0.3 MHz is less than five times that
    const tank = DIVIDER.replace(
      "resistor R3 3k3 rail to T1.c",
      "inductor L1 1mH dcr 3 ohm rail to T1.c\ncapacitor C9 1n8 rail to T1.c\nresistor R3 3k3 rail to T1.c",
    );
    expect(warningsFor(tank, "SLOW")).toMatch(/tuned to 119 kHz; an f_T of 300 kHz/);
    expect(warningsFor(tank, "SI")).not.toMatch(/tuned/);
  });

  it("name leads in another order or another case, and leads that are not known", () => {
    expect(warningsFor(DIVIDER, "SI")).not.toMatch(/leads/);
    expect(warningsFor(DIVIDER, "OC71")).toMatch(/^leads: OC71 .*; GE TO-1, in line, c b e$/m);
    expect(warningsFor(DIVIDER, "SLOW")).toMatch(/^leads: those of SLOW are not known/m);
  });

  it("find the tank of the motor regulator's oscillator, whose sheet says 40 kHz, and its coil", () => {
    const circuit = demo("motor-regulator.netlist");
    const [T1, T2] = ["T1", "T2"].map((name) => circuit.parts.find((part) => part.name === name)!);
    const [tank, ...others] = tankFrequencies(circuit, T1!);
    expect(tank! / 38.7e3).toBeCloseTo(1, 2);
    expect(others).toEqual([]);
    expect(coilAtCollector(circuit, T1!)).toBe(true);
    expect(coilAtCollector(circuit, T2!)).toBe(false);
    expect(tankFrequencies(circuit, T2!)).toEqual([]);
  });
});

describe("the hiss of a substitute", () => {
  const text = `${DIVIDER}
type QUIET pnp germanium
    hfe 80 at 1 mA
    vbe 150 mV at 1 mA
    rbb 20 ohm
    flicker 100 Hz
`;
  it("is what the noise of the path says with it in place, and its change against the type fitted", () => {
    const circuit = circuitFrom(text);
    const [found] = substitute(circuit, "T1", ["QUIET"]).results;
    const [path] = Object.keys(found!.fitted.paths);
    const set = [{ part: "T1", key: "type", value: "QUIET" }];
    const noise = (conditions: object) =>
      hiss(circuit, { paths: [path!], ...conditions }).results[0]!.weighted["ITU-R 468"].input_volts_rms!;
    const [before, after] = [noise({}), noise({ set })];
    expect(found!.fitted.paths[path!]!.input_noise_volts_rms! / before).toBeCloseTo(1, 4);
    expect(found!.candidates[0]!.paths[path!]!.input_noise_volts_rms! / after).toBeCloseTo(1, 4);
    expect(found!.candidates[0]!.paths[path!]!.noise_change_db).toBeCloseTo(
      20 * Math.log10(after / before),
      3,
    );
  });
});

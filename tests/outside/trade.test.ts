/** Facts of the trade, which everyone at the bench knows and no single source owns: "common practice, no source" for all that name none. */
import { describe, expect, it } from "vitest";
import { chartOf, expectNear, expectWithin, gainOf, impedanceAt, netIn, transistorIn } from "./bench.ts";

/** A small germanium PNP of the usual kind; figures invented. */
const TYPE = `type GE pnp germanium
    hfe 70 at 1 mA
    vbe 130 mV at 1 mA
    leakage 4 µA at 25 °C
    doubling 9 K
    ft 1 MHz at 1 mA
    ccb 30 pF at 6 V
    rbb 90 ohm
    early 60 V
    rth 0.4 K/mW
`;

/** First stage of a preamplifier on −9 V, plus on chassis; about 1 mA. */
const stage = (emitter: string) => `${TYPE}
battery B1 9 V plus chassis minus rail
generator G1 1 mV source 1 ohm in to chassis
electrolytic C1 10000µ plus in minus T1.b
resistor R1 47k rail to T1.b
resistor R2 10k T1.b to chassis
resistor R3 3k3 rail to T1.c
${emitter}
transistor T1 GE
path stage from G1 to T1.c
`;
const plain = stage("resistor R4 1k2 T1.e to chassis");
const bypassed = stage("resistor R4 1k2 T1.e to chassis\nelectrolytic C2 10000µ plus chassis minus T1.e");

describe("a common-emitter stage", () => {
  it("has about R_C/(R_E + 1/g_m) of gain with its emitter resistor in circuit, turned over in phase", () => {
    const { gm_siemens } = transistorIn(chartOf(plain));
    const { re, im } = gainOf(plain, 1000);
    expectNear(re, -3300 / (1200 + 1 / gm_siemens), 0.02); // α, rbb and the Early effect
    expect(Math.abs(im / re)).toBeLessThan(0.05);
  });

  it("has about g_m·R_C of gain with the emitter bypassed, less what the collector's own resistance takes", () => {
    const { gm_siemens, ic, vce } = transistorIn(chartOf(bypassed));
    const collector = (60 + vce) / ic;
    const load = 1 / (1 / 3300 + 1 / collector);
    // rbb and the source divide with h_ie: 90 + 1 of 1.9k
    const hie = 70 / gm_siemens;
    expectNear(gainOf(bypassed, 1000).re, (-gm_siemens * load * hie) / (hie + 91), 0.01);
  });

  it("conducts I_C/V_T, with V_T about 26 mV at room temperature", () => {
    const { gm_siemens, ic } = transistorIn(chartOf(plain));
    // some 4 µA of leakage are part of I_C and carry no signal: half a percent
    expectNear(gm_siemens, ic / 0.026, 0.01);
  });

  it("gains about 20 dB less per tenfold emitter resistor once that is far above r_e", () => {
    const gain = (r: string) =>
      gainOf(
        stage(`resistor R4 1k2 T1.e to foot
wire foot to chassis
resistor R5 ${r} T1.e to ac
electrolytic C2 10000µ plus chassis minus ac`),
        1000,
      ).db;
    expectNear(gain("10 ohm") - gain("100 ohm"), 20 * Math.log10((100 + 28) / (10 + 28)), 0.02);
  });

  it("shows its source the bias resistors in parallel with hfe·(r_e + R_E)", () => {
    const { gm_siemens } = transistorIn(chartOf(plain));
    const base = 71 * (1 / gm_siemens + 1200) + 90;
    const expected = 1 / (1 / 47e3 + 1 / 10e3 + 1 / base);
    expectNear(
      impedanceAt(plain.replace(/^path.*$/m, "").replace("source 1 ohm ", ""), 1000).re,
      expected,
      0.005,
    );
  });

  it("loses its gain in proportion to frequency once the current gain has fallen to less than the source asks", () => {
    // fT 1 MHz: 20 dB a decade far above cut-off
    const behind = bypassed.replace("source 1 ohm", "source 10 kohm");
    expectWithin(gainOf(behind, 100e3).db - gainOf(behind, 200e3).db, 6, 0.6);
  });
});

describe("the current gain", () => {
  /** Current gain into a shorted collector at 1 mA. */
  const h21 = (hertz: number, figure: string) =>
    gainOf(
      `type GE npn germanium
    hfe 50 at 1 mA
    vbe 130 mV at 1 mA
    leakage 1 µA
    rbb 0 ohm
    ccb 1 pF at 5 V
    early 1 MV
    ${figure}
battery B1 5 V plus T1.c minus chassis
battery B2 1000 V plus chassis minus low
inductor L1 1 kH T1.e to rest
resistor R1 1 Mohm rest to low
capacitor C1 1 F T1.e to chassis
inductor L2 1 kH T1.b to chassis
generator G1 1 V source 10 Mohm T1.b to chassis
transistor T1 GE
path gain from G1 to B1 current
`,
      hertz,
    ).magnitude * 10e6;

  it("of a transistor is 1 at its transition frequency", () => {
    // definition of fT; |β| at fT is 1/√(1 + 1/β²), 0.9998
    expectNear(h21(1e6, "ft 1 MHz at 1 mA"), 1, 1e-3);
  });

  it("of a transistor is 3 dB down at fβ = fT/hfe", () => {
    const low = h21(100, "ft 1 MHz at 1 mA");
    expectWithin(20 * Math.log10(h21(20e3, "ft 1 MHz at 1 mA") / low), -3.01, 0.1);
    expectWithin(20 * Math.log10(h21(20e3, "fbeta 20 kHz at 1 mA") / low), -3.01, 0.1);
  });

  it("of an alloy transistor is 1 at fα/1.2", () => {
    // diffusion transistors have fα about 1.2·fT: Pritchard (from memory)
    expectNear(h21(1e6, "falpha 1.2 MHz at 1 mA"), 1, 1e-3);
  });
});

describe("an emitter follower", () => {
  // no Early effect: hfe is then 70 at any voltage
  const follower = (load: string) => `${TYPE.replace("early 60 V", "early 10 kV")}
battery B1 9 V plus chassis minus rail
generator G1 1 mV source 10 kohm in to chassis
electrolytic C1 10000µ plus in minus T1.b
resistor R1 100k rail to T1.b
resistor R2 100k T1.b to chassis
resistor R4 2k2 T1.e to chassis
transistor T1 GE c rail
${load}`;

  it("has a gain just below 1, without turning the phase", () => {
    const { re } = gainOf(
      `${follower("").replace("source 10 kohm", "source 1 ohm")}path f from G1 to T1.e\n`,
      1000,
    );
    expect(re).toBeGreaterThan(0.95);
    expect(re).toBeLessThan(1);
  });

  it("shows its load the source over hfe, and r_e", () => {
    const text = follower("generator G2 1 mV out to chassis\nelectrolytic C2 10000µ plus out minus T1.e\n");
    const { gm_siemens } = transistorIn(chartOf(follower("")));
    const source = 1 / (1 / 10e3 + 1 / 100e3 + 1 / 100e3);
    const expected = 1 / (1 / 2200 + 1 / (1 / gm_siemens + (source + 90) / 71));
    expectNear(impedanceAt(text, 1000, "G2").re, expected, 0.02);
  });
});

describe("the base-emitter voltage", () => {
  it("of conducting germanium lies between 0.1 and 0.25 V from 0.5 to 10 mA", () => {
    for (const amps of ["0.5", "1", "3", "10"]) {
      const text = `${TYPE}
battery B1 6 V plus chassis minus T1.c
battery B2 1000 V plus high minus chassis
resistor R1 ${1000 / Number(amps)} kohm high to T1.e
transistor T1 GE b chassis
`;
      const { vbe } = transistorIn(chartOf(text, { isothermal: true }));
      expect(vbe).toBeGreaterThan(0.1);
      expect(vbe).toBeLessThan(0.25);
    }
  });

  it("of conducting silicon lies between 0.55 and 0.7 V", () => {
    const text = `type SI npn silicon
    hfe 200 at 1 mA
battery B1 9 V plus rail minus chassis
resistor R1 47k rail to T1.b
resistor R2 10k T1.b to chassis
resistor R3 3k3 rail to T1.c
resistor R4 1k T1.e to chassis
transistor T1 SI
`;
    const { vbe } = transistorIn(chartOf(text));
    expect(vbe).toBeGreaterThan(0.55);
    expect(vbe).toBeLessThan(0.7);
  });

  it("falls about 2 mV a kelvin at constant current", () => {
    const text = `${TYPE}
battery B1 1 V plus chassis minus T1.c
battery B2 1000 V plus high minus chassis
resistor R1 1 Mohm high to T1.e
transistor T1 GE b chassis
`;
    const at = (ambientCelsius: number) => transistorIn(chartOf(text, { ambientCelsius })).vbe;
    expectWithin((at(35) - at(25)) / 10, -2e-3, 0.3e-3);
  });

  it("rises 60 mV for ten times the current", () => {
    // V_T·ln 10 = 59.2 mV at 25 °C; above the region where rbb counts less is nothing, so rbb 0 here
    const at = (kilohms: number) =>
      transistorIn(
        chartOf(
          `${TYPE.replace("rbb 90 ohm", "rbb 0 ohm")}
battery B1 1 V plus chassis minus T1.c
battery B2 1000 V plus high minus chassis
resistor R1 ${kilohms} kohm high to T1.e
transistor T1 GE b chassis
`,
          { isothermal: true },
        ),
      ).vbe;
    expectWithin(at(100) - at(1000), 60e-3, 2e-3);
  });
});

describe("leakage", () => {
  const leaky = (leakage: string, more = "") => `${TYPE.replace("leakage 4 µA", `leakage ${leakage}`)}
battery B1 6 V plus chassis minus rail
resistor R3 1 ohm rail to T1.c
${more}
transistor T1 GE e chassis
`;
  const openBase = (leakage: string, ambientCelsius: number) =>
    transistorIn(chartOf(leaky(leakage), { ambientCelsius, isothermal: true })).ic;

  it("with the base open is (1 + hfe) times that with the emitter open", () => {
    const emitterOpen = chartOf(
      leaky("4 µA").replace("transistor T1 GE e chassis", "transistor T1 GE b chassis"),
      { isothermal: true },
    );
    const collectorBase = Math.abs(transistorIn(emitterOpen).ic);
    expectNear(collectorBase, 4e-6, 0.01);
    // the Early voltage of 60 V raises hfe by V_CB/60, a tenth
    expectNear(openBase("4 µA", 25), 71 * collectorBase, 0.12);
  });

  it("with the emitter open doubles in 8 to 10 K", () => {
    const text = leaky("4 µA").replace("transistor T1 GE e chassis", "transistor T1 GE b chassis");
    const at = (ambientCelsius: number) =>
      transistorIn(chartOf(text, { ambientCelsius, isothermal: true })).ic;
    const doubling = (10 * Math.LN2) / Math.log(at(35) / at(25));
    expect(doubling).toBeGreaterThan(8);
    expect(doubling).toBeLessThan(10);
  });

  it("of a sound small transistor with open base is some 100 to 300 µA at room temperature", () => {
    // measured AC128s: 25 samples 155 to 300 µA (crawlsbackward.blogspot 2011); 30 to 300, typically 100 µA
    // (ramser-elektro.at)
    expect(openBase("4 µA", 25)).toBeGreaterThan(100e-6);
    expect(openBase("4 µA", 25)).toBeLessThan(350e-6);
  });

  it("grows from I_CBO over I_CES and I_CER to I_CEO as the base is left ever freer", () => {
    const with_ = (more: string) => transistorIn(chartOf(leaky("4 µA", more), { isothermal: true })).ic;
    const shorted = with_("wire T1.b to T1.e");
    const resistor = with_("resistor R5 10k T1.b to T1.e");
    expect(shorted).toBeGreaterThan(4e-6);
    expect(resistor).toBeGreaterThan(shorted);
    expect(openBase("4 µA", 25)).toBeGreaterThan(2 * resistor);
  });

  it("raises the collector current of a stage by leakage times stability factor when a leaky transistor warms to 45 °C", () => {
    // I_CBO 15 µA at 25 °C against 4 µA, 2^(20/9) times that at 45 °C; the stage's S is
    // (1+β)(1+R_B/R_E)/(1+β+R_B/R_E) with R_E + r_e
    const circuit = plain.replace("leakage 4 µA", "leakage 15 µA").replace("early 60 V", "early 10 kV");
    const sound = plain.replace("early 60 V", "early 10 kV");
    const at = (text: string) => transistorIn(chartOf(text, { ambientCelsius: 45, isothermal: true })).ic;
    const leak = 11e-6 * 2 ** (20 / 9);
    const beta = 70 * (318.15 / 298.15) ** 1.5;
    const ratio = 1 / (1 / 47e3 + 1 / 10e3) / (1200 + 0.0274 / ((at(circuit) + at(sound)) / 2));
    const s = ((1 + beta) * (1 + ratio)) / (1 + beta + ratio);
    expectNear(at(circuit) - at(sound), leak * s, 0.02);
    expect(at(circuit)).toBeGreaterThan(1.25 * at(sound));
  });

  it("through the base divider pulls a leaky stage's collector towards its emitter", () => {
    // PNP, plus on chassis: the collector becomes less negative, the emitter more
    const sound = transistorIn(chartOf(plain));
    const bad = transistorIn(chartOf(plain.replace("leakage 4 µA", "leakage 100 µA")));
    expect(bad.c_volts).toBeGreaterThan(sound.c_volts);
    expect(bad.e_volts).toBeLessThan(sound.e_volts);
  });
});

describe("voltages on the chart", () => {
  it("of a PNP stage with plus on chassis are all negative, the base 0.1 to 0.2 V more so than the emitter", () => {
    const t1 = transistorIn(chartOf(plain));
    expect(t1.c_volts).toBeLessThan(t1.b_volts);
    expect(t1.b_volts).toBeLessThan(t1.e_volts);
    expect(t1.e_volts).toBeLessThan(0);
    expectWithin(t1.e_volts - t1.b_volts, 0.15, 0.05);
  });

  it("show the emitter near the base and the collector at the rail when the base divider's upper resistor is open", () => {
    const t1 = transistorIn(chartOf(plain.replace("resistor R1 47k", "resistor R1 30M")));
    expect(t1.ve).toBeLessThan(0.1);
    expect(t1.vc).toBeGreaterThan(8.5);
  });

  it("show all three pins near one voltage when the emitter resistor carries a saturated transistor", () => {
    const t1 = transistorIn(chartOf(plain.replace("resistor R1 47k", "resistor R1 1k5")));
    expect(t1.region).toBe("saturated");
    expect(t1.vce).toBeLessThan(0.15);
  });
});

describe("a stage coupled and bypassed", () => {
  it("is 3 dB down where the coupling capacitor's reactance equals source and input resistance in series", () => {
    const text = plain.replace("electrolytic C1 10000µ plus in minus T1.b", "capacitor C1 100n in to T1.b");
    const input = impedanceAt(plain.replace(/^path.*$/m, "").replace("source 1 ohm ", ""), 1000).re;
    const corner = 1 / (2 * Math.PI * 100e-9 * (input + 1));
    expectWithin(gainOf(plain, corner).db - gainOf(text, corner).db, 3.0103, 0.15);
  });

  it("is 3 dB down where the emitter capacitor's reactance equals what the emitter shows, r_e + source/hfe", () => {
    // no Early effect: the collector's own resistance would add some 5 % to r_e
    const ideal = bypassed.replace("early 60 V", "early 10 kV");
    const text = ideal.replace("C2 10000µ", "C2 100µ");
    const { gm_siemens } = transistorIn(chartOf(text));
    const resistance = 1 / (1 / 1200 + 1 / (1 / gm_siemens + 91 / 71));
    const corner = 1 / (2 * Math.PI * 100e-6 * resistance);
    expectWithin(gainOf(ideal, corner).db - gainOf(text, corner).db, 3.0103, 0.1);
  });
});

describe("supply decoupling", () => {
  it("drops the decoupled stage's current times the resistor", () => {
    const text = plain
      .replaceAll("rail to T1", "quiet to T1")
      .concat("resistor R9 470R rail to quiet\nelectrolytic C9 100µ plus chassis minus quiet\n");
    const chart = chartOf(text);
    const current = Math.abs(chart.parts.R9!.amps);
    expectWithin(netIn(chart, "rail") - netIn(chart, "quiet"), -470 * current, 1e-9);
    expect(current).toBeGreaterThan(transistorIn(chart).ic);
  });
});

import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { faults } from "../report/json-schema.ts";
import { OSCILLATOR, preprobe, STAGE } from "./desk.ts";

const schema = JSON.parse(readFileSync(new URL("../../docs/result.schema.json", import.meta.url), "utf8"));

const files = {
  "stage.netlist": STAGE,
  "oscillator.netlist": OSCILLATOR,
  "governed.netlist": `circuit "A motor with its governor"
battery  B1  7 V internal 1 ohm plus feed minus chassis
governor GV1 of M1 opens 2400 rpm closes 2380 rpm feed to rail
resistor R1  47R feed to rail
motor    M1  18 ohm emf 2.1 mV/rpm inertia 40 gcm2 drag 0.4 mNm load 0.6 mNm plus rail minus chassis
`,
};

/** What is looked at here: events with their cursors, a governor at work, a swing faster than its values. */
const LOOKS: readonly (readonly [name: string, options: readonly string[]])[] = [
  [
    "switched",
    [..."stage.netlist --mode play --for 0.5s --tolerance 1e-6 --show rail,T1.c,out".split(" ")].concat(
      "--at",
      "50ms B1=on",
      "--at",
      "300ms S1=record",
    ),
  ],
  ["governed", "governed.netlist --for 0.8s --tolerance 1e-6".split(" ")],
  ["oscillator", "oscillator.netlist --for 4ms --every 40us --show T1.c,T1.e,bias".split(" ")],
];

describe("waveforms to look at", () => {
  it.each(LOOKS)("%s: the terminal shows what is kept in golden/", async (name, options) => {
    const { code, out } = await preprobe(["waveform", ...options], files);
    expect(code).toBe(0);
    await expect(out).toMatchFileSnapshot(`golden/waveform-${name}.txt`);
  });

  it.each(LOOKS)("%s: the oscillogram is the one kept in golden/", async (name, options) => {
    const { code, written } = await preprobe(["waveform", ...options, "-o", "seen.svg"], files);
    expect(code).toBe(0);
    await expect(written["seen.svg"]).toMatchFileSnapshot(`golden/waveform-${name}.svg`);
  });

  it.each(LOOKS)("%s: JSON fits the published schema", async (_, options) => {
    const { out } = await preprobe(["waveform", ...options, "--json"], files);
    expect(faults(JSON.parse(out), schema)).toEqual([]);
  });

  it("leaves out the column of a reading that no trace has", async () => {
    const { out } = await preprobe("waveform governed.netlist --for 0.8s --show rail", files);
    expect(out).not.toContain("settled after");
    const settled = await preprobe(["waveform", ...LOOKS[0]![1]], files);
    expect(settled.out).toContain("settled after");
  });
});

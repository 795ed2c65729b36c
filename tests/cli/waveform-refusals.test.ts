import { describe, expect, it } from "vitest";
import { preprobe } from "./desk.ts";

const FILES = {
  "rc.netlist": `battery B1 10 V plus a minus chassis
switch S1 play record
    pole line a play feed record spare
resistor R1 10k feed to out
capacitor C1 100n out to chassis
resistor R3 1M spare to chassis
generator G1 1 mV in to chassis
resistor R2 1k in to chassis
`,
  "contradictory.netlist": `battery B1 6 V plus a minus chassis
battery B2 5 V plus b minus chassis
switch S1 on off contact 0 ohm
    pole p a  off open on b
resistor R1 1k open to chassis
mode apart S1 off
`,
};

/** What a user types, each refused; and what runs into a state that cannot be. */
const REFUSED: readonly string[] = [
  `rc.netlist --for 3600s --every 1us`,
  `rc.netlist --for 1ms --every 10ms`,
  `rc.netlist --for 0s`,
  `rc.netlist --for 11h`,
  `rc.netlist --for 40000s`,
  `rc.netlist --for 1ps`,
  `rc.netlist --at "50ms S1=record" --at "50ms S1=play"`,
  `rc.netlist --at "0.1s R1=1k" --at "0.1s R1=2k"`,
  `rc.netlist --at "0 B1=on" --at "1ms B1=on"`,
  `rc.netlist --for 10ms --at "20ms S1=record"`,
  `rc.netlist --at "5ms S1=recrod"`,
  `rc.netlist --at "5ms S2=record"`,
  `rc.netlist --at 5ms`,
  `rc.netlist --at "-1ms S1=record"`,
  `rc.netlist --at "1ms G1=off"`,
  `rc.netlist --start outt=1V`,
  `rc.netlist --start chassis=1V`,
  `rc.netlist --start warm`,
  `rc.netlist --start rest --start point`,
  `rc.netlist --tone 1kHz,-20mV`,
  `rc.netlist --tone 0Hz,1mV`,
  `rc.netlist --tone 1kHz`,
  `rc.netlist --tone 1kHz,1mV,G2`,
  `rc.netlist --show outt`,
  `rc.netlist --show "R1 speed"`,
  `rc.netlist --tolerance 2`,
  `rc.netlist --mode pause --for 1ms --every 1s --at "2ms B1=off" --at "1ms S1=pley" --at "1ms R1=1k" --at "1ms R1=2k" --start nowhere=1V --tone 1kHz,-1mV,G9 --show inn`,
  `contradictory.netlist --mode apart --at "0 S1=on"`,
  `contradictory.netlist --mode apart --for 10ms --at "5ms S1=on"`,
];

/** Words as a shell parts them. */
const words = (line: string) =>
  [...line.matchAll(/"([^"]*)"|(\S+)/g)].map(([, quoted, plain]) => quoted ?? plain!);

describe("waveform refuses in clear sentences, all at once", () => {
  it("as kept in golden/waveform-refused.txt, which is there to be read", async () => {
    const said: string[] = [];
    for (const line of REFUSED) {
      const { code, out, err } = await preprobe(["waveform", ...words(line)], FILES);
      expect([line, code]).toEqual([line, line.startsWith("rc") ? 2 : 1]);
      expect([line, out]).toEqual([line, ""]);
      said.push(`$ preprobe waveform ${line}\n${err}`);
    }
    await expect(said.join("\n")).toMatchFileSnapshot("golden/waveform-refused.txt");
  });

  it("takes an event without its quotes", async () => {
    const { code, out } = await preprobe("waveform rc.netlist --at 5ms S1=record --for 10ms --json", FILES);
    expect(code).toBe(0);
    expect(JSON.parse(out).results[0].marks).toEqual([{ what: "S1=record", seconds: 5e-3 }]);
  });
});

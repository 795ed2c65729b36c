import type { Fault } from "./faults.ts";
import type { FaultKey } from "./weights.ts";

/** What to check and how, by fault; common practice, no source. `PART` stands for the part's name. */
const CHECKS: Readonly<Record<FaultKey, string>> = {
  "resistor: open": "unsolder one leg of PART and measure it; look for a burnt body or a cracked joint",
  "resistor: drifted up":
    "unsolder one leg of PART and measure it, cold and after warming it with a hair dryer",
  "resistor: drifted down": "unsolder one leg of PART and measure it; in circuit it only ever reads less",
  "resistor: short": "look for solder or a bent leg across PART; unsolder one leg and measure",
  "capacitor: leaky":
    "unsolder one leg of PART: if the voltages return, it leaks; measure it at its working voltage",
  "capacitor: short": "unsolder one leg of PART and measure its resistance: there should be none",
  "capacitor: open": "put a sound capacitor of the same value across PART and listen",
  "electrolytic: dried out":
    "put a sound electrolytic of the same value across PART, the right way round, and listen",
  "electrolytic: leaky":
    "unsolder one leg of PART: if the voltages return, it leaks; one that was idle may form again",
  "electrolytic: short": "unsolder one leg of PART and measure its resistance after a minute",
  "electrolytic: open": "put a sound electrolytic of the same value across PART, the right way round",
  "electrolytic: put in backwards":
    "compare the marks on PART with the diagram; replace it if it stood backwards",
  "inductor: open": "measure the resistance of PART, power off",
  "inductor: shorted turns": "measure the inductance of PART, or compare its Q with a sound one",
  "head: open": "measure PART with the smallest current the meter has, then demagnetise it",
  "head: shorted turns": "compare PART's inductance with its other track or another head",
  "loudspeaker: open": "measure PART, power off; look at its leads where they enter the cone",
  "loudspeaker: short": "measure PART with one lead off",
  "meter: open": "measure PART through a resistor that holds the current below full deflection",
  "lamp: open": "measure PART, or put in another",
  "motor: open": "measure PART while turning its shaft: brushes and commutator",
  "generator: open": "measure what is connected as PART, and its lead",
  "thermistor: open": "measure PART at a known temperature, one leg unsoldered",
  "thermistor: short": "measure PART at a known temperature, one leg unsoldered",
  "thermistor: drifted up": "measure PART at a known temperature, one leg unsoldered",
  "thermistor: drifted down": "measure PART at a known temperature, one leg unsoldered",
  "diode: open": "measure PART both ways, one leg unsoldered",
  "diode: short": "measure PART both ways, one leg unsoldered",
  "diode: put in backwards": "compare the ring on PART with the diagram",
  "transistor: base-emitter open": "unsolder PART and measure base to emitter both ways",
  "transistor: base-emitter short": "unsolder PART and measure base to emitter both ways",
  "transistor: collector-base open": "unsolder PART and measure base to collector both ways",
  "transistor: collector-base short": "unsolder PART and measure base to collector both ways",
  "transistor: emitter-collector short":
    "unsolder PART and measure emitter to collector: nearly nothing should pass",
  "transistor: base lead open":
    "press on the leads of PART with an insulated stick while measuring; then test it",
  "transistor: hfe low": "test PART's hfe out of circuit (preprobe grade)",
  "transistor: leakage high":
    "cool PART with freezing spray, briefly: if the voltages move towards normal, it leaks; test it (preprobe grade)",
  "transistor: lead shorted to its screen":
    "cut the screen's lead of PART: if all is well then, whiskers have grown inside",
  "transistor: put in backwards": "compare the leads of PART with its sheet (preprobe types)",
  "transformer: winding open": "measure the windings of PART, power off",
  "transformer: shorted turns": "measure PART's inductance, the other windings open",
  "transformer: windings touch": "measure between the windings of PART, power off",
  "switch: contact open": "work PART several times; measure across the contact, power on",
  "switch: contact high": "work PART several times, clean its contacts, measure the drop across the contact",
  "switch: contact stuck": "measure across the contact of PART, power off, in each position",
  "governor: contact open": "measure across the contact of PART, power off, the rotor at rest",
  "governor: contact high": "clean the contact and the slip ring of PART; measure through them, power off",
  "governor: contact stuck":
    "open the contact of PART with a strip of paper and measure across it, power off",
  "battery: weak": "measure PART under load; put in fresh cells",
  "battery: open": "measure at the terminals of PART, then behind its contacts, leads and switch: verdigris",
  "potentiometer: worn at the wiper": "turn PART to and fro while measuring at the wiper",
  "potentiometer: drifted up": "measure PART from end to end, power off, an end unsoldered",
  "potentiometer: track open": "measure PART from end to end, power off",
  "potentiometer: bridge between pins": "look for solder or wire between the pins of PART",
  "trimmer: worn at the wiper": "mark PART's setting, turn it to and fro, set it back",
  "trimmer: drifted up": "measure PART from end to end, power off, an end unsoldered",
  "trimmer: track open": "measure PART from end to end, power off",
  "trimmer: bridge between pins": "look for solder or wire between the pins of PART",
};

const POWER_OFF = "take the battery out before soldering, and let the large electrolytics run down";
const MAINS =
  "with a mains unit, mains and charged capacitors can kill even when it is switched off: follow the rules of your country and leave that side to those licensed for it";
const HEAT =
  "a germanium junction does not survive a slow iron: hold the lead with pliers between iron and case";
const WARM = "power transistors and resistors may be hot enough to burn: let them cool first";
const CAN = "a metal can may be live: touch nothing else while probing it";

/** What to check, in a phrase. */
export const checkOf = ({ key, part }: Fault): string => CHECKS[key].replaceAll("PART", part);

/** What to heed while doing so, in phrases; the usual cautions of the trade. */
export function cautionsOf({ key }: Fault): readonly string[] {
  const [kind] = key.split(":");
  if (kind === "transistor" || kind === "diode") return [POWER_OFF, HEAT, WARM, MAINS];
  if (kind === "electrolytic") return [POWER_OFF, CAN, MAINS];
  return [POWER_OFF, WARM, MAINS];
}

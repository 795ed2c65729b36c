/** What one types over to have a netlist of one's own: a stage that works, laid out as `check --format` does it. */
export const OWN = `# A circuit of your own: a line for each part. What it is comes first, then its name, its value, and between
# which points it lies: nets by a name (rail, out), or pins (T1.b). Type over what stands here.

circuit "One stage, to be typed over"
use library

battery        B1  9 V                  plus chassis minus rail
generator      G1  1 mV source 600 ohm  source to chassis
electrolytic   C1  10µ 10 V             plus source minus T1.b
resistor       R1  39k                  rail to T1.b
resistor       R2  10k                  T1.b to chassis
transistor     T1  GP  # amplifier
resistor       R3  3k3                  rail to T1.c
resistor       R4  1k5                  T1.e to chassis
electrolytic   C2  100µ 3 V             plus chassis minus T1.e
electrolytic   C3  10µ 10 V             plus out minus T1.c
resistor       R5  10k                  out to chassis

path           stage from G1 to out
`;

/** `own.netlist`, the second `own-2.netlist`. */
export const ownName = (count: number): string => (count === 1 ? "own.netlist" : `own-${count}.netlist`);

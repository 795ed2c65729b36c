/** An output stage in class B with its driver transformer, for what is said of power. */
export const OUTPUT_PAIR = `use library
battery      B1  9 V internal 1 ohm     plus chassis  minus rail
generator    G1  100 mV source 100 ohm  in to chassis
transformer  TR1 magnetising 4 H on primary coupling 0.999
    winding primary   1200 turns dcr 180 ohm  in to chassis
    winding secondary 800 turns dcr 90 ohm    upper to bias to lower
resistor     R1  1k8                    rail to bias
trimmer      P1  100R setting 25%       bias to chassis
transistor   T1  OC72                   b upper  e tail
transistor   T2  OC72                   b lower  e tail
resistor     R2  4R7                    tail to chassis
transformer  TR2 magnetising 1 H on primary coupling 0.999
    winding primary   400 turns dcr 7 ohm   T1.c to rail to T2.c
    winding secondary 63 turns dcr 0.3 ohm  speaker to chassis
loudspeaker  LS1 5 ohm                  speaker to chassis
path         output from G1 to LS1 voltage
`;

"""Silicon, alone and beside germanium."""

from collection import circuit


@circuit("silicon-pair", "Silicon direct-coupled pair with two feedback paths", ["SN1", "SBARE"], """
battery B1 18 V internal 1R plus supply minus chassis
head K1 400mH dcr 500R capacitance 150p hot to chassis
resistor R1 47k hot to chassis
capacitor C1 220n hot to T1.b
resistor R2 220k T1.b to T2.e
resistor R3 330R T1.e to chassis
resistor R4 150k T1.c to supply
wire T1.c to T2.b
transistor T1 SN1
transistor T2 SBARE
resistor R5 820R T2.e to chassis
electrolytic C2 47µ 6 V esr 1R leakage 1 µA plus T2.e minus chassis
resistor R6 8k2 T2.c to supply
capacitor C3 3n3 T2.c to eq
resistor R7 22k eq to T1.e
resistor R8 470k T2.c to eq
electrolytic C4 2µ2 plus T2.c minus out
resistor R9 100k out to chassis
path playback from K1 to out
""")
def _(c):
    c.battery("B1", 18, "supply", "chassis", internal=1)
    c.head("K1", 400e-3, "hot", "chassis", dcr=500, capacitance=150e-12)
    c.R("R1", 47e3, "hot", "chassis")
    c.C("C1", 220e-9, "hot", "T1.b")
    c.R("R2", 220e3, "T1.b", "T2.e")
    c.R("R3", 330, "T1.e", "chassis")
    c.R("R4", 150e3, "T1.c", "supply")
    c.wire("T1.c", "T2.b")
    c.T("T1", "SN1")
    c.T("T2", "SBARE")
    c.R("R5", 820, "T2.e", "chassis")
    c.E("C2", 47e-6, "T2.e", "chassis", esr=1, leakage=1e-6, rated=6)
    c.R("R6", 8200, "T2.c", "supply")
    c.C("C3", 3.3e-9, "T2.c", "eq")
    c.R("R7", 22e3, "eq", "T1.e")
    c.R("R8", 470e3, "T2.c", "eq")
    c.E("C4", 2.2e-6, "T2.c", "out")
    c.R("R9", 100e3, "out", "chassis")
    c.path("playback", "K1", ("net", "out"))


@circuit("silicon-germanium", "Silicon input, germanium output, self-heating on both", ["SN1", "SP1", "SMED", "GPOW", "GPOWN", "DS1"], """
ambient 35 °C
battery B1 15 V internal 0R5 plus supply minus chassis
generator G1 0.1 V source 10k in to chassis
electrolytic C1 4µ7 plus T1.b minus in
resistor R1 180k T1.b to supply
resistor R2 150k T1.b to chassis
transistor T1 SP1
resistor R3 2k2 T1.e to middle
resistor R4 1k5 T1.c to chassis
transistor T2 SMED e T2.e b T1.c c low
resistor R5 10R T2.e to chassis
diode D1 DS1 anode high cathode low
resistor R6 330R high to boot
resistor R7 270R boot to supply
electrolytic C2 47µ plus boot minus middle
transistor T3 GPOWN e T3.e b high c supply
transistor T4 GPOW e T4.e b low c chassis
resistor R8 4R7 T3.e to middle
resistor R9 4R7 T4.e to middle
resistor R11 27R high to shunt
resistor R12 6R8 shunt to low
electrolytic C3 470µ esr 0R2 plus middle minus speaker
loudspeaker LS1 15 ohm re 13R le 0.6mH fs 110 Hz qms 3 qes 1.2 speaker to chassis
electrolytic C4 100µ plus T1.e minus fb
resistor R10 220R fb to chassis
transistor T5 SN1 e chassis b T5.b c T1.b
resistor R13 100k T5.b to chassis
path power from G1 to speaker
path current from G1 to LS1 current
""", ambient=35.0)
def _(c):
    c.battery("B1", 15, "supply", "chassis", internal=0.5)
    c.G("G1", "in", "chassis", source=10e3)
    c.E("C1", 4.7e-6, "T1.b", "in")
    c.R("R1", 180e3, "T1.b", "supply")
    c.R("R2", 150e3, "T1.b", "chassis")
    c.T("T1", "SP1")
    c.R("R3", 2200, "T1.e", "middle")
    c.R("R4", 1500, "T1.c", "chassis")
    c.T("T2", "SMED", "T2.e", "T1.c", "low")
    c.R("R5", 10, "T2.e", "chassis")
    c.D("D1", "DS1", "high", "low")
    c.R("R6", 330, "high", "boot")
    c.R("R7", 270, "boot", "supply")
    c.E("C2", 47e-6, "boot", "middle")
    c.T("T3", "GPOWN", "T3.e", "high", "supply")
    c.T("T4", "GPOW", "T4.e", "low", "chassis")
    c.R("R8", 4.7, "T3.e", "middle")
    c.R("R9", 4.7, "T4.e", "middle")
    c.R("R11", 27, "high", "shunt")
    c.R("R12", 6.8, "shunt", "low")
    c.E("C3", 470e-6, "middle", "speaker", esr=0.2)
    c.speaker("LS1", 15, "speaker", "chassis", re=13, le=0.6e-3, fs=110, qms=3, qes=1.2)
    c.E("C4", 100e-6, "T1.e", "fb")
    c.R("R10", 220, "fb", "chassis")
    c.T("T5", "SN1", "chassis", "T5.b", "T1.b")
    c.R("R13", 100e3, "T5.b", "chassis")
    c.path("power", "G1", ("net", "speaker"))
    c.path("current", "G1", ("current", "LS1"))


@circuit("cascode", "Silicon cascode and current source with lamp and meter in circuit", ["SN1", "SP1", "SBARE", "DSBARE"], """
ambient 5 °C
battery B1 24 V plus supply minus chassis
generator G1 1 mV source 1k in to chassis
electrolytic C1 10µ leakage 0.2 µA plus T1.b minus in
resistor R1 56k step to T1.b
resistor R2 6k8 T1.b to chassis
resistor R3 330R T1.e to chassis
electrolytic C2 100µ esr 0R5 plus T1.e minus chassis
transistor T1 SN1 e T1.e b T1.b c joint
transistor T2 SBARE e joint b step c T2.c
resistor R4 68k step to supply
resistor R5 33k step to chassis
electrolytic C3 22µ plus step minus chassis
transistor T3 SP1 e T3.e b T3.b c T2.c
resistor R6 470R T3.e to lamp_foot
lamp LA1 12 V 40 mA supply to lamp_foot
diode D1 DSBARE anode supply cathode chain
diode D2 DSBARE anode chain cathode T3.b
resistor R7 15k T3.b to M1.plus
meter M1 120R full 5 mA plus M1.plus minus chassis
resistor R8 12k T2.c to chassis
path gain from G1 to T2.c
path joint from G1 to joint
path meter from G1 to M1 current
""", ambient=5.0)
def _(c):
    c.battery("B1", 24, "supply", "chassis")
    c.G("G1", "in", "chassis", source=1000)
    c.E("C1", 10e-6, "T1.b", "in", leakage=0.2e-6)
    c.R("R1", 56e3, "step", "T1.b")
    c.R("R2", 6800, "T1.b", "chassis")
    c.R("R3", 330, "T1.e", "chassis")
    c.E("C2", 100e-6, "T1.e", "chassis", esr=0.5)
    c.T("T1", "SN1", "T1.e", "T1.b", "joint")
    c.T("T2", "SBARE", "joint", "step", "T2.c")
    c.R("R4", 68e3, "step", "supply")
    c.R("R5", 33e3, "step", "chassis")
    c.E("C3", 22e-6, "step", "chassis")
    c.T("T3", "SP1", "T3.e", "T3.b", "T2.c")
    c.R("R6", 470, "T3.e", "lamp_foot")
    c.lamp("LA1", 12, 40e-3, "supply", "lamp_foot")
    c.D("D1", "DSBARE", "supply", "chain")
    c.D("D2", "DSBARE", "chain", "T3.b")
    c.R("R7", 15e3, "T3.b", "M1.plus")
    c.meter("M1", 120, "M1.plus", "chassis")
    c.R("R8", 12e3, "T2.c", "chassis")
    c.path("gain", "G1", ("net", "T2.c"))
    c.path("joint", "G1", ("net", "joint"))
    c.path("meter", "G1", ("current", "M1"))

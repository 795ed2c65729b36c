"""Drivers, push-pull outputs, bias oscillators and regulators, most with junctions that heat themselves."""

from collection import circuit


@circuit("push-pull-output", "Push-pull output with transformers, self-heating and a tracking thermistor", ["GDRV", "GPOW"], """
battery B1 9 V internal 0R8 plus chassis minus rail
generator G1 20 mV source 2k2 in to chassis
electrolytic C1 10µ plus in minus T1.b
resistor R1 33k T1.b to rail
resistor R2 5k6 T1.b to chassis
resistor R3 180R T1.e to chassis
electrolytic C2 100µ esr 1R plus chassis minus T1.e
transistor T1 GDRV
transformer TR1 magnetising 4 H on drive coupling 0.999 loss 30k on drive
    winding drive 2400 turns dcr 210R T1.c to rail
    winding split 1000 turns dcr 92R T2.b to bias to T3.b
resistor R4 2k7 rail to bias
thermistor TH1 130R at 25 °C bvalue 3000 K tracks T2 bias to chassis
resistor R5 180R bias to chassis
transistor T2 GPOW
transistor T3 GPOW e T2.e
resistor R6 4R7 T2.e to chassis
transformer TR2 magnetising 0.9 H on plates coupling 0.998
    winding plates 600 turns dcr 14R T2.c to rail to T3.c
    winding voice 110 turns dcr 0R5 speaker to chassis
loudspeaker LS1 8 ohm re 7R2 le 0.25mH fs 150 Hz qms 3.5 qes 1.8 speaker to chassis
resistor R7 3k9 speaker to T1.e
path power from G1 to LS1 voltage
path bases from G1 to T2.b minus T3.b
path cone from G1 to LS1 current
""")
def _(c):
    c.battery("B1", 9, "chassis", "rail", internal=0.8)
    c.G("G1", "in", "chassis", source=2200)
    c.E("C1", 10e-6, "in", "T1.b")
    c.R("R1", 33e3, "T1.b", "rail")
    c.R("R2", 5600, "T1.b", "chassis")
    c.R("R3", 180, "T1.e", "chassis")
    c.E("C2", 100e-6, "chassis", "T1.e", esr=1)
    c.T("T1", "GDRV")
    c.transformer("TR1", [
        ("drive", [2400], 210, ["T1.c", "rail"]),
        ("split", [500, 500], 92, ["T2.b", "bias", "T3.b"]),
    ], magnetising=(4, "drive"), coupling=0.999, loss=(30e3, "drive"))
    c.R("R4", 2700, "rail", "bias")
    c.thermistor("TH1", 130, 3000, "bias", "chassis", tracks="T2")
    c.R("R5", 180, "bias", "chassis")
    c.T("T2", "GPOW")
    c.T("T3", "GPOW", e="T2.e")
    c.R("R6", 4.7, "T2.e", "chassis")
    c.transformer("TR2", [
        ("plates", [300, 300], 14, ["T2.c", "rail", "T3.c"]),
        ("voice", [110], 0.5, ["speaker", "chassis"]),
    ], magnetising=(0.9, "plates"), coupling=0.998)
    c.speaker("LS1", 8, "speaker", "chassis", re=7.2, le=0.25e-3, fs=150, qms=3.5, qes=1.8)
    c.R("R7", 3900, "speaker", "T1.e")
    c.path("power", "G1", ("voltage", "LS1"))
    c.path("bases", "G1", ("net", "T2.b", "T3.b"))
    c.path("cone", "G1", ("current", "LS1"))


@circuit("complementary-output", "Output pair without transformers, bias by thermistor and trimmer", ["GDRV", "GPOW", "GPOWN", "GN1"], """
ambient 30 °C
battery B1 12 V internal 0R6 plus rail minus chassis
generator G1 50 mV source 1k in to chassis
electrolytic C1 10µ plus in minus T1.b
resistor R1 47k T1.b to middle
resistor R2 33k T1.b to chassis
transistor T1 GPOWN e T1.e b T1.b c low
resistor R3 330R T1.e to chassis
thermistor TH1 33R at 25 °C bvalue 3300 K tracks T3 low to TH1.2
trimmer P1 50R setting 22% TH1.2 to high
resistor R5 390R high to boot
resistor R6 330R boot to rail
electrolytic C3 100µ esr 0R5 plus boot minus middle
transistor T2 GPOWN e T2.e b high c rail
transistor T3 GPOW e T3.e b low c chassis
resistor R7 1R T2.e to middle
resistor R8 1R T3.e to middle
electrolytic C4 500µ esr 0R3 leakage 100 µA plus middle minus speaker
loudspeaker LS1 8 ohm speaker to chassis
resistor R9 6k8 speaker to T1.e
path power from G1 to speaker
path drive from G1 to T1.c
mode cold P1 5%
mode set P1 22%
mode hot P1 40% B1 11 V
""", ambient=30.0)
def _(c):
    c.battery("B1", 12, "rail", "chassis", internal=0.6)
    c.G("G1", "in", "chassis", source=1000)
    c.E("C1", 10e-6, "in", "T1.b")
    c.R("R1", 47e3, "T1.b", "middle")
    c.R("R2", 33e3, "T1.b", "chassis")
    c.T("T1", "GPOWN", "T1.e", "T1.b", "low")
    c.R("R3", 330, "T1.e", "chassis")
    c.thermistor("TH1", 33, 3300, "low", "TH1.2", tracks="T3")
    c.trimmer("P1", 50, "TH1.2", "high", setting=0.22)
    c.R("R5", 390, "high", "boot")
    c.R("R6", 330, "boot", "rail")
    c.E("C3", 100e-6, "boot", "middle", esr=0.5)
    c.T("T2", "GPOWN", "T2.e", "high", "rail")
    c.T("T3", "GPOW", "T3.e", "low", "chassis")
    c.R("R7", 1, "T2.e", "middle")
    c.R("R8", 1, "T3.e", "middle")
    c.E("C4", 500e-6, "middle", "speaker", esr=0.3, leakage=100e-6)
    c.speaker("LS1", 8, "speaker", "chassis")
    c.R("R9", 6800, "speaker", "T1.e")
    c.path("power", "G1", ("net", "speaker"))
    c.path("drive", "G1", ("net", "T1.c"))
    c.mode("cold", P1=0.05)
    c.mode("set", P1=0.22)
    c.mode("hot", P1=0.40, B1=11)


@circuit("class-a-hot", "Single-ended output, choke-fed, hot", ["GBIG", "GDRV"], """
ambient 35 °C
battery B1 12 V internal 0R1 plus chassis minus rail
generator G1 0.1 V source 470R in to chassis
electrolytic C1 25µ plus in minus T1.b
resistor R1 8k2 T1.b to rail
resistor R2 1k2 T1.b to chassis
transistor T1 GDRV e T1.e c T1.c
resistor R7 820R T1.c to rail
resistor R3 150R T1.e to T2.b
resistor R4 100R T2.b to chassis
transistor T2 GBIG
resistor R5 2R7 T2.e to chassis
transformer TR1 magnetising 0.25 H on collector coupling 0.997
    winding collector 300 turns dcr 1R8 T2.c to rail
    winding voice 100 turns dcr 0R3 voice to chassis
loudspeaker LS1 4 ohm re 3R4 le 0.2mH fs 90 Hz qms 5 qes 1.1 voice to chassis
resistor R6 470R voice to T1.e
path power from G1 to voice
path emitter from G1 to T2.e
""", ambient=35.0)
def _(c):
    c.battery("B1", 12, "chassis", "rail", internal=0.1)
    c.G("G1", "in", "chassis", source=470)
    c.E("C1", 25e-6, "in", "T1.b")
    c.R("R1", 8200, "T1.b", "rail")
    c.R("R2", 1200, "T1.b", "chassis")
    c.T("T1", "GDRV", e="T1.e", c="T1.c")
    c.R("R7", 820, "T1.c", "rail")
    c.R("R3", 150, "T1.e", "T2.b")
    c.R("R4", 100, "T2.b", "chassis")
    c.T("T2", "GBIG")
    c.R("R5", 2.7, "T2.e", "chassis")
    c.transformer("TR1", [
        ("collector", [300], 1.8, ["T2.c", "rail"]),
        ("voice", [100], 0.3, ["voice", "chassis"]),
    ], magnetising=(0.25, "collector"), coupling=0.997)
    c.speaker("LS1", 4, "voice", "chassis", re=3.4, le=0.2e-3, fs=90, qms=5, qes=1.1)
    c.R("R6", 470, "voice", "T1.e")
    c.path("power", "G1", ("net", "voice"))
    c.path("emitter", "G1", ("net", "T2.e"))


@circuit("bias-oscillator", "Push-pull erase and bias oscillator at its operating point", ["GDRV"], """
battery B1 9 V internal 1R plus chassis minus rail
generator G1 1 V source 100k probe to chassis
resistor R1 27k rail to T1.b
resistor R2 33k rail to T2.b
resistor R3 1k5 T1.b to T1.e
resistor R4 1k5 T2.b to T1.e
resistor R5 100R T1.e to chassis
capacitor C1 3n3 T1.b to T2.c
capacitor C2 3n3 T2.b to T1.c
transistor T1 GDRV
transistor T2 GDRV e T1.e
transformer TR1 magnetising 1.6mH on tank coupling 0.98 loss 22k on tank
    winding tank 60 turns dcr 1R2 T1.c to rail to T2.c
    winding erase 45 turns dcr 0R9 erase_hot to chassis
    winding bias 200 turns dcr 9R bias_hot to chassis
capacitor C3 4n7 T1.c to T2.c
head K1 0.9mH dcr 2R6 erase_hot to chassis
capacitor C4 220p bias_hot to rec
head K2 7mH dcr 21R rec to chassis
wire probe to T1.b
path kick from G1 to bias_hot
path erase from G1 to K1 current
path record from G1 to K2 current
""")
def _(c):
    c.battery("B1", 9, "chassis", "rail", internal=1)
    c.G("G1", "probe", "chassis", source=100e3)
    c.R("R1", 27e3, "rail", "T1.b")
    c.R("R2", 33e3, "rail", "T2.b")
    c.R("R3", 1500, "T1.b", "T1.e")
    c.R("R4", 1500, "T2.b", "T1.e")
    c.R("R5", 100, "T1.e", "chassis")
    c.C("C1", 3.3e-9, "T1.b", "T2.c")
    c.C("C2", 3.3e-9, "T2.b", "T1.c")
    c.T("T1", "GDRV")
    c.T("T2", "GDRV", e="T1.e")
    c.transformer("TR1", [
        ("tank", [30, 30], 1.2, ["T1.c", "rail", "T2.c"]),
        ("erase", [45], 0.9, ["erase_hot", "chassis"]),
        ("bias", [200], 9, ["bias_hot", "chassis"]),
    ], magnetising=(1.6e-3, "tank"), coupling=0.98, loss=(22e3, "tank"))
    c.C("C3", 4.7e-9, "T1.c", "T2.c")
    c.head("K1", 0.9e-3, "erase_hot", "chassis", dcr=2.6)
    c.C("C4", 220e-12, "bias_hot", "rec")
    c.head("K2", 7e-3, "rec", "chassis", dcr=21)
    c.wire("probe", "T1.b")
    hertz = [100, 1e3, 5e3, 10e3, 20e3, 30e3, 40e3, 50e3, 63e3, 80e3, 120e3, 300e3]
    c.path("kick", "G1", ("net", "bias_hot"), hertz=hertz)
    c.path("erase", "G1", ("current", "K1"), hertz=hertz)
    c.path("record", "G1", ("current", "K2"), hertz=hertz)


@circuit("tapped-coil-oscillator", "One-transistor oscillator with a tapped coil", ["GSWITCH"], """
battery B1 6 V plus chassis minus rail
generator G1 1 mV source 10k in to chassis
capacitor C9 10p in to T1.b
transformer TR1 magnetising 5.6mH on coil coupling 0.93 loss 56k on coil
    winding coil 140+20 turns dcr 7R T1.c to rail to fed
capacitor C1 1n T1.c to fed
capacitor C2 22n fed to T1.b
resistor R1 33k T1.b to rail
resistor R2 4k7 T1.b to chassis
resistor R3 560R T1.e to chassis
capacitor C3 100n T1.e to chassis
transistor T1 GSWITCH
path loop from G1 to fed
path coil from G1 to T1.c
""")
def _(c):
    c.battery("B1", 6, "chassis", "rail")
    c.G("G1", "in", "chassis", source=10e3)
    c.C("C9", 10e-12, "in", "T1.b")
    c.transformer("TR1", [("coil", [140, 20], 7, ["T1.c", "rail", "fed"])],
                  magnetising=(5.6e-3, "coil"), coupling=0.93, loss=(56e3, "coil"))
    c.C("C1", 1e-9, "T1.c", "fed")
    c.C("C2", 22e-9, "fed", "T1.b")
    c.R("R1", 33e3, "T1.b", "rail")
    c.R("R2", 4700, "T1.b", "chassis")
    c.R("R3", 560, "T1.e", "chassis")
    c.C("C3", 100e-9, "T1.e", "chassis")
    c.T("T1", "GSWITCH")
    hertz = [1e3, 10e3, 30e3, 50e3, 60e3, 65e3, 68e3, 70e3, 80e3, 100e3, 200e3, 1e6]
    c.path("loop", "G1", ("net", "fed"), hertz=hertz)
    c.path("coil", "G1", ("net", "T1.c"), hertz=hertz)


@circuit("high-injection", "Currents where the gain falls off", ["GPOW", "GBIG"], """
battery B1 6 V internal 0R05 plus chassis minus rail
generator G1 0.1 V source 10R drive to chassis
electrolytic C1 1000µ esr 0R1 plus drive minus T1.b
resistor R1 680R T1.b to rail
transistor T1 GPOW
resistor R2 0R82 T1.e to chassis
resistor R3 12R T1.c to rail
resistor R4 22R T2.b to rail
transistor T2 GBIG
resistor R5 0R47 T2.e to chassis
resistor R6 1R2 T2.c to rail
capacitor C2 2µ2 T1.c to T2.b
path one from G1 to T1.c
path two from G1 to T2.c
""")
def _(c):
    c.battery("B1", 6, "chassis", "rail", internal=0.05)
    c.G("G1", "drive", "chassis", source=10)
    c.E("C1", 1000e-6, "drive", "T1.b", esr=0.1)
    c.R("R1", 680, "T1.b", "rail")
    c.T("T1", "GPOW")
    c.R("R2", 0.82, "T1.e", "chassis")
    c.R("R3", 12, "T1.c", "rail")
    c.R("R4", 22, "T2.b", "rail")
    c.T("T2", "GBIG")
    c.R("R5", 0.47, "T2.e", "chassis")
    c.R("R6", 1.2, "T2.c", "rail")
    c.C("C2", 2.2e-6, "T1.c", "T2.b")
    c.path("one", "G1", ("net", "T1.c"))
    c.path("two", "G1", ("net", "T2.c"))


@circuit("series-regulator", "Series regulator with a stack of diodes as reference", ["GPOW", "GN1", "DS1"], """
battery B1 12 V internal 1R2 plus chassis minus raw
generator G1 0.1 V source 1R raw_in to chassis
electrolytic C1 1000µ esr 0R2 plus raw_in minus raw
transistor T1 GPOW e out b drive c raw
resistor R1 680R drive to raw
transistor T2 GN1 e ref b sense c drive
diode D1 DS1 anode chassis cathode mid1
diode D2 DS1 anode mid1 cathode mid2
diode D3 DS1 anode mid2 cathode ref
resistor R2 1k2 ref to out
trimmer P1 1k linear setting 45% P1.1 to sense to P1.2
resistor R3 1k2 P1.1 to out
resistor R4 820R P1.2 to chassis
electrolytic C2 100µ 15 V esr 1R leakage 80 µA plus chassis minus out
resistor R5 390R out to chassis
capacitor C3 10n sense to drive
mode new
mode used B1 9.5 V
mode flat B1 5.2 V
path ripple from G1 to out
path drive from G1 to drive
""")
def _(c):
    c.battery("B1", 12, "chassis", "raw", internal=1.2)
    c.G("G1", "raw_in", "chassis", source=1)
    c.E("C1", 1000e-6, "raw_in", "raw", esr=0.2)
    c.T("T1", "GPOW", "out", "drive", "raw")
    c.R("R1", 680, "drive", "raw")
    c.T("T2", "GN1", "ref", "sense", "drive")
    c.D("D1", "DS1", "chassis", "mid1")
    c.D("D2", "DS1", "mid1", "mid2")
    c.D("D3", "DS1", "mid2", "ref")
    c.R("R2", 1200, "ref", "out")
    c.pot("P1", 1000, "P1.1", "sense", "P1.2", setting=0.45)
    c.R("R3", 1200, "P1.1", "out")
    c.R("R4", 820, "P1.2", "chassis")
    c.E("C2", 100e-6, "chassis", "out", esr=1, leakage=80e-6, rated=15)
    c.R("R5", 390, "out", "chassis")
    c.C("C3", 10e-9, "sense", "drive")
    c.mode("new")
    c.mode("used", B1=9.5)
    c.mode("flat", B1=5.2)
    c.path("ripple", "G1", ("net", "out"))
    c.path("drive", "G1", ("net", "drive"))


@circuit("thermistor-bias", "Thermistors as bias elements, one tracking a hot junction", ["GPOW", "GDRV"], """
ambient 40 °C
battery B1 14 V internal 0R4 plus chassis minus rail
thermistor TH1 470R at 25 °C bvalue 3600 K bias1 to chassis
resistor R1 5k6 bias1 to rail
resistor R2 220R bias1 to T1.b
transistor T1 GDRV
resistor R3 150R T1.e to chassis
resistor R4 270R T1.c to rail
thermistor TH2 330R at 25 °C bvalue 2800 K tracks T2 bias2 to TH2.2
resistor R5 15R TH2.2 to chassis
resistor R6 10k bias2 to rail
transistor T2 GPOW b bias2
resistor R7 27R T2.e to chassis
resistor R8 39R T2.c to rail
generator G1 0.1 V source 1k in to chassis
electrolytic C1 5µ plus in minus bias2
path second from G1 to T2.c
""", ambient=40.0)
def _(c):
    c.battery("B1", 14, "chassis", "rail", internal=0.4)
    c.thermistor("TH1", 470, 3600, "bias1", "chassis")
    c.R("R1", 5600, "bias1", "rail")
    c.R("R2", 220, "bias1", "T1.b")
    c.T("T1", "GDRV")
    c.R("R3", 150, "T1.e", "chassis")
    c.R("R4", 270, "T1.c", "rail")
    c.thermistor("TH2", 330, 2800, "bias2", "TH2.2", tracks="T2")
    c.R("R5", 15, "TH2.2", "chassis")
    c.R("R6", 10e3, "bias2", "rail")
    c.T("T2", "GPOW", b="bias2")
    c.R("R7", 27, "T2.e", "chassis")
    c.R("R8", 39, "T2.c", "rail")
    c.G("G1", "in", "chassis", source=1000)
    c.E("C1", 5e-6, "in", "bias2")
    c.path("second", "G1", ("net", "T2.c"))


@circuit("runaway", "A stage that runs away on a fresh battery and with its bias turned up", ["GPOW", "GN1"], """
ambient 35 °C
battery B1 12 V internal 0R4 plus chassis minus rail
generator G1 10 mV source 4k7 in to chassis
electrolytic C1 10µ plus in minus T1.b
resistor R1 47k T1.b to rail
resistor R2 8k2 T1.b to chassis
transistor T1 GN1 e T1.e c rail
resistor R3 1k5 T1.e to chassis
electrolytic C2 50µ plus T1.e minus T2.b
resistor R4 3k3 T2.b to P1.1
trimmer P1 10k setting 70% P1.1 to rail
resistor R5 270R T2.b to chassis
transistor T2 GPOW
resistor R6 2R2 T2.e to chassis
transformer TR1 magnetising 0.5 H coupling 0.99
    winding collector 400 turns dcr 9R T2.c to rail
    winding voice 80 turns dcr 0R6 voice to chassis
loudspeaker LS1 8 ohm voice to chassis
mode used B1 6 V
mode fresh B1 14 V
mode astray P1 1%
path power from G1 to voice
""", ambient=35.0)
def _(c):
    c.battery("B1", 12, "chassis", "rail", internal=0.4)
    c.G("G1", "in", "chassis", source=4700)
    c.E("C1", 10e-6, "in", "T1.b")
    c.R("R1", 47e3, "T1.b", "rail")
    c.R("R2", 8200, "T1.b", "chassis")
    c.T("T1", "GN1", e="T1.e", c="rail")
    c.R("R3", 1500, "T1.e", "chassis")
    c.E("C2", 50e-6, "T1.e", "T2.b")
    c.R("R4", 3300, "T2.b", "P1.1")
    c.trimmer("P1", 10e3, "P1.1", "rail", setting=0.7)
    c.R("R5", 270, "T2.b", "chassis")
    c.T("T2", "GPOW")
    c.R("R6", 2.2, "T2.e", "chassis")
    c.transformer("TR1", [
        ("collector", [400], 9, ["T2.c", "rail"]),
        ("voice", [80], 0.6, ["voice", "chassis"]),
    ], magnetising=(0.5, "collector"), coupling=0.99)
    c.speaker("LS1", 8, "voice", "chassis")
    c.mode("used", B1=6)
    c.mode("fresh", B1=14)
    c.mode("astray", P1=0.01)
    c.path("power", "G1", ("net", "voice"))

"""Runs in time of circuits that are driven by tones, or make their own."""

from device_types import TEXTS, TYPES
from devices import DiodeType
from scenarios import scenario

TYPES["GREC"] = DiodeType("germanium", vf=(0.3, 10e-3), rs=5, cj=(20e-12, 1))
TEXTS["GREC"] = """type GREC diode germanium
    vf 0.3 V at 10 mA
    rs 5 ohm
    cj 20 pF at 1 V
"""


@scenario("two-tones", ["GLEAKY"], """
battery B1 6 V internal 10 ohm plus chassis minus rail
generator G1 10 mV source 600 ohm in to chassis
capacitor C1 470n in to T1.b
resistor R1 56k rail to T1.b
resistor R2 10k T1.b to chassis
resistor R3 3k3 rail to T1.c
resistor R4 560R T1.e to chassis
capacitor C2 220n T1.c to out
resistor R5 10k out to chassis
transistor T1 GLEAKY
""", seconds=3e-3, samples=100, start="point", tones=[["G1", 1000, 0.3], ["G1", 3500, 0.2]],
          shown=["rail", "out", "T1.e", "T1.b", "T1.c"])
def _(c):
    c.battery("B1", 6, "chassis", "rail", internal=10)
    c.G("G1", "in", "chassis", source=600)
    c.C("C1", 470e-9, "in", "T1.b")
    c.R("R1", 56e3, "rail", "T1.b")
    c.R("R2", 10e3, "T1.b", "chassis")
    c.R("R3", 3300, "rail", "T1.c")
    c.R("R4", 560, "T1.e", "chassis")
    c.C("C2", 220e-9, "T1.c", "out")
    c.R("R5", 10e3, "out", "chassis")
    c.T("T1", "GLEAKY")


# Driven into clipping: 3 V ask for more than 9 V can give into the reflected 100 Ω
@scenario("push-pull-clipping", ["GPOW"], """
battery B1 9 V internal 1 ohm plus chassis minus rail
generator G1 1 V source 200 ohm in to chassis
transformer TR1 magnetising 1 H on primary coupling 0.99 loss 20k on primary
    winding primary 600 turns dcr 60 ohm in to chassis
    winding secondary 400 turns dcr 40 ohm T1.b to bias to T2.b
resistor R1 3k9 rail to bias
resistor R2 68R bias to chassis
transistor T1 GPOW e tail
transistor T2 GPOW e tail
resistor R3 3R3 tail to chassis
transformer TR2 magnetising 0.5 H on primary coupling 0.99 loss 5k on primary
    winding primary 400 turns dcr 15 ohm T1.c to rail to T2.c
    winding secondary 80 turns dcr 1 ohm speaker to chassis
loudspeaker LS1 16 ohm speaker to chassis
capacitor C1 10n T1.b to T2.b
capacitor C2 47n T1.c to T2.c
""", seconds=2.5e-3, samples=100, start="point", tones=[["G1", 1000, 3]],
          shown=["T1.b", "T1.c", "T2.c", "tail", "speaker"])
def _(c):
    c.battery("B1", 9, "chassis", "rail", internal=1)
    c.G("G1", "in", "chassis", source=200)
    c.transformer("TR1", [("primary", [600], 60, ["in", "chassis"]),
                          ("secondary", [200, 200], 40, ["T1.b", "bias", "T2.b"])],
                  magnetising=(1, "primary"), coupling=0.99, loss=(20e3, "primary"))
    c.R("R1", 3900, "rail", "bias")
    c.R("R2", 68, "bias", "chassis")
    c.T("T1", "GPOW", e="tail")
    c.T("T2", "GPOW", e="tail")
    c.R("R3", 3.3, "tail", "chassis")
    c.transformer("TR2", [("primary", [200, 200], 15, ["T1.c", "rail", "T2.c"]),
                          ("secondary", [80], 1, ["speaker", "chassis"])],
                  magnetising=(0.5, "primary"), coupling=0.99, loss=(5e3, "primary"))
    c.speaker("LS1", 16, "speaker", "chassis")
    c.C("C1", 10e-9, "T1.b", "T2.b")
    c.C("C2", 47e-9, "T1.c", "T2.c")


# From rest through growth into limiting: 55 kHz, the tank's capacitor tapped by the emitter
@scenario("tapped-tank-oscillator", ["GN1"], """
battery B1 6 V internal 3 ohm plus chassis minus rail
capacitor C4 1µ rail to chassis
inductor L1 1mH dcr 8 ohm rail to T1.c
capacitor C1 10n T1.c to T1.e
capacitor C2 47n T1.e to chassis
resistor R1 27k rail to T1.b
resistor R2 6k8 T1.b to chassis
capacitor C3 22n T1.b to chassis
resistor R3 1k T1.e to chassis
transistor T1 GN1
""", seconds=0.6e-3, samples=100, start="rest", shown=["rail", "T1.e", "T1.b", "T1.c"])
def _(c):
    c.battery("B1", 6, "chassis", "rail", internal=3)
    c.C("C4", 1e-6, "rail", "chassis")
    c.L("L1", 1e-3, "rail", "T1.c", dcr=8)
    c.C("C1", 10e-9, "T1.c", "T1.e")
    c.C("C2", 47e-9, "T1.e", "chassis")
    c.R("R1", 27e3, "rail", "T1.b")
    c.R("R2", 6800, "T1.b", "chassis")
    c.C("C3", 22e-9, "T1.b", "chassis")
    c.R("R3", 1000, "T1.e", "chassis")
    c.T("T1", "GN1")


@scenario("rectifier", ["GREC"], """
generator G1 8 V source 10 ohm in to chassis
diode D1 GREC anode in cathode out
electrolytic C1 10µ esr 0.5 ohm leakage 10 µA 25 V plus out minus chassis
resistor R1 2k2 out to chassis
inductor L1 0.5 H dcr 20 ohm out to smooth
capacitor C2 2µ smooth to chassis
resistor R2 4k7 smooth to chassis
""", seconds=0.06, samples=120, start="rest", tones=[["G1", 50, 8.0]], shown=["in", "out", "smooth"])
def _(c):
    c.G("G1", "in", "chassis", source=10)
    c.D("D1", "GREC", "in", "out")
    c.E("C1", 10e-6, "out", "chassis", esr=0.5, leakage=10e-6, rated=25)
    c.R("R1", 2200, "out", "chassis")
    c.L("L1", 0.5, "out", "smooth", dcr=20)
    c.C("C2", 2e-6, "smooth", "chassis")
    c.R("R2", 4700, "smooth", "chassis")

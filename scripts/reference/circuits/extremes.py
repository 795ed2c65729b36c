"""Transistors out of their element: saturated, cut off, reversed, base open, very cold, very warm."""

from collection import circuit


@circuit("saturated", "Transistors driven into saturation", ["GSWITCH", "GWARM", "SN1"], """
battery B1 9 V plus chassis minus rail
battery B2 9 V plus positive minus chassis
generator G1 10 mV source 1k in to chassis
electrolytic C1 1µ plus in minus T1.b
resistor R1 10k T1.b to rail
resistor R2 1k T1.c to rail
transistor T1 GSWITCH e chassis
resistor R3 4k7 T2.b to rail
resistor R4 3k9 T2.c to rail
transistor T2 GWARM e T2.e
resistor R5 100R T2.e to chassis
resistor R6 22k T3.b to positive
resistor R7 2k2 T3.c to positive
transistor T3 SN1 e chassis
capacitor C2 10n T1.c to T3.b
resistor R8 1M T3.c to T1.c
path through from G1 to T1.c
path on from G1 to T3.c
""")
def _(c):
    c.battery("B1", 9, "chassis", "rail")
    c.battery("B2", 9, "positive", "chassis")
    c.G("G1", "in", "chassis", source=1000)
    c.E("C1", 1e-6, "in", "T1.b")
    c.R("R1", 10e3, "T1.b", "rail")
    c.R("R2", 1000, "T1.c", "rail")
    c.T("T1", "GSWITCH", e="chassis")
    c.R("R3", 4700, "T2.b", "rail")
    c.R("R4", 3900, "T2.c", "rail")
    c.T("T2", "GWARM", e="T2.e")
    c.R("R5", 100, "T2.e", "chassis")
    c.R("R6", 22e3, "T3.b", "positive")
    c.R("R7", 2200, "T3.c", "positive")
    c.T("T3", "SN1", e="chassis")
    c.C("C2", 10e-9, "T1.c", "T3.b")
    c.R("R8", 1e6, "T3.c", "T1.c")
    c.path("through", "G1", ("net", "T1.c"))
    c.path("on", "G1", ("net", "T3.c"))


@circuit("cut-off", "Transistors held off, only leakage flowing", ["GN1", "GLEAKY", "SBARE"], """
battery B1 9 V plus chassis minus rail
battery B2 1.5 V plus positive minus chassis
generator G1 10 mV source 600R in to chassis
resistor R1 4k7 T1.b to positive
resistor R2 22k T1.c to rail
transistor T1 GN1 e chassis
capacitor C1 100n in to T1.b
resistor R3 1k T2.b to chassis
resistor R4 47k T2.c to rail
transistor T2 GLEAKY e chassis
capacitor C2 10n T1.c to T2.b
transistor T3 SBARE e chassis b rail_tap c T3.c
resistor R5 100k rail_tap to rail
resistor R6 220k rail_tap to chassis
resistor R7 10M T3.c to positive
path first from G1 to T1.c
path second from G1 to T2.c
""")
def _(c):
    c.battery("B1", 9, "chassis", "rail")
    c.battery("B2", 1.5, "positive", "chassis")
    c.G("G1", "in", "chassis", source=600)
    c.R("R1", 4700, "T1.b", "positive")
    c.R("R2", 22e3, "T1.c", "rail")
    c.T("T1", "GN1", e="chassis")
    c.C("C1", 100e-9, "in", "T1.b")
    c.R("R3", 1000, "T2.b", "chassis")
    c.R("R4", 47e3, "T2.c", "rail")
    c.T("T2", "GLEAKY", e="chassis")
    c.C("C2", 10e-9, "T1.c", "T2.b")
    c.T("T3", "SBARE", "chassis", "rail_tap", "T3.c")
    c.R("R5", 100e3, "rail_tap", "rail")
    c.R("R6", 220e3, "rail_tap", "chassis")
    c.R("R7", 10e6, "T3.c", "positive")
    c.path("first", "G1", ("net", "T1.c"))
    c.path("second", "G1", ("net", "T2.c"))


@circuit("reversed", "Transistors fitted the wrong way round", ["GN1", "GSWITCH", "SN1"], """
battery B1 6 V internal 1R plus chassis minus rail
battery B2 3 V plus positive minus chassis
generator G1 10 mV source 2k2 in to chassis
electrolytic C1 5µ plus in minus T1.b
resistor R1 47k T1.b to rail
resistor R2 10k T1.b to chassis
transistor T1 GN1 e collector c emitter
resistor R3 1k emitter to chassis
resistor R4 3k3 collector to rail
resistor R5 100k T2.b to rail
transistor T2 GSWITCH e T2.e c chassis
resistor R6 1k5 T2.e to rail
resistor R7 220k T3.b to positive
transistor T3 SN1 e T3.e c chassis
resistor R8 4k7 T3.e to positive
capacitor C2 1µ collector to T2.b
path swapped from G1 to collector
path second from G1 to T2.e
""")
def _(c):
    c.battery("B1", 6, "chassis", "rail", internal=1)
    c.battery("B2", 3, "positive", "chassis")
    c.G("G1", "in", "chassis", source=2200)
    c.E("C1", 5e-6, "in", "T1.b")
    c.R("R1", 47e3, "T1.b", "rail")
    c.R("R2", 10e3, "T1.b", "chassis")
    c.T("T1", "GN1", e="collector", c="emitter")
    c.R("R3", 1000, "emitter", "chassis")
    c.R("R4", 3300, "collector", "rail")
    c.R("R5", 100e3, "T2.b", "rail")
    c.T("T2", "GSWITCH", e="T2.e", c="chassis")
    c.R("R6", 1500, "T2.e", "rail")
    c.R("R7", 220e3, "T3.b", "positive")
    c.T("T3", "SN1", e="T3.e", c="chassis")
    c.R("R8", 4700, "T3.e", "positive")
    c.C("C2", 1e-6, "collector", "T2.b")
    c.path("swapped", "G1", ("net", "collector"))
    c.path("second", "G1", ("net", "T2.e"))


@circuit("open-base", "Bases left open: leakage amplified", ["GN1", "GWARM", "GBARE", "SN1"], """
battery B1 9 V plus chassis minus rail
battery B2 9 V plus positive minus chassis
transistor T1 GN1 e T1.e c T1.c
resistor R1 220R T1.e to chassis
resistor R2 4k7 T1.c to rail
transistor T2 GWARM e chassis
resistor R3 10k T2.c to rail
transistor T3 GBARE e T3.e c rail
wire T3.e to T4.b
transistor T4 GBARE e chassis
resistor R4 1k T4.c to rail
transistor T5 SN1 e chassis
resistor R5 1M T5.c to positive
""")
def _(c):
    c.battery("B1", 9, "chassis", "rail")
    c.battery("B2", 9, "positive", "chassis")
    c.T("T1", "GN1", e="T1.e", c="T1.c")
    c.R("R1", 220, "T1.e", "chassis")
    c.R("R2", 4700, "T1.c", "rail")
    c.T("T2", "GWARM", e="chassis")
    c.R("R3", 10e3, "T2.c", "rail")
    c.T("T3", "GBARE", e="T3.e", c="rail")
    c.wire("T3.e", "T4.b")
    c.T("T4", "GBARE", e="chassis")
    c.R("R4", 1000, "T4.c", "rail")
    c.T("T5", "SN1", e="chassis")
    c.R("R5", 1e6, "T5.c", "positive")


def temperature_case(celsius, name, title):
    @circuit(name, title, ["GLEAKY", "GWARM", "GNPN", "DG1"], f"""
ambient {celsius} °C
battery B1 9 V internal 2R plus chassis minus rail
generator G1 1 mV source 1k in to chassis
electrolytic C1 10µ plus in minus T1.b
resistor R1 82k T1.b to rail
resistor R2 15k T1.b to chassis
resistor R3 1k2 T1.e to chassis
electrolytic C2 100µ esr 3R leakage 20 µA plus chassis minus T1.e
resistor R4 4k7 T1.c to rail
transistor T1 GLEAKY
wire T1.c to T2.b
transistor T2 GWARM
resistor R5 2k2 T2.e to chassis
resistor R6 1k T2.c to rail
diode D1 DG1 anode T2.e cathode clamp
resistor R7 6k8 clamp to rail
transistor T3 GNPN e T3.e b T2.c c chassis
resistor R8 1k T3.e to rail
path gain from G1 to T2.c
path last from G1 to T3.e
""", ambient=float(celsius))
    def _(c):
        c.battery("B1", 9, "chassis", "rail", internal=2)
        c.G("G1", "in", "chassis", source=1000)
        c.E("C1", 10e-6, "in", "T1.b")
        c.R("R1", 82e3, "T1.b", "rail")
        c.R("R2", 15e3, "T1.b", "chassis")
        c.R("R3", 1200, "T1.e", "chassis")
        c.E("C2", 100e-6, "chassis", "T1.e", esr=3, leakage=20e-6)
        c.R("R4", 4700, "T1.c", "rail")
        c.T("T1", "GLEAKY")
        c.wire("T1.c", "T2.b")
        c.T("T2", "GWARM")
        c.R("R5", 2200, "T2.e", "chassis")
        c.R("R6", 1000, "T2.c", "rail")
        c.D("D1", "DG1", "T2.e", "clamp")
        c.R("R7", 6800, "clamp", "rail")
        c.T("T3", "GNPN", "T3.e", "T2.c", "chassis")
        c.R("R8", 1000, "T3.e", "rail")
        c.path("gain", "G1", ("net", "T2.c"))
        c.path("last", "G1", ("net", "T3.e"))


temperature_case(-20, "minus-twenty", "A direct-coupled pair left in the cold")
temperature_case(10.5, "cool-workshop", "A direct-coupled pair in a cool workshop")
temperature_case(60, "sixty", "A direct-coupled pair in a car in summer")


@circuit("open-switch", "Contacts that leave nets hanging on capacitors", ["GN1"], """
battery B1 9 V plus chassis minus rail
generator G1 10 mV source 10k in to chassis
switch S1 mic line off
    pole a S1.a.common mic near line far
    pole b load mic shunt
capacitor C1 100n in to near
capacitor C2 10n in to far
capacitor C3 1µ S1.a.common to T1.b
resistor R1 120k T1.b to rail
resistor R2 33k T1.b to chassis
transistor T1 GN1
resistor R3 1k5 T1.e to chassis
resistor R4 3k9 T1.c to rail
capacitor C4 470n T1.c to load
resistor R5 10k shunt to chassis
resistor R6 1M load to chassis
resistor R7 100k near to chassis
resistor R8 1M far to chassis
path signal from G1 to load
""")
def _(c):
    c.battery("B1", 9, "chassis", "rail")
    c.G("G1", "in", "chassis", source=10e3)
    c.switch("S1", ["mic", "line", "off"], {
        "a": ("S1.a.common", {"mic": "near", "line": "far"}),
        "b": ("load", {"mic": "shunt"}),
    })
    c.C("C1", 100e-9, "in", "near")
    c.C("C2", 10e-9, "in", "far")
    c.C("C3", 1e-6, "S1.a.common", "T1.b")
    c.R("R1", 120e3, "T1.b", "rail")
    c.R("R2", 33e3, "T1.b", "chassis")
    c.T("T1", "GN1")
    c.R("R3", 1500, "T1.e", "chassis")
    c.R("R4", 3900, "T1.c", "rail")
    c.C("C4", 470e-9, "T1.c", "load")
    c.R("R5", 10e3, "shunt", "chassis")
    c.R("R6", 1e6, "load", "chassis")
    c.R("R7", 100e3, "near", "chassis")
    c.R("R8", 1e6, "far", "chassis")
    c.mode("mic", S1="mic")
    c.mode("line", S1="line")
    c.mode("off", S1="off")
    c.path("signal", "G1", ("net", "load"))


@circuit("near-early-limit", "Collector voltages at the ends of the early-voltage law", ["GNPN", "GN1"], """
battery B1 60 V internal 10R plus supply minus chassis
generator G1 10 mV source 1k in to chassis
resistor R1 1M supply to T1.b
transistor T1 GNPN e chassis b T1.b c T1.c
resistor R2 2k2 supply to T1.c
electrolytic C1 1µ plus T1.b minus in
resistor R3 100R T2.b to supply
transistor T2 GN1 e T2.e b T2.b c chassis
resistor R4 22k supply to T2.e
transistor T3 GN1 e T3.e b T3.b c supply
resistor R5 33k T3.b to supply
resistor R6 100k T3.e to chassis
path swing from G1 to T1.c
""")
def _(c):
    c.battery("B1", 60, "supply", "chassis", internal=10)
    c.G("G1", "in", "chassis", source=1000)
    c.R("R1", 1e6, "supply", "T1.b")
    c.T("T1", "GNPN", "chassis", "T1.b", "T1.c")
    c.R("R2", 2200, "supply", "T1.c")
    c.E("C1", 1e-6, "T1.b", "in")
    c.R("R3", 100, "T2.b", "supply")
    c.T("T2", "GN1", "T2.e", "T2.b", "chassis")
    c.R("R4", 22e3, "supply", "T2.e")
    c.T("T3", "GN1", "T3.e", "T3.b", "supply")
    c.R("R5", 33e3, "T3.b", "supply")
    c.R("R6", 100e3, "T3.e", "chassis")
    c.path("swing", "G1", ("net", "T1.c"))

"""Runs in time of circuits to which something happens: switch-on, steps, switches, pulses."""

from scenarios import scenario


@scenario("common-emitter-step", ["GN1"], """
battery B1 9 V internal 5 ohm plus chassis minus rail
generator G1 10 mV source 1k in to chassis
electrolytic C1 1µ plus in minus T1.b
resistor R1 100k rail to T1.b
resistor R2 22k T1.b to chassis
resistor R3 4k7 rail to T1.c
resistor R4 1k T1.e to chassis
capacitor C2 2µ T1.e to chassis
transistor T1 GN1
""", seconds=8e-3, samples=80, start="point", events=[(1e-3, "G1", "emf", 0.03), (4e-3, "G1", "emf", -0.2)],
          shown=["rail", "in", "T1.e", "T1.b", "T1.c"])
def _(c):
    c.battery("B1", 9, "chassis", "rail", internal=5)
    c.G("G1", "in", "chassis", source=1000)
    c.E("C1", 1e-6, "in", "T1.b")
    c.R("R1", 100e3, "rail", "T1.b")
    c.R("R2", 22e3, "T1.b", "chassis")
    c.R("R3", 4700, "rail", "T1.c")
    c.R("R4", 1000, "T1.e", "chassis")
    c.C("C2", 2e-6, "T1.e", "chassis")
    c.T("T1", "GN1")


@scenario("thermistor-supply-step", ["GN1"], """
battery B1 9 V internal 2 ohm plus chassis minus rail
electrolytic C3 100µ esr 0.3 ohm plus chassis minus rail
resistor R1 1k8 rail to bias
thermistor TH1 130R at 25 °C bvalue 3000 K bias to chassis
electrolytic C1 22µ plus bias minus T1.b
resistor R2 33k rail to T1.b
resistor R5 2k7 bias to T1.b
resistor R3 1k rail to T1.c
resistor R4 47R T1.e to chassis
transistor T1 GN1
""", seconds=0.03, samples=90, start="rest", events=[(0.015, "B1", "emf", 6)],
          shown=["rail", "bias", "T1.e", "T1.b", "T1.c"])
def _(c):
    c.battery("B1", 9, "chassis", "rail", internal=2)
    c.E("C3", 100e-6, "chassis", "rail", esr=0.3)
    c.R("R1", 1800, "rail", "bias")
    c.thermistor("TH1", 130, 3000, "bias", "chassis")
    c.E("C1", 22e-6, "bias", "T1.b")
    c.R("R2", 33e3, "rail", "T1.b")
    c.R("R5", 2700, "bias", "T1.b")
    c.R("R3", 1000, "rail", "T1.c")
    c.R("R4", 47, "T1.e", "chassis")
    c.T("T1", "GN1")


@scenario("load-switched", ["GN1", "GNPN"], """
battery B1 9 V internal 2 ohm plus feed minus chassis
electrolytic C3 10µ esr 1 ohm plus feed minus chassis
switch S1 low high
    pole load out low light high heavy
resistor R5 2k2 light to chassis
resistor R6 150R heavy to chassis
resistor R1 22k feed to T1.b
resistor R2 10k T1.b to chassis
resistor R3 1k feed to T1.c
resistor R4 470R T1.e to chassis
transistor T1 GNPN
transistor T2 GN1 b T1.c e T2.e c out
resistor R7 220R feed to T2.e
capacitor C1 1µ out to chassis
""", seconds=4e-3, samples=100, start="point",
          events=[(1e-3, "S1", "position", "high"), (2.5e-3, "S1", "position", "low")],
          shown=["feed", "out", "T1.b", "T1.c", "T2.e"])
def _(c):
    c.battery("B1", 9, "feed", "chassis", internal=2)
    c.E("C3", 10e-6, "feed", "chassis", esr=1)
    c.switch("S1", ["low", "high"], {"load": ("out", {"low": "light", "high": "heavy"})})
    c.R("R5", 2200, "light", "chassis")
    c.R("R6", 150, "heavy", "chassis")
    c.R("R1", 22e3, "feed", "T1.b")
    c.R("R2", 10e3, "T1.b", "chassis")
    c.R("R3", 1000, "feed", "T1.c")
    c.R("R4", 470, "T1.e", "chassis")
    c.T("T1", "GNPN")
    c.T("T2", "GN1", b="T1.c", e="T2.e", c="out")
    c.R("R7", 220, "feed", "T2.e")
    c.C("C1", 1e-6, "out", "chassis")


# Three stages without a capacitor between them, the feedback turned over from a flat one to one with a bass rise
@scenario("feedback-turned-over", ["GLEAKY"], """
battery B1 9 V internal 12 ohm plus chassis minus rail
electrolytic C6 47µ esr 0.8 ohm plus chassis minus rail
generator G1 2 mV source 1k in to chassis
electrolytic C1 2µ2 plus in minus T1.b
transistor T1 GLEAKY
resistor R1 15k rail to T1.c
resistor R2 150R T1.e to foot
resistor R3 1k2 foot to chassis
electrolytic C2 47µ plus chassis minus foot
resistor R4 27k T2.e to T1.b
resistor R5 39k T1.b to chassis
transistor T2 GLEAKY b T1.c
resistor R6 820R T2.e to chassis
electrolytic C3 47µ esr 0.5 ohm plus chassis minus T2.e
resistor R7 2k7 rail to T2.c
capacitor C7 150p T2.c to T2.b
transistor T3 GLEAKY b T2.c c rail
resistor R8 2k2 T3.e to chassis
switch S1 play record
    pole eq T1.e play flat record rising
resistor R9 12k T3.e to flat
resistor R10 5k6 T3.e to mid
capacitor C4 47n mid to rising
resistor R11 220k rising to T1.e
electrolytic C5 4µ7 plus out minus T3.e
resistor R12 10k out to chassis
""", seconds=6e-3, samples=90, start="point", tones=[["G1", 700, 4e-3]],
          events=[(2e-3, "S1", "position", "record"), (4.5e-3, "S1", "position", "play")],
          shown=["T1.e", "T1.c", "T2.c", "T3.e", "out"])
def _(c):
    c.battery("B1", 9, "chassis", "rail", internal=12)
    c.E("C6", 47e-6, "chassis", "rail", esr=0.8)
    c.G("G1", "in", "chassis", source=1000)
    c.E("C1", 2.2e-6, "in", "T1.b")
    c.T("T1", "GLEAKY")
    c.R("R1", 15e3, "rail", "T1.c")
    c.R("R2", 150, "T1.e", "foot")
    c.R("R3", 1200, "foot", "chassis")
    c.E("C2", 47e-6, "chassis", "foot")
    c.R("R4", 27e3, "T2.e", "T1.b")
    c.R("R5", 39e3, "T1.b", "chassis")
    c.T("T2", "GLEAKY", b="T1.c")
    c.R("R6", 820, "T2.e", "chassis")
    c.E("C3", 47e-6, "chassis", "T2.e", esr=0.5)
    c.R("R7", 2700, "rail", "T2.c")
    c.C("C7", 150e-12, "T2.c", "T2.b")
    c.T("T3", "GLEAKY", b="T2.c", c="rail")
    c.R("R8", 2200, "T3.e", "chassis")
    c.switch("S1", ["play", "record"], {"eq": ("T1.e", {"play": "flat", "record": "rising"})})
    c.R("R9", 12e3, "T3.e", "flat")
    c.R("R10", 5600, "T3.e", "mid")
    c.C("C4", 47e-9, "mid", "rising")
    c.R("R11", 220e3, "rising", "T1.e")
    c.E("C5", 4.7e-6, "out", "T3.e")
    c.R("R12", 10e3, "out", "chassis")


# Three pulses into saturation: base and collector hold the current on after each, 1.5 µs of storage. The small tone
# keeps the circuit from exact rest, where all that the solver would see is rounding
@scenario("saturating-burst", ["GSWITCH"], """
battery B1 12 V internal 1 ohm plus chassis minus rail
generator G1 5 V source 50 ohm in to chassis
resistor R1 2k2 in to T1.b
capacitor C1 100p in to T1.b
resistor R2 10k T1.b to chassis
resistor R3 1k rail to T1.c
capacitor C2 47p T1.c to chassis
transistor T1 GSWITCH e chassis
""", seconds=24e-6, samples=120, start="point", tones=[["G1", 100e3, 1e-3]],
          events=[(2e-6, "G1", "emf", -5), (7e-6, "G1", "emf", 0), (12e-6, "G1", "emf", -8), (13.5e-6, "G1", "emf", 1),
                  (17e-6, "G1", "emf", -3), (20e-6, "G1", "emf", 0)],
          shown=["T1.b", "T1.c"])
def _(c):
    c.battery("B1", 12, "chassis", "rail", internal=1)
    c.G("G1", "in", "chassis", source=50)
    c.R("R1", 2200, "in", "T1.b")
    c.C("C1", 100e-12, "in", "T1.b")
    c.R("R2", 10e3, "T1.b", "chassis")
    c.R("R3", 1000, "rail", "T1.c")
    c.C("C2", 47e-12, "T1.c", "chassis")
    c.T("T1", "GSWITCH", e="chassis")


# The current of a coil that is switched off goes on through its damper, and in the winding coupled to it
@scenario("coil-into-damper", ["DS1"], """
battery B1 12 V internal 0.5 ohm plus feed minus chassis
switch S1 on off contact 0.1 ohm
    pole p feed on coil off open
resistor R1 1M open to chassis
transformer TR1 magnetising 50mH on first coupling 0.95
    winding first 500 turns dcr 20 ohm coil to chassis
    winding second 300 turns dcr 12 ohm out to chassis
resistor R2 470R out to chassis
capacitor C1 220n out to chassis
diode D1 DS1 anode chassis cathode damper
resistor R3 33R damper to coil
""", seconds=10e-3, samples=100, start="point",
          events=[(2e-3, "S1", "position", "off"), (6e-3, "S1", "position", "on")], shown=["feed", "coil", "out"])
def _(c):
    c.battery("B1", 12, "feed", "chassis", internal=0.5)
    c.switch("S1", ["on", "off"], {"p": ("feed", {"on": "coil", "off": "open"})}, contact=0.1)
    c.R("R1", 1e6, "open", "chassis")
    c.transformer("TR1", [("first", [500], 20, ["coil", "chassis"]), ("second", [300], 12, ["out", "chassis"])],
                  magnetising=(50e-3, "first"), coupling=0.95)
    c.R("R2", 470, "out", "chassis")
    c.C("C1", 220e-9, "out", "chassis")
    c.D("D1", "DS1", "chassis", "damper")
    c.R("R3", 33, "damper", "coil")


@scenario("motor-runs-up", [], """
battery B1 6 V internal 1.5 ohm plus chassis minus rail
electrolytic C1 220µ esr 0.3 ohm plus chassis minus rail
motor M1 12 ohm emf 1.5 mV/rpm inertia 15 gcm2 drag 0.35 mNm load 0.5 mNm plus chassis minus rail
""", seconds=0.6, samples=100, start="rest", shown=["rail", "M1"])
def _(c):
    c.battery("B1", 6, "chassis", "rail", internal=1.5)
    c.E("C1", 220e-6, "chassis", "rail", esr=0.3)
    c.motor("M1", 12, "chassis", "rail", emf=1.5e-3, inertia=1.5e-6, drag=0.35e-3, load=0.5e-3)


# A series transistor holds the voltage of a motor whose load grows and falls again
@scenario("motor-load-step", ["GPOW"], """
battery B1 9 V internal 1.5 ohm plus chassis minus rail
resistor R1 470R rail to T1.b
resistor R2 1k T1.b to chassis
electrolytic C1 100µ esr 0.5 ohm plus chassis minus T1.b
transistor T1 GPOW c rail
inductor L1 20mH dcr 2 ohm T1.e to brush
capacitor C2 100n brush to chassis
motor M1 18 ohm emf 2.1 mV/rpm inertia 40 gcm2 drag 0.4 mNm load 0.3 mNm plus chassis minus brush
""", seconds=1.2, samples=100, start="point", events=[(0.2, "M1", "load", 1.1e-3), (0.8, "M1", "load", 0.2e-3)],
          shown=["rail", "T1.b", "T1.e", "brush", "M1"])
def _(c):
    c.battery("B1", 9, "chassis", "rail", internal=1.5)
    c.R("R1", 470, "rail", "T1.b")
    c.R("R2", 1000, "T1.b", "chassis")
    c.E("C1", 100e-6, "chassis", "T1.b", esr=0.5)
    c.T("T1", "GPOW", c="rail")
    c.L("L1", 20e-3, "T1.e", "brush", dcr=2)
    c.C("C2", 100e-9, "brush", "chassis")
    c.motor("M1", 18, "chassis", "brush", emf=2.1e-3, inertia=4e-6, drag=0.4e-3, load=0.3e-3)

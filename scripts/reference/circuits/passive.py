"""Networks without transistors: controls, tuned circuits, transformers, heads, loudspeakers, diodes."""

from collection import circuit


@circuit("control-laws", "Controls of every law at several settings", [], """
battery B1 9 V internal 2R2 plus supply minus chassis
generator G1 100 mV source 600 ohm in to chassis
resistor R1 10k supply to P1.1
capacitor C1 100n in to P1.1
potentiometer P1 50k log setting 50% P1.1 to volume to chassis
resistor R2 22k volume to mixed
potentiometer P2 25k antilog setting 30% supply to P2.wiper to chassis
resistor R3 15k P2.wiper to mixed
potentiometer P3 10k setting 25% mixed to P3.wiper to chassis
capacitor C2 4n7 P3.wiper to chassis
trimmer P4 2k2 setting 40% P3.wiper to level
resistor R4 1k5 level to chassis
trimmer P5 470R linear setting 80% supply to P5.wiper to chassis
resistor R5 100R P5.wiper to level
mode middle
mode fully_left  P1 0% P2 0% P3 0% P4 0%
mode fully_right P1 100% P2 100% P3 100% P4 100%
mode odd P1 73.5% P2 12% P3 61% B1 7.2 V
path level from G1 to level
path volume in middle from G1 to volume minus level
""")
def _(c):
    c.battery("B1", 9, "supply", "chassis", internal=2.2)
    c.G("G1", "in", "chassis", source=600)
    c.R("R1", 10e3, "supply", "P1.1")
    c.C("C1", 100e-9, "in", "P1.1")
    c.pot("P1", 50e3, "P1.1", "volume", "chassis", law="log", setting=0.5)
    c.R("R2", 22e3, "volume", "mixed")
    c.pot("P2", 25e3, "supply", "P2.wiper", "chassis", law="antilog", setting=0.3)
    c.R("R3", 15e3, "P2.wiper", "mixed")
    c.pot("P3", 10e3, "mixed", "P3.wiper", "chassis", setting=0.25)
    c.C("C2", 4.7e-9, "P3.wiper", "chassis")
    c.trimmer("P4", 2200, "P3.wiper", "level", setting=0.4)
    c.R("R4", 1500, "level", "chassis")
    c.pot("P5", 470, "supply", "P5.wiper", "chassis", setting=0.8)
    c.R("R5", 100, "P5.wiper", "level")
    c.mode("middle")
    c.mode("fully_left", P1=0, P2=0, P3=0, P4=0)
    c.mode("fully_right", P1=1, P2=1, P3=1, P4=1)
    c.mode("odd", P1=0.735, P2=0.12, P3=0.61, B1=7.2)
    c.path("level", "G1", ("net", "level"))
    c.path("volume", "G1", ("net", "volume", "level"), mode="middle")


@circuit("tone-controls", "Bass and treble controls between two resistances", [], """
generator G1 1 V source 1k in to chassis
resistor R1 4k7 in to bass_top
potentiometer P1 100k linear setting 50% bass_top to P1.wiper to bass_foot
capacitor C1 22n bass_top to P1.wiper
capacitor C2 220n P1.wiper to bass_foot
resistor R2 470R bass_foot to chassis
resistor R3 10k P1.wiper to out
capacitor C3 2n2 in to P2.1
potentiometer P2 100k linear setting 50% P2.1 to out to P2.2
capacitor C4 22n P2.2 to chassis
resistor R4 220k out to chassis
mode flat
mode boost P1 5% P2 10%
mode cut   P1 95% P2 90%
path tone from G1 to out
""")
def _(c):
    c.G("G1", "in", "chassis", source=1000)
    c.R("R1", 4700, "in", "bass_top")
    c.pot("P1", 100e3, "bass_top", "P1.wiper", "bass_foot")
    c.C("C1", 22e-9, "bass_top", "P1.wiper")
    c.C("C2", 220e-9, "P1.wiper", "bass_foot")
    c.R("R2", 470, "bass_foot", "chassis")
    c.R("R3", 10e3, "P1.wiper", "out")
    c.C("C3", 2.2e-9, "in", "P2.1")
    c.pot("P2", 100e3, "P2.1", "out", "P2.2")
    c.C("C4", 22e-9, "P2.2", "chassis")
    c.R("R4", 220e3, "out", "chassis")
    c.mode("flat")
    c.mode("boost", P1=0.05, P2=0.10)
    c.mode("cut", P1=0.95, P2=0.90)
    c.path("tone", "G1", ("net", "out"))


@circuit("coils-and-leaky-electrolytics", "Coils with losses, electrolytics with leakage and series resistance", [], """
battery B1 12 V internal 0R8 plus supply minus chassis
generator G1 1 V source 50R drive to chassis
inductor L1 4.7mH dcr 12 ohm q 40 at 60 kHz supply to smooth
electrolytic C1 100µ 15 V esr 1R5 leakage 150 µA plus smooth minus chassis
inductor L2 1.2H dcr 85R loss 47k smooth to quiet
electrolytic C2 470µ leakage 40 µA plus quiet minus chassis
resistor R1 2k7 quiet to mid
electrolytic C3 22µ 6 V esr 4 ohm leakage 8 µA plus mid minus drive
capacitor C4 1n drive to tank
inductor L3 7mH dcr 9R loss 150k tank to chassis
capacitor C5 1n5 tank to chassis
resistor R2 8k2 mid to chassis
path ripple from G1 to quiet
path tank from G1 to tank
path coupled from G1 to C3 current
path choke from G1 to L2 current
path tank_fine from G1 to tank
""")
def _(c):
    c.battery("B1", 12, "supply", "chassis", internal=0.8)
    c.G("G1", "drive", "chassis", source=50)
    c.L("L1", 4.7e-3, "supply", "smooth", dcr=12, q=(40, 60e3))
    c.E("C1", 100e-6, "smooth", "chassis", esr=1.5, leakage=150e-6, rated=15)
    c.L("L2", 1.2, "smooth", "quiet", dcr=85, loss=47e3)
    c.E("C2", 470e-6, "quiet", "chassis", leakage=40e-6)
    c.R("R1", 2700, "quiet", "mid")
    c.E("C3", 22e-6, "mid", "drive", esr=4, leakage=8e-6, rated=6)
    c.C("C4", 1e-9, "drive", "tank")
    c.L("L3", 7e-3, "tank", "chassis", dcr=9, loss=150e3)
    c.C("C5", 1.5e-9, "tank", "chassis")
    c.R("R2", 8200, "mid", "chassis")
    c.path("ripple", "G1", ("net", "quiet"))
    tank = [20, 1e3, 20e3, 30e3, 35e3, 38e3, 38.2e3, 40e3, 45e3, 60e3, 100e3, 500e3]
    c.path("tank", "G1", ("net", "tank"))
    c.path("coupled", "G1", ("current", "C3"))
    c.path("choke", "G1", ("current", "L2"))
    c.path("tank_fine", "G1", ("net", "tank"), hertz=tank)


@circuit("ideal-coupling", "Transformer with taps and perfect coupling", [], """
battery B1 6 V internal 0R5 plus supply minus chassis
generator G1 1 V source 600R hot to chassis
resistor R1 330R supply to top
transformer TR1 magnetising 2.5 H on primary coupling 1 loss 40k on primary
    winding primary 1200 turns dcr 95 ohm top to hot
    winding secondary 400 turns dcr 22 ohm sec_a to chassis to sec_b
    winding tertiary 60+25 turns dcr 3R tert_a to tert_tap to chassis
resistor R2 470R sec_a to chassis
resistor R3 680R sec_b to chassis
resistor R4 33R tert_tap to chassis
resistor R5 820R tert_a to sec_a
capacitor C1 10n sec_a to sec_b
path through from G1 to sec_a
path tapped from G1 to tert_a
path balance from G1 to sec_a minus sec_b
""")
def _(c):
    c.battery("B1", 6, "supply", "chassis", internal=0.5)
    c.G("G1", "hot", "chassis", source=600)
    c.R("R1", 330, "supply", "top")
    c.transformer("TR1", [
        ("primary", [1200], 95, ["top", "hot"]),
        ("secondary", [200, 200], 22, ["sec_a", "chassis", "sec_b"]),
        ("tertiary", [60, 25], 3, ["tert_a", "tert_tap", "chassis"]),
    ], magnetising=(2.5, "primary"), coupling=1, loss=(40e3, "primary"))
    c.R("R2", 470, "sec_a", "chassis")
    c.R("R3", 680, "sec_b", "chassis")
    c.R("R4", 33, "tert_tap", "chassis")
    c.R("R5", 820, "tert_a", "sec_a")
    c.C("C1", 10e-9, "sec_a", "sec_b")
    c.path("through", "G1", ("net", "sec_a"))
    c.path("tapped", "G1", ("net", "tert_a"))
    c.path("balance", "G1", ("net", "sec_a", "sec_b"))


@circuit("loose-coupling", "Transformer with leakage and a tapped tank", [], """
generator G1 1 V source 2k2 hot to chassis
transformer TR1 magnetising 35mH on tank coupling 0.97 loss 82k on tank
    winding tank 300+100 turns dcr 14R hot to tap to chassis
    winding link 30 turns dcr 0R6 link to chassis
capacitor C1 330p hot to chassis
capacitor C2 1n tap to chassis
resistor R1 68R link to chassis
transformer TR2 coupling 0.85
    winding first 1000 turns dcr 120R tap to chassis
    winding second 2500 turns dcr 410R high to chassis
resistor R2 100k high to chassis
capacitor C3 47p high to chassis
path link from G1 to link
path high from G1 to high
path tap from G1 to tap
""")
def _(c):
    c.G("G1", "hot", "chassis", source=2200)
    c.transformer("TR1", [
        ("tank", [300, 100], 14, ["hot", "tap", "chassis"]),
        ("link", [30], 0.6, ["link", "chassis"]),
    ], magnetising=(35e-3, "tank"), coupling=0.97, loss=(82e3, "tank"))
    c.C("C1", 330e-12, "hot", "chassis")
    c.C("C2", 1e-9, "tap", "chassis")
    c.R("R1", 68, "link", "chassis")
    c.transformer("TR2", [
        ("first", [1000], 120, ["tap", "chassis"]),
        ("second", [2500], 410, ["high", "chassis"]),
    ], coupling=0.85)
    c.R("R2", 100e3, "high", "chassis")
    c.C("C3", 47e-12, "high", "chassis")
    c.path("link", "G1", ("net", "link"))
    c.path("high", "G1", ("net", "high"))
    c.path("tap", "G1", ("net", "tap"))


@circuit("cone-resonance", "Loudspeakers with and without a cone resonance behind a crossover", [], """
generator G1 2 V source 4R hot to chassis
electrolytic C1 470µ esr 0R4 plus hot minus after
loudspeaker LS1 8 ohm re 7R le 0.3mH fs 180 Hz qms 4 qes 2 after to low_foot
inductor L1 0.8mH dcr 0R5 low_foot to chassis
electrolytic C2 8µ 25 V esr 1R2 leakage 3 µA plus after minus tweeter
loudspeaker LS2 4 ohm tweeter to chassis
loudspeaker LS3 15 ohm fs 95 Hz qms 3.2 qes 1.4 after to chassis
path cone from G1 to LS1 voltage
path current from G1 to LS1 current
path tweeter from G1 to LS2 current
path plain from G1 to LS3 current
""")
def _(c):
    c.G("G1", "hot", "chassis", source=4)
    c.E("C1", 470e-6, "hot", "after", esr=0.4)
    c.speaker("LS1", 8, "after", "low_foot", re=7, le=0.3e-3, fs=180, qms=4, qes=2)
    c.L("L1", 0.8e-3, "low_foot", "chassis", dcr=0.5)
    c.E("C2", 8e-6, "after", "tweeter", esr=1.2, leakage=3e-6, rated=25)
    c.speaker("LS2", 4, "tweeter", "chassis")
    c.speaker("LS3", 15, "after", "chassis", fs=95, qms=3.2, qes=1.4)
    fine = [20, 50, 80, 95, 120, 150, 180, 210, 300, 1000, 5000, 20000]
    for name, to in (("cone", ("voltage", "LS1")), ("current", ("current", "LS1")), ("tweeter", ("current", "LS2")),
                     ("plain", ("current", "LS3"))):
        c.path(name, "G1", to, hertz=fine)


@circuit("head-and-lead", "A playback head, its lead and an erase head", [], """
head K1 80mH dcr 100 ohm capacitance 100p loss 50k hot to chassis
resistor R1 47R hot to lead
capacitor C1 180p lead to chassis
resistor R2 100k lead to chassis
head K2 1.1mH dcr 3R8 erase to chassis
capacitor C2 3n3 erase to lead
battery B1 1.5 V internal 1R plus B1.plus minus chassis
resistor R3 1k B1.plus to lead
meter M1 650R full 250 µA plus lead minus M1.minus
lamp LA1 6 V 50 mA M1.minus to chassis
path playback from K1 to lead
path seen from K1 to K1 voltage
path current from K1 to K1 current
path erase from K2 to erase
""")
def _(c):
    c.head("K1", 80e-3, "hot", "chassis", dcr=100, capacitance=100e-12, loss=50e3)
    c.R("R1", 47, "hot", "lead")
    c.C("C1", 180e-12, "lead", "chassis")
    c.R("R2", 100e3, "lead", "chassis")
    c.head("K2", 1.1e-3, "erase", "chassis", dcr=3.8)
    c.C("C2", 3.3e-9, "erase", "lead")
    c.battery("B1", 1.5, "B1.plus", "chassis", internal=1)
    c.R("R3", 1000, "B1.plus", "lead")
    c.meter("M1", 650, "lead", "M1.minus")
    c.lamp("LA1", 6, 50e-3, "M1.minus", "chassis")
    c.path("playback", "K1", ("net", "lead"))
    c.path("seen", "K1", ("voltage", "K1"))
    c.path("current", "K1", ("current", "K1"))
    c.path("erase", "K2", ("net", "erase"))


@circuit("diode-bridge", "Diodes biased forward and in reverse, a level meter bridge", ["DG1", "DG2", "DS1", "DSBARE"], """
ambient 32 °C
battery B1 9 V plus supply minus chassis
generator G1 1 V source 220R in to chassis
resistor R1 10k supply to D1.anode
diode D1 DG1 anode D1.anode cathode detected
resistor R2 4k7 detected to chassis
capacitor C1 100n in to D1.anode
capacitor C2 470p detected to chassis
diode D2 DG2 anode chassis cathode back
resistor R3 470k supply to back
capacitor C3 22p detected to back
resistor R4 1k supply to stack
diode D3 DS1 anode stack cathode between
diode D4 DSBARE anode between cathode chassis
capacitor C4 10n in to stack
resistor R5 2k2 stack to arm
diode D5 DG1 anode arm cathode M1.plus
diode D6 DG1 anode M1.minus cathode chassis
meter M1 1k2 full 100 µA plus M1.plus minus M1.minus
diode D7 DS1 anode chassis cathode supply
path detected from G1 to detected
path back from G1 to back
path stack from G1 to stack
""", ambient=32.0)
def _(c):
    c.battery("B1", 9, "supply", "chassis")
    c.G("G1", "in", "chassis", source=220)
    c.R("R1", 10e3, "supply", "D1.anode")
    c.D("D1", "DG1", "D1.anode", "detected")
    c.R("R2", 4700, "detected", "chassis")
    c.C("C1", 100e-9, "in", "D1.anode")
    c.C("C2", 470e-12, "detected", "chassis")
    c.D("D2", "DG2", "chassis", "back")
    c.R("R3", 470e3, "supply", "back")
    c.C("C3", 22e-12, "detected", "back")
    c.R("R4", 1000, "supply", "stack")
    c.D("D3", "DS1", "stack", "between")
    c.D("D4", "DSBARE", "between", "chassis")
    c.C("C4", 10e-9, "in", "stack")
    c.R("R5", 2200, "stack", "arm")
    c.D("D5", "DG1", "arm", "M1.plus")
    c.D("D6", "DG1", "M1.minus", "chassis")
    c.meter("M1", 1200, "M1.plus", "M1.minus")
    c.D("D7", "DS1", "chassis", "supply")
    c.path("detected", "G1", ("net", "detected"))
    c.path("back", "G1", ("net", "back"))
    c.path("stack", "G1", ("net", "stack"))

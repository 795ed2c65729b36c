"""High frequencies: an intermediate-frequency strip and detector, a wide-band pair."""

from collection import circuit

IF = [100e3, 300e3, 400e3, 440e3, 455e3, 465e3, 470e3, 475e3, 485e3, 500e3, 700e3, 2e6]


@circuit("if-strip", "Intermediate-frequency stages with tapped coils and a detector", ["GRF", "DG1"], """
battery B1 6 V internal 1R plus chassis minus rail
generator G1 1 mV source 30k src to chassis
transformer TR1 magnetising 0.38mH on tuned coupling 0.7 loss 120k on tuned
    winding tuned 100+46 turns dcr 4R5 src to tap1 to chassis
    winding link 9 turns dcr 0R3 link1 to bias1
capacitor C1 300p src to chassis
resistor R20 100k tap1 to chassis
resistor R1 39k bias1 to rail
resistor R2 8k2 bias1 to chassis
capacitor C2 47n bias1 to chassis
transistor T1 GRF b link1
resistor R3 680R T1.e to chassis
capacitor C3 47n T1.e to chassis
transformer TR2 magnetising 0.38mH on tuned coupling 0.75 loss 90k on tuned
    winding tuned 90+56 turns dcr 4R5 top2 to T1.c to rail
    winding link 12 turns dcr 0R4 link2 to bias2
capacitor C4 300p top2 to rail
resistor R4 33k bias2 to rail
resistor R5 8k2 bias2 to chassis
capacitor C5 47n bias2 to chassis
transistor T2 GRF b link2
resistor R6 470R T2.e to chassis
capacitor C6 47n T2.e to chassis
transformer TR3 magnetising 0.4mH on tuned coupling 0.8
    winding tuned 70+76 turns dcr 5R top3 to T2.c to rail
    winding det 60 turns dcr 2R det to chassis
capacitor C7 285p top3 to rail
capacitor C12 2p2 link2 to det
diode D1 DG1 anode det cathode audio
capacitor C8 10n audio to chassis
resistor R7 5k6 audio to chassis
resistor R8 220k audio to rail
path strip from G1 to det
path first from G1 to link2
""")
def _(c):
    c.battery("B1", 6, "chassis", "rail", internal=1)
    c.G("G1", "src", "chassis", source=30e3)
    c.transformer("TR1", [
        ("tuned", [100, 46], 4.5, ["src", "tap1", "chassis"]),
        ("link", [9], 0.3, ["link1", "bias1"]),
    ], magnetising=(0.38e-3, "tuned"), coupling=0.7, loss=(120e3, "tuned"))
    c.C("C1", 300e-12, "src", "chassis")
    c.R("R20", 100e3, "tap1", "chassis")
    c.R("R1", 39e3, "bias1", "rail")
    c.R("R2", 8200, "bias1", "chassis")
    c.C("C2", 47e-9, "bias1", "chassis")
    c.T("T1", "GRF", b="link1")
    c.R("R3", 680, "T1.e", "chassis")
    c.C("C3", 47e-9, "T1.e", "chassis")
    c.transformer("TR2", [
        ("tuned", [90, 56], 4.5, ["top2", "T1.c", "rail"]),
        ("link", [12], 0.4, ["link2", "bias2"]),
    ], magnetising=(0.38e-3, "tuned"), coupling=0.75, loss=(90e3, "tuned"))
    c.C("C4", 300e-12, "top2", "rail")
    c.R("R4", 33e3, "bias2", "rail")
    c.R("R5", 8200, "bias2", "chassis")
    c.C("C5", 47e-9, "bias2", "chassis")
    c.T("T2", "GRF", b="link2")
    c.R("R6", 470, "T2.e", "chassis")
    c.C("C6", 47e-9, "T2.e", "chassis")
    c.transformer("TR3", [
        ("tuned", [70, 76], 5, ["top3", "T2.c", "rail"]),
        ("det", [60], 2, ["det", "chassis"]),
    ], magnetising=(0.4e-3, "tuned"), coupling=0.8)
    c.C("C7", 285e-12, "top3", "rail")
    c.C("C12", 2.2e-12, "link2", "det")
    c.D("D1", "DG1", "det", "audio")
    c.C("C8", 10e-9, "audio", "chassis")
    c.R("R7", 5600, "audio", "chassis")
    c.R("R8", 220e3, "audio", "rail")
    c.path("strip", "G1", ("net", "det"), hertz=IF)
    c.path("first", "G1", ("net", "link2"), hertz=IF)


@circuit("slow-and-fast", "Figures of speed given in every way, side by side", ["GLEAKY", "GWARM", "GSWITCH", "SP1"], """
ambient 28 °C
battery B1 9 V plus chassis minus rail
generator G1 1 mV source 470R in to chassis
electrolytic C1 10µ esr 1R plus in minus both
resistor R1 47k both to rail
resistor R2 12k both to chassis
transistor T1 GLEAKY b both
resistor R3 1k2 T1.e to chassis
capacitor C2 1µ T1.e to chassis
resistor R4 2k7 T1.c to rail
transistor T2 GWARM b both
resistor R5 1k2 T2.e to chassis
capacitor C3 1µ T2.e to chassis
resistor R6 2k7 T2.c to rail
transistor T3 GSWITCH b both
resistor R7 1k2 T3.e to chassis
capacitor C4 1µ T3.e to chassis
resistor R8 2k7 T3.c to rail
transistor T4 SP1 b both
resistor R9 1k T4.e to chassis
capacitor C5 1µ T4.e to chassis
resistor R10 2k7 T4.c to rail
path fbeta from G1 to T1.c
path falpha from G1 to T2.c
path ft from G1 to T3.c
path silicon from G1 to T4.c
""", ambient=28.0)
def _(c):
    c.battery("B1", 9, "chassis", "rail")
    c.G("G1", "in", "chassis", source=470)
    c.E("C1", 10e-6, "in", "both", esr=1)
    c.R("R1", 47e3, "both", "rail")
    c.R("R2", 12e3, "both", "chassis")
    for k, (kind, emitter) in enumerate([("GLEAKY", 1200), ("GWARM", 1200), ("GSWITCH", 1200), ("SP1", 1000)], 1):
        c.T(f"T{k}", kind, b="both")
        c.R(f"R{2 * k + 1}", emitter, f"T{k}.e", "chassis")
        c.C(f"C{k + 1}", 1e-6, f"T{k}.e", "chassis")
        c.R(f"R{2 * k + 2}", 2700, f"T{k}.c", "rail")
    hertz = [50, 500, 2e3, 8e3, 20e3, 50e3, 100e3, 300e3, 1e6, 3e6, 10e6, 30e6]
    for k, word in enumerate(["fbeta", "falpha", "ft", "silicon"], 1):
        c.path(word, "G1", ("net", f"T{k}.c"), hertz=hertz)

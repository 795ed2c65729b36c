"""Small-signal germanium stages: degenerated, bypassed, direct-coupled, followers, feedback triples."""

from collection import circuit


@circuit("degenerated-stage", "One stage with an emitter resistance", ["GN1"], """
battery B1 9 V internal 1R plus chassis minus rail
generator G1 10 mV source 1k in to chassis
electrolytic C1 10µ plus in minus T1.b
resistor R1 47k rail to T1.b
resistor R2 10k T1.b to chassis
resistor R3 1k T1.e to chassis
resistor R4 3k9 T1.c to rail
transistor T1 GN1
electrolytic C2 10µ plus out minus T1.c
resistor R5 22k out to chassis
path gain from G1 to out
path input from G1 to T1.b
""")
def _(c):
    c.battery("B1", 9, "chassis", "rail", internal=1)
    c.G("G1", "in", "chassis", source=1000)
    c.E("C1", 10e-6, "in", "T1.b")
    c.R("R1", 47e3, "rail", "T1.b")
    c.R("R2", 10e3, "T1.b", "chassis")
    c.R("R3", 1000, "T1.e", "chassis")
    c.R("R4", 3900, "T1.c", "rail")
    c.T("T1", "GN1")
    c.E("C2", 10e-6, "out", "T1.c")
    c.R("R5", 22e3, "out", "chassis")
    c.path("gain", "G1", ("net", "out"))
    c.path("input", "G1", ("net", "T1.b"))


@circuit("bypassed-stage-leaky", "Bypassed stage with leaky electrolytics and a leaky transistor", ["GLEAKY"], """
ambient 38 °C
battery B1 6 V internal 2R plus chassis minus rail
head K1 120mH dcr 260R capacitance 60p hot to chassis
electrolytic C1 5µ 6 V esr 8R leakage 6 µA plus hot minus T1.b
resistor R1 39k T1.c to T1.b
resistor R2 6k8 T1.b to chassis
resistor R3 470R T1.e to chassis
electrolytic C2 100µ 3 V esr 2R leakage 25 µA plus chassis minus T1.e
resistor R4 2k7 T1.c to quiet
resistor R5 560R quiet to rail
electrolytic C3 100µ 10 V esr 1R leakage 30 µA plus chassis minus quiet
electrolytic C4 5µ 10 V leakage 12 µA plus out minus T1.c
resistor R6 4k7 out to chassis
transistor T1 GLEAKY
path playback from K1 to out
path base from K1 to T1.b
""", ambient=38.0)
def _(c):
    c.battery("B1", 6, "chassis", "rail", internal=2)
    c.head("K1", 120e-3, "hot", "chassis", dcr=260, capacitance=60e-12)
    c.E("C1", 5e-6, "hot", "T1.b", esr=8, leakage=6e-6, rated=6)
    c.R("R1", 39e3, "T1.c", "T1.b")
    c.R("R2", 6800, "T1.b", "chassis")
    c.R("R3", 470, "T1.e", "chassis")
    c.E("C2", 100e-6, "chassis", "T1.e", esr=2, leakage=25e-6, rated=3)
    c.R("R4", 2700, "T1.c", "quiet")
    c.R("R5", 560, "quiet", "rail")
    c.E("C3", 100e-6, "chassis", "quiet", esr=1, leakage=30e-6, rated=10)
    c.E("C4", 5e-6, "out", "T1.c", leakage=12e-6, rated=10)
    c.R("R6", 4700, "out", "chassis")
    c.T("T1", "GLEAKY")
    c.path("playback", "K1", ("net", "out"))
    c.path("base", "K1", ("net", "T1.b"))


@circuit("feedback-triple", "Direct-coupled triple, feedback switched between two modes", ["GLEAKY", "GN1", "GTIGHT"], """
battery B1 9 V internal 1R5 plus chassis minus rail
head K1 85mH dcr 150R capacitance 80p loss 120k hot to S1.a.play
generator G1 5 mV source 3k3 mic to chassis
resistor R30 100k hot to chassis
wire S1.a.play to chassis
switch S1 play record
    pole a S1.a.common play S1.a.play record free
    pole b input play hot record mic
    pole c fb_in play fb_play record fb_rec
    contact 50 mohm
resistor R31 1M free to chassis
resistor R32 10R S1.a.common to chassis
electrolytic C1 10µ plus input minus T1.b
resistor R1 120k T1.b to T2.e
resistor R2 8k2 rail to c1
transistor T1 GLEAKY e T1.e b T1.b c c1
resistor R3 220R T1.e to chassis
transistor T2 GN1 b c1
resistor R4 1k5 T2.e to chassis
electrolytic C2 50µ 3 V esr 3R leakage 10 µA plus chassis minus T2.e
resistor R5 4k7 T2.c to rail
wire T2.c to T3.b
transistor T3 GTIGHT
resistor R6 820R T3.e to fb_in
resistor R6a 3k3 T3.e to chassis
resistor R7 1k T3.c to rail
resistor R8 22k fb_play to fb_eq
capacitor C3 3n3 fb_play to fb_eq
resistor R9 10k fb_rec to fb_eq
electrolytic C4 2µ2 plus T1.e minus fb_eq
electrolytic C5 10µ plus out minus T3.c
resistor R10 15k out to chassis
path playback in play from K1 to out
path recording in record from G1 to out
path loop from G1 to T3.e
""")
def _(c):
    c.battery("B1", 9, "chassis", "rail", internal=1.5)
    c.head("K1", 85e-3, "hot", "S1.a.play", dcr=150, capacitance=80e-12, loss=120e3)
    c.G("G1", "mic", "chassis", source=3300)
    c.R("R30", 100e3, "hot", "chassis")
    c.wire("S1.a.play", "chassis")
    c.switch("S1", ["play", "record"], {
        "a": ("S1.a.common", {"play": "S1.a.play", "record": "free"}),
        "b": ("input", {"play": "hot", "record": "mic"}),
        "c": ("fb_in", {"play": "fb_play", "record": "fb_rec"}),
    }, contact=0.05)
    c.R("R31", 1e6, "free", "chassis")
    c.R("R32", 10, "S1.a.common", "chassis")
    c.E("C1", 10e-6, "input", "T1.b")
    c.R("R1", 120e3, "T1.b", "T2.e")
    c.R("R2", 8200, "rail", "c1")
    c.T("T1", "GLEAKY", "T1.e", "T1.b", "c1")
    c.R("R3", 220, "T1.e", "chassis")
    c.T("T2", "GN1", b="c1")
    c.R("R4", 1500, "T2.e", "chassis")
    c.E("C2", 50e-6, "chassis", "T2.e", esr=3, leakage=10e-6, rated=3)
    c.R("R5", 4700, "T2.c", "rail")
    c.wire("T2.c", "T3.b")
    c.T("T3", "GTIGHT")
    c.R("R6", 820, "T3.e", "fb_in")
    c.R("R6a", 3300, "T3.e", "chassis")
    c.R("R7", 1000, "T3.c", "rail")
    c.R("R8", 22e3, "fb_play", "fb_eq")
    c.C("C3", 3.3e-9, "fb_play", "fb_eq")
    c.R("R9", 10e3, "fb_rec", "fb_eq")
    c.E("C4", 2.2e-6, "T1.e", "fb_eq")
    c.E("C5", 10e-6, "out", "T3.c")
    c.R("R10", 15e3, "out", "chassis")
    c.mode("play", S1="play")
    c.mode("record", S1="record")
    c.path("playback", "K1", ("net", "out"), mode="play")
    c.path("recording", "G1", ("net", "out"), mode="record")
    c.path("loop", "G1", ("net", "T3.e"))


@circuit("followers", "Emitter followers one behind the other, and a bootstrapped one", ["GN1", "GBARE", "GTIGHT"], """
battery B1 12 V internal 0R5 plus chassis minus rail
generator G1 50 mV source 100k in to chassis
capacitor C1 220n in to T1.b
resistor R1 150k rail to T1.b
resistor R2 180k T1.b to chassis
transistor T1 GN1 e link c rail
resistor R3 27k link to chassis
transistor T2 GBARE e T2.e b link c rail
resistor R4 1k5 T2.e to chassis
electrolytic C2 25µ plus low minus T2.e
potentiometer P1 5k log setting 60% low to P1.wiper to chassis
capacitor C3 470n P1.wiper to T3.b
resistor R5 33k T3.b to boot
resistor R6 27k boot to rail
resistor R7 39k boot to chassis
electrolytic C4 10µ plus T3.e minus boot
transistor T3 GTIGHT c rail
resistor R8 2k2 T3.e to chassis
electrolytic C5 50µ plus out minus T3.e
resistor R9 600R out to chassis
path all from G1 to out
path first from G1 to T2.e
path drop from G1 to C1 voltage
""")
def _(c):
    c.battery("B1", 12, "chassis", "rail", internal=0.5)
    c.G("G1", "in", "chassis", source=100e3)
    c.C("C1", 220e-9, "in", "T1.b")
    c.R("R1", 150e3, "rail", "T1.b")
    c.R("R2", 180e3, "T1.b", "chassis")
    c.T("T1", "GN1", e="link", c="rail")
    c.R("R3", 27e3, "link", "chassis")
    c.T("T2", "GBARE", "T2.e", "link", "rail")
    c.R("R4", 1500, "T2.e", "chassis")
    c.E("C2", 25e-6, "low", "T2.e")
    c.pot("P1", 5000, "low", "P1.wiper", "chassis", law="log", setting=0.6)
    c.C("C3", 470e-9, "P1.wiper", "T3.b")
    c.R("R5", 33e3, "T3.b", "boot")
    c.R("R6", 27e3, "boot", "rail")
    c.R("R7", 39e3, "boot", "chassis")
    c.E("C4", 10e-6, "T3.e", "boot")
    c.T("T3", "GTIGHT", c="rail")
    c.R("R8", 2200, "T3.e", "chassis")
    c.E("C5", 50e-6, "out", "T3.e")
    c.R("R9", 600, "out", "chassis")
    c.path("all", "G1", ("net", "out"))
    c.path("first", "G1", ("net", "T2.e"))
    c.path("drop", "G1", ("voltage", "C1"))


@circuit("microphone-transformer", "Common-base input behind a microphone transformer", ["GN1", "GTIGHT"], """
battery B1 9 V internal 3R plus chassis minus rail
generator G1 1 mV source 200R mic to shield
resistor R1 0R5 shield to chassis
transformer TR1 magnetising 3.2 H on primary coupling 0.995 loss 9k on secondary
    winding primary 500 turns dcr 24R mic to shield
    winding secondary 250 turns dcr 8R sec to chassis
electrolytic C1 100µ esr 0R7 plus sec minus T1.e
resistor R2 2k7 T1.e to chassis
resistor R3 56k rail to T1.b
resistor R4 18k T1.b to chassis
electrolytic C2 25µ plus chassis minus T1.b
transistor T1 GN1
resistor R5 4k7 T1.c to rail
capacitor C3 1µ T1.c to T2.b
resistor R6 100k T2.b to rail
resistor R7 47k T2.b to chassis
transistor T2 GTIGHT c rail
resistor R8 3k3 T2.e to chassis
path speech from G1 to T2.e
path secondary from G1 to sec
""")
def _(c):
    c.battery("B1", 9, "chassis", "rail", internal=3)
    c.G("G1", "mic", "shield", source=200)
    c.R("R1", 0.5, "shield", "chassis")
    c.transformer("TR1", [
        ("primary", [500], 24, ["mic", "shield"]),
        ("secondary", [250], 8, ["sec", "chassis"]),
    ], magnetising=(3.2, "primary"), coupling=0.995, loss=(9e3, "secondary"))
    c.E("C1", 100e-6, "sec", "T1.e", esr=0.7)
    c.R("R2", 2700, "T1.e", "chassis")
    c.R("R3", 56e3, "rail", "T1.b")
    c.R("R4", 18e3, "T1.b", "chassis")
    c.E("C2", 25e-6, "chassis", "T1.b")
    c.T("T1", "GN1")
    c.R("R5", 4700, "T1.c", "rail")
    c.C("C3", 1e-6, "T1.c", "T2.b")
    c.R("R6", 100e3, "T2.b", "rail")
    c.R("R7", 47e3, "T2.b", "chassis")
    c.T("T2", "GTIGHT", c="rail")
    c.R("R8", 3300, "T2.e", "chassis")
    c.path("speech", "G1", ("net", "T2.e"))
    c.path("secondary", "G1", ("net", "sec"))


@circuit("pnp-npn-pair", "PNP and NPN direct-coupled with overall feedback", ["GN1", "GNPN"], """
battery B1 12 V internal 0R3 plus rail minus chassis
generator G1 20 mV source 4k7 in to chassis
electrolytic C1 5µ plus T1.b minus in
resistor R1 150k rail to T1.b
resistor R2 22k T1.b to chassis
transistor T1 GNPN
resistor R3 680R T1.e to chassis
resistor R4 470R rail to T1.c
wire T1.c to T2.b
transistor T2 GN1
resistor R5 470R rail to T2.e
resistor R6 2k7 T2.c to chassis
resistor R7 10k T2.c to fb
electrolytic C2 10µ plus fb minus T1.e
electrolytic C3 25µ plus T2.c minus out
resistor R8 3k3 out to chassis
capacitor C4 220p T2.c to T1.c
path closed from G1 to out
path emitter from G1 to T1.e
""")
def _(c):
    c.battery("B1", 12, "rail", "chassis", internal=0.3)
    c.G("G1", "in", "chassis", source=4700)
    c.E("C1", 5e-6, "T1.b", "in")
    c.R("R1", 150e3, "rail", "T1.b")
    c.R("R2", 22e3, "T1.b", "chassis")
    c.T("T1", "GNPN")
    c.R("R3", 680, "T1.e", "chassis")
    c.R("R4", 470, "rail", "T1.c")
    c.wire("T1.c", "T2.b")
    c.T("T2", "GN1")
    c.R("R5", 470, "rail", "T2.e")
    c.R("R6", 2700, "T2.c", "chassis")
    c.R("R7", 10e3, "T2.c", "fb")
    c.E("C2", 10e-6, "fb", "T1.e")
    c.E("C3", 25e-6, "T2.c", "out")
    c.R("R8", 3300, "out", "chassis")
    c.C("C4", 220e-12, "T2.c", "T1.c")
    c.path("closed", "G1", ("net", "out"))
    c.path("emitter", "G1", ("net", "T1.e"))


@circuit("difference-pair", "Long-tailed pair with a current source and collector current mirror", ["GN1", "GNPN", "GTIGHT"], """
battery B1 9 V plus positive minus chassis
battery B2 9 V internal 1R plus chassis minus negative
generator G1 10 mV source 2k2 T1.b to chassis
resistor R1 2k2 T2.b to chassis
resistor R2 33k out to T1.b
transistor T1 GN1 e tail c mirror
transistor T2 GTIGHT e tail c collected
transistor T3 GN1 e T3.e b ref c tail
resistor R3 1k positive to T3.e
resistor R4 1k8 positive to ref
resistor R5 8k2 ref to chassis
transistor T4 GNPN e T4.e b mirror c mirror
transistor T5 GNPN e T5.e b mirror c collected
resistor R6 100R T4.e to negative
resistor R7 100R T5.e to negative
transistor T6 GNPN e T6.e b collected c out
resistor R8 47R T6.e to negative
resistor R9 3k3 out to positive
capacitor C1 470p collected to out
path forward from G1 to out
path tail from G1 to tail
""")
def _(c):
    c.battery("B1", 9, "positive", "chassis")
    c.battery("B2", 9, "chassis", "negative", internal=1)
    c.G("G1", "T1.b", "chassis", source=2200)
    c.R("R1", 2200, "T2.b", "chassis")
    c.R("R2", 33e3, "out", "T1.b")
    c.T("T1", "GN1", e="tail", c="mirror")
    c.T("T2", "GTIGHT", e="tail", c="collected")
    c.T("T3", "GN1", "T3.e", "ref", "tail")
    c.R("R3", 1000, "positive", "T3.e")
    c.R("R4", 1800, "positive", "ref")
    c.R("R5", 8200, "ref", "chassis")
    c.T("T4", "GNPN", "T4.e", "mirror", "mirror")
    c.T("T5", "GNPN", "T5.e", "mirror", "collected")
    c.R("R6", 100, "T4.e", "negative")
    c.R("R7", 100, "T5.e", "negative")
    c.T("T6", "GNPN", "T6.e", "collected", "out")
    c.R("R8", 47, "T6.e", "negative")
    c.R("R9", 3300, "out", "positive")
    c.C("C1", 470e-12, "collected", "out")
    c.path("forward", "G1", ("net", "out"))
    c.path("tail", "G1", ("net", "tail"))


@circuit("cascaded-four", "Four stages, RC-coupled, with decoupling and a volume control", ["GN1", "GLEAKY", "GTIGHT", "GBARE"], """
ambient 22 °C
battery B1 9 V internal 4R plus chassis minus rail
head K1 60mH dcr 90R capacitance 120p loss 80k hot to chassis
electrolytic C1 5µ plus hot minus T1.b
resistor R1 56k T1.b to quiet1
resistor R2 12k T1.b to chassis
resistor R3 1k T1.e to chassis
electrolytic C2 50µ esr 1R leakage 5 µA plus chassis minus T1.e
resistor R4 3k9 T1.c to quiet1
transistor T1 GLEAKY
resistor R5 1k quiet1 to quiet2
electrolytic C3 100µ esr 1R plus chassis minus quiet1
electrolytic C4 5µ plus T2.b minus T1.c
resistor R6 47k T2.b to quiet2
resistor R7 10k T2.b to chassis
resistor R8 100R T2.e to T2_k
resistor R9 820R T2_k to chassis
electrolytic C5 50µ plus chassis minus T2_k
resistor R10 3k3 T2.c to quiet2
transistor T2 GN1
resistor R11 470R quiet2 to rail
electrolytic C6 200µ esr 0R8 leakage 50 µA plus chassis minus quiet2
electrolytic C7 5µ plus P1.1 minus T2.c
potentiometer P1 10k log setting 70% P1.1 to P1.wiper to chassis
electrolytic C8 5µ plus P1.wiper minus T3.b
resistor R12 39k T3.b to rail
resistor R13 10k T3.b to chassis
resistor R14 680R T3.e to chassis
electrolytic C9 100µ esr 2R plus chassis minus T3.e
resistor R15 2k2 T3.c to rail
transistor T3 GTIGHT
electrolytic C10 10µ plus T4.b minus T3.c
resistor R16 27k T4.b to rail
resistor R17 8k2 T4.b to chassis
resistor R18 330R T4.e to chassis
inductor L1 2.2H dcr 310R loss 33k T4.c to rail
transistor T4 GBARE
electrolytic C11 25µ plus out minus T4.c
resistor R19 1k out to chassis
path playback from K1 to out
path second from K1 to T2.c
path third from K1 to T3.c minus T3.e
""", ambient=22.0)
def _(c):
    c.battery("B1", 9, "chassis", "rail", internal=4)
    c.head("K1", 60e-3, "hot", "chassis", dcr=90, capacitance=120e-12, loss=80e3)
    c.E("C1", 5e-6, "hot", "T1.b")
    c.R("R1", 56e3, "T1.b", "quiet1")
    c.R("R2", 12e3, "T1.b", "chassis")
    c.R("R3", 1000, "T1.e", "chassis")
    c.E("C2", 50e-6, "chassis", "T1.e", esr=1, leakage=5e-6)
    c.R("R4", 3900, "T1.c", "quiet1")
    c.T("T1", "GLEAKY")
    c.R("R5", 1000, "quiet1", "quiet2")
    c.E("C3", 100e-6, "chassis", "quiet1", esr=1)
    c.E("C4", 5e-6, "T2.b", "T1.c")
    c.R("R6", 47e3, "T2.b", "quiet2")
    c.R("R7", 10e3, "T2.b", "chassis")
    c.R("R8", 100, "T2.e", "T2_k")
    c.R("R9", 820, "T2_k", "chassis")
    c.E("C5", 50e-6, "chassis", "T2_k")
    c.R("R10", 3300, "T2.c", "quiet2")
    c.T("T2", "GN1")
    c.R("R11", 470, "quiet2", "rail")
    c.E("C6", 200e-6, "chassis", "quiet2", esr=0.8, leakage=50e-6)
    c.E("C7", 5e-6, "P1.1", "T2.c")
    c.pot("P1", 10e3, "P1.1", "P1.wiper", "chassis", law="log", setting=0.7)
    c.E("C8", 5e-6, "P1.wiper", "T3.b")
    c.R("R12", 39e3, "T3.b", "rail")
    c.R("R13", 10e3, "T3.b", "chassis")
    c.R("R14", 680, "T3.e", "chassis")
    c.E("C9", 100e-6, "chassis", "T3.e", esr=2)
    c.R("R15", 2200, "T3.c", "rail")
    c.T("T3", "GTIGHT")
    c.E("C10", 10e-6, "T4.b", "T3.c")
    c.R("R16", 27e3, "T4.b", "rail")
    c.R("R17", 8200, "T4.b", "chassis")
    c.R("R18", 330, "T4.e", "chassis")
    c.L("L1", 2.2, "T4.c", "rail", dcr=310, loss=33e3)
    c.T("T4", "GBARE")
    c.E("C11", 25e-6, "out", "T4.c")
    c.R("R19", 1000, "out", "chassis")
    c.path("playback", "K1", ("net", "out"))
    c.path("second", "K1", ("net", "T2.c"))
    c.path("third", "K1", ("net", "T3.c", "T3.e"))

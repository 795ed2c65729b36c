"""The recorder of netlists/recorder.netlist, for runs in time beside our own (scripts/bench/time_contender.py)."""

from builder import Circuit
from device_types import TYPES
from devices import DiodeType, TransistorType

FIGURES = {
    "LN": dict(hfe=[(90, 0.5e-3), (70, 20e-3)], vbe=(0.103, 0.5e-3), leakage=2e-6, doubling=9, ft=(3e6, 1e-3),
               ccb=(12e-12, 6), ceb=(15e-12, 1), rbb=120, early=60),
    "GP": dict(hfe=[(70, 1e-3), (45, 50e-3)], vbe=(0.120, 1e-3), leakage=4e-6, doubling=9, ft=(1.5e6, 1e-3),
               ccb=(25e-12, 6), ceb=(30e-12, 1), rbb=90, early=60),
    "DR": dict(hfe=[(80, 5e-3), (55, 80e-3)], vbe=(0.145, 3e-3), leakage=6e-6, doubling=9, ft=(1.5e6, 5e-3),
               ccb=(35e-12, 6), ceb=(50e-12, 1), rbb=70, early=55),
    "OP": dict(hfe=[(85, 50e-3), (50, 400e-3)], vbe=(0.160, 10e-3), leakage=10e-6, doubling=9, ft=(1.5e6, 10e-3),
               ccb=(90e-12, 6), ceb=(150e-12, 1), rbb=25, early=45),
}
for kind, sheet in FIGURES.items():
    TYPES[kind] = TransistorType("pnp", "germanium", **sheet)
TYPES["DG"] = DiodeType("germanium", vf=(0.26, 1e-3), ideality=1.3, rs=60, cj=(1e-12, 1))
TYPES["DB"] = DiodeType("germanium", vf=(0.12, 4e-3), rs=1)

PLAY, RECORD = {"S1": "play", "P1": 0.7}, {"S1": "record", "S2": "microphone", "P3": 0.75}


def supply(c):
    c.battery("B1", 9, "chassis", "rail", internal=1.5)
    c.E("C1", 1000e-6, "chassis", "rail", esr=0.3, leakage=20e-6, rated=12)
    c.R("R1", 10e3, "rail", "T8.b")
    c.R("R2", 100e3, "T8.b", "chassis")
    c.E("C2", 220e-6, "chassis", "T8.b", leakage=5e-6, rated=10)
    c.T("T8", "DR", e="quiet", c="rail")
    c.E("C3", 47e-6, "chassis", "quiet")


def switches(c):
    def pole(common, play, record):
        throws = {"play": play} if play else {}
        return common, throws | ({"record": record} if record else {})

    c.switch("S1", ["play", "record"], {
        "head": pole("K1.1", "input", "head_feed"),
        "input": pole("input", None, "source"),
        "level": pole("mixed", "first", "level"),
        "eq": pole("T2.e", "eq_play", "eq_record"),
        "driver": pole("quiet", "driver_base", None),
        "base6": pole("T6.b", "drive6", "osc_base"),
        "coll6": pole("T6.c", "out6", "tank"),
        "emit6": pole("T6.e", "tail6", "osc_tail"),
        "base7": pole("T7.b", "drive7", "meter_in"),
        "coll7": pole("T7.c", "out7", "rail"),
        "emit7": pole("T7.e", "tail7", "meter_tail"),
        "meter": pole("needle", "cell_check", "level_check"),
    })
    c.switch("S2", ["microphone", "line"], {"select": ("source", {"microphone": "mic", "line": "line_in"})})


def inputs(c):
    c.head("K1", 40e-3, "K1.1", "chassis", dcr=90, capacitance=60e-12, loss=150e3)
    c.G("G1", "mic", "chassis", source=600)
    c.G("G2", "line", "chassis", source=22e3)
    c.R("R3", 220e3, "line", "line_in")
    c.R("R4", 4700, "line_in", "chassis")
    c.E("C4", 4.7e-6, "input", "T1.b")
    c.R("R5", 56e3, "quiet", "T1.b")
    c.R("R6", 15e3, "T1.b", "chassis")
    c.T("T1", "LN")
    c.R("R7", 6800, "quiet", "T1.c")
    c.R("R8", 270, "T1.e", "T1_foot")
    c.R("R9", 2700, "T1_foot", "chassis")
    c.E("C5", 100e-6, "chassis", "T1_foot")
    c.E("C6", 4.7e-6, "first", "T1.c")
    c.pot("P3", 22e3, "chassis", "level", "first", law="log", setting=0.75)


def equaliser(c):
    c.E("C7", 4.7e-6, "mixed", "T2.b")
    c.T("T2", "LN")
    c.R("R10", 18e3, "quiet", "T2.c")
    c.R("R11", 120, "T2.e", "T2_foot")
    c.R("R12", 1500, "T2_foot", "chassis")
    c.E("C8", 220e-6, "chassis", "T2_foot")
    c.R("R13", 33e3, "T2.b", "chassis")
    c.R("R14", 27e3, "T3.e", "T2.b")
    c.T("T3", "GP", b="T2.c")
    c.R("R15", 1000, "T3.e", "chassis")
    c.E("C9", 220e-6, "chassis", "T3.e")
    c.R("R16", 2700, "quiet", "T3.c")
    c.C("C10", 100e-12, "T3.c", "T3.b")
    c.T("T4", "GP", b="T3.c", c="quiet")
    c.R("R17", 2200, "T4.e", "chassis")
    c.R("R18", 39e3, "T4.e", "T2.e")
    c.C("C11", 100e-9, "T4.e", "eq_bass")
    c.R("R19", 1200, "eq_bass", "eq_play")
    c.C("C12", 220e-9, "T4.e", "eq_rise")
    c.R("R20", 4700, "eq_rise", "eq_mid")
    c.R("R21", 4700, "eq_mid", "eq_record")
    c.L("L1", 33e-3, "eq_mid", "eq_coil", dcr=40)
    c.C("C13", 6.8e-9, "eq_coil", "eq_shunt")
    c.R("R22", 330, "eq_shunt", "chassis")
    c.R("R23", 470e3, "eq_play", "T2.e")
    c.R("R24", 470e3, "eq_record", "T2.e")
    c.E("C14", 10e-6, "line_out", "T4.e")
    c.pot("P1", 10e3, "chassis", "volume", "line_out", law="log", setting=0.7)


def output(c):
    c.E("C15", 10e-6, "volume", "T5.b")
    c.R("R25", 18e3, "driver_base", "T5.b")
    c.R("R26", 6800, "T5.b", "chassis")
    c.T("T5", "DR")
    c.R("R27", 47, "T5.e", "T5_foot")
    c.R("R28", 270, "T5_foot", "chassis")
    c.E("C16", 100e-6, "chassis", "T5_foot")
    c.R("R29", 2200, "rail", "T5_foot")
    c.C("C17", 1e-9, "T5.c", "T5.b")
    c.R("R30", 100, "rail", "driver")
    c.E("C18", 220e-6, "chassis", "driver")
    c.transformer("TR1", [("primary", [1200], 180, ["T5.c", "driver"]),
                          ("secondary", [400, 400], 90, ["drive6", "bias", "drive7"])],
                  magnetising=(4, "primary"), coupling=0.999, loss=(60e3, "primary"))
    c.R("R31", 1800, "rail", "bias")
    c.trimmer("P2", 25, "bias", "bias_diode", setting=0.4)
    c.D("D1", "DB", "chassis", "bias_diode")
    c.thermistor("TH1", 130, 3000, "bias", "chassis")
    c.T("T6", "OP")
    c.T("T7", "OP")
    c.R("R32", 3.3, "tail6", "chassis")
    c.R("R33", 3.3, "tail7", "chassis")
    c.C("C19", 15e-9, "out6", "out7")
    c.transformer("TR2", [("primary", [200, 200], 7, ["out6", "rail", "out7"]),
                          ("secondary", [63], 0.3, ["speaker", "chassis"])],
                  magnetising=(0.5, "primary"), coupling=0.999, loss=(2e3, "primary"))
    c.speaker("LS1", 5, "speaker", "chassis", re=4.3, le=0.15e-3, fs=150, qms=1.6, qes=1.6)
    c.R("R34", 10, "speaker", "damping")
    c.C("C20", 1e-6, "damping", "chassis")
    c.R("R35", 820, "speaker", "T5.e")


def oscillator(c):
    c.transformer("TR3", [("collector", [40], 0.8, ["tank", "rail"]), ("base", [16], 0.3, ["osc_bias", "osc_base"]),
                          ("erase", [60], 1.2, ["erase", "chassis"]), ("bias", [180], 12, ["bias_high", "chassis"])],
                  magnetising=(700e-6, "erase"), coupling=0.99, loss=(3e3, "erase"))
    c.head("K2", 350e-6, "erase", "chassis", dcr=2.5, loss=800)
    c.C("C21", 39e-9, "erase", "chassis")
    c.R("R36", 6800, "rail", "osc_bias")
    c.R("R37", 680, "osc_bias", "chassis")
    c.C("C22", 47e-9, "osc_bias", "chassis")
    c.R("R38", 47, "osc_tail", "chassis")
    c.trimmer("P4", 47e3, "bias_high", "bias_feed", setting=0.5)
    c.C("C23", 68e-12, "bias_feed", "head_feed")
    c.E("C24", 4.7e-6, "record_out", "T4.e")
    c.R("R39", 10e3, "record_out", "trap")
    c.L("L2", L2_HENRIES, "trap", "head_feed", dcr=25, q=(40, 52e3))
    c.C("C25", 1e-9, "trap", "head_feed")
    c.R("R40", 100e3, "head_feed", "chassis")


def meter(c):
    c.C("C26", 1e-6, "T4.e", "meter_in")
    c.R("R41", 47e3, "quiet", "meter_in")
    c.R("R42", 68e3, "meter_in", "chassis")
    c.R("R43", 1800, "meter_tail", "chassis")
    c.E("C27", 10e-6, "rectifier", "meter_tail")
    c.D("D2", "DG", "rectifier", "chassis")
    c.D("D3", "DG", "meter_level", "rectifier")
    c.E("C28", 10e-6, "chassis", "meter_level")
    c.R("R44", 10e3, "meter_level", "level_check")
    c.R("R45", 39e3, "rail", "cell_check")
    c.meter("M1", 650, "chassis", "needle")


L2_HENRIES = 6e-3 + 0.55 * 6e-3


def open_windings(c):
    """Windings that hang open in one mode or the other: 10 MΩ make a differential equation of what would be a constraint."""
    for net in ("tank", "osc_base", "drive6", "drive7", "out6", "out7"):
        c.R(f"R_{net}", 10e6, net, "chassis")


def recorder():
    c = Circuit()
    for section in (supply, switches, inputs, equaliser, output, oscillator, meter, open_windings):
        section(c)
    return c

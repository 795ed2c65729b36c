"""The oscillator of netlists/bias-oscillator.netlist, for runs in time beside our own (scripts/bench/time_contender.py)."""

import recorder  # noqa: F401  puts its transistors among the types
from builder import Circuit


def bias_oscillator():
    c = Circuit()
    c.battery("B1", 9, "chassis", "rail", internal=1.5)
    c.E("C1", 1000e-6, "chassis", "rail", esr=0.3, rated=12)
    c.T("T1", "OP")
    c.R("R1", 6800, "rail", "bias")
    c.R("R2", 680, "bias", "chassis")
    c.C("C2", 47e-9, "bias", "chassis")
    c.R("R3", 47, "T1.e", "chassis")
    c.transformer("TR1", [("collector", [40], 0.8, ["T1.c", "rail"]), ("base", [16], 0.3, ["bias", "T1.b"]),
                          ("erase", [60], 1.2, ["erase", "chassis"]), ("bias", [180], 12, ["bias_high", "chassis"])],
                  magnetising=(700e-6, "erase"), coupling=0.99, loss=(3e3, "erase"))
    c.C("C3", 39e-9, "erase", "chassis")
    c.head("K1", 350e-6, "erase", "chassis", dcr=2.5, loss=800)
    c.trimmer("P1", 47e3, "bias_high", "feed", setting=0.5)
    c.C("C4", 68e-12, "feed", "K2.1")
    c.head("K2", 40e-3, "K2.1", "chassis", dcr=90, capacitance=60e-12, loss=150e3)
    return c

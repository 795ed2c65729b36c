"""Independent runs in time: dq/dt = −f(x, t), of circuits of their own.

    python3 scripts/reference/transients.py [NAME …]

writes tests/outside/transients.json; needs numpy and scipy, takes some minutes. f, q and their derivatives are those of solve.py and
devices.py. Kirchhoff's sums of the nodes with a charge, and the voltage equations of the branches with a flux, are
integrated by Radau IIA (scipy) with a tolerance of 1e-8; all other unknowns follow from them and from the remaining
equations, by Newton at every evaluation. A net of capacitors that does not touch the chassis has one node fewer.
"""

import json
import pathlib
import sys

import numpy as np
from scipy.integrate import solve_ivp

sys.path.insert(0, str(pathlib.Path(__file__).parent))

from builder import Circuit  # noqa: E402
from device_types import TEXTS, TYPES  # noqa: E402
from devices import CONTACT, DiodeType  # noqa: E402
from dual import LONG, Dual, variables  # noqa: E402
from expand import Network  # noqa: E402
from solve import OperatingPoint  # noqa: E402

OUTPUT = pathlib.Path(__file__).resolve().parents[2] / "tests/outside/transients.json"
MADE_BY = "scripts/reference/transients.py; run: python3 scripts/reference/transients.py (Python 3, numpy, scipy)"
RELATIVE = 1e-8
SCENARIOS = {}


def scenario(name, types, netlist, **run):
    """run: seconds, samples, start ("rest" or "point"), tones [(source, Hz, V rms)], events [(seconds, states)], steps [(seconds, source, V)]."""

    def register(build):
        circuit = Circuit()
        build(circuit)
        text = "".join(TEXTS[kind] for kind in types) + netlist.lstrip("\n")
        SCENARIOS[name] = (circuit, text, run)

    return register


def depletion_charge(spec, phi, forward):
    """Integral of the capacitance over the forward voltage, from 0."""
    farads, at = LONG(spec[0]), LONG(spec[1])
    if farads == 0:
        return LONG(0), LONG(0)
    factor = farads * np.sqrt(at + phi)
    edge = phi / 2
    if forward <= edge:
        root = np.sqrt(phi - forward)
        return 2 * factor * (np.sqrt(phi) - root), factor / root
    root = np.sqrt(phi - edge)
    beyond, slope = forward - edge, factor / (2 * root**3)
    charge = 2 * factor * (np.sqrt(phi) - root) + factor / root * beyond + slope * beyond**2 / 2
    return charge, factor / root + slope * beyond


class Motion:
    """One circuit in one state of its switches; junctions at the ambient temperature."""

    def __init__(self, circuit, states, tones):
        self.net = Network(circuit, TYPES, states)
        self.tones, self.direct = tones, {}
        self.still = OperatingPoint.__new__(OperatingPoint)
        self.still.net, self.still.nodes, self.still.hot = self.net, len(self.net.nodes) - 1, []
        self.still.floating = []
        self.size = self.still.size = self.still.nodes + len(self.net.branches)
        self.moving = self.independent()
        self.algebraic = self.constraints()

    # -- which rows are integrated
    def storage(self):
        """(row, row) of every charge between two nodes; None for the chassis."""
        pairs = [(a, b) for a, b, *_ in self.net.capacitances]
        for _, kind, e, _, c, inside in self.net.transistors:
            if kind.tau or kind.ceb[0]:
                pairs.append((inside, e))
            if kind.storage or kind.ccb[0]:
                pairs.append((inside, c))
        return pairs + [(a, c) for _, kind, a, c in self.net.diodes if kind.cj[0]]

    def independent(self):
        """Rows with a charge or flux, without one row of each net of capacitors that does not touch the chassis."""
        self.groups = []
        for pair in self.storage():
            joined = [g for g in self.groups if g & set(pair)]
            self.groups = [g for g in self.groups if g not in joined] + [set(pair).union(*joined)]
        rows = [n - 1 for g in self.groups for n in sorted(g - {0})[0 if 0 in g else 1 :]]
        coils = [self.still.nodes + k for (k, j), henries in self.net.inductance.items() if k == j and henries]
        return sorted(rows) + sorted(coils)

    def constraints(self):
        """Combinations of rows without a charge: one each, and the sum over each net of capacitors off the chassis."""
        charged = {n - 1 for g in self.groups for n in g}
        loose = [[n - 1 for n in g] for g in self.groups if 0 not in g]
        single = [[r] for r in range(self.size) if r not in charged and r not in self.moving]
        out = np.zeros((len(loose) + len(single), self.size))
        for k, rows in enumerate(single + loose):
            out[k, rows] = 1
        return out

    # -- the equations
    def sources(self, t):
        for branch in self.net.branches:
            name = branch["source"]
            if name is not None:
                tone = sum(np.sqrt(2) * v * np.sin(2 * np.pi * f * t) for n, f, v in self.tones if n == name)
                branch["emf"] = LONG(self.direct.get(name, 0) + tone)

    def charges(self, x):
        q, c = np.zeros(self.size, dtype=LONG), np.zeros((self.size, self.size), dtype=LONG)

        def put(a, b, charge, plus, minus, slope):
            for row, sign in ((a, 1), (b, -1)):
                if row:
                    q[row - 1] += sign * charge
                    for column, value in ((plus, slope), (minus, -slope)):
                        if column:
                            c[row - 1, column - 1] += sign * value

        def volts(node):
            return LONG(0) if node == 0 else x[node - 1]

        for a, b, farads, _ in self.net.capacitances:
            put(a, b, farads * (volts(a) - volts(b)), a, b, farads)
        for _, kind, a, k in self.net.diodes:
            put(a, k, *self.junction(kind.cj, kind, volts(a) - volts(k), a, k))
        for _, kind, e, _, col, inside in self.net.transistors:
            p = kind.polarity
            u, w = variables(p * (volts(inside) - volts(e)), p * (volts(inside) - volts(col)))
            diffusion = kind.charges(u, w, Dual(self.net.ambient, 0 * u.slope))
            for far, charge, k, spec, v in ((e, diffusion[0], 0, kind.ceb, u), (col, diffusion[1], 1, kind.ccb, w)):
                put(inside, far, p * charge.value, inside, far, charge.slope[k])
                whole, slope = depletion_charge(spec, CONTACT[kind.material], v.value)
                put(inside, far, p * whole, inside, far, slope)
        nodes = self.still.nodes
        for (k, j), henries in self.net.inductance.items():
            q[nodes + k] -= henries * x[nodes + j]
            c[nodes + k, nodes + j] -= henries
        return q, c

    def junction(self, spec, kind, forward, a, b):
        charge, slope = depletion_charge(spec, CONTACT[kind.material], forward)
        return charge, a, b, slope

    def find(self, z, t, guess):
        """x with these charges and fluxes, and the rest of the equations met."""
        self.sources(t)
        x = guess.copy()
        for _ in range(60):
            f, j = self.still.equations(x, 0)
            q, c = self.charges(x)
            left = np.concatenate([q[self.moving] - z, self.algebraic @ f]).astype(float)
            slope = np.concatenate([c[self.moving], self.algebraic @ j]).astype(float)
            scale = np.abs(slope).max(axis=1)
            step = np.linalg.solve(slope / scale[:, None], -left / scale)
            share = self.damping(x, step)
            x = x + share * step
            if share == 1 and np.max(np.abs(step)) < 1e-12 * max(1.0, float(np.max(np.abs(x)))):
                return x, f, j, slope
        raise RuntimeError(f"no state at {t}")

    def damping(self, x, step):
        share = min(1.0, 5 / max(5.0, float(np.max(np.abs(step)))))
        for old, new in zip(self.still.junctions(x), self.still.junctions(x + step), strict=True):
            room = max(old, LONG(0)) + LONG("0.06") - old
            if new - old > room:
                share = min(share, float(room / (new - old)))
        return share

    def resume(self, z, x):
        self.guess = x
        q, c = self.charges(x)
        self.scale = np.array([float(np.abs(c[row]).max()) for row in self.moving])
        self.scale = np.where(np.array(self.moving) < self.still.nodes, 1.0, 1e-3) * self.scale

    def rate(self, t, y):
        try:
            self.guess, f, *_ = self.find(y * self.scale, t, self.guess)
        except (RuntimeError, np.linalg.LinAlgError):
            # no junction holds less charge than none: the step is too long
            return np.full(len(y), np.nan)
        return -f[self.moving].astype(float) / self.scale

    def jacobian(self, t, y):
        self.guess, _, j, slope = self.find(y * self.scale, t, self.guess)
        by_z = np.linalg.solve(slope, np.eye(self.size)[:, : len(self.moving)])
        return -(j[self.moving].astype(float) @ by_z) * self.scale[None, :] / self.scale[:, None]


def solve(name):
    circuit, text, run = SCENARIOS[name]
    states = dict(circuit.modes[0][1])
    motion = Motion(circuit, states, run.get("tones", []))
    x = np.zeros(motion.size, dtype=LONG)
    if run.get("start") == "point":
        x = OperatingPoint(motion.net).x
    z = motion.charges(x)[0][motion.moving].astype(float)
    happenings = [(t, dict(s)) for t, s in run.get("events", [])] + [(t, (g, v)) for t, g, v in run.get("steps", [])]
    happenings = sorted(happenings, key=lambda pair: pair[0]) + [(run["seconds"], None)]
    times = np.linspace(0, run["seconds"], run["samples"] + 1)
    nets = {n: k for n, k in list(motion.net.nodes.items())[1 : motion.net.named]}
    values = {n: [] for n in nets}
    now = 0.0
    for until, what in happenings:
        motion.resume(z, x)
        inside = times[(times >= now) & (times < until)] if what is not None else times[times >= now]
        found = solve_ivp(motion.rate, (now, until), z / motion.scale, method="Radau", jac=motion.jacobian,
                          rtol=RELATIVE, atol=RELATIVE / 10, t_eval=np.append(inside[inside < until], until), first_step=1e-12)
        assert found.success, found.message
        guess = x
        for t, y in zip(found.t[: len(inside)], found.y.T, strict=False):
            guess, *_ = motion.find(y * motion.scale, t, guess)
            for net, k in nets.items():
                values[net].append(float(guess[k - 1]))
        z = found.y[:, -1] * motion.scale
        x = motion.find(z, until, guess)[0]
        now = until
        if isinstance(what, tuple):
            motion.direct[what[0]] = what[1]
        elif what is not None:
            states.update(what)
            direct, motion = motion.direct, Motion(circuit, states, run.get("tones", []))
            motion.direct = direct
    return {"name": name, "netlist": text, **run, "nets": values}


def main(names):
    kept = json.loads(OUTPUT.read_text())["results"] if names and OUTPUT.exists() else []
    fresh = []
    for name in names or SCENARIOS:
        fresh.append(solve(name))
        print(name, flush=True)
    results = [r for r in kept if r["name"] not in [f["name"] for f in fresh]] + fresh
    OUTPUT.write_text(json.dumps({"made_by": MADE_BY, "results": results}) + "\n", encoding="utf-8")


TYPES["GREC"] = DiodeType("germanium", vf=(0.3, 10e-3), rs=5, cj=(20e-12, 1))


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
""", seconds=8e-3, samples=80, start="point", steps=[(1e-3, "G1", 0.03), (4e-3, "G1", -0.2)])
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
""", seconds=3e-3, samples=100, start="point", tones=[["G1", 1000, 0.3], ["G1", 3500, 0.2]])
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


@scenario("push-pull-tone", ["GLEAKY"], """
battery B1 9 V internal 1 ohm plus chassis minus rail
generator G1 1 V source 200 ohm in to chassis
transformer TR1 magnetising 1 H on primary coupling 0.99 loss 20k on primary
    winding primary 600 turns dcr 60 ohm in to chassis
    winding secondary 400 turns dcr 40 ohm T1.b to bias to T2.b
resistor R1 3k9 rail to bias
resistor R2 68R bias to chassis
transistor T1 GLEAKY e tail
transistor T2 GLEAKY e tail
resistor R3 22R tail to chassis
transformer TR2 magnetising 0.5 H on primary coupling 0.99 loss 5k on primary
    winding primary 400 turns dcr 15 ohm T1.c to rail to T2.c
    winding secondary 80 turns dcr 1 ohm speaker to chassis
loudspeaker LS1 16 ohm speaker to chassis
capacitor C1 10n T1.b to T2.b
capacitor C2 47n T1.c to T2.c
""", seconds=1.5e-3, samples=100, start="point", tones=[["G1", 1000, 0.4]])
def _(c):
    c.battery("B1", 9, "chassis", "rail", internal=1)
    c.G("G1", "in", "chassis", source=200)
    c.transformer("TR1", [("primary", [600], 60, ["in", "chassis"]),
                          ("secondary", [200, 200], 40, ["T1.b", "bias", "T2.b"])],
                  magnetising=(1, "primary"), coupling=0.99, loss=(20e3, "primary"))
    c.R("R1", 3900, "rail", "bias")
    c.R("R2", 68, "bias", "chassis")
    c.T("T1", "GLEAKY", e="tail")
    c.T("T2", "GLEAKY", e="tail")
    c.R("R3", 22, "tail", "chassis")
    c.transformer("TR2", [("primary", [200, 200], 15, ["T1.c", "rail", "T2.c"]),
                          ("secondary", [80], 1, ["speaker", "chassis"])],
                  magnetising=(0.5, "primary"), coupling=0.99, loss=(5e3, "primary"))
    c.speaker("LS1", 16, "speaker", "chassis")
    c.C("C1", 10e-9, "T1.b", "T2.b")
    c.C("C2", 47e-9, "T1.c", "T2.c")


@scenario("oscillator-start", ["GLEAKY"], """
battery B1 6 V internal 3 ohm plus chassis minus rail
capacitor C3 1µ rail to chassis
transformer TR1 magnetising 1 mH on tank coupling 0.98 loss 8k on tank
    winding tank 50 turns dcr 2 ohm T1.c to rail
    winding back 8 turns dcr 0.5 ohm hot to T1.b
capacitor C1 22n T1.c to rail
resistor R1 27k rail to hot
resistor R2 4k7 hot to chassis
capacitor C2 100n hot to chassis
resistor R3 470R T1.e to chassis
capacitor C4 220n T1.e to chassis
transistor T1 GLEAKY
""", seconds=0.6e-3, samples=120, start="rest")
def _(c):
    c.battery("B1", 6, "chassis", "rail", internal=3)
    c.C("C3", 1e-6, "rail", "chassis")
    c.transformer("TR1", [("tank", [50], 2, ["T1.c", "rail"]), ("back", [8], 0.5, ["hot", "T1.b"])],
                  magnetising=(1e-3, "tank"), coupling=0.98, loss=(8e3, "tank"))
    c.C("C1", 22e-9, "T1.c", "rail")
    c.R("R1", 27e3, "rail", "hot")
    c.R("R2", 4700, "hot", "chassis")
    c.C("C2", 100e-9, "hot", "chassis")
    c.R("R3", 470, "T1.e", "chassis")
    c.C("C4", 220e-9, "T1.e", "chassis")
    c.T("T1", "GLEAKY")


@scenario("rectifier", [], """
type GREC diode germanium
    vf 0.3 V at 10 mA
    rs 5 ohm
    cj 20 pF at 1 V
generator G1 8 V source 10 ohm in to chassis
diode D1 GREC anode in cathode out
electrolytic C1 10µ esr 0.5 ohm leakage 10 µA 25 V plus out minus chassis
resistor R1 2k2 out to chassis
inductor L1 0.5 H dcr 20 ohm out to smooth
capacitor C2 2µ smooth to chassis
resistor R2 4k7 smooth to chassis
""", seconds=0.06, samples=120, start="rest", tones=[["G1", 50, 8.0]])
def _(c):
    c.G("G1", "in", "chassis", source=10)
    c.D("D1", "GREC", "in", "out")
    c.E("C1", 10e-6, "out", "chassis", esr=0.5, leakage=10e-6, rated=25)
    c.R("R1", 2200, "out", "chassis")
    c.L("L1", 0.5, "out", "smooth", dcr=20)
    c.C("C2", 2e-6, "smooth", "chassis")
    c.R("R2", 4700, "smooth", "chassis")


@scenario("thermistor-switch-on", ["GN1"], """
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
""", seconds=0.02, samples=100, start="rest")
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


@scenario("switch-turned", ["GN1", "GNPN"], """
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
""", seconds=4e-3, samples=100, start="point", events=[[1e-3, {"S1": "high"}], [2.5e-3, {"S1": "low"}]])
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


if __name__ == "__main__":
    main(sys.argv[1:])

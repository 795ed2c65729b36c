"""Independent runs in time: dq/dt = −f(x, t), of circuits of their own.

    python3 scripts/reference/transients.py [NAME …]

writes tests/outside/transients.json; needs numpy and scipy, takes five minutes. The equations are those of motion.py,
integrated by Radau IIA (scipy) with a tolerance of 1e-9; at every sample they are held against devices.py and solve.py.
"""

import json
import pathlib
import sys
import time

import numpy as np
from scipy.integrate import solve_ivp

sys.path.insert(0, str(pathlib.Path(__file__).parent))

import circuits.switched  # noqa: F401, E402  (registers its runs)
import circuits.toned  # noqa: F401, E402
from device_types import TYPES  # noqa: E402
from exact import disagreement, rest  # noqa: E402
from expand import Network  # noqa: E402
from motion import Motion  # noqa: E402
from scenarios import SCENARIOS  # noqa: E402

OUTPUT = pathlib.Path(__file__).resolve().parents[2] / "tests/outside/transients.json"
MADE_BY = "scripts/reference/transients.py; run: python3 scripts/reference/transients.py (Python 3, numpy, scipy)"
RELATIVE = 1e-9
ALLOWED = 1e-8
RPM = 2 * np.pi / 60


class Run:
    """One scenario on its way: its motion, charges and what is written down."""

    def __init__(self, circuit, shown, tones=(), start="rest", relative=RELATIVE):
        self.circuit, self.tones, self.relative = circuit, tones, relative
        self.states, self.direct = dict(circuit.modes[0][1]), {}
        self.rebuild()
        self.values = {name: [] for name in shown}
        self.worst, self.evaluations = 0.0, 0
        x = rest(self.motion.net) if start == "point" else np.zeros(self.motion.size)
        self.motion.guess = self.motion.incidence.T @ x
        self.y = self.motion.state(x)

    def rebuild(self):
        self.motion = Motion(Network(self.circuit, TYPES, self.states), self.tones, self.direct)

    def change(self, part, value):
        """A switch, a battery, a motor's load, or the direct EMF of a generator."""
        before = self.motion.guess
        if any(branch["source"] == part for branch in self.motion.net.branches):
            self.direct[part] = value
        else:
            self.states[part] = value
        self.rebuild()
        self.motion.guess = before

    def go(self, now, until, times):
        motion = self.motion
        found = solve_ivp(motion.rate, (now, until), self.y, method="Radau", jac=motion.jacobian,
                          rtol=self.relative, atol=self.relative / 10, t_eval=np.unique(np.append(times, until)), first_step=1e-12)
        assert found.success, found.message
        self.evaluations += found.nfev
        for t, y in zip(found.t, found.y.T, strict=True):
            if t in times:
                self.take(y, t)
        self.y = found.y[:, -1]

    def take(self, y, t):
        x = self.motion.find(y, t)
        self.worst = max(self.worst, disagreement(self.motion, y, t))
        for name, kept in self.values.items():
            kept.append(self.reading(x, name))

    def reading(self, x, name):
        """The voltage of a net, or the speed of a motor in revolutions a minute."""
        nodes = self.motion.net.nodes
        if name in (motor for motor, *_ in self.motion.net.motors):
            return float(x[nodes[f"{name}.speed"] - 1]) / RPM
        return float(x[nodes[self.circuit.net(name)] - 1])


def solve(name, relative=RELATIVE):
    """Values of a scenario at its samples; samples at a change are those before it."""
    circuit, text, asked = SCENARIOS[name]
    run = Run(circuit, asked["shown"], asked.get("tones", ()), asked["start"], relative)
    seconds, events = asked["seconds"], asked.get("events", [])
    times = np.linspace(0, seconds, asked["samples"] + 1)
    now = -1.0
    for until, *change in [*events, (seconds,)]:
        run.go(max(now, 0.0), until, times[(times > now) & (times <= until)])
        now = until
        if change:
            part, _, value = change
            run.change(part, value)
    assert run.worst < ALLOWED, f"{name}: off by {run.worst}"
    nets = {n: [round(v, 9) for v in values] for n, values in run.values.items()}
    return run, {"name": name, "netlist": text, **{k: v for k, v in asked.items() if k != "shown"}, "values": nets}


def main(names):
    kept = {r["name"]: r for r in json.loads(OUTPUT.read_text())["results"]} if names and OUTPUT.exists() else {}
    for name in names or SCENARIOS:
        begun = time.process_time()
        run, kept[name] = solve(name)
        swings = " ".join(f"{n} {min(v):.4g}..{max(v):.4g}" for n, v in kept[name]["values"].items())
        print(f"{name}: {run.evaluations} evaluations, {time.process_time() - begun:.1f} s, off {run.worst:.0e}; {swings}", flush=True)
    results = [kept[name] for name in SCENARIOS if name in kept]
    OUTPUT.write_text(json.dumps({"made_by": MADE_BY, "results": results}) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main(sys.argv[1:])

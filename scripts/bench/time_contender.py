"""Runs the recorder, or its oscillator by itself, in time by a solver of scipy, for comparison: the equations of
scripts/reference. Started by the benchmark, which asks line by line on standard input and gets one line of JSON for
each."""

import json
import pathlib
import sys
import time

import numpy as np
from scipy.integrate import solve_ivp

sys.path.insert(0, str(pathlib.Path(__file__).resolve().parents[1] / "reference"))

from bias_oscillator import bias_oscillator  # noqa: E402
from device_types import TYPES  # noqa: E402
from exact import rest  # noqa: E402
from expand import Network  # noqa: E402
from motion import Motion  # noqa: E402
from recorder import PLAY, RECORD, recorder  # noqa: E402

CIRCUITS = {"recorder": recorder, "bias-oscillator": bias_oscillator}
MODES = {"play": PLAY, "record": RECORD, "as-drawn": {}}


class Course:
    """One mode from its start: everything discharged, or the operating point with nets put to other voltages."""

    def __init__(self, circuit, mode, start, nets):
        self.motion = Motion(Network(CIRCUITS[circuit](), TYPES, dict(MODES[mode])))
        circuit, nodes = self.motion.net.circuit, self.motion.net.nodes
        self.rows = [nodes[circuit.net(net)] - 1 for net in nets]
        x = np.zeros(self.motion.size) if start == "rest" else rest(self.motion.net)
        self.guess = self.motion.incidence.T @ x
        for net, volts in [] if start == "rest" else start.items():
            x[nodes[circuit.net(net)] - 1] = volts
        self.motion.guess = self.guess
        self.y = self.motion.state(x)

    def run(self, seconds, method, tolerance, samples):
        """Processor time taken; values by net and sample."""
        self.motion.guess = self.guess
        begun = time.process_time()
        found = solve_ivp(self.motion.rate, (0, seconds), self.y, method=method, jac=self.motion.jacobian,
                          rtol=tolerance, atol=tolerance, first_step=1e-12, t_eval=np.linspace(0, seconds, samples + 1))
        taken = time.process_time() - begun
        if not found.success:
            raise RuntimeError(found.message)
        x = np.array([self.motion.find(y, t) for t, y in zip(found.t, found.y.T, strict=True)])
        return {"seconds": taken, "values": x[:, self.rows].T.tolist(), "evaluations": int(found.nfev)}


def main():
    course = None
    for line in sys.stdin:
        words = json.loads(line)
        if words.pop("do") == "load":
            course, answer = Course(**words), {}
        else:
            answer = course.run(**words)
        print(json.dumps(answer), flush=True)


main()

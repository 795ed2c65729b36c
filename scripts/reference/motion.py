"""A circuit in time, dq/dt = −f(x, t), as an ordinary differential equation for a general-purpose solver.

Kirchhoff's sums of the nodes with a charge, and the voltage equations of the branches with a flux, are what is
integrated; a net of capacitors that does not touch the chassis has one node fewer. All other unknowns follow from these
charges and fluxes and from the remaining equations. Both are linear but for the junctions, so the linear part is
solved once, and Newton works on the voltages of the junctions alone.
"""

from devices import thermistor
from dual import LONG, Dual
from junctions import Junctions
import numpy as np

LIKELY = -2.0
"""Forward volts of a junction whose capacitance and conductance are counted with the linear part: any would do."""
IMPOSSIBLE = 1e20
"""A rate that no solver accepts."""
SETTLED = 1e-8
"""A last step of fewer volts bends no junction by more than its square over 26 mV."""


def refined_inverse(matrix):
    """In extended precision: two steps of Newton and Schulz from the double one, rows scaled."""
    rows = 1 / np.abs(matrix).max(axis=1)
    exact, identity = (matrix * rows[:, None]).astype(LONG), np.eye(len(matrix), dtype=LONG)
    inverse = np.linalg.inv(exact.astype(float)).astype(LONG)
    for _ in range(2):
        inverse = inverse + inverse @ (identity - exact @ inverse)
    return inverse * rows


class Motion:
    """One circuit in one state of its switches; junctions at the ambient temperature."""

    def __init__(self, net, tones=(), direct=None):
        self.net, self.tones, self.direct = net, tones, direct or {}
        self.nodes = len(net.nodes) - 1
        self.size = self.nodes + len(net.branches)
        self.ports = Junctions(net)
        self._linear()
        self.moving = self._independent()
        self.algebraic = self._constraints()
        self._reduce()
        self.guess = np.zeros(self.ports.size)

    # -- the linear part: f = G·x + s(t) + N·i(v), q = C·x + N·q(v), v = Nᵀ·x
    def _linear(self):
        net, n = self.net, self.size
        self.g, self.c, self.s = np.zeros((n, n)), np.zeros((n, n)), np.zeros(n)
        for a, b, ohms, _ in net.conductors:
            self._between(self.g, a, b, float(1 / ohms))
        for a, b, r25, bvalue, _, _ in net.sensors:
            self._between(self.g, a, b, float(1 / thermistor(r25, bvalue, Dual(net.ambient, np.zeros(0, dtype=LONG))).value))
        for a, b, farads, _ in net.capacitances:
            self._between(self.c, a, b, float(farads))
        for k, branch in enumerate(net.branches):
            self._branch(self.nodes + k, branch)
        for (k, j), henries in net.inductance.items():
            self.c[self.nodes + k, self.nodes + j] -= float(henries)
        for _, branch, speed, constant, held in net.motors:
            self.g[self.nodes + branch, speed - 1] -= float(constant)
            self.g[speed - 1, self.nodes + branch] -= float(constant)
            self.s[speed - 1] += float(held)
        self.incidence = np.zeros((n, self.ports.size))
        for k, (a, b) in enumerate(self.ports.ends):
            for node, sign in ((a, 1), (b, -1)):
                if node:
                    self.incidence[node - 1, k] += sign

    @staticmethod
    def _between(matrix, a, b, value):
        for row, sign in ((a, 1), (b, -1)):
            for column, value_there in ((a, value), (b, -value)):
                if row and column:
                    matrix[row - 1, column - 1] += sign * value_there

    def _branch(self, row, branch):
        self.g[row, row] -= float(branch["r"])
        self.s[row] -= float(branch["emf"])
        for node, sign in ((branch["a"], 1), (branch["b"], -1)):
            if node:
                self.g[node - 1, row] += sign
                self.g[row, node - 1] += sign

    # -- which rows are integrated
    def _independent(self):
        """Rows with a charge or flux, without one row of each net of capacitors that does not touch the chassis."""
        pairs = [(a, b) for a, b, *_ in self.net.capacitances]
        pairs += [ends for ends, holds in zip(self.ports.ends, self.ports.charged(), strict=True) if holds]
        self.groups = []
        for pair in pairs:
            joined = [g for g in self.groups if g & set(pair)]
            self.groups = [g for g in self.groups if g not in joined] + [set(pair).union(*joined)]
        rows = [n - 1 for g in self.groups for n in sorted(g - {0})[0 if 0 in g else 1 :]]
        coils = [self.nodes + k for (k, j), henries in self.net.inductance.items() if k == j and henries]
        return sorted(rows) + sorted(coils)

    def _constraints(self):
        """Combinations of rows without a charge: one each, and the sum over each net of capacitors off the chassis."""
        charged = {n - 1 for g in self.groups for n in g}
        loose = [[n - 1 for n in g] for g in self.groups if 0 not in g]
        single = [[r] for r in range(self.size) if r not in charged and r not in self.moving]
        out = np.zeros((len(loose) + len(single), self.size))
        for k, rows in enumerate(single + loose):
            out[k, rows] = 1
        return out

    # -- everything as a function of the state y, sources s and what the junctions bring beyond the linear part
    def _reduce(self):
        n, m = self.incidence, self.moving
        _, slopes, _, capacitances = self.ports.at(LIKELY * self.ports.sign)
        self.c0, self.g0 = capacitances + 1e-10 * self.ports.charged(), np.maximum(np.diag(slopes), 1e-9)
        all_c, all_g = self.c + n * self.c0 @ n.T, self.g + n * self.g0 @ n.T
        # y: the voltages (V) and currents (mA) that these charges and fluxes would have in the linear part alone
        self.per_y = (all_c[np.ix_(m, m)] * np.where(np.array(m) < self.nodes, 1.0, 1e-3)).astype(LONG)
        self.per_z = refined_inverse(self.per_y)
        inverse = refined_inverse(np.vstack([all_c[m], self.algebraic @ all_g]))
        by_z, by_rest = inverse[:, : len(m)], inverse[:, len(m) :]
        by = {"y": by_z @ self.per_y, "s": -by_rest @ self.algebraic}
        by |= {"i": -by_rest @ (self.algebraic @ n), "q": -by_z @ n[m]}
        f = {key: all_g[m] @ each for key, each in by.items()}
        f["s"], f["i"] = f["s"] + np.eye(self.size)[m], f["i"] + n[m]
        self.x_of = {key: each.astype(float) for key, each in by.items()}
        self.v_of = {key: (n.T @ each).astype(float) for key, each in by.items()}
        self.rate_of = {key: -(self.per_z @ each).astype(float) for key, each in f.items()}
        self.unit = np.eye(self.ports.size)

    def sources(self, t):
        s = self.s.copy()
        for k, branch in enumerate(self.net.branches):
            name = branch["source"]
            if name is not None:
                tone = sum(np.sqrt(2) * v * np.sin(2 * np.pi * f * t) for n, f, v in self.tones if n == name)
                s[self.nodes + k] -= self.direct.get(name, 0) + tone
        return s

    def state(self, x):
        """y of these voltages and currents."""
        q = self.c.astype(LONG) @ x + self.incidence @ self.ports.at(self.incidence.T @ x)[2]
        return (self.per_z @ q[self.moving]).astype(float)

    def junctions(self, y, s):
        """Currents and charges of the junctions beyond the linear part, and Newton's matrix with its parts."""
        of, v = self.v_of, self.guess
        fixed = of["y"] @ y + of["s"] @ s
        for _ in range(60):
            i, slopes, q, capacitances = self.ports.at(v)
            extra_i, extra_q = i - self.g0 * v, q - self.c0 * v
            of_i, of_q = slopes - np.diag(self.g0), capacitances - self.c0
            matrix = self.unit - of["i"] @ of_i - of["q"] * of_q
            step = np.linalg.solve(matrix, fixed + of["i"] @ extra_i + of["q"] @ extra_q - v)
            share = self._damping(v, step)
            if not np.isfinite(share):
                break
            v = v + share * step
            if share == 1 and np.max(np.abs(step), initial=0) < SETTLED:
                self.guess = v
                return extra_i + of_i @ step, extra_q + of_q * step, (matrix, of_i, of_q)
        raise RuntimeError("no state")

    def _damping(self, v, step):
        """Junctions that conduct go on by no more than 0.06 V."""
        old, ahead = self.ports.sign * v, self.ports.sign * step
        room = np.maximum(old, 0) + 0.06 - old
        far = ahead > room
        return min(1.0, float(np.min(room[far] / ahead[far]))) if far.any() else 1.0 if np.isfinite(step).all() else np.nan

    # -- for the solver
    def find(self, y, t):
        """All unknowns in this state."""
        s = self.sources(t)
        extra_i, extra_q, _ = self.junctions(y, s)
        return self._sum(self.x_of, y, s, extra_i, extra_q)

    @staticmethod
    def _sum(of, y, s, extra_i, extra_q):
        return of["y"] @ y + of["s"] @ s + of["i"] @ extra_i + of["q"] @ extra_q

    def rate(self, t, y):
        """dy/dt."""
        s = self.sources(t)
        try:
            extra_i, extra_q, _ = self.junctions(y, s)
        except (RuntimeError, np.linalg.LinAlgError):
            # no junction holds less charge than none: the step is too long
            return np.full(len(y), IMPOSSIBLE)
        return self._sum(self.rate_of, y, s, extra_i, extra_q)

    def jacobian(self, t, y):
        _, _, (matrix, of_i, of_q) = self.junctions(y, self.sources(t))
        of = self.rate_of
        return of["y"] + (of["i"] @ of_i + of["q"] * of_q) @ np.linalg.solve(matrix, self.v_of["y"])

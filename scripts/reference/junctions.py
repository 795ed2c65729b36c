"""The currents and charges of all junctions of a network at once, in double precision.

The laws of devices.py over vectors, with their slopes written down; junctions at the ambient temperature. What comes of
them is held against devices.py at the end of every run (transients.py).
"""

from devices import BOLTZMANN, CHARGE, CONTACT, LONG, T0
from devices import saturation_ratio
from dual import Dual
import numpy as np

STEEPEST = 300.0
"""Exponents beyond this are those of a step that is far too long."""


def figures(rows):
    return np.array([float(value) for value in rows])


class Depletion:
    """Integrals of C(v) = Cs·((Vs + φ)/(v + φ))^½ over the forward voltage, from 0; from φ/2 on its tangent."""

    def __init__(self, specs, materials):
        self.phi = figures(CONTACT[m] for m in materials)
        self.factor = figures(c for c, _ in specs) * np.sqrt(figures(v for _, v in specs) + self.phi)
        self.edge = self.phi / 2
        self.root = np.sqrt(self.edge)

    def at(self, forward):
        below = np.sqrt(self.phi - np.minimum(forward, self.edge))
        beyond = np.maximum(forward - self.edge, 0)
        slope = self.factor / (2 * self.root**3)
        charge = 2 * self.factor * (np.sqrt(self.phi) - below) + beyond * (self.factor / self.root + slope * beyond / 2)
        return charge, self.factor / below + slope * beyond


class Junctions:
    """Ports in the order: diodes, emitters, collectors; a port's voltage is that of its first node over its second."""

    def __init__(self, net):
        self.diodes, self.transistors = len(net.diodes), len(net.transistors)
        self.ends = [(a, c) for _, _, a, c in net.diodes]
        self.ends += [(inside, e) for _, _, e, _, _, inside in net.transistors]
        self.ends += [(inside, c) for _, _, _, _, c, inside in net.transistors]
        self.size = len(self.ends)
        vt = float(net.ambient * BOLTZMANN / CHARGE)
        self._diode_figures(net, [kind for _, kind, *_ in net.diodes], vt)
        self._transistor_figures(net, [kind for _, kind, *_ in net.transistors], vt)
        self.sign = np.concatenate([np.ones(self.diodes), self.polarity, self.polarity])

    def _diode_figures(self, net, kinds, vt):
        still = Dual(net.ambient, np.zeros(0, dtype=LONG))
        self.diode_vt = figures(kind.ideality for kind in kinds) * vt
        self.diode_is = figures(k.saturation * saturation_ratio(still, k.material, k.ideality).value for k in kinds)
        self.cj = Depletion([k.cj for k in kinds], [k.material for k in kinds])

    def _transistor_figures(self, net, kinds, vt):
        still = Dual(net.ambient, np.zeros(0, dtype=LONG))
        warm = net.ambient / T0
        self.vt = vt
        self.polarity = figures(k.polarity for k in kinds)
        self.saturation = figures(k.saturation * saturation_ratio(still, k.material).value for k in kinds)
        self.beta = figures(k.beta * warm ** LONG("1.5") for k in kinds)
        self.beta_reverse = figures(k.beta_reverse for k in kinds)
        self.inverse_knee = figures(k.inverse_knee for k in kinds)
        self.inverse_early = figures(k.inverse_early for k in kinds)
        self.leakage = figures(k.leakage * LONG(2) ** ((net.ambient - T0) / k.doubling) for k in kinds)
        self.tau = figures(k.tau for k in kinds)
        self.storage = figures(k.storage for k in kinds)
        self.ceb = Depletion([k.ceb for k in kinds], [k.material for k in kinds])
        self.ccb = Depletion([k.ccb for k in kinds], [k.material for k in kinds])

    def charged(self):
        """Which ports hold a charge."""
        emitters = (self.tau > 0) | (self.ceb.factor > 0)
        return np.concatenate([self.cj.factor > 0, emitters, (self.storage > 0) | (self.ccb.factor > 0)])

    def at(self, volts):
        """Currents, their slopes (a matrix), charges and their slopes (a vector)."""
        d, n = self.diodes, self.transistors
        currents, charges, capacitances = np.empty(self.size), np.empty(self.size), np.empty(self.size)
        slopes = np.zeros((self.size, self.size))
        if d:
            e = np.exp(np.minimum(volts[:d] / self.diode_vt, STEEPEST))
            currents[:d] = self.diode_is * (e - 1)
            slopes[range(d), range(d)] = self.diode_is * e / self.diode_vt
            charges[:d], capacitances[:d] = self.cj.at(volts[:d])
        u, w = self.polarity * volts[d : d + n], self.polarity * volts[d + n :]
        self._transistors(u, w, currents[d:], slopes[d:, d:], charges[d:], capacitances[d:])
        return currents, slopes, charges, capacitances

    def _transistors(self, u, w, currents, slopes, charges, capacitances):
        n, vt = self.transistors, self.vt
        i_f, g_f = self._exponential(u)
        i_r, g_r = self._exponential(w)
        knee = np.where(i_f > 0, self.inverse_knee, 0)
        root = np.sqrt(1 + 4 * knee * i_f)
        ratio = w * self.inverse_early
        linear = ratio <= 0.9
        q1 = np.where(linear, 1 / (1 - np.where(linear, ratio, 0)), 10)
        qb = q1 * (1 + root) / 2
        through = (i_f - i_r) / qb
        by_u = g_f / qb - through * (2 * knee * g_f / root) / (1 + root)
        by_w = -g_r / qb - through * np.where(linear, self.inverse_early * q1, 0)
        reverse = np.exp(np.minimum(w, 0) / vt)
        leak = np.where(w <= 0, self.leakage * (1 - reverse), -self.leakage * w / vt)
        g_leak = -self.leakage * np.where(w <= 0, reverse, 1) / vt
        # out of the emitter goes I_T + I_F/βF; into the collector I_T − I_R/βR + I_L
        currents[:n] = self.polarity * (through + i_f / self.beta)
        currents[n:] = -self.polarity * (through - i_r / self.beta_reverse + leak)
        rows = np.arange(n)
        slopes[rows, rows] = by_u + g_f / self.beta
        slopes[rows, rows + n] = by_w
        slopes[rows + n, rows] = -by_u
        slopes[rows + n, rows + n] = -by_w + g_r / self.beta_reverse - g_leak
        self._charges(u, w, (i_f, g_f, i_r, g_r, root, knee), charges, capacitances)

    def _exponential(self, v):
        e = np.exp(np.minimum(v / self.vt, STEEPEST))
        return self.saturation * np.expm1(np.minimum(v / self.vt, STEEPEST)), self.saturation * e / self.vt

    def _charges(self, u, w, parts, charges, capacitances):
        n = self.transistors
        i_f, g_f, i_r, g_r, root, knee = parts
        high = (1 + root) / 2
        emitter, c_emitter = self.ceb.at(u)
        collector, c_collector = self.ccb.at(w)
        charges[:n] = self.polarity * (self.tau * i_f / high + emitter)
        capacitances[:n] = self.tau * (g_f / high - i_f / high**2 * knee * g_f / root) + c_emitter
        charges[n:] = self.polarity * (self.storage * i_r + collector)
        capacitances[n:] = self.storage * g_r + c_collector

"""Charges and fluxes in extended precision, by devices.py; and how far a state found in double precision is off."""

from devices import CONTACT
from dual import LONG, Dual, variables
from solve import OperatingPoint
import numpy as np


def depletion_charge(spec, phi, forward):
    """Integral of the capacitance over the forward voltage, from 0."""
    farads, at = LONG(spec[0]), LONG(spec[1])
    if farads == 0:
        return LONG(0)
    factor = farads * np.sqrt(at + phi)
    edge = phi / 2
    if forward <= edge:
        return 2 * factor * (np.sqrt(phi) - np.sqrt(phi - forward))
    root = np.sqrt(phi - edge)
    beyond, slope = forward - edge, factor / (2 * root**3)
    return 2 * factor * (np.sqrt(phi) - root) + factor / root * beyond + slope * beyond**2 / 2


def charges(net, x):
    """q by row: nodes without the chassis, then branches."""
    nodes = len(net.nodes) - 1
    q = np.zeros(nodes + len(net.branches), dtype=LONG)

    def volts(node):
        return LONG(0) if node == 0 else x[node - 1]

    def put(a, b, charge):
        for row, sign in ((a, 1), (b, -1)):
            if row:
                q[row - 1] += sign * charge

    for a, b, farads, _ in net.capacitances:
        put(a, b, farads * (volts(a) - volts(b)))
    for _, kind, a, k in net.diodes:
        put(a, k, depletion_charge(kind.cj, CONTACT[kind.material], volts(a) - volts(k)))
    for _, kind, e, _, c, inside in net.transistors:
        p = kind.polarity
        u, w = variables(p * (volts(inside) - volts(e)), p * (volts(inside) - volts(c)))
        diffusion = kind.charges(u, w, Dual(net.ambient, 0 * u.slope))
        for far, charge, spec, v in ((e, diffusion[0], kind.ceb, u), (c, diffusion[1], kind.ccb, w)):
            put(inside, far, p * (charge.value + depletion_charge(spec, CONTACT[kind.material], v.value)))
    for (k, j), henries in net.inductance.items():
        q[nodes + k] -= henries * x[nodes + j]
    return q


def still(net):
    """The equations of solve.py without the search for an operating point, and without junctions that warm."""
    point = OperatingPoint.__new__(OperatingPoint)
    point.net, point.nodes, point.hot, point.floating = net, len(net.nodes) - 1, [], []
    point.size = point.nodes + len(net.branches)
    return point


def rest(net):
    """The operating point with all junctions at the ambient temperature."""
    point = still(net)
    point.x = np.zeros(point.size, dtype=LONG)
    point.find()
    return point.x.astype(float)


def disagreement(motion, y, t):
    """How far what motion.py finds of a state at a time is off what devices.py and solve.py say of it, the largest of:
    charges and fluxes, as a state, in V or mA; their rates, in A or V; all other equations, in A or V."""
    net, x = motion.net, motion.find(y, t).astype(LONG)
    for branch, emf in zip(net.branches, motion.sources(t)[motion.nodes :], strict=True):
        branch["emf"] = LONG(-emf)
    f, _ = still(net).equations(x, 0)
    found = [
        motion.per_z @ charges(net, x)[motion.moving] - y,
        f[motion.moving] + motion.per_y @ motion.rate(t, y),
        motion.algebraic @ f,
    ]
    return max(float(np.max(np.abs(each), initial=0)) for each in found)

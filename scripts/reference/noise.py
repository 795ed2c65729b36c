"""Noise at the outputs of the reference circuits, from the description in docs/models.md.

    python3 scripts/reference/noise.py [NAME …]

writes tests/outside/independent-noise.json: densities (V²/Hz or A²/Hz) at the output of every path. One solution of the
transposed equations a frequency gives what every injection does to the output.
"""

import json
import pathlib
import sys

sys.path.insert(0, str(pathlib.Path(__file__).parent))

import circuits  # noqa: F401, E402  (registers every circuit)
from collection import CIRCUITS  # noqa: E402
from device_types import TYPES  # noqa: E402
from devices import BOLTZMANN, CHARGE, thermistor  # noqa: E402
from dual import LONG, Dual, variables  # noqa: E402
from expand import Network  # noqa: E402
import numpy as np  # noqa: E402
from solve import OperatingPoint, Runaway, SmallSignal, gauss  # noqa: E402

OUTPUT = pathlib.Path(__file__).resolve().parents[2] / "tests/outside/independent-noise.json"
MADE_BY = "scripts/reference/noise.py; run: python3 scripts/reference/noise.py (Python 3, numpy)"
HERTZ = [20, 200, 1000, 5000, 20000]


def thermal(point):
    """(nature, a, b, density, owner) of every conductor; a current from a to b through it."""
    net = point.net
    inner = {inside: point.temperature(name) for name, _, _, _, _, inside in net.transistors}
    for a, b, ohms, owner in net.conductors:
        yield "thermal", a, b, 4 * BOLTZMANN * inner.get(b, net.ambient) / ohms, owner
    for a, b, r25, bvalue, tracked, owner in net.sensors:
        (t,) = variables(point.temperature(tracked))
        yield "thermal", a, b, 4 * BOLTZMANN * net.ambient / thermistor(r25, bvalue, t).value, owner


def shot(point):
    """The same of the direct currents across junctions; the excess of the base current at 1 Hz, falling as 1/f."""
    volts = point.volts
    for name, kind, a, c in point.net.diodes:
        (v,) = variables(volts(a) - volts(c))
        current = kind.current(v, Dual(point.net.ambient, 0 * v.slope)).value
        yield "shot", a, c, 2 * CHARGE * abs(current), None
    for name, kind, e, _, c, inside in point.net.transistors:
        u, w = variables(*(kind.polarity * (volts(inside) - volts(n)) for n in (e, c)))
        found = kind.components(u, w, Dual(point.temperature(name), 0 * u.slope))
        transport, forward, reverse, leakage = (each.value for each in found)
        base = 2 * CHARGE * abs(forward + reverse)
        yield "shot", c, e, 2 * CHARGE * abs(transport), None
        yield "shot", inside, e, base, None
        yield "excess", inside, e, base * kind.flicker, None
        yield "shot", c, inside, 2 * CHARGE * abs(leakage), None


def densities(point, to, hertz):
    """Density at the output by nature: thermal, shot, and the low-frequency excess."""
    small = SmallSignal(point)
    n, nodes = small.size, point.nodes
    omega = 2 * LONG(np.pi) * LONG(hertz)
    unit = np.eye(n + 1, dtype=np.clongdouble)
    weights = np.array([small.output(unit[k], to, omega) for k in range(1, n + 1)])
    matrix = (small.g + 1j * omega * small.c).astype(np.clongdouble)
    gain = np.concatenate([[0], gauss(matrix.T.copy(), weights)])
    found = {"thermal": LONG(0), "shot": LONG(0), "excess": LONG(0)}
    for nature, a, b, density, owner in [*thermal(point), *shot(point)]:
        transfer = gain[b] - gain[a]
        if to[0] == "current" and owner == to[1]:
            transfer += 1  # the noise current of the part itself is part of its current
        found[nature] += density * abs(transfer) ** 2 / (LONG(hertz) if nature == "excess" else 1)
    for k, branch in enumerate(point.net.branches):
        found["thermal"] += 4 * BOLTZMANN * point.net.ambient * branch["r"] * abs(gain[1 + nodes + k]) ** 2
    return {nature: float(density) for nature, density in found.items()}


def solve(name):
    circuit, _ = CIRCUITS[name]
    for mode, states in circuit.modes:
        paths = [path for path in circuit.paths if path["mode"] in (None, mode)]
        if not paths:
            continue
        try:
            point = OperatingPoint(Network(circuit, TYPES, states))
        except Runaway:
            continue
        for path in paths:
            values = [densities(point, path["to"], f) for f in HERTZ]
            yield {"circuit": name, "mode": mode, "path": path["name"],
                   **{nature: [each[nature] for each in values] for nature in values[0]}}


def main(names):
    rows = [row for name in names or CIRCUITS for row in solve(name)]
    written = ",\n".join(json.dumps(row) for row in rows)
    OUTPUT.write_text(f'{{"made_by": {json.dumps(MADE_BY)},\n"hertz": {json.dumps(HERTZ)},\n"paths": [\n{written}\n]}}\n')
    print(f"{len(rows)} paths of {len({row['circuit'] for row in rows})} circuits")


if __name__ == "__main__":
    main(sys.argv[1:])

"""Independent natural frequencies: s with det(G + sC) = 0, of every circuit of the collection.

    python3 scripts/reference/natural.py

writes tests/outside/natural-frequencies.json; needs numpy and scipy. G and C are those of solve.py. The QZ algorithm (LAPACK,
scipy.linalg.eig) gives the values, on a time scale of their own for every two decades; inverse iteration in
extended precision gives the digits.
"""

import json
import pathlib
import sys

import numpy as np
import scipy.linalg

sys.path.insert(0, str(pathlib.Path(__file__).parent))

import circuits  # noqa: F401, E402  (registers every circuit)
from collection import CIRCUITS  # noqa: E402
from device_types import TYPES  # noqa: E402
from expand import Network  # noqa: E402
from solve import OperatingPoint, Runaway, SmallSignal, gauss  # noqa: E402

OUTPUT = pathlib.Path(__file__).resolve().parents[2] / "tests/outside/natural-frequencies.json"
MADE_BY = "scripts/reference/natural.py; run: python3 scripts/reference/natural.py (Python 3, numpy, scipy)"
LEAST, GREATEST = 1e-4, 2 * np.pi * 10e6
SCALES = [10.0 ** e for e in range(-4, 10, 2)]


def equilibrated(a, b):
    """Both matrices with rows and columns scaled alike, so that their larger entries are near 1."""
    a, b = a.copy(), b.copy()
    for _ in range(20):
        for axis in (1, 0):
            largest = np.maximum((np.abs(a) + np.abs(b)).max(axis), 1e-300)
            scale = np.expand_dims(1 / np.sqrt(largest), axis)
            a, b = a * scale, b * scale
    return a, b


def rough(g, c):
    """(scale, s) for every s within a decade of its time scale."""
    for scale in SCALES:
        a, b = equilibrated(-g, c * scale)
        alpha, beta = scipy.linalg.eig(a, b, right=False, homogeneous_eigvals=True)
        for top, bottom in zip(alpha, beta):
            if bottom != 0 and 0.1 <= abs(top / bottom) < 10 and top.imag * np.sign(bottom.real or 1) >= -1e-12 * abs(top):
                s = scale * top / bottom
                if s.imag >= -1e-12 * abs(s) and LEAST < abs(s) < GREATEST:
                    yield s


def refined(g, c, s):
    """Inverse iteration with a two-sided quotient, in extended precision."""
    g, c = g.astype(np.clongdouble), c.astype(np.clongdouble)
    rng = np.random.default_rng(1)
    right, left = (rng.standard_normal(len(g)).astype(np.clongdouble) for _ in range(2))
    s = np.clongdouble(s)
    shift = s * (1 + np.longdouble(1e-7))
    for _ in range(4):
        matrix = g + shift * c
        right, left = gauss(matrix.copy(), c @ right), gauss(matrix.T.copy(), c.T @ left)
        right, left = right / np.abs(right).max(), left / np.abs(left).max()
        s = s - (left @ ((g + s * c) @ right)) / (left @ (c @ right))
    return complex(s)


def natural(g, c):
    found = []
    for s in rough(g.astype(float), c.astype(float)):
        better = refined(g, c, s)
        if abs(better - s) > 1e-4 * abs(s):
            better = s
        if not any(abs(better - other) < 1e-9 * abs(better) for other in found):
            found.append(better)
    return sorted(found, key=lambda s: (-s.real, -s.imag))


def main():
    results = []
    for name, (circuit, _) in CIRCUITS.items():
        for mode, states in circuit.modes:
            try:
                small = SmallSignal(OperatingPoint(Network(circuit, TYPES, states)))
            except Runaway:
                continue
            values = natural(small.g, small.c)
            pairs = [[s.real, s.imag if abs(s.imag) > 1e-11 * abs(s) else 0.0] for s in values]
            results.append({"circuit": name, "mode": mode, "s": pairs})
            print(f"{name} {mode}: {len(pairs)}")
    lines = ",\n  ".join(json.dumps(result) for result in results)
    OUTPUT.write_text(f'{{"made_by": {json.dumps(MADE_BY)}, "results": [\n  {lines}\n]}}\n', encoding="utf-8")


if __name__ == "__main__":
    main()

"""Independent reference solutions of the equations in docs/models.md.

    python3 scripts/reference/reference.py [NAME …]

writes tests/outside/independent/NAME.netlist and NAME.json; see scripts/reference/README.md.
"""

import json
import pathlib
import sys

sys.path.insert(0, str(pathlib.Path(__file__).parent))

import circuits  # noqa: F401, E402  (registers every circuit)
from collection import CIRCUITS  # noqa: E402
from device_types import TYPES  # noqa: E402
from expand import Network  # noqa: E402
from solve import OperatingPoint, Runaway, SmallSignal  # noqa: E402

OUTPUT = pathlib.Path(__file__).resolve().parents[2] / "tests/outside/independent"
MADE_BY = "scripts/reference/reference.py; run: python3 scripts/reference/reference.py (Python 3, numpy)"
HERTZ = [20, 50, 125, 315, 800, 2000, 5000, 12500, 31500, 80000, 200000, 500000]
SINGLE_CURRENT = {"resistor", "inductor", "trimmer", "thermistor", "diode", "battery", "generator", "head",
                  "loudspeaker", "meter", "lamp", "electrolytic", "capacitor"}


def chart(circuit, mode, point):
    net = point.net
    nets = {name: float(point.volts(node)) for name, node in list(net.nodes.items())[: net.named]}
    transistors = {}
    for name, *_ in net.transistors:
        ic, ib, ie = (float(i) for i in point.currents(name))
        celsius = float(point.temperature(name) - type(net.ambient)("273.15"))
        transistors[name] = {"ic_amps": ic, "ib_amps": ib, "ie_amps": ie, "junction_celsius": celsius}
    parts = {part.name: float(point.part_current(part.name)) for part in circuit.parts if part.kind in SINGLE_CURRENT}
    for part in circuit.parts:
        for winding, turns, _, _ in part.values.get("windings", []):
            if len(turns) == 1:
                key = f"{part.name}.{winding}"
                parts[key] = float(point.part_current(key))
    return {"mode": mode, "nets": nets, "transistors": transistors, "parts": parts}


def response(path, mode, point):
    small = SmallSignal(point)
    hertz = path["hertz"] or HERTZ
    values = [small.response(path["source"], path["to"], f) for f in hertz]
    return {"path": path["name"], "mode": mode, "hertz": hertz,
            "real": [float(v.real) for v in values], "imag": [float(v.imag) for v in values]}


def solve(name):
    circuit, _ = CIRCUITS[name]
    modes, paths = [], []
    for mode, states in circuit.modes:
        try:
            point = OperatingPoint(Network(circuit, TYPES, states))
        except Runaway as runaway:
            modes.append({"mode": mode, "runaway": runaway.args[0]})
            continue
        modes.append(chart(circuit, mode, point))
        paths += [response(path, mode, point) for path in circuit.paths if path["mode"] in (None, mode)]
    return {"made_by": MADE_BY, "circuit": name, "ambient_celsius": circuit.ambient, "modes": modes, "paths": paths}


def main(names):
    OUTPUT.mkdir(parents=True, exist_ok=True)
    for name in names or CIRCUITS:
        result = solve(name)
        (OUTPUT / f"{name}.netlist").write_text(CIRCUITS[name][1], encoding="utf-8")
        (OUTPUT / f"{name}.json").write_text(json.dumps(result, indent=1) + "\n", encoding="utf-8")
        print(f"{name}: {len(result['modes'])} modes, {len(result['paths'])} paths")


if __name__ == "__main__":
    main(sys.argv[1:])

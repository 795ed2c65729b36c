"""The list of runs in time."""

from builder import Circuit
from device_types import TEXTS

SCENARIOS = {}


def scenario(name, types, netlist, **asked):
    """asked: seconds, samples, start ("rest" or "point"), shown (nets, motors), tones [(source, Hz, V rms)],
    events [(seconds, part, key, value)], of switches (position), batteries and generators (emf), motors (load)."""

    def register(build):
        circuit = Circuit()
        build(circuit)
        SCENARIOS[name] = (circuit, "".join(TEXTS[kind] for kind in types) + netlist.lstrip("\n"), asked)

    return register

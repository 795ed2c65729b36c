"""The list of circuits: `circuit(NAME, TITLE, TYPES, NETLIST, ambient=…)` registers the function that builds one."""

import re

from builder import Circuit
from device_types import TEXTS

CIRCUITS = {}


def circuit(name, title, types, netlist, ambient=25.0):
    def register(build):
        assert name not in CIRCUITS, name
        head = f'circuit "{title}"\n'
        # The ambient of the text is written in the text; this only guards against a slip between the two.
        written = re.search(r"^ambient (\S+) °C$", netlist, re.M)
        assert float(written.group(1) if written else 25) == ambient, name
        made = Circuit(ambient)
        build(made)
        body = netlist.strip("\n") + "\n"
        CIRCUITS[name] = (made, head + body + "\n" + "".join(TEXTS[t] for t in types))
        return build

    return register

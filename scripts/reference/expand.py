"""A circuit in one mode, taken apart into conductors, capacitances, branches with a current of their own, and devices."""

from devices import LONG, DiodeType, TransistorType
import numpy as np


def law(word, x):
    """The part of the track between the first end and the wiper at a turn x of the shaft."""
    if word == "linear":
        return x
    if word == "log":
        return (LONG(81) ** x - 1) / 80
    return 1 - (LONG(81) ** (1 - x) - 1) / 80


def track(values):
    least = LONG("1e-4")
    fraction = law(values["law"], LONG(values["setting"]))
    return max(least, min(1 - least, fraction))


class Network:
    """conductors (a, b, ohms, owner), sensors (a, b, r25, B, tracked, owner), capacitances (a, b, farads, owner),
    branches dicts {a, b, r, emf, source, owner}, inductance {(k, l): H}, transistors, diodes. `owner` is the part whose
    current from first pin to last the element carries a share of, or None. Nodes are indices, 0 the chassis. A motor's
    speed in rad/s counts as the voltage of a node whose capacitance is the inertia, and torque as the current into it:
    motors (name, branch, node, V·s/rad, torque that holds back)."""

    def __init__(self, circuit, types, states):
        self.circuit, self.types, self.states = circuit, types, states
        self.ambient = LONG(circuit.ambient) + LONG("273.15")
        self.nodes = {"chassis": 0}
        for name in circuit.nets():
            self.nodes.setdefault(name, len(self.nodes))
        self.named = len(self.nodes)
        self.conductors, self.sensors, self.capacitances, self.branches = [], [], [], []
        self.inductance, self.transistors, self.diodes, self.motors = {}, [], [], []
        for part in circuit.parts:
            pins = [self.nodes[circuit.net(f"{part.name}.{pin}")] for pin in part.pins]
            getattr(self, part.kind)(part, dict(part.values), *pins)

    def inner(self, name):
        self.nodes[name] = len(self.nodes)
        return self.nodes[name]

    def conductor(self, a, b, ohms, owner=None):
        self.conductors.append((a, b, LONG(ohms), owner))

    def capacitance(self, a, b, farads, owner=None):
        self.capacitances.append((a, b, LONG(farads), owner))

    def branch(self, a, b, r=0, emf=0, source=None, owner=None, henries=0):
        """v_a − v_b = r·i + L·di/dt + emf."""
        self.branches.append(dict(a=a, b=b, r=LONG(r), emf=LONG(emf), source=source, owner=owner))
        k = len(self.branches) - 1
        self.inductance[k, k] = LONG(henries)
        return k

    # -- kinds of parts
    def resistor(self, part, v, a, b):
        self.conductor(a, b, self.states.get(part.name, v["ohms"]), part.name)

    def capacitor(self, part, v, a, b):
        self.capacitance(a, b, v["farads"], part.name)

    def electrolytic(self, part, v, plus, minus):
        if v["leakage"]:
            self.conductor(plus, minus, LONG(v["rated"]) / LONG(v["leakage"]), part.name)
        if v["esr"]:
            foil = self.inner(f"{part.name}.foil")
            self.capacitance(plus, foil, v["farads"], part.name)
            self.conductor(foil, minus, v["esr"])
        else:
            self.capacitance(plus, minus, v["farads"], part.name)

    def inductor(self, part, v, a, b):
        self.branch(a, b, r=v["dcr"], owner=part.name, henries=v["henries"])
        if v["loss"]:
            self.conductor(a, b, v["loss"], part.name)
        if v["q"]:
            quality, hertz = v["q"]
            self.conductor(a, b, 2 * LONG(np.pi) * LONG(quality) * LONG(hertz) * LONG(v["henries"]), part.name)

    def potentiometer(self, part, v, a, wiper, b):
        v["setting"] = self.states.get(part.name, v["setting"])
        share = track(v)
        self.conductor(a, wiper, share * LONG(v["ohms"]))
        self.conductor(wiper, b, (1 - share) * LONG(v["ohms"]))

    def trimmer(self, part, v, a, b):
        v["setting"] = self.states.get(part.name, v["setting"])
        self.conductor(a, b, track(v) * LONG(v["ohms"]), part.name)

    def thermistor(self, part, v, a, b):
        self.sensors.append((a, b, v["r25"], v["bvalue"], v["tracks"], part.name))

    def diode(self, part, v, anode, cathode):
        kind = self.types[v["type"]]
        assert isinstance(kind, DiodeType)
        inside = anode
        if kind.rs:
            inside = self.inner(f"{part.name}.junction")
            self.conductor(anode, inside, kind.rs)
        self.diodes.append((part.name, kind, inside, cathode))

    def transistor(self, part, v, e, b, c):
        kind = self.types[v["type"]]
        assert isinstance(kind, TransistorType)
        inside = self.inner(f"{part.name}.inside")
        self.conductor(b, inside, kind.rbb)
        self.transistors.append((part.name, kind, e, b, c, inside))

    def battery(self, part, v, plus, minus):
        emf = self.states.get(part.name, v["volts"])
        self.branch(plus, minus, r=v["internal"], emf=emf, owner=part.name)

    def generator(self, part, v, a, b):
        self.branch(a, b, r=v["source"], source=part.name, owner=part.name)

    def head(self, part, v, a, b):
        self.branch(a, b, r=v["dcr"], source=part.name, owner=part.name, henries=v["henries"])
        if v["capacitance"]:
            self.capacitance(a, b, v["capacitance"], part.name)
        if v["loss"]:
            self.conductor(a, b, v["loss"], part.name)

    def loudspeaker(self, part, v, a, b):
        if "fs" not in v:
            self.conductor(a, b, v["ohms"], part.name)
            return
        re, omega = LONG(v.get("re", v["ohms"])), 2 * LONG(np.pi) * LONG(v["fs"])
        qms, qes = LONG(v["qms"]), LONG(v["qes"])
        cone = self.inner(f"{part.name}.cone")
        self.branch(a, cone, r=re, owner=part.name, henries=v.get("le", 0))
        self.conductor(cone, b, re * qms / qes)
        self.capacitance(cone, b, qes / (omega * re))
        self.branch(cone, b, henries=re / (omega * qes))

    def motor(self, part, v, plus, minus):
        speed = self.inner(f"{part.name}.speed")
        self.capacitance(speed, 0, v["inertia"])
        coil = self.branch(plus, minus, r=v["ohms"], owner=part.name)
        constant = LONG(v["emf"]) * 30 / LONG(np.pi)
        self.motors.append((part.name, coil, speed, constant, LONG(v["drag"]) + LONG(self.states.get(part.name, v["load"]))))

    def meter(self, part, v, plus, minus):
        self.conductor(plus, minus, v["ohms"], part.name)

    def lamp(self, part, v, a, b):
        self.conductor(a, b, v["ohms"], part.name)

    def transformer(self, part, v, *pins):
        coils, place = [], 0
        whole = {name: sum(turns) for name, turns, _, _ in v["windings"]}
        henries, reference = v["magnetising"]
        for name, turns, dcr, points in v["windings"]:
            own = pins[place : place + len(points)]
            place += len(points)
            owner = f"{part.name}.{name}" if len(turns) == 1 else None
            if v["loss"] and v["loss"][1] == name:
                self.conductor(own[0], own[-1], v["loss"][0], owner)
            for section, n in enumerate(turns):
                share = LONG(dcr) * LONG(n) / LONG(whole[name])
                size = LONG(henries) * (LONG(n) / LONG(whole[reference])) ** 2
                coils.append((self.branch(own[section], own[section + 1], r=share, owner=owner, henries=size), size))
        for k, size_k in coils:
            for l, size_l in coils:
                if k != l:
                    self.inductance[k, l] = LONG(v["coupling"]) * np.sqrt(size_k * size_l)

    def switch(self, part, v, *pins):
        node = dict(zip(part.pins, pins, strict=True))
        position = self.states.get(part.name, v["position"])
        for pole, (_, throws) in v["poles"].items():
            if position in throws:
                self.conductor(node[f"{pole}.common"], node[f"{pole}.{position}"], v["contact"])

"""A circuit written down in Python: parts, modes and signal paths, in the order of the netlist.

A point is a net name ("rail") or a pin ("T1.b"); points joined by a part's pin, a wire or a common name are one net.
"""


class Part:
    def __init__(self, kind, name, pins, **values):
        self.kind, self.name, self.pins, self.values = kind, name, pins, values


class Circuit:
    def __init__(self, ambient=25.0):
        self.ambient = ambient
        self.parts, self.modes, self.paths = [], [("as-drawn", {})], []
        self._joined = {}
        self._mentioned = ["chassis"]

    # -- nets
    def _root(self, point):
        while self._joined.get(point, point) != point:
            point = self._joined[point]
        return point

    def wire(self, first, *others):
        for other in others:
            for point in (first, other):
                if point not in self._mentioned:
                    self._mentioned.append(point)
            self._joined[self._root(other)] = self._root(first)

    def net(self, point):
        """The shown name of the net a point is on."""
        return self._names()[self._root(point)]

    def _names(self):
        pins = [(part, f"{part.name}.{pin}") for part in self.parts for pin in part.pins]
        named = [p for p in self._mentioned if "." not in p]
        transistors = [pin for part, pin in pins if part.kind == "transistor"]
        names = {}
        for point in named + transistors + [pin for _, pin in pins]:
            names.setdefault(self._root(point), point)
        return names

    def nets(self):
        return list(dict.fromkeys(self._names().values()))

    # -- parts
    def _add(self, kind, name, connections, **values):
        for pin, point in connections.items():
            own = f"{name}.{pin}"
            self.wire(own, point if point else own)
        self.parts.append(Part(kind, name, list(connections), **values))

    def _two(self, kind, name, a, b, **values):
        self._add(kind, name, {"1": a, "2": b}, **values)

    def _poled(self, kind, name, plus, minus, **values):
        self._add(kind, name, {"plus": plus, "minus": minus}, **values)

    def R(self, name, ohms, a, b):
        self._two("resistor", name, a, b, ohms=ohms)

    def C(self, name, farads, a, b):
        self._two("capacitor", name, a, b, farads=farads)

    def E(self, name, farads, plus, minus, esr=0, leakage=0, rated=10):
        self._poled("electrolytic", name, plus, minus, farads=farads, esr=esr, leakage=leakage, rated=rated)

    def L(self, name, henries, a, b, dcr=0, loss=0, q=None):
        self._two("inductor", name, a, b, henries=henries, dcr=dcr, loss=loss, q=q)

    def pot(self, name, ohms, a, wiper, b, law="linear", setting=0.5):
        self._add("potentiometer", name, {"1": a, "wiper": wiper, "2": b}, ohms=ohms, law=law, setting=setting)

    def trimmer(self, name, ohms, a, b, setting=0.5):
        self._two("trimmer", name, a, b, ohms=ohms, law="linear", setting=setting)

    def thermistor(self, name, r25, bvalue, a, b, tracks=None):
        self._two("thermistor", name, a, b, r25=r25, bvalue=bvalue, tracks=tracks)

    def D(self, name, kind, anode, cathode):
        self._add("diode", name, {"anode": anode, "cathode": cathode}, type=kind)

    def T(self, name, kind, e=None, b=None, c=None):
        self._add("transistor", name, {"e": e, "b": b, "c": c}, type=kind)

    def battery(self, name, volts, plus, minus, internal=0):
        self._poled("battery", name, plus, minus, volts=volts, internal=internal)

    def G(self, name, a, b, source=0):
        self._two("generator", name, a, b, source=source)

    def head(self, name, henries, a, b, dcr=0, capacitance=0, loss=0):
        self._two("head", name, a, b, henries=henries, dcr=dcr, capacitance=capacitance, loss=loss)

    def speaker(self, name, ohms, a, b, **motional):
        self._two("loudspeaker", name, a, b, ohms=ohms, **motional)

    def motor(self, name, ohms, plus, minus, emf, inertia, drag, load=0):
        """emf V a revolution per minute, inertia kg·m², drag and load N·m."""
        self._poled("motor", name, plus, minus, ohms=ohms, emf=emf, inertia=inertia, drag=drag, load=load)

    def meter(self, name, ohms, plus, minus):
        self._poled("meter", name, plus, minus, ohms=ohms)

    def lamp(self, name, volts, amps, a, b):
        self._two("lamp", name, a, b, ohms=volts / amps)

    def transformer(self, name, windings, magnetising=None, coupling=1, loss=None):
        """windings: (name, [turns of each section], dcr, [point, …]); magnetising (H, winding); loss (Ω, winding)."""
        connections = {}
        for winding, turns, _, points in windings:
            taps = len(points) - 2
            inner = ["tap"] if taps == 1 else [f"tap{k + 1}" for k in range(taps)]
            for pin, point in zip(["1", *inner, "2"], points, strict=True):
                connections[f"{winding}.{pin}"] = point
        self._add("transformer", name, connections, windings=windings, coupling=coupling, loss=loss,
                  magnetising=magnetising or (10, windings[0][0]))

    def switch(self, name, positions, poles, contact=0.02):
        """poles: {pole: (common, {position: point})}."""
        connections = {}
        for pole, (common, throws) in poles.items():
            connections[f"{pole}.common"] = common
            connections.update({f"{pole}.{position}": point for position, point in throws.items()})
        self._add("switch", name, connections, positions=positions, poles=poles, contact=contact, position=positions[0])

    # -- questions
    def mode(self, name, **states):
        """A state by part: a switch position, a setting (0…1), a battery voltage or the load of a motor."""
        if self.modes[0][0] == "as-drawn":
            self.modes = []
        self.modes.append((name, states))

    def path(self, name, source, to, mode=None, hertz=None):
        """to: ("net", a), ("net", a, b), ("voltage", part) or ("current", part)."""
        self.paths.append(dict(name=name, source=source, to=to, mode=mode, hertz=hertz))

"""Dense modified nodal analysis in extended precision: operating point with junction temperatures, and small signal."""

from devices import thermistor
from dual import LONG, Dual, variables
import numpy as np


def gauss(matrix, right):
    """Solve by elimination with row scaling and partial pivoting, in the precision of the arguments."""
    a = np.column_stack([matrix, right])
    a = a / np.max(np.abs(matrix), axis=1)[:, None]
    n = len(right)
    for k in range(n):
        pivot = k + int(np.argmax(np.abs(a[k:, k])))
        if pivot != k:
            a[[k, pivot]] = a[[pivot, k]]
        a[k + 1 :, k:] -= np.outer(a[k + 1 :, k] / a[k, k], a[k, k:])
    x = np.zeros(n, dtype=a.dtype)
    for k in range(n - 1, -1, -1):
        x[k] = (a[k, n] - a[k, k + 1 : n] @ x[k + 1 :]) / a[k, k]
    return x


class Runaway(Exception):
    """There is no thermal balance; the argument is the transistor that was hottest on the way."""


class OperatingPoint:
    """Unknowns: node voltages (without the chassis), branch currents, junction temperatures of types with an rth."""

    def __init__(self, network):
        self.net = network
        self.nodes = len(network.nodes) - 1
        self.hot = [t[0] for t in network.transistors if t[1].rth is not None]
        self.size = self.nodes + len(network.branches) + len(self.hot)
        self.floating = floating_nodes(network)
        self.x = np.zeros(self.size, dtype=LONG)
        self.x[self.size - len(self.hot) :] = network.ambient
        self.find()

    # -- reading the unknowns
    def volts(self, node, x=None):
        x = self.x if x is None else x
        return LONG(0) if node == 0 else x[node - 1]

    def heat_index(self, name):
        return self.size - len(self.hot) + self.hot.index(name) if name in self.hot else None

    def temperature(self, name, x=None):
        x = self.x if x is None else x
        index = self.heat_index(name)
        return self.net.ambient if index is None else x[index]

    # -- the equations
    def equations(self, x, shunt, warming=None):
        """Residual and Jacobian; `shunt` siemens from every node to chassis.

        `warming` None: junctions at rest; else (temperatures before, step in thermal time constants): one implicit
        step of junctions that all warm with the same time constant, dT/dt = ambient + rth·P − T.
        """
        self.f, self.j = np.zeros(self.size, dtype=LONG), np.zeros((self.size, self.size), dtype=LONG)
        for a, b, ohms, _ in self.net.conductors:
            self.conduct(a, b, 1 / ohms, x)
        for node in range(1, self.nodes + 1):
            self.conduct(node, 0, LONG(shunt), x)
        for k, branch in enumerate(self.net.branches):
            self.branch(self.nodes + k, branch, x)
        for motor in self.net.motors:
            self.motor(*motor, x)
        for sensor in self.net.sensors:
            self.sensor(*sensor, x)
        for diode in self.net.diodes:
            self.diode(*diode, x)
        for transistor in self.net.transistors:
            self.transistor(*transistor, x, warming)
        for node in self.floating:
            self.j[node - 1, :], self.j[node - 1, node - 1], self.f[node - 1] = 0, 1, self.volts(node, x)
        return self.f, self.j

    def conduct(self, a, b, siemens, x):
        current = (self.volts(a, x) - self.volts(b, x)) * siemens
        for node, sign in ((a, 1), (b, -1)):
            if node:
                self.f[node - 1] += sign * current
                for other, slope in ((a, siemens), (b, -siemens)):
                    if other:
                        self.j[node - 1, other - 1] += sign * slope

    def branch(self, row, branch, x):
        a, b, current = branch["a"], branch["b"], x[row]
        self.f[row] = self.volts(a, x) - self.volts(b, x) - branch["r"] * current - branch["emf"]
        self.j[row, row] -= branch["r"]
        for node, sign in ((a, 1), (b, -1)):
            if node:
                self.f[node - 1] += sign * current
                self.j[node - 1, row] += sign
                self.j[row, node - 1] += sign

    def motor(self, _, branch, speed, constant, held, x):
        """A motor that turns: v = R·i + K·ω, K·i = the torque that holds it back + J·dω/dt."""
        row = self.nodes + branch
        self.f[row] -= constant * x[speed - 1]
        self.j[row, speed - 1] -= constant
        self.f[speed - 1] += held - constant * x[row]
        self.j[speed - 1, row] -= constant

    def add(self, row, current, columns):
        """Put a Dual into an equation; columns[k] is the unknown of its k-th variable, or None."""
        if row is None:
            return
        self.f[row] += current.value
        for slope, column in zip(current.slope, columns, strict=True):
            if column is not None:
                self.j[row, column] += slope

    def unknown(self, node):
        return node - 1 if node else None

    def sensor(self, a, b, r25, bvalue, tracked, _, x):
        va, vb, t = variables(self.volts(a, x), self.volts(b, x), self.temperature(tracked, x))
        current = (va - vb) / thermistor(r25, bvalue, t)
        columns = [self.unknown(a), self.unknown(b), self.heat_index(tracked)]
        self.add(self.unknown(a), current, columns)
        self.add(self.unknown(b), -current, columns)

    def diode(self, _, kind, anode, cathode, x):
        va, vc = variables(self.volts(anode, x), self.volts(cathode, x))
        current = kind.current(va - vc, Dual(self.net.ambient, 0 * va.slope))
        columns = [self.unknown(anode), self.unknown(cathode)]
        self.add(columns[0], current, columns)
        self.add(columns[1], -current, columns)

    def transistor(self, name, kind, e, b, c, inside, x, warming):
        ve, vb, vc, vi, t = variables(*(self.volts(n, x) for n in (e, b, c, inside)), self.temperature(name, x))
        p = kind.polarity
        ic, ib = kind.currents(p * (vi - ve), p * (vi - vc), t)
        ic, ib = p * ic, p * ib
        index = self.heat_index(name)
        columns = [*map(self.unknown, (e, b, c, inside)), index]
        self.add(self.unknown(c), ic, columns)
        self.add(self.unknown(inside), ib, columns)
        self.add(self.unknown(e), -(ic + ib), columns)
        if index is not None:
            watts = ic * (vc - ve) + ib * (vb - ve)
            balance = t - self.net.ambient - kind.rth * watts
            if warming:
                before, step = warming
                balance = balance + (t - before[index]) / step
            self.add(index, balance, columns)

    # -- the solution
    def junctions(self, x):
        out = [self.volts(a, x) - self.volts(c, x) for _, _, a, c in self.net.diodes]
        for _, kind, e, _, c, inside in self.net.transistors:
            out += [kind.polarity * (self.volts(inside, x) - self.volts(n, x)) for n in (e, c)]
        return out

    def newton(self, x, shunt, warming=None, steps=400):
        """Damped Newton; None if it does not settle to the last digits."""
        quiet = 0
        for _ in range(steps):
            f, j = self.equations(x, shunt, warming)
            step = gauss(j, -f)
            if not np.all(np.isfinite(step)):
                return None
            damping = LONG(1)
            for old, new in zip(self.junctions(x), self.junctions(x + step), strict=True):
                room = max(old, LONG(0)) + LONG("0.06") - old
                if new - old > room:
                    damping = min(damping, room / (new - old))
            heated = step[self.size - len(self.hot) :]
            if len(heated):
                damping = min(damping, 4 / max(LONG(4), np.max(np.abs(heated))))
            x = x + damping * step
            scale = np.abs(x) + LONG("1e-6") * np.max(np.abs(x[: self.nodes]), initial=LONG(0))
            quiet = quiet + 1 if damping == 1 and np.all(np.abs(step) <= LONG("1e-16") * scale + LONG("1e-30")) else 0
            if quiet >= 2:
                return x
        return None

    def find(self):
        """A shunt conductance at every node is taken away by degrees with the junctions at ambient, then they warm."""
        cold = (self.x, LONG("1e-30"))
        for shunt in [*(10.0**-k for k in np.arange(1, 13, 0.5)), 0.0]:
            found = self.newton(self.x, shunt, cold)
            if found is None and shunt == 0:
                raise RuntimeError("no operating point found")
            self.x = self.x if found is None else found
        if self.hot:
            self.warm()
        f, _ = self.equations(self.x, 0.0)
        self.residual = float(np.max(np.abs(f)))

    def warm(self, step=LONG("0.1"), steps=2000):
        """From cold to the balance a real circuit would warm up to: of several the stable one that comes first."""
        first = self.size - len(self.hot)
        for _ in range(steps):
            found = self.newton(self.x, 0.0, (self.x, step))
            if found is None or np.max(found[first:]) > self.net.ambient + 300:
                raise Runaway(self.hot[int(np.argmax(self.x[first:]))])
            change = np.max(np.abs(found[first:] - self.x[first:]))
            self.x = found
            if change < LONG("1e-6") * step:
                break
        self.x = self.newton(self.x, 0.0)
        if self.x is None:
            raise RuntimeError("no thermal balance found")

    # -- reading the solution
    def currents(self, name):
        """(ic, ib, ie) into the pins of a transistor."""
        _, kind, e, b, c, inside = next(t for t in self.net.transistors if t[0] == name)
        p, (t,) = kind.polarity, variables(self.temperature(name))
        u, w = (Dual(p * (self.volts(inside) - self.volts(n)), 0 * t.slope) for n in (e, c))
        ic, ib = kind.currents(u, w, t)
        return p * ic.value, p * ib.value, -p * (ic.value + ib.value)

    def part_current(self, part):
        """From first pin to last at DC, A."""
        total = LONG(0)
        for a, b, ohms, owner in self.net.conductors:
            if owner == part:
                total += (self.volts(a) - self.volts(b)) / ohms
        for a, b, r25, bvalue, tracked, owner in self.net.sensors:
            if owner == part:
                (t,) = variables(self.temperature(tracked))
                total += (self.volts(a) - self.volts(b)) / thermistor(r25, bvalue, t).value
        for k, branch in enumerate(self.net.branches):
            if branch["owner"] == part:
                total += self.x[self.nodes + k]
        for name, kind, a, c in self.net.diodes:
            if name == part:
                (v,) = variables(self.volts(a) - self.volts(c))
                total += kind.current(v, Dual(self.net.ambient, 0 * v.slope)).value
        return total


def floating_nodes(network):
    """Nodes that no conductor, branch or junction ties to the chassis: they count 0 V."""
    links = [(a, b) for a, b, *_ in network.conductors + network.sensors]
    links += [(branch["a"], branch["b"]) for branch in network.branches]
    links += [(a, c) for _, _, a, c in network.diodes]
    links += [pair for _, _, e, _, c, inside in network.transistors for pair in ((e, inside), (inside, c))]
    held, grown = {0}, True
    while grown:
        fresh = {n for link in links if held & set(link) for n in link} - held
        held |= fresh
        grown = bool(fresh)
    return [n for n in network.nodes.values() if n not in held]


class SmallSignal:
    """Conductances and capacitances at an operating point; junction temperatures are held."""

    def __init__(self, point):
        self.point, self.net = point, point.net
        self.size = point.nodes + len(self.net.branches)
        n = self.size
        self.c = np.zeros((n, n), dtype=LONG)
        self.g = self.conductances()
        for a, b, farads, _ in self.net.capacitances:
            self.control(a, b, a, b, farads)
        for (k, l), henries in self.net.inductance.items():
            self.c[point.nodes + k, point.nodes + l] -= henries
        for _, kind, a, c in self.net.diodes:
            self.control(a, c, a, c, kind.depletion(point.volts(a) - point.volts(c)))
        for transistor in self.net.transistors:
            self.transistor(*transistor)

    def conductances(self):
        floating, self.point.floating = self.point.floating, []
        _, jacobian = self.point.equations(self.point.x, 0.0)
        self.point.floating = floating
        return jacobian[: self.size, : self.size]

    def control(self, a, b, plus, minus, value):
        """A charge between a and b that follows the voltage between plus and minus."""
        for row, sign in ((a, 1), (b, -1)):
            for column, slope in ((plus, value), (minus, -value)):
                if row and column:
                    self.c[row - 1, column - 1] += sign * slope

    def transistor(self, name, kind, e, _, c, inside):
        point, p = self.point, kind.polarity
        u, w = variables(*(p * (point.volts(inside) - point.volts(n)) for n in (e, c)))
        qe, qc = kind.charges(u, w, Dual(point.temperature(name), 0 * u.slope))
        ceb, ccb = kind.depletion(u.value, w.value)
        for far, near, charge, depletion in ((e, 0, qe, ceb), (c, 1, qc, ccb)):
            self.control(inside, far, inside, e, charge.slope[0])
            self.control(inside, far, inside, c, charge.slope[1])
            self.control(inside, far, inside, far, depletion)

    def response(self, source, to, hertz):
        """Complex output for an EMF of 1 V in `source`."""
        omega = 2 * LONG(np.pi) * LONG(hertz)
        matrix = self.g + 1j * omega * self.c
        right = np.zeros(self.size, dtype=np.clongdouble)
        for k, branch in enumerate(self.net.branches):
            if branch["source"] == source:
                right[self.point.nodes + k] = 1
        x = gauss(matrix.astype(np.clongdouble), right)
        return self.output(np.concatenate([[0], x]), to, omega)

    def output(self, x, to, omega):
        """x[node] is the voltage of a node, the chassis included."""
        circuit, nodes = self.net.circuit, self.net.nodes
        word, *names = to
        if word == "net":
            first, *minus = (x[nodes[circuit.net(name)]] for name in names)
            return first - sum(minus)
        if word == "voltage":
            part = next(part for part in circuit.parts if part.name == names[0])
            ends = [x[nodes[circuit.net(f"{part.name}.{pin}")]] for pin in part.pins]
            return ends[0] - ends[-1]
        return self.current(names[0], x, omega)

    def current(self, part, x, omega):
        total = np.clongdouble(0)
        for a, b, ohms, owner in self.net.conductors:
            if owner == part:
                total += (x[a] - x[b]) / ohms
        for a, b, farads, owner in self.net.capacitances:
            if owner == part:
                total += (x[a] - x[b]) * 1j * omega * farads
        for k, branch in enumerate(self.net.branches):
            if branch["owner"] == part:
                total += x[1 + self.point.nodes + k]
        return total

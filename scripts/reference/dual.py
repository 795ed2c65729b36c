"""Numbers that carry their partial derivatives (forward differentiation) in extended precision.

Every device equation is written once; the Jacobian follows from the arithmetic and cannot disagree with it.
"""

import numpy as np

LONG = np.longdouble


class Dual:
    """A value and its partial derivatives with respect to a handful of named-by-position variables."""

    __slots__ = ("value", "slope")

    def __init__(self, value, slope):
        self.value = LONG(value)
        self.slope = slope

    def __neg__(self):
        return Dual(-self.value, -self.slope)

    def __add__(self, other):
        if isinstance(other, Dual):
            return Dual(self.value + other.value, self.slope + other.slope)
        return Dual(self.value + other, self.slope)

    __radd__ = __add__

    def __sub__(self, other):
        return self + (-other)

    def __rsub__(self, other):
        return (-self) + other

    def __mul__(self, other):
        if isinstance(other, Dual):
            return Dual(self.value * other.value, self.slope * other.value + other.slope * self.value)
        return Dual(self.value * other, self.slope * other)

    __rmul__ = __mul__

    def reciprocal(self):
        inverse = 1 / self.value
        return Dual(inverse, -self.slope * inverse * inverse)

    def __truediv__(self, other):
        return self * (other.reciprocal() if isinstance(other, Dual) else 1 / LONG(other))

    def __rtruediv__(self, other):
        return self.reciprocal() * other


def variables(*values):
    """The independent variables of one device."""
    unit = np.eye(len(values), dtype=LONG)
    return [Dual(value, unit[k]) for k, value in enumerate(values)]


def exp(x):
    e = np.exp(x.value)
    return Dual(e, x.slope * e)


def expm1(x):
    return Dual(np.expm1(x.value), x.slope * np.exp(x.value))


def sqrt(x):
    root = np.sqrt(x.value)
    return Dual(root, x.slope / (2 * root))


def power(x, exponent):
    exponent = LONG(exponent)
    p = x.value**exponent
    return Dual(p, x.slope * (exponent * p / x.value))

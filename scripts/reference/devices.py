"""The equations of the transistor, the diode and the thermistor, from the specification alone (docs/models.md)."""

from dual import LONG, Dual, exp, expm1, power, sqrt
import numpy as np

BOLTZMANN = LONG("1.380649e-23")
CHARGE = LONG("1.602176634e-19")
T0 = LONG("298.15")
ZERO_CELSIUS = LONG("273.15")
VT0 = BOLTZMANN * T0 / CHARGE
GAP = {"germanium": LONG("0.67"), "silicon": LONG("1.12")}
CONTACT = {"germanium": LONG("0.3"), "silicon": LONG("0.7")}

DEFAULTS = {
    "germanium": dict(vbe=(0.12, 1e-3), leakage=4e-6, ft=1e6, ccb=(30e-12, 6.0), doubling=9.0, early=60.0, hfe_reverse=8.0,
                      flicker=1000.0),
    "silicon": dict(vbe=(0.62, 1e-3), leakage=5e-9, ft=150e6, ccb=(4e-12, 6.0), doubling=10.0, early=100.0, hfe_reverse=3.0,
                    flicker=100.0),
}


def depletion_capacitance(c_spec, v_spec, phi, reverse_volts):
    """C(v) = Cs·((Vs + φ)/(v + φ))^½, from v = −φ/2 downwards its tangent."""
    if c_spec == 0:
        return LONG(0)
    c_spec, v_spec = LONG(c_spec), LONG(v_spec)

    def law(v):
        return c_spec * np.sqrt((v_spec + phi) / (v + phi))

    edge = -phi / 2
    if reverse_volts >= edge:
        return law(reverse_volts)
    slope = -law(edge) / (2 * (edge + phi))
    return law(edge) + slope * (reverse_volts - edge)


def saturation_ratio(temperature, material, ideality=1):
    """Is(T)/Is(T₀); `temperature` is a Dual in kelvin."""
    ideality = LONG(ideality)
    factor = GAP[material] * CHARGE / (ideality * BOLTZMANN)
    return power(temperature / T0, 3 / ideality) * exp(factor * (1 / T0 - 1 / temperature))


class TransistorType:
    """What the data sheet says, turned into the parameters of the equations at 25 °C.

    sheet: device, material, hfe [(h, i)…] and any of vbe (V, A), leakage A or (A, °C), doubling K, ft/falpha/fbeta
    (Hz or (Hz, A)), ccb (F, V), ceb (F, V), rbb, early V, h22 (S, A), hfe_reverse, storage s, rth K/W.
    """

    def __init__(self, device, material, hfe, **sheet):
        standard = DEFAULTS[material]
        self.material = material
        self.polarity = 1 if device == "npn" else -1
        (h1, i1), *rest = [(LONG(h), LONG(i)) for h, i in hfe]
        self.inverse_knee = LONG(0)
        if rest:
            h2, i2 = rest[0]
            self.inverse_knee = (h1 - h2) / (h2 * i2 - h1 * i1)
        self.beta = h1 * (1 + i1 * self.inverse_knee)
        v0, i0 = (LONG(x) for x in sheet.get("vbe", standard["vbe"]))
        self.saturation = i0 * (1 + i0 * self.inverse_knee) / np.expm1(v0 / VT0)
        self.doubling = LONG(sheet.get("doubling", standard["doubling"]))
        self.beta_reverse = LONG(sheet.get("hfe_reverse", standard["hfe_reverse"]))
        self._leakage(sheet.get("leakage"), standard["leakage"])
        self.inverse_early = 1 / LONG(sheet.get("early", standard["early"]))
        if "h22" in sheet and "early" not in sheet:
            admittance, at = (LONG(x) for x in sheet["h22"])
            self.inverse_early = admittance / at
        self.flicker = LONG(sheet.get("flicker", standard["flicker"]))
        self.rbb = LONG(sheet.get("rbb", 100))
        self.ccb = sheet.get("ccb", standard["ccb"])
        self.ceb = sheet.get("ceb", (0.0, 0.0))
        self.storage = LONG(sheet.get("storage", 0))
        self.rth = LONG(sheet["rth"]) if "rth" in sheet else None
        self._transit_time(sheet, standard["ft"], h1, i1)

    def _leakage(self, given, standard):
        implied_forward = self.saturation / (self.beta + 1)
        implied = implied_forward + self.saturation / self.beta_reverse
        if given is None:
            leakage = max(LONG(standard), implied)
        elif isinstance(given, tuple):
            leakage = LONG(given[0]) * LONG(2) ** ((25 - LONG(given[1])) / self.doubling)
        else:
            leakage = LONG(given)
        self.leakage = leakage - implied
        if self.leakage < 0:
            self.leakage = LONG(0)
            self.beta_reverse = self.saturation / (leakage - implied_forward)
        assert self.beta_reverse > 0

    def _transit_time(self, sheet, standard, h1, i1):
        word = next((w for w in ("ft", "falpha", "fbeta") if w in sheet), None)
        given = sheet[word] if word else standard
        frequency, at = given if isinstance(given, tuple) else (given, i1)
        frequency = LONG(frequency) * {"falpha": 1 / LONG("1.2"), "fbeta": h1}.get(word, LONG(1))
        depletion = LONG(self.ceb[0]) + LONG(self.ccb[0])
        self.tau = max(LONG(0), 1 / (2 * LONG(np.pi) * frequency) - depletion * VT0 / LONG(at))

    def currents(self, u, w, temperature):
        """(I_c, I_b) into the pins, for the polarity of an NPN; all Duals."""
        i_t, forward, reverse, i_l = self.components(u, w, temperature)
        return i_t - reverse + i_l, forward + reverse - i_l

    def components(self, u, w, temperature):
        """(I_T, I_F/βF, I_R/βR, I_L), the currents that cross the junctions, for the polarity of an NPN."""
        vt = temperature * (BOLTZMANN / CHARGE)
        i_s = self.saturation * saturation_ratio(temperature, self.material)
        beta = self.beta * power(temperature / T0, 1.5)
        i_f = i_s * expm1(u / vt)
        i_r = i_s * expm1(w / vt)
        ratio = w * self.inverse_early
        q1 = 1 / (1 - ratio) if ratio.value <= LONG("0.9") else Dual(10, 0 * w.slope)
        qb = q1 * (1 + self._root(i_f)) / 2
        i_t = (i_f - i_r) / qb
        ils = self.leakage * exp((temperature - T0) * (np.log(LONG(2)) / self.doubling))
        i_l = -ils * expm1(w / vt) if w.value <= 0 else -ils * w / vt
        return i_t, i_f / beta, i_r / self.beta_reverse, i_l

    def _root(self, i_f):
        if i_f.value <= 0:
            return Dual(1, 0 * i_f.slope)
        return sqrt(1 + 4 * self.inverse_knee * i_f)

    def charges(self, u, w, temperature):
        """(Q_b′e, Q_b′c) of diffusion, Duals, as for an NPN."""
        vt = temperature * (BOLTZMANN / CHARGE)
        i_s = self.saturation * saturation_ratio(temperature, self.material)
        i_f = i_s * expm1(u / vt)
        return self.tau * i_f / ((1 + self._root(i_f)) / 2), self.storage * i_s * expm1(w / vt)

    def depletion(self, u, w):
        """(C_eb, C_cb) at the junction voltages u and w (forward positive)."""
        phi = CONTACT[self.material]
        return depletion_capacitance(*self.ceb, phi, -u), depletion_capacitance(*self.ccb, phi, -w)


class DiodeType:
    """sheet: material and any of vf (V, A), ideality, rs, cj (F, V)."""

    def __init__(self, material, **sheet):
        self.material = material
        volts, amps = (LONG(x) for x in sheet.get("vf", DEFAULTS[material]["vbe"]))
        self.ideality = LONG(sheet.get("ideality", 1))
        self.rs = LONG(sheet.get("rs", 0))
        self.saturation = amps / np.expm1((volts - self.rs * amps) / (self.ideality * VT0))
        self.cj = sheet.get("cj", (0.0, 0.0))

    def current(self, v, temperature):
        vt = temperature * (self.ideality * BOLTZMANN / CHARGE)
        i_s = self.saturation * saturation_ratio(temperature, self.material, self.ideality)
        return i_s * expm1(v / vt)

    def depletion(self, v):
        return depletion_capacitance(*self.cj, CONTACT[self.material], -v)


def thermistor(r25, bvalue, temperature):
    """R(T) = R25·exp(B·(1/T − 1/T₀)), `temperature` a Dual."""
    return LONG(r25) * exp(LONG(bvalue) * (1 / temperature - 1 / T0))

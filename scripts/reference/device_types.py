"""Invented device types, each written twice: as netlist text and as figures for the reference."""

from devices import DiodeType, TransistorType

TYPES, TEXTS = {}, {}


def transistor(name, text, device, material, hfe, **sheet):
    TYPES[name] = TransistorType(device, material, hfe, **sheet)
    TEXTS[name] = f"type {name} {device} {material}\n" + "".join(f"    {line.strip()}\n" for line in text.strip().splitlines())


def diode(name, text, material, **sheet):
    TYPES[name] = DiodeType(material, **sheet)
    TEXTS[name] = f"type {name} diode {material}\n" + "".join(f"    {line.strip()}\n" for line in text.strip().splitlines())


# Low-noise and general germanium, small signal
transistor("GN1", """
    hfe      70 at 1 mA
    vbe      120 mV at 1 mA
    leakage  4 µA at 25 °C
    doubling 9 K
    ft       1.2 MHz at 1 mA
    ccb      30 pF at 6 V
    rbb      90 ohm
    early    60 V
""", "pnp", "germanium", [(70, 1e-3)], vbe=(0.12, 1e-3), leakage=(4e-6, 25), doubling=9, ft=(1.2e6, 1e-3),
           ccb=(30e-12, 6), rbb=90, early=60)
transistor("GBARE", "hfe 50 at 1 mA", "pnp", "germanium", [(50, 1e-3)])
transistor("GLEAKY", """
    hfe      110 at 0.5 mA
    vbe      105 mV at 0.5 mA
    leakage  14 µA at 35 °C
    doubling 8.5 K
    fbeta    12 kHz
    ccb      45 pF at 4.5 V
    ceb      20 pF at 1 V
    rbb      220 ohm
    h22      25 µS at 1 mA
    hfe_reverse 14
""", "pnp", "germanium", [(110, 0.5e-3)], vbe=(0.105, 0.5e-3), leakage=(14e-6, 35), doubling=8.5, fbeta=12e3,
           ccb=(45e-12, 4.5), ceb=(20e-12, 1), rbb=220, h22=(25e-6, 1e-3), hfe_reverse=14)
# Its leakage is less than its saturation current alone would give with the default reverse gain
transistor("GTIGHT", """
    hfe      90 at 1 mA
    vbe      100 mV at 1 mA
    leakage  2.5 µA
    ft       900 kHz at 1 mA
""", "pnp", "germanium", [(90, 1e-3)], vbe=(0.1, 1e-3), leakage=2.5e-6, ft=(900e3, 1e-3))
# No leakage given, and the saturation current asks for more than the default
transistor("GWARM", """
    hfe      40 at 2 mA
    vbe      75 mV at 2 mA
    falpha   0.8 MHz at 2 mA
    rbb      60 ohm
""", "pnp", "germanium", [(40, 2e-3)], vbe=(0.075, 2e-3), falpha=(0.8e6, 2e-3), rbb=60)
transistor("GNPN", """
    hfe      85 at 2 mA
    vbe      125 mV at 2 mA
    leakage  6 µA at 25 °C
    doubling 9.5 K
    ft       1.5 MHz at 2 mA
    ccb      25 pF at 6 V
    early    45 V
""", "npn", "germanium", [(85, 2e-3)], vbe=(0.125, 2e-3), leakage=6e-6, doubling=9.5, ft=(1.5e6, 2e-3),
           ccb=(25e-12, 6), early=45)
# Output and driver types
transistor("GPOW", """
    hfe      80 at 50 mA, 45 at 300 mA
    vbe      220 mV at 50 mA
    leakage  10 µA at 25 °C
    ft       1 MHz at 10 mA
    ccb      90 pF at 6 V
    rbb      25 ohm
    early    40 V
    rth      0.22 K/mW
    limits   vce 32 V  ic 500 mA  ptot 550 mW  tj 90 °C
""", "pnp", "germanium", [(80, 50e-3), (45, 300e-3)], vbe=(0.22, 50e-3), leakage=10e-6, ft=(1e6, 10e-3),
           ccb=(90e-12, 6), rbb=25, early=40, rth=220)
transistor("GPOWN", """
    hfe      95 at 50 mA, 60 at 300 mA
    vbe      230 mV at 50 mA
    leakage  12 µA at 25 °C
    ft       1.3 MHz at 10 mA
    ccb      80 pF at 6 V
    rbb      30 ohm
    early    50 V
    rth      0.22 K/mW
""", "npn", "germanium", [(95, 50e-3), (60, 300e-3)], vbe=(0.23, 50e-3), leakage=12e-6, ft=(1.3e6, 10e-3),
           ccb=(80e-12, 6), rbb=30, early=50, rth=220)
transistor("GBIG", """
    hfe      60 at 0.5 A, 30 at 3 A
    vbe      0.28 V at 0.5 A
    leakage  60 µA at 25 °C
    falpha   250 kHz at 0.5 A
    ccb      200 pF at 6 V
    rbb      8 ohm
    early    35 V
    rth      9 K/W
""", "pnp", "germanium", [(60, 0.5), (30, 3)], vbe=(0.28, 0.5), leakage=60e-6, falpha=(250e3, 0.5),
           ccb=(200e-12, 6), rbb=8, early=35, rth=9)
transistor("GDRV", """
    hfe      75 at 5 mA, 50 at 60 mA
    vbe      165 mV at 5 mA
    leakage  5 µA at 25 °C
    ft       1 MHz at 5 mA
    rth      0.4 K/mW
""", "pnp", "germanium", [(75, 5e-3), (50, 60e-3)], vbe=(0.165, 5e-3), leakage=5e-6, ft=(1e6, 5e-3), rth=400)
transistor("GSWITCH", """
    hfe      45 at 10 mA
    vbe      190 mV at 10 mA
    leakage  3 µA
    ft       4 MHz at 3 mA
    ceb      12 pF at 2 V
    storage  1.5 µs
    hfe_reverse 4
""", "pnp", "germanium", [(45, 10e-3)], vbe=(0.19, 10e-3), leakage=3e-6, ft=(4e6, 3e-3), ceb=(12e-12, 2),
           storage=1.5e-6, hfe_reverse=4)
transistor("GRF", """
    hfe      60 at 1 mA
    vbe      260 mV at 1 mA
    leakage  1.5 µA
    ft       70 MHz at 1 mA
    ccb      1.8 pF at 6 V
    ceb      4 pF at 1 V
    rbb      35 ohm
    h22      6 µS at 1 mA
""", "pnp", "germanium", [(60, 1e-3)], vbe=(0.26, 1e-3), leakage=1.5e-6, ft=(70e6, 1e-3), ccb=(1.8e-12, 6),
           ceb=(4e-12, 1), rbb=35, h22=(6e-6, 1e-3))
# Silicon
transistor("SN1", """
    hfe      220 at 2 mA
    vbe      640 mV at 2 mA
    leakage  10 nA at 25 °C
    ft       180 MHz at 10 mA
    ccb      3.5 pF at 5 V
    ceb      9 pF at 0.5 V
    rbb      150 ohm
    early    80 V
""", "npn", "silicon", [(220, 2e-3)], vbe=(0.64, 2e-3), leakage=10e-9, ft=(180e6, 10e-3), ccb=(3.5e-12, 5),
           ceb=(9e-12, 0.5), rbb=150, early=80)
transistor("SP1", """
    hfe      140 at 2 mA, 90 at 80 mA
    vbe      650 mV at 2 mA
    ft       120 MHz at 10 mA
    early    70 V
""", "pnp", "silicon", [(140, 2e-3), (90, 80e-3)], vbe=(0.65, 2e-3), ft=(120e6, 10e-3), early=70)
transistor("SBARE", "hfe 100 at 1 mA", "npn", "silicon", [(100, 1e-3)])
transistor("SMED", """
    hfe      110 at 50 mA, 40 at 0.5 A
    vbe      0.7 V at 50 mA
    leakage  20 nA
    ft       60 MHz at 50 mA
    ccb      12 pF at 10 V
    rbb      15 ohm
    rth      0.2 K/mW
""", "npn", "silicon", [(110, 50e-3), (40, 0.5)], vbe=(0.7, 50e-3), leakage=20e-9, ft=(60e6, 50e-3),
           ccb=(12e-12, 10), rbb=15, rth=200)
# Diodes
diode("DG1", """
    vf       200 mV at 1 mA
    ideality 1.2
    rs       5 ohm
    cj       1.5 pF at 1 V
""", "germanium", vf=(0.2, 1e-3), ideality=1.2, rs=5, cj=(1.5e-12, 1))
diode("DG2", "vf 250 mV at 2 mA", "germanium", vf=(0.25, 2e-3))
diode("DS1", """
    vf       0.68 V at 5 mA
    ideality 1.8
    rs       1.2 ohm
    cj       4 pF at 2 V
""", "silicon", vf=(0.68, 5e-3), ideality=1.8, rs=1.2, cj=(4e-12, 2))
diode("DSBARE", "ideality 1.5", "silicon", ideality=1.5)

#!/usr/bin/env python3
"""Clauses of codes evaluated by numpy and scipy, apart from the program: each formula as the code prints it.

    python3 -m pip install numpy==2.4.6 scipy==1.17.1
    python3 tests/suite/published/clauses_reference.py > tests/suite/published/data/clauses.json

Codes: ASCE 7-16 (chapters 26, 27), EN 1991-1-4:2005, NDS 2018, EN 1995-1-1:2004, EN 1993-1-1:2005. Names say what is worked
out; units are those of the names.
"""
import json

import numpy as np
from scipy.interpolate import RegularGridInterpolator

OUT = {}
FOOT, MPH = 0.3048, 0.44704


# --- ASCE 7-16 ---------------------------------------------------------------------------------------------------------

# Table 26.11-1: alpha, zg (ft).
EXPOSURES = {"B": (7.0, 1200.0), "C": (9.5, 900.0), "D": (11.5, 700.0)}


def exposure(name, metres):
    """Table 26.10-1 note 1; zg in metres."""
    alpha, gradient = EXPOSURES[name]
    return 2.01 * (max(metres, 15 * FOOT) / (gradient * FOOT)) ** (2 / alpha)


OUT["asce7 Ke 110 m"] = float(np.exp(-0.000119 * 110))
for height in (5.0, 6.5):
    OUT[f"asce7 Kz C {height} m"] = exposure("C", height)
    OUT[f"asce7 q C {height} m 52 m/s Pa"] = 0.613 * exposure("C", height) * 0.85 * OUT["asce7 Ke 110 m"] * 52**2
OUT["asce7 Kz C 17.5 ft"] = exposure("C", 17.5 * FOOT)
OUT["asce7 Kz D 18 ft"] = exposure("D", 18 * FOOT)
for speed, kz in ((98, 0.85), (115, 0.865), (120, 0.849)):
    OUT[f"asce7 q {speed} mph psf"] = 0.00256 * kz * 0.85 * speed**2

# Figure 27.3-1, roof, wind across the ridge: windward Cp by h/L and angle. Note 2: 0.0 where no suction is printed.
angles = [10, 15, 20, 25, 30, 35, 45]
first = RegularGridInterpolator(([0.25, 0.5, 1.0], angles), np.array([
    [-0.7, -0.5, -0.3, -0.2, -0.2, 0.0, 0.0],
    [-0.9, -0.7, -0.4, -0.3, -0.2, -0.2, 0.0],
    [-1.3, -1.0, -0.7, -0.5, -0.3, -0.2, 0.0]]))
second = RegularGridInterpolator(([0.25, 0.5, 1.0], angles), np.array([
    [-0.18, 0.0, 0.2, 0.3, 0.3, 0.4, 0.4],
    [-0.18, -0.18, 0.0, 0.2, 0.2, 0.3, 0.4],
    [-0.18, -0.18, -0.18, 0.0, 0.2, 0.2, 0.3]]))
for angle, slender in ((36.87, 6.5 / 24), (18.4, 0.5), (40.0, 0.25)):
    OUT[f"asce7 Cp windward {angle}"] = [float(table((slender, angle))) for table in (first, second)]
OUT["asce7 Cp leeward 18.4"] = float(np.interp(18.4, [15, 20], [-0.5, -0.6]))
# The same figure, wind along the ridge: strips 0 to h/2, to h, to 2h, beyond.
for name, slender in (("2/3", 2 / 3), ("3/4", 0.75)):
    OUT[f"asce7 strips {name}"] = [float(np.interp(slender, [0.5, 1.0], pair)) for pair in ((-0.9, -1.3), (-0.9, -0.7), (-0.5, -0.7), (-0.3, -0.7))]
# eq. 27.3-1 with G 0.85 and GCpi 0.55 pressing from inside.
q = OUT["asce7 q C 6.5 m 52 m/s Pa"]
OUT["asce7 roof pressures Pa"] = [q * (0.85 * cp - 0.55) for cp in (-0.9, -0.5, -0.3, -0.6, -0.18)]

# Free roofs, Figures 27.3-4, 27.3-5, 27.3-7: CN on halves, or on strips of h, h, 3h (eq. 27.3-2, G 0.85); pounds upwards.
q = 0.00256 * exposure("C", 20 * FOOT) * 0.85 * 115**2
OUT["asce7 free q psf"] = q
half = 20 * 100
up = lambda q, area, *cn: -q * 0.85 * sum(cn) * area
OUT["asce7 free mono lb"] = [
    up(q, half, -0.9, -1.3), up(q, half, -1.9, 0.0), up(q, half, 1.3, 1.6), up(q, half, 1.8, 0.6),
    -q * 0.85 * 40 * (-0.8 * 20 - 0.6 * 20 - 0.3 * 60), -q * 0.85 * 40 * (0.8 * 20 + 0.5 * 20 + 0.3 * 60)]
q = 0.00256 * exposure("D", 18 * FOOT) * 0.85 * 130**2
OUT["asce7 free gable lb"] = [up(q, 25 * 120, -1.2, -1.2), up(q, 25 * 120, -0.8, -1.7)]


# --- EN 1991-1-4:2005 --------------------------------------------------------------------------------------------------

# Table 4.1: z0, zmin (m).
TERRAINS = {"0": (0.003, 1.0), "I": (0.01, 1.0), "II": (0.05, 2.0), "III": (0.3, 5.0), "IV": (1.0, 10.0)}


def terrain(name, z):
    rough, least = TERRAINS[name]
    z = max(z, least)
    kr = 0.19 * (rough / 0.05) ** 0.07
    return kr, kr * np.log(z / rough), 1 / np.log(z / rough)


def peak(speed, name, z):
    """eq. 4.8."""
    _, cr, turbulence = terrain(name, z)
    return float((1 + 7 * turbulence) * 0.5 * 1.25 * (cr * speed) ** 2)


OUT["en1991 qp Pa"] = [[speed, name, z, peak(speed, name, z)] for speed, name, z in (
    (27.0, "I", 3.5), (25.0, "0", 77.36), (23.0, "II", 5.2), (23.0, "II", 6.813), (22.0, "III", 13.48),
    (25.0, "II", 3.0), (25.0, "III", 3.0), (30.0, "II", 2.5))]
kr, cr, turbulence = terrain("0", 77.36)
OUT["en1991 sea 77.36 m kr cr vm Iv"] = [float(x) for x in (kr, cr, cr * 25, turbulence)]
# eq. 4.2, K 0.2, n 0.5, once in 100 years.
probability = float(((1 - 0.2 * np.log(-np.log(0.99))) / (1 - 0.2 * np.log(-np.log(0.98)))) ** 0.5)
OUT["en1991 cprob 100 years"] = probability
# Table 7.7: cf of a trough between -5 and -10 degrees, blocked.
angle = np.degrees(np.arctan(0.1))
trough = [float(np.interp(angle, [5, 10], pair)) for pair in ((0.3, 0.4), (-1.3, -1.4))]
OUT["en1991 trough Pa"] = [peak(26 * probability, "III", 3.5) * cf for cf in trough]
# Table 7.6: one slope of 20 degrees, half blocked: between -1.3 (empty) and -1.4 (blocked).
OUT["en1991 mono 20"] = [0.8, float(np.interp(0.5, [0, 1], [-1.3, -1.4]))]

# A gable roof of 7.6 by 18.4 m, ridge 1.613 m over eaves at 5.2 m: Figure 7.8, Tables 7.4a and 7.4b, cpe,10, cpi +0.2 and -0.3.
span, long, rise = 7.6, 18.4, 1.613
pitch = np.arctan(rise / (span / 2))
degrees = np.degrees(pitch)
top = 5.2 + rise
q = peak(23.0, "II", top)
at = lambda low, high: float(np.interp(degrees, [15, 30], [low, high]))
suction = {"F": at(-0.9, -0.5), "G": at(-0.8, -0.5), "H": at(-0.3, -0.2), "I": at(-0.4, -0.4), "J": at(-1.0, -0.5)}
pressure = {"F": at(0.2, 0.7), "G": at(0.2, 0.7), "H": at(0.2, 0.4), "I": 0.0, "J": 0.0}
e = min(long, 2 * top)
depth, corner = e / 10, e / 4
plan = {"F": 2 * depth * corner, "G": depth * (long - 2 * corner), "H": (span / 2 - depth) * long,
        "J": depth * long, "I": (span / 2 - depth) * long}
def across(windward, leeward, cpi):
    """Up and with the wind, N, on plan areas: the pull of a slope is its plan area times the pressure, its push tan(pitch) as much."""
    wind = sum(plan[z] * (windward[z] - cpi) for z in "FGH")
    lee = sum(plan[z] * (leeward[z] - cpi) for z in "IJ")
    return [-q * (wind + lee), q * np.tan(pitch) * (wind - lee)]
OUT["en1991 gable across lifted N"] = [float(x) for x in across(suction, suction, 0.2)]
OUT["en1991 gable across pushed N"] = [float(x) for x in across(pressure, suction, -0.3)]
e = min(span, 2 * top)
depth, corner = e / 10, e / 4
cpe = {"F": at(-1.3, -1.1), "G": at(-1.3, -1.4), "H": at(-0.6, -0.8), "I": at(-0.5, -0.5)}
plan_along = {"F": 2 * depth * corner, "G": depth * (span - 2 * corner), "H": (e / 2 - depth) * span, "I": (long - e / 2) * span}
for name, cpi in (("inside", 0.2), ("outside", -0.3)):
    OUT[f"en1991 gable along {name} N"] = float(-q * sum(plan_along[z] * (cpe[z] - cpi) for z in "FGHI"))
OUT["en1991 gable corners m2"] = [float(min(long, 2 * top) ** 2 / 40), float(depth * corner)]


# --- NDS 2018 ----------------------------------------------------------------------------------------------------------

def stability(emin, slenderness, star, c=0.8):
    """3.7.1: FcE and CP."""
    fce = 0.822 * emin / slenderness**2
    a = (1 + fce / star) / (2 * c)
    return fce, a - np.sqrt(a * a - fce / star / c)


# A 2x6 stud, Southern Pine No. 1 (Table 4B: Fb 1350, Fc 1550, Emin 580 000 psi), 9 ft, 25 psf on 4 ft; CD, lb, whether the wind blows.
OUT["nds stud"] = []
for cd, axial, blows in ((1.6, 1400, True), (1.15, 1400, False), (0.9, 560, False)):
    fce, cp = stability(580e3, 108 / 5.5, 1550 * cd)
    stress, value = axial / 8.25, cp * 1550 * cd
    bending = 25 * 4 * 81 / 8 * 12 / (1.5 * 5.5**2 / 6) if blows else 0.0
    ratio = (stress / value) ** 2 + bending / (1350 * cd * (1 - stress / fce))
    OUT["nds stud"].append([float(x) for x in (cd, axial, bool(blows), fce, cp, value, ratio)])
# A 2x8 chord, Hem-Fir No. 2 (Fb 850, Emin 470 000 psi, CF 1.2), 12 ft: CL by 3.3.3 (le 1.63 lu + 3 d).
OUT["nds chord"] = []
for cd in (1.6, 1.25, 0.9):
    le = 1.63 * 144 + 3 * 7.25
    tipping = 1.2 * 470e3 / (le * 7.25 / 1.5**2)
    star = 850 * 1.2 * cd
    f = tipping / star
    cl = (1 + f) / 1.9 - np.sqrt(((1 + f) / 1.9) ** 2 - f / 0.95)
    OUT["nds chord"].append([float(cd), float(cl)])


# --- EN 1995-1-1:2004, EN 1993-1-1:2005 --------------------------------------------------------------------------------

# C24, 73 by 198 mm, 1 m, medium duration, service class 2: eq. 6.21 to 6.28 with 5 kN, 2 and 1 kN m.
b, h = 73.0, 198.0
lam = [1000 * np.sqrt(12) / side / np.pi * np.sqrt(21 / 7370) for side in (h, b)]
k = [0.5 * (1 + 0.2 * (x - 0.3) + x * x) for x in lam]
kc = [1.0 if x <= 0.3 else 1 / (kk + np.sqrt(kk * kk - x * x)) for x, kk in zip(lam, k)]
fc, fm = 0.8 * 21 / 1.3, 0.8 * 24 / 1.3
sc, sy, sz = 5000 / (b * h), 2e6 / (b * h * h / 6), 1e6 / (h * b * b / 6)
OUT["en1995 column slenderness"] = [float(x) for x in lam]
OUT["en1995 column kc"] = [float(x) for x in kc]
OUT["en1995 column used"] = float(max(sc / (kc[0] * fc) + sy / fm + 0.7 * sz / fm, sc / (kc[1] * fc) + 0.7 * sy / fm + sz / fm))
# A tube 177.8 by 10.5 mm, S355, 4 m, curve a: eq. 6.49.
area = np.pi / 4 * (177.8**2 - 156.8**2)
inertia = np.pi / 64 * (177.8**4 - 156.8**4)
lam = np.sqrt(area * 355 / (np.pi**2 * 210e3 * inertia / 4000**2))
phi = 0.5 * (1 + 0.21 * (lam - 0.2) + lam**2)
OUT["en1993 tube"] = [float(area), float(lam), float(1 / (phi + np.sqrt(phi**2 - lam**2)))]

print(json.dumps(OUT, indent=1))

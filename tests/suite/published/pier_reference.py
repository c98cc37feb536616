"""Regenerates data/pier_*.json: sections, footings and swinging columns worked out without our code.

Needs: pip install fluids geofound numpy scipy
Run:   python pier_reference.py       (in this folder)

Pipe sizes come from fluids (ASME B36.10), their section properties from numeric integration; footings on soil from
geofound (surface footings only: with depth it counts the embedment twice); columns from a finite-element beam of 40
elements a stretch solved with scipy's eigenvalue solver.
"""

import json
import math
from pathlib import Path

import geofound as gf
import numpy as np
from fluids.piping import nearest_pipe
from scipy.integrate import quad
from scipy.linalg import eigh, solve

DATA = Path(__file__).parent / "data"
RNG = np.random.default_rng(20260622)


def write(name, about, cases):
    text = ",\n".join(json.dumps(case) for case in cases)
    (DATA / f"{name}.json").write_text(f'{{"about": {json.dumps(about)},\n"cases": [\n{text}\n]}}\n')
    print(name, len(cases))


def sig(x, digits=12):
    return float(f"{float(x):.{digits}g}")


def sections():
    cases = []
    for nps in (2, 3, 4, 5, 6, 8, 10, 12):
        for schedule in ("40", "80"):
            _, inside, outside, wall = nearest_pipe(NPS=nps, schedule=schedule)
            ro, ri = outside / 2, inside / 2

            # by strips across the bending axis, not by the closed formula
            def strip(y):
                w = math.sqrt(ro**2 - y**2) - (math.sqrt(ri**2 - y**2) if abs(y) < ri else 0.0)
                return 2 * w

            opts = dict(points=[-ri, ri], limit=400, epsabs=1e-16)
            area = quad(strip, -ro, ro, **opts)[0]
            second = quad(lambda y: strip(y) * y * y, -ro, ro, **opts)[0]
            cases.append([outside, wall, sig(area, 9), sig(second, 9)])
    write("pier_sections", "outside diameter, wall (fluids), area, second moment (m)", cases)


def footings():
    cases = []
    for i in range(60):
        along = sig(RNG.uniform(0.5, 2.5), 5)
        across = along if i % 6 == 0 else sig(RNG.uniform(0.5, 2.5), 5)
        g, nu = sig(RNG.uniform(5e6, 2e8), 5), sig(RNG.uniform(0.0, 0.49), 4)
        soil = gf.create_soil()
        soil.g_mod, soil.poissons_ratio = g, nu
        footing = gf.create_foundation(length=along, width=across, depth=0.0)
        # Its vertical stiffness takes the length for the long side unasked.
        upright = gf.create_foundation(length=max(along, across), width=min(along, across), depth=0.0)
        pk = gf.stiffness.pais_1988
        gz = gf.stiffness.gazetas_1991
        cases.append([sig(v) for v in (
            along, across, g, nu,
            pk.calc_vert_via_pais_1988(soil, upright),
            pk.calc_horz_via_pais_1988(soil, footing, ip_axis="length"),
            pk.calc_rot_via_pais_1988(soil, footing, ip_axis="length"),
            gz.calc_vert_via_gazetas_1991(soil, footing),
            gz.calc_horz_via_gazetas_1991(soil, footing, ip_axis="length"),
            gz.calc_rot_via_gazetas_1991(soil, footing, ip_axis="length"),
        )])
    write(
        "pier_footings",
        "along, across, G, nu, then vertical, sway, rocking of Pais-Kausel and of Gazetas (geofound)",
        cases,
    )


def beam(stretches, head, springs=None, footing=None):
    """Stiffness and mass of a column of Euler-Bernoulli elements, two degrees of freedom (y, slope) a node."""
    lengths, rigid, mass = [], [], []
    for length, ei, m in stretches:
        lengths += [length / 40] * 40
        rigid += [ei] * 40
        mass += [m] * 40
    n = 2 * (len(lengths) + 1)
    k, m = np.zeros((n, n)), np.zeros((n, n))
    for e, (l, ei, mu) in enumerate(zip(lengths, rigid, mass)):
        i = slice(2 * e, 2 * e + 4)
        k[i, i] += ei / l**3 * np.array([
            [12, 6 * l, -12, 6 * l], [6 * l, 4 * l * l, -6 * l, 2 * l * l],
            [-12, -6 * l, 12, -6 * l], [6 * l, 2 * l * l, -6 * l, 4 * l * l]])
        m[i, i] += mu * l / 420 * np.array([
            [156, 22 * l, 54, -13 * l], [22 * l, 4 * l * l, 13 * l, -3 * l * l],
            [54, 13 * l, 156, -22 * l], [-13 * l, -3 * l * l, -22 * l, 4 * l * l]])
    hm, hh, hj = head  # a rigid arm: the head moves y + h·slope
    m[-2, -2] += hm
    m[-2, -1] += hm * hh
    m[-1, -2] += hm * hh
    m[-1, -1] += hm * hh * hh + hj
    if springs is None:
        return k[2:, 2:], m[2:, 2:]
    # The footing's underside lies `depth` below the foot; it moves as a rigid block (u, θ) on its springs.
    sway, rocking = springs
    fm, depth, centre, fj = footing
    t = np.eye(n)
    t[0, 1] = depth  # foot's y = u + depth·θ
    k, m = t.T @ k @ t, t.T @ m @ t
    k[0, 0] += sway
    k[1, 1] += rocking
    m[0, 0] += fm
    m[0, 1] += fm * centre
    m[1, 0] += fm * centre
    m[1, 1] += fm * centre**2 + fj
    return k, m


def first(k, m):
    # The smallest of a stiff problem: the largest of the inverse one, on a scaled matrix.
    return 1 / (2 * math.pi * math.sqrt(eigh(m, k, eigvals_only=True, subset_by_index=[len(k) - 1] * 2)[0]))


def columns():
    cases = []
    for i in range(40):
        count = 1 + i % 3
        stretches = [
            [sig(RNG.uniform(0.3, 1.2), 5), sig(10 ** RNG.uniform(5.7, 7.5), 5), sig(RNG.uniform(15, 200), 5)]
            for _ in range(count)
        ]
        own = sum(l * m for l, _, m in stretches)
        head = [
            sig(own * RNG.uniform(0.5, 3), 5),
            sig(0 if i % 4 == 0 else RNG.uniform(0.0, 0.6), 4),
            sig(0 if i % 4 < 2 else RNG.uniform(0.1, 6), 4),
        ]
        k, m = beam(stretches, head)
        load = np.zeros(len(k))
        load[-2], load[-1] = 1.0, head[1]
        u = solve(k, load, assume_a="pos")
        cases.append({
            "stretches": stretches, "head": head, "frequency": sig(first(k, m), 9),
            "deflection": sig(u[-2], 8), "slope": sig(u[-1], 8),
        })
    write("pier_columns", "columns with a head: first frequency (Hz), movement and slope of the top under 1 N at the head", cases)


def swings():
    cases = []
    for _ in range(30):
        length = sig(RNG.uniform(0.8, 2.0), 5)
        ei, mu = sig(10 ** RNG.uniform(6, 7.5), 5), sig(RNG.uniform(20, 150), 5)
        head = [sig(RNG.uniform(20, 150), 5), sig(RNG.uniform(0, 0.5), 4), 0.0]
        springs = [sig(10 ** RNG.uniform(7.0, 8.5), 5), sig(10 ** RNG.uniform(6.5, 8), 5)]
        depth = sig(RNG.uniform(0.4, 1.0), 4)
        fm = sig(RNG.uniform(800, 4000), 5)
        footing = [fm, depth, sig(depth / 2, 6), sig(fm * (1.0 + depth**2) / 12, 6)]
        k, m = beam([[length, ei, mu]], head, springs, footing)
        cases.append({
            "length": length, "rigidity": ei, "mass_per_length": mu, "head": head, "sway": springs[0],
            "rocking": springs[1], "footing": footing, "frequency": sig(first(k, m), 9),
        })
    write("pier_swings", "pier on a footing on springs, all movements at once: first frequency (Hz)", cases)


if __name__ == "__main__":
    DATA.mkdir(exist_ok=True)
    sections()
    footings()
    columns()
    swings()

"""Regenerates data/sky_*.json: what astronomy and geometry say, worked out without our code.

Needs: pip install astropy pyerfa numpy scipy
Run:   python sky_reference.py        (in this folder)

Azimuths and altitudes come from ERFA (hd2ae), some of them again from astropy; hours from root finding on ERFA.
Horizons are worked out by cutting each body with the vertical plane of an azimuth (a linear programme for bodies with
flat faces, the slope of a circle for spheres), hours above them by stepping through the day and halving each change.
"""

import json
import math
from pathlib import Path

import astropy.units as u
import erfa
import numpy as np
from astropy.coordinates import AltAz, EarthLocation, HADec, SkyCoord
from astropy.time import Time
from scipy.optimize import brentq, linprog

DATA = Path(__file__).parent / "data"
RNG = np.random.default_rng(20260321)


def write(name, about, cases):
    text = ",\n".join(json.dumps(case) for case in cases)
    (DATA / f"{name}.json").write_text(f'{{"about": {json.dumps(about)},\n"cases": [\n{text}\n]}}\n')
    print(name, len(cases))


def rounded(x, digits=12):
    return round(float(x), digits)


# --- azimuth and altitude ---------------------------------------------------------------------------------------


def altaz():
    cases = []
    for i in range(640):
        lat = math.asin(RNG.uniform(-1, 1))
        dec = math.asin(RNG.uniform(-1, 1))
        ha = RNG.uniform(-math.pi, math.pi)
        az, alt = erfa.hd2ae(ha, dec, lat)
        if i < 40:  # a second library
            where = EarthLocation.from_geodetic(0 * u.deg, lat * u.rad, 0 * u.m)
            when = Time("2026-03-21")
            star = SkyCoord(
                HADec(ha=ha * u.rad, dec=dec * u.rad, obstime=when, location=where)
            ).transform_to(AltAz(obstime=when, location=where, pressure=0 * u.hPa))
            assert abs(star.alt.rad - alt) < 1e-8, (star.alt.rad, alt)
            turn = (star.az.rad - az + math.pi) % (2 * math.pi) - math.pi
            assert abs(turn) * math.cos(alt) < 1e-8
        cases.append([rounded(v, 13) for v in (lat, ha, dec, az, alt)])
    write("sky_altaz", "pyerfa hd2ae: latitude, hour angle, declination, azimuth, altitude (rad)", cases)


# --- hours above one altitude -----------------------------------------------------------------------------------


def hours():
    cases = []
    while len(cases) < 200:
        lat = RNG.uniform(-1.4, 1.4)
        dec = RNG.uniform(-1.5, 1.5)
        mask = RNG.uniform(0.0, 1.0)

        def over(ha):
            return erfa.hd2ae(ha, dec, lat)[1] - mask

        top, bottom = over(0.0), over(math.pi)
        if min(abs(top), abs(bottom)) < 1e-6:
            continue
        if top < 0:
            half = 0.0
        elif bottom > 0:
            half = math.pi
        else:
            half = brentq(over, 0.0, math.pi, xtol=1e-14)
        cases.append([rounded(v) for v in (mask, dec, lat, half)])
    write("sky_hours", "roots of pyerfa hd2ae: altitude, declination, latitude, half arc (rad)", cases)


# --- a horizon of bodies ----------------------------------------------------------------------------------------


def turned(p, az):
    s, c = math.sin(az), math.cos(az)
    return [p[0] * c + p[1] * s, p[1] * c - p[0] * s, p[2]]


def prism(profile, start, end, az, shift):
    points = [[x, y, z] for y in (start, end) for x, z in profile]
    return [[a + b for a, b in zip(turned(p, az), shift)] for p in points]


def top_of_hull(points, az):
    """Highest altitude at an azimuth of the convex hull of points, the eye at the origin, or None.

    A point of the hull is a mixture w of its corners. In the vertical plane of the azimuth: nothing sideways, forward
    t, up z. The greatest z/t is a linear programme after dividing by t."""
    p = np.array(points)
    u = np.array([math.sin(az), math.cos(az)])
    forward = p[:, :2] @ u
    sideways = p[:, :2] @ np.array([u[1], -u[0]])
    found = linprog(
        -p[:, 2],
        A_eq=np.vstack([forward, sideways]),
        b_eq=[1.0, 0.0],
        bounds=[(0, None)] * len(p),
        method="highs",
    )
    return math.atan(-found.fun) if found.status == 0 else None


def top_of_hull_fast(points, azs):
    """The same by the cuts of all lines between two corners with the vertical plane, for many azimuths."""
    p = np.array(points)
    i, j = np.triu_indices(len(p), 1)
    a, b = p[i], p[j]
    best = np.full(len(azs), -np.inf)
    for k, az in enumerate(azs):
        s, c = math.sin(az), math.cos(az)
        sa, sb = a[:, 0] * c - a[:, 1] * s, b[:, 0] * c - b[:, 1] * s
        cross = (sa * sb <= 0) & (sa != sb)
        m = (sa[cross] / (sa[cross] - sb[cross]))[:, None]
        q = a[cross] + (b[cross] - a[cross]) * m
        t = q[:, 0] * s + q[:, 1] * c
        ahead = t > 1e-12
        if ahead.any():
            best[k] = np.arctan2(q[ahead, 2], t[ahead]).max()
    return best


def top_of_sphere(centre, radius, az):
    s, c = math.sin(az), math.cos(az)
    sideways = centre[0] * c - centre[1] * s
    forward = centre[0] * s + centre[1] * c
    if abs(sideways) >= radius:
        return None
    cut = math.sqrt(radius**2 - sideways**2)
    if forward <= cut and forward <= 0:
        return None
    return math.atan2(centre[2], forward) + math.asin(cut / math.hypot(forward, centre[2]))


def skyline(scene, az, fast=True):
    eye = scene["eye"]
    best = scene["open"]
    for o in scene["obstacles"]:
        if o["kind"] == "site":
            inside = (az - o["from"]) % (2 * math.pi) <= (o["to"] - o["from"]) % (2 * math.pi)
            top = o["altitude"] if inside else None
        elif o["kind"] == "sphere":
            top = top_of_sphere([a - b for a, b in zip(o["centre"], eye)], o["radius"], az)
        else:
            points = [[a - b for a, b in zip(p, eye)] for p in o["points"]]
            top = top_of_hull_fast(points, [az])[0] if fast else top_of_hull(points, az)
        if top is not None and top > best:
            best = top
    return best


def scene(index):
    """An invented observatory: four walls, a parked gable roof, a second telescope on its pier, trees and a house."""
    turn = RNG.uniform(0, 2 * math.pi)
    wx, wy, wall = RNG.uniform(1.5, 3), RNG.uniform(1.5, 3), RNG.uniform(1.2, 1.8)
    eye = turned([RNG.uniform(-0.8, 0.8), RNG.uniform(-0.8, 0.8), 0], turn)
    eye[2] = RNG.uniform(1.1, 1.6)
    obstacles = []
    corners = [[-wx, -wy, wall], [wx, -wy, wall], [wx, wy, wall + RNG.uniform(0, 0.3)], [-wx, wy, wall]]
    corners = [turned(c, turn) for c in corners]
    for k in range(4):
        obstacles.append({"kind": "wall", "points": [corners[k], corners[(k + 1) % 4]]})
    ridge, start = wall + RNG.uniform(0.3, 1.2), wy + 0.2
    profile = [[-wx, wall - 0.2], [wx, wall - 0.2], [wx, wall], [0, ridge], [-wx, wall]]
    obstacles.append({
        "kind": "prism", "profile": profile, "start": start, "end": start + 2 * wy, "turn": turn,
        "points": prism(profile, start, start + 2 * wy, turn, [0, 0, 0]),
    })
    other = turned([RNG.uniform(1.0, 1.4) * RNG.choice([-1, 1]), RNG.uniform(1.0, 1.4), 0], turn)
    other[2] = RNG.uniform(1.2, 1.7)
    obstacles.append({"kind": "sphere", "centre": other, "radius": RNG.uniform(0.2, 0.45)})
    for _ in range(3):
        a = RNG.uniform(0, 2 * math.pi)
        obstacles.append({
            "kind": "site", "from": a, "to": a + RNG.uniform(0.05, 0.7), "altitude": RNG.uniform(0.05, 0.6),
        })
    return {"eye": eye, "open": 0.0 if index % 3 else RNG.uniform(0, 0.2), "obstacles": obstacles}


def seen(alt, refraction):
    if not refraction:
        return alt
    h = max(math.degrees(alt), -1.0)
    return alt + math.radians(1.02 / 60 / math.tan(math.radians(h + 10.3 / (h + 5.11))))


def visible(scn, dec, lat, refraction):
    def up(ha):
        az, alt = erfa.hd2ae(ha, dec, lat)
        return seen(float(alt), refraction) > skyline(scn, float(az))

    n = 6000
    has = [-math.pi + 2 * math.pi * (i + 0.5) / n for i in range(n)]
    state = [up(h) for h in has]
    total = 0.0
    for i in range(n):
        j = (i + 1) % n
        a = has[i]
        b = has[j] + (2 * math.pi if j == 0 else 0)
        if state[i] == state[j]:
            total += (b - a) if state[i] else 0.0
            continue
        lo, hi = a, b
        for _ in range(45):
            mid = (lo + hi) / 2
            if up(mid) == state[i]:
                lo = mid
            else:
                hi = mid
        total += (lo - a) if state[i] else (b - lo)
    return total


def horizons():
    cases = []
    for index in range(10):
        scn = scene(index)
        scn = json.loads(json.dumps(scn), parse_float=lambda t: round(float(t), 6))
        for o in scn["obstacles"]:  # the prism's points from the rounded figures
            if o["kind"] == "prism":
                o["points"] = prism(o["profile"], o["start"], o["end"], o["turn"], [0, 0, 0])
        azs = [rounded(RNG.uniform(0, 2 * math.pi), 6) for _ in range(60)]
        tops = [skyline(scn, az) for az in azs]
        for az, top in list(zip(azs, tops))[:25]:
            assert abs(top - skyline(scn, az, fast=False)) < 1e-7, (az, top)
        stars = []
        for k in range(4):
            lat = rounded(RNG.uniform(-1.2, 1.2), 6)
            dec = rounded(RNG.uniform(-1.4, 1.4), 6)
            refraction = k == 3
            stars.append([dec, lat, refraction, rounded(visible(scn, dec, lat, refraction), 10)])
        for o in scn["obstacles"]:
            if o["kind"] == "prism":
                del o["points"]
        cases.append({**scn, "skyline": [[a, rounded(t, 11)] for a, t in zip(azs, tops)], "stars": stars})
    write(
        "sky_horizon",
        "invented sites: skyline as [azimuth, altitude], stars as [declination, latitude, refraction, angle visible]",
        cases,
    )


if __name__ == "__main__":
    DATA.mkdir(exist_ok=True)
    altaz()
    hours()
    horizons()

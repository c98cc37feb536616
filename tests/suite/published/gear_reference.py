#!/usr/bin/env python3
"""Rack and pinion by general-purpose gear libraries.

Writes data/gear_mesh.json beside this file.

    python3 -m venv venv
    venv/bin/pip install numpy python-gearbox==0.1.2a0.dev0 py_gearworks==0.0.24 gearpy==1.3.1
    venv/bin/python gear_reference.py

None of these libraries knows a rack. A rack is the limit of a wheel with ever more teeth, so each value is
taken for wheels of N and 2N teeth and continued to 1/N = 0. A rack that stands off by a gap meshes like a
wheel whose teeth are shorter by that gap (contact ratio), and plays like a pair with its axes further
apart (backlash).

- contact ratio: python-gearbox, Transmition.epsilon_alpha
- backlash along the line of action: py_gearworks, gearmath.backlash_from_ax_distance
- form factors: gearpy's table (another edition of Lewis' table than ours)
- undercut: no library; the involute's points are rolled against a straight-sided rack cutter one by one,
  and the first one that is never inside the cutter is where the involute begins
"""
import json
import math
import pathlib

import numpy as np
from gearbox.transmition.gears import Gear, Lubricant, Material, Tool, Transmition
from gearpy.mechanical_objects.mechanical_object_base import lewis_factor_function
from py_gearworks.gearmath import backlash_from_ax_distance

STEEL = Material(1500.0, 460.0, 286.0, "NV")


def contact_ratio(teeth, angle, gap_in_modules):
    """By python-gearbox; scale-free, so a module of 0.25 mm keeps its tables of sizes content."""
    module = 0.25

    def pair(wheel_teeth):
        def gear(z, addendum):
            tool = Tool(addendum, 1.25, 0.38, 0, 0, 0, 10.0)
            return Gear(tool, STEEL, float(z), 0.0, 20.0, 20.0, alpha=angle, m=module)
        pinion, wheel = gear(teeth, 1.0), gear(wheel_teeth, 1.0 - gap_in_modules)
        wheel.m, wheel.alpha, wheel.beta = pinion.m, pinion.alpha, pinion.beta
        ratio = wheel_teeth / teeth
        return Transmition(Lubricant(160), 100.0, 100.0 / ratio, 2, 1.0, 1000, [pinion, wheel], 1.0, 1.0, 1.0)

    few, many = (pair(n).epsilon_alpha for n in (10000, 20000))
    return 2 * many - few


def normal_backlash(module, teeth, angle, gap):
    """By py_gearworks: what moving the axes apart adds to the play."""
    alpha = math.radians(angle)
    inv = math.tan(alpha) - alpha

    def play(wheel_teeth, apart):
        r1, r2 = module * teeth / 2, module * wheel_teeth / 2
        return backlash_from_ax_distance(
            r1 + r2 + apart, r1 * math.cos(alpha), r2 * math.cos(alpha),
            -(math.pi / (2 * teeth) + inv), -(math.pi / (2 * wheel_teeth) + inv),
            2 * math.pi / wheel_teeth)

    few, many = (play(n, gap) - play(n, 0.0) for n in (20000, 40000))
    return 2 * many - few


def lost_to_undercut(teeth, angle):
    """Length of the line of action without involute, in modules, by rolling the cutter."""
    a = math.radians(angle)
    r, base = teeth / 2, teeth / 2 * math.cos(a)
    rolls = np.linspace(-1.2, 1.2, 480001)

    def removed(radius):
        at = math.acos(min(1.0, base / radius))
        theta = math.pi / (2 * teeth) + (math.tan(at) - at) - (math.tan(a) - a)
        turned = theta + rolls
        across = radius * np.sin(turned) - r * rolls
        depth = r - radius * np.cos(turned)
        flank = math.pi / 4 - depth * math.tan(a)
        return bool(np.any((np.abs(across) < flank - 1e-9) & (depth < 1 - 1e-9)))

    low, high = base * (1 + 1e-12), r
    if not removed(low):
        return 0.0
    for _ in range(40):
        middle = (low + high) / 2
        low, high = (middle, high) if removed(middle) else (low, middle)
    return math.sqrt(high * high - base * base)


def main():
    contact = []
    for angle in (14.5, 20.0, 25.0):
        fewest = math.ceil(2 / math.sin(math.radians(angle)) ** 2)
        for teeth in sorted({fewest, fewest + 1, fewest + 5, 2 * fewest}):
            for gap in (0.0, 0.1, 0.25, 0.5):
                contact.append({"teeth": teeth, "angle": angle, "gap": gap,
                                "ratio": round(contact_ratio(teeth, angle, gap), 9)})
    play = []
    for module in (2.0, 4.0, 6.0):
        for teeth in (12, 18, 30):
            for angle in (14.5, 20.0, 25.0):
                for gap in (0.2, 1.0, 2.0):
                    play.append({"module": module, "teeth": teeth, "angle": angle, "gap": gap,
                                 "normal": round(normal_backlash(module, teeth, angle, gap), 9)})
    undercut = [{"teeth": z, "angle": a, "lost": round(lost_to_undercut(z, a), 5)}
                for z, a in ((8, 20.0), (10, 20.0), (12, 20.0), (14, 20.0), (16, 20.0), (18, 20.0),
                             (20, 14.5), (28, 14.5), (9, 25.0))]
    form = [{"teeth": z, "y": round(float(lewis_factor_function(z)), 4)} for z in range(12, 101)]
    path = pathlib.Path(__file__).with_name("data") / "gear_mesh.json"
    lists = {"contact": contact, "play": play, "undercut": undercut, "form": form}
    with path.open("w") as f:
        f.write('{\n"made_by": "gear_reference.py: python-gearbox 0.1.2a0, py_gearworks 0.0.24, gearpy 1.3.1"')
        for name, rows in lists.items():
            f.write(f',\n"{name}": [\n' + ",\n".join(json.dumps(row) for row in rows) + "\n]")
        f.write("\n}\n")


if __name__ == "__main__":
    main()

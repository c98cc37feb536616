#!/usr/bin/env python3
"""Random gantries seen along the travel, worked out by the frame library PyNiteFEA: two posts, a bar across, knees, diagonals.

    python3 -m pip install PyNiteFEA==3.2.0
    python3 tests/suite/published/frame_reference.py > tests/suite/published/data/frames.json

Units are kN and m. Bars as lists: from (across, up), to, E A, E I, hinged at from, at to. What ends on another's length is joined
there. The push is 1 kN across at the top of the first post.
"""
import json
import random

from Pynite import FEModel3D

MODULUS = 11e6


def rectangle(b, h):
    return MODULUS * b * h, MODULUS * b * h**3 / 12


def case(rnd, sort):
    width, height = rnd.uniform(1.8, 4.0), rnd.uniform(1.2, 3.0)
    post, bar, thin = (rectangle(s, s) for s in (rnd.choice([0.09, 0.1, 0.14]), rnd.choice([0.1, 0.15]), rnd.choice([0.047, 0.075])))
    clamped = sort == 3
    top = [(0.0, height), (width, height)]
    knee = rnd.uniform(0.3, min(0.9, height / 2, width / 3))
    bars = []

    def add(a, b, stiffness, hinges):
        bars.append([*a, *b, *stiffness, *hinges])

    hinged_head = sort == 1
    for x in (0.0, width):
        add((x, 0.0), (x, height), post, (not clamped, hinged_head))
    add(*top, bar, (False, False) if sort in (0, 3) else (True, True) if sort == 2 else (False, False))
    if sort in (0, 1):
        if sort == 1 or rnd.random() < 0.5:
            add((0.0, height - knee), (knee, height), thin, (True, True))
            add((width, height - knee), (width - knee, height), thin, (True, True))
    if sort == 2:
        add((0.0, 0.0), (width, height), thin, (True, True))
    holds = [[0.0, 0.0, clamped], [width, 0.0, clamped]]
    return {"bars": bars, "holds": holds, "push": [0.0, height]}


def cut(bars):
    """Pieces between all places on each bar, for a library that joins at ends only."""
    places = {(round(x, 9), round(y, 9)) for b in bars for x, y in ((b[0], b[1]), (b[2], b[3]))}
    pieces = []
    for number, (x1, y1, x2, y2, ea, ei, h1, h2) in enumerate(bars):
        length = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5
        on = []
        for x, y in places:
            t = ((x - x1) * (x2 - x1) + (y - y1) * (y2 - y1)) / length**2
            off = abs((x - x1) * (y2 - y1) - (y - y1) * (x2 - x1)) / length
            if off < 1e-6 and -1e-6 <= t <= 1 + 1e-6:
                on.append((t, x, y))
        on.sort()
        for at, (a, b) in enumerate(zip(on, on[1:])):
            pieces.append((number, a[1:], b[1:], ea, ei, h1 and at == 0, h2 and at == len(on) - 2))
    return pieces


def solved(frame):
    model = FEModel3D()
    model.add_material("m", 1.0, 0.5, 0.3, 0.0)
    names = {}

    def node(place):
        key = (round(place[0], 6), round(place[1], 6))
        if key not in names:
            names[key] = f"n{len(names)}"
            model.add_node(names[key], key[0], key[1], 0.0)
        return names[key]

    ids = []
    for number, a, b, ea, ei, h1, h2 in cut(frame["bars"]):
        name = f"b{len(ids)}"
        model.add_section(name, ea, 1.0, ei, 1.0)
        model.add_member(name, node(a), node(b), "m", name)
        model.def_releases(name, Rzi=h1, Rzj=h2)
        ids.append((number, name))
    turning = {}
    for _, name in ids:
        member = model.members[name]
        for end, released in ((member.i_node.name, member.Releases[5]), (member.j_node.name, member.Releases[11])):
            turning[end] = turning.get(end, False) or not released
    held = {node((x, y)): clamped for x, y, clamped in frame["holds"]}
    for name in names.values():
        # In the plane only; where nothing but hinges meet nothing is to turn.
        fixed, still = name in held, held.get(name, False) or not turning[name]
        model.def_support(name, fixed, fixed, True, True, True, still)
    pushed = node(frame["push"])
    model.add_node_load(pushed, "FX", 1.0)
    model.analyze_linear()
    axial, moments = [0.0] * len(frame["bars"]), [0.0] * len(frame["bars"])
    for number, name in ids:
        member = model.members[name]
        # The library counts pressure as positive.
        pull = -float(member.axial(0, "Combo 1"))
        if abs(pull) > abs(axial[number]):
            axial[number] = pull
        bend = max(abs(float(member.max_moment("Mz"))), abs(float(member.min_moment("Mz"))))
        moments[number] = max(moments[number], bend)
    return abs(float(model.nodes[pushed].DX["Combo 1"])), axial, moments


if __name__ == "__main__":
    rnd = random.Random(18)
    frames = []
    for number in range(120):
        frame = case(rnd, number % 4)
        sway, axial, moments = solved(frame)
        frames.append({**frame, "sway": sway, "axial": axial, "moments": moments})
    print(json.dumps(frames, indent=0))

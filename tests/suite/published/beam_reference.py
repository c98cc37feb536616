#!/usr/bin/env python3
"""Works out random continuous beams with a general-purpose structural library and writes data/beam_reference.json.

The numbers in that file are the second opinion for src/calc/beam: they come from PyNiteFEA (a 3-D frame program on the
Python package index), and the reactions of the beams without spring supports are compared here with anastruct (another
one) before they are written. Run it only to make the file anew:

    python3 -m venv .venv
    .venv/bin/pip install PyNiteFEA==3.2.0 anastruct==1.7.0
    .venv/bin/python tests/suite/published/beam_reference.py

The beams are drawn from a fixed seed, so that the file is the same each time (to the last digits of the libraries).
Units: m, N, N·m². Signs: loads and deflections down, reactions up, moments sagging positive.
"""

import json
import pathlib
import random

from anastruct import SystemElements
from Pynite import FEModel3D

SEED = 20240607
BEAMS = 240
E = 1.0e9  # Pa; the second moment of area follows from the bending stiffness


def draw(rng):
    """A random beam: supports, overhangs, stiffness by stretch, loads that stand still."""
    spans = rng.randint(1, 6)
    left = rng.choice([0.0, 0.0, rng.uniform(0.2, 1.2)])
    right = rng.choice([0.0, 0.0, rng.uniform(0.2, 1.2)])
    supports, x = [], left
    for _ in range(spans + 1):
        supports.append(round(x, 4))
        x += rng.uniform(0.6, 4.0)
    start, end = 0.0, round(supports[-1] + right, 4)
    base = 10 ** rng.uniform(4.0, 6.5)
    stretches, x = [], 0.0
    if rng.random() < 0.4:
        for _ in range(rng.randint(1, 3)):
            x += rng.uniform(0.5, 3.0)
            if x < end - 0.2:
                stretches.append({"until": round(x, 4), "ei": round(base * rng.uniform(0.3, 3.0), 3)})
    stretches.append({"until": end, "ei": round(base * rng.uniform(0.5, 2.0), 3)})
    springs = [None] * len(supports)
    if rng.random() < 0.3:
        # The springs are as soft as the beam itself, so that they matter.
        springs = [round(base * 10 ** rng.uniform(0.0, 2.0), 3) if rng.random() < 0.6 else None for _ in supports]
    loads = []
    for _ in range(rng.randint(1, 5)):
        loads.append({"at": round(rng.uniform(start, end), 4), "force": round(rng.uniform(200.0, 6000.0), 2)})
    if rng.random() < 0.6:
        a, b = sorted([rng.uniform(start, end), rng.uniform(start, end)])
        if b - a > 0.3:
            loads.append({"from": round(a, 4), "to": round(b, 4),
                          "first": round(rng.uniform(0, 900.0), 2), "last": round(rng.uniform(0, 900.0), 2)})
    if rng.random() < 0.6:
        w = round(rng.uniform(20.0, 300.0), 2)
        loads.append({"from": start, "to": end, "first": w, "last": w})
    looks = sorted(round(rng.uniform(start, end), 4) for _ in range(6))
    # Keep the places to look at clear of jumps in the shear.
    jumps = supports + [load["at"] for load in loads if "at" in load]
    looks = [x for x in looks if all(abs(x - jump) > 1e-3 for jump in jumps)]
    return {"start": start, "end": end, "supports": supports, "springs": springs, "stretches": stretches,
            "loads": loads, "looks": looks}


def pieces(beam):
    """The lengths between ends, supports and changes of stiffness."""
    cuts = sorted({beam["start"], beam["end"], *beam["supports"],
                   *[s["until"] for s in beam["stretches"] if s["until"] < beam["end"]]})
    for a, b in zip(cuts, cuts[1:]):
        middle = (a + b) / 2
        ei = next(s["ei"] for s in beam["stretches"] if s["until"] >= middle)
        yield a, b, ei


def on_piece(load, a, b):
    """The part of a spread load on a piece, in the piece's coordinate."""
    p, q = max(load["from"], a), min(load["to"], b)
    if q - p < 1e-12:
        return None
    rise = (load["last"] - load["first"]) / (load["to"] - load["from"])
    value = lambda x: load["first"] + rise * (x - load["from"])
    return p - a, q - a, value(p), value(q)


def pynite(beam):
    model = FEModel3D()
    model.add_material("m", E, E, 0.3, 0.0)
    cuts = [beam["start"]] + [b for _, b, _ in pieces(beam)]
    for i, x in enumerate(cuts):
        model.add_node(f"N{i}", x, 0.0, 0.0)
    for i, x in enumerate(cuts):
        held = x in beam["supports"]
        spring = beam["springs"][beam["supports"].index(x)] if held else None
        model.def_support(f"N{i}", i == 0, held and spring is None, True, i == 0, True, False)
        if spring is not None:
            model.def_support_spring(f"N{i}", "DY", spring)
    for i, (a, b, ei) in enumerate(pieces(beam)):
        model.add_section(f"s{i}", 1.0, ei / E, ei / E, ei / E)
        model.add_member(f"M{i}", f"N{i}", f"N{i + 1}", "m", f"s{i}")
    for load in beam["loads"]:
        done = False
        for i, (a, b, _) in enumerate(pieces(beam)):
            if "at" in load:
                if a <= load["at"] <= b and not done:
                    model.add_member_pt_load(f"M{i}", "Fy", -load["force"], load["at"] - a)
                    done = True
            else:
                part = on_piece(load, a, b)
                if part:
                    p, q, first, last = part
                    model.add_member_dist_load(f"M{i}", "Fy", -first, -last, p, q)
    model.analyze_linear(check_statics=False)
    nodes = list(model.nodes.values())
    reactions = []
    for x, spring in zip(beam["supports"], beam["springs"]):
        node = nodes[cuts.index(x)]
        if spring is None:
            reactions.append(node.RxnFY["Combo 1"])
        else:
            reactions.append(-spring * node.DY["Combo 1"])
    looks = []
    for x in beam["looks"]:
        for i, (a, b, _) in enumerate(pieces(beam)):
            if a <= x <= b:
                member = model.members[f"M{i}"]
                looks.append({"at": x, "moment": -member.moment("Mz", x - a), "shear": member.shear("Fy", x - a),
                              "deflection": -member.deflection("dy", x - a)})
                break
    return reactions, looks


def anastruct(beam):
    """Reactions alone: enough for a second opinion on the second opinion."""
    cuts = sorted({beam["start"], beam["end"], *beam["supports"],
                   *[s["until"] for s in beam["stretches"] if s["until"] < beam["end"]],
                   *[load["at"] for load in beam["loads"] if "at" in load],
                   *[load[k] for load in beam["loads"] if "from" in load for k in ("from", "to")]})
    system = SystemElements(EA=1e12)
    for a, b in zip(cuts, cuts[1:]):
        ei = next(s["ei"] for s in beam["stretches"] if s["until"] >= (a + b) / 2)
        first = sum(part[2] for load in beam["loads"] if "from" in load and (part := on_piece(load, a, b)))
        last = sum(part[3] for load in beam["loads"] if "from" in load and (part := on_piece(load, a, b)))
        element = system.add_element([[a, 0], [b, 0]], EI=ei)
        if first or last:
            system.q_load(element_id=element, q=[-first, -last], direction="y")
    for load in beam["loads"]:
        if "at" in load:
            system.point_load(node_id=cuts.index(load["at"]) + 1, Fy=-load["force"])
    system.add_support_hinged(node_id=cuts.index(beam["supports"][0]) + 1)
    for x in beam["supports"][1:]:
        system.add_support_roll(node_id=cuts.index(x) + 1, direction="x")
    system.solve()
    return [-system.get_node_results_system(cuts.index(x) + 1)["Fy"] for x in beam["supports"]]


def sign_check():
    """The libraries' signs, on a bar whose answer is in every handbook: P = 1 kN in the middle of 4 m, EI = 10 kN·m²."""
    beam = {"start": 0.0, "end": 4.0, "supports": [0.0, 4.0], "springs": [None, None],
            "stretches": [{"until": 4.0, "ei": 1.0e4}], "loads": [{"at": 2.0, "force": 1000.0}], "looks": [1.0]}
    reactions, looks = pynite(beam)
    assert all(abs(r - 500.0) < 1e-6 for r in reactions), reactions
    assert abs(looks[0]["moment"] - 500.0) < 1e-6, looks
    assert abs(looks[0]["shear"] - 500.0) < 1e-6, looks
    # P·x·(3l² − 4x²) / 48EI
    assert abs(looks[0]["deflection"] - 1000.0 * (48.0 - 4.0) / 48.0e4) < 1e-9, looks


def main():
    sign_check()
    rng = random.Random(SEED)
    answers, compared = [], 0
    while len(answers) < BEAMS:
        beam = draw(rng)
        reactions, looks = pynite(beam)
        if not any(beam["springs"]):
            other = anastruct(beam)
            largest = max(abs(r) for r in reactions)
            assert all(abs(a - b) < 1e-6 * largest for a, b in zip(reactions, other)), (beam, reactions, other)
            compared += 1
        beam.pop("looks")
        answers.append({**beam, "reactions": [round(r, 7) for r in reactions],
                        "looks": [{k: float(f"{v:.12g}") for k, v in look.items()} for look in looks]})
    target = pathlib.Path(__file__).parent / "data" / "beam_reference.json"
    with target.open("w", encoding="utf-8") as file:
        file.write("[\n" + ",\n".join(json.dumps(answer) for answer in answers) + "\n]\n")
    print(f"{len(answers)} beams, {compared} of them compared with anastruct, in {target.name}")


if __name__ == "__main__":
    main()

"""Reference values for tipping.rs: how many times a wind may come before a rigid roof leaves its wheels, by a linear program.

The largest factor on the wind for which some set of forces balances it: wheels push, none below zero; ties pull, none below
zero or above its rating. That is the lower-bound theorem; the crate goes through the lines about which the roof could turn,
which is the upper-bound one, so neither knows of the other's places or forces.
Run: python tipping_reference.py > data/tipping.json (numpy, scipy).
"""

import json

import numpy as np
from scipy.optimize import linprog


def factor(wheels, ties, wind, weight):
    """Rows of wheels are x, y; of ties x, y, rating; wind and weight are force and moments, weight downwards."""
    columns = [[1.0, x, y] for x, y in wheels] + [[-1.0, -x, -y] for x, y, _ in ties] + [list(wind)]
    bounds = [(0, None)] * len(wheels) + [(0, rating) for *_, rating in ties] + [(0, 1e6)]
    cost = np.zeros(len(columns))
    cost[-1] = -1.0
    result = linprog(cost, A_eq=np.array(columns).T, b_eq=np.array(weight), bounds=bounds, method="highs")
    return result.x[-1] if result.status == 0 else 0.0


def case(random):
    half = random.uniform([1.2, 0.9], [2.6, 1.8])
    stations = np.linspace(-1, 1, random.integers(2, 5)) * half[0] * random.uniform(0.5, 0.95)
    side = half[1] * random.uniform(0.7, 0.95)
    wheels = [(x + random.normal(0, 0.02), y) for y in (-side, side) for x in stations]
    ties = []
    for _ in range(random.integers(0, 5)):
        ties.append((random.uniform(-half[0], half[0]), random.choice([-1, 1]) * side * random.uniform(0.9, 1.1), random.uniform(200, 3000)))
    up = random.uniform(-500, 4000)
    wind = (up, up * random.normal(0, 0.6) + random.normal(0, 400), up * random.normal(0, 0.5) + random.normal(0, 600))
    down = random.uniform(300, 4000)
    weight = (down, down * random.normal(0, 0.15), down * random.normal(0, 0.15))
    return wheels, ties, wind, weight


if __name__ == "__main__":
    random = np.random.default_rng(20270501)
    cases = []
    for _ in range(60):
        wheels, ties, wind, weight = (np.round(part, 4).tolist() for part in case(random))
        cases.append({"wheels": wheels, "ties": ties, "wind": wind, "weight": weight, "factor": factor(wheels, ties, wind, weight)})
    print("[\n" + ",\n".join(json.dumps(each) for each in cases) + "\n]")

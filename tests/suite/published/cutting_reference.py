#!/usr/bin/env python3
"""Least lengths of stock for random cutting tasks, by scipy's integer programming (HiGHS).

    python3 -m pip install scipy==1.14.1
    python3 tests/suite/published/cutting_reference.py > tests/suite/published/data/cutting.json

Every way of filling a bar of each length is a column, as in the program, but found here by plain recursion over all
fillings, not only those to which nothing can be added; lengths are whole millimetres.
"""
import json
import random

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp


def fillings(room, lengths, counts):
    if not lengths:
        yield ()
        return
    for take in range(min(counts[0], room // lengths[0]) + 1):
        for rest in fillings(room - take * lengths[0], lengths[1:], counts[1:]):
            yield (take, *rest)


def least(stock, pieces, kerf):
    lengths = [length + kerf for length, _ in pieces]
    counts = [count for _, count in pieces]
    columns = [(bar, cuts) for bar in stock for cuts in fillings(bar + kerf, lengths, counts) if any(cuts)]
    cost = np.array([bar for bar, _ in columns], dtype=float)
    cover = np.array([cuts for _, cuts in columns], dtype=float).T
    result = milp(cost, constraints=LinearConstraint(cover, lb=counts), integrality=np.ones(len(columns)), bounds=Bounds(0, np.inf))
    assert result.success
    return round(result.fun)


def main():
    random.seed(20270503)
    tasks = []
    while len(tasks) < 60:
        stock = sorted(random.sample([2400, 3000, 3600, 4200, 4800, 5400, 6000], random.choice([1, 1, 2, 3])))
        pieces = {}
        for _ in range(random.randint(2, 6)):
            pieces[random.randint(500, stock[-1])] = random.randint(1, 12)
        pieces = sorted(pieces.items(), reverse=True)
        kerf = random.choice([0, 2, 3, 4])
        tasks.append({"stock": stock, "pieces": pieces, "kerf": kerf, "least": least(stock, pieces, kerf)})
    print("[\n" + ",\n".join(json.dumps(task) for task in tasks) + "\n]")


main()

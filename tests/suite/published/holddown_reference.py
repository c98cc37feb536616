"""Reference values for holddown.rs, by another principle than the crate's.

Of all pulls of clamps and pushes of wheels that balance the load, none below zero, the true ones
have the least complementary energy sum F^2 / 2k (e.g. Washizu, Variational Methods in Elasticity
and Plasticity). scipy finds them as a bounded least-squares problem; no stiffness matrix is built.
Run: python holddown_reference.py (scipy).
"""

import numpy as np
from scipy.optimize import lsq_linear

CASES = {
    # name: (clamps, wheels, (force up, moment along, moment across)); rows are x, y, stiffness
    "lifted at one eaves": (
        [(-2.2, -1.6, 1), (0.0, -1.6, 1), (2.2, -1.6, 1), (-2.2, 1.6, 1), (0.0, 1.6, 1), (2.2, 1.6, 1)],
        [(-1.8, -1.5, 100), (1.8, -1.5, 100), (-1.8, 1.5, 100), (1.8, 1.5, 100)],
        (1500.0, 300.0, 3900.0),
    ),
    "lifted outside the clamps": (
        [(-2.2, -1.6, 1), (2.2, -1.6, 1), (-2.2, 1.6, 1), (2.2, 1.6, 1)],
        [(-1.8, -1.5, 100), (1.8, -1.5, 100), (-1.8, 1.5, 100), (1.8, 1.5, 100)],
        (400.0, 1800.0, -900.0),
    ),
    "pressed down and tipped": (
        [(-2.0, -1.4, 2), (2.1, -1.4, 1), (-1.9, 1.5, 1), (2.0, 1.5, 3)],
        [(-1.7, -1.3, 100), (0.0, -1.3, 100), (1.8, -1.3, 100), (-1.6, 1.3, 60), (1.7, 1.3, 60)],
        (-900.0, 2600.0, 700.0),
    ),
    "five clamps, unequal": (
        [(-2.5, -1.2, 1), (-0.4, -1.5, 2), (2.2, -1.1, 0.5), (1.9, 1.6, 1.5), (-2.1, 1.3, 1)],
        [],
        (5200.0, -3900.0, 2700.0),
    ),
}


def solve(clamps, wheels, load):
    places = np.array(list(clamps) + list(wheels), float)
    sense = np.array([1.0] * len(clamps) + [-1.0] * len(wheels))
    balance = sense * np.vstack([np.ones(len(places)), places[:, 0], places[:, 1]])
    # Equilibrium weighted heavily beside the energy, then checked.
    weight = 1e6
    matrix = np.vstack([weight * balance, np.diag(1 / np.sqrt(places[:, 2]))])
    right = np.concatenate([weight * np.array(load), np.zeros(len(places))])
    result = lsq_linear(matrix, right, bounds=(0, np.inf), method="bvls", tol=1e-14, max_iter=10000)
    assert np.allclose(balance @ result.x, load, rtol=1e-6, atol=1e-4), balance @ result.x
    return result.x[: len(clamps)], result.x[len(clamps) :]


if __name__ == "__main__":
    for name, case in CASES.items():
        pulls, pushes = solve(*case)
        print(name, "clamps", np.round(pulls, 3).tolist(), "wheels", np.round(pushes, 3).tolist())

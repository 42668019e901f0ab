"""The longest rigid rod through a bent tube, by search instead of by a formula.

    python passage.py CASES.json

takes a JSON list of {bore, radius, angle_deg, rod} (lengths in one unit) and prints the list of the
longest rods. The tube is a torus between two straights; the rod a flat-ended cylinder, as points on
its surface. A rod that comes through must turn, so at some moment its heading in the plane of the
bend is each of those between that of the one straight and that of the other. For a heading and a
length an optimiser looks for the place where the rod reaches least beyond the wall, with the place
(along, across, out of the plane) and the tilt out of the plane free; bisection on the length finds
the longest that fits. The heading that lets the least through decides.
"""

import json
import math
import multiprocessing
import pathlib
import sys

import numpy as np
from scipy.optimize import brentq, minimize

# Of the way from heading in to heading out; the other half mirrors this one.
HEADINGS = (0.5, 0.3)
# Rings of points along half the rod, as parts of it: its ends bear on the outer wall, and about the
# middle, where it bears on the inner wall, the rings stand close.
RINGS = (0.0, 0.005, 0.01, 0.02, 0.04, 0.07, 0.11, 0.17, 0.25, 0.4, 0.6, 0.8, 0.93, 1.0)
ROUND = 24
# Where the search for a place begins: along, across, out of the plane (in half bores), tilt (rad).
STARTS = ((0.0, -0.2, 0.0, 0.0), (0.3, 0.1, 0.2, 0.12), (-0.2, 0.0, -0.15, -0.2))
# A fit counts when the rod reaches less than this beyond the wall, in bores.
TOUCH = 1e-7


def beyond(points, case):
    """How far points lie beyond the wall: their distance from the centreline less half the bore.

    The bend's centre is the origin; the centreline comes up along x = R, turns left from (R, 0).
    """
    radius, angle = case["radius"], math.radians(case["angle_deg"])
    x, y, z = points
    polar = np.arctan2(y, x)
    on_arc = np.where((polar >= 0) & (polar <= angle), np.hypot(x, y) - radius, np.inf)
    # The straights as half-lines, from their ends on the arc outward.
    before = np.hypot(x - radius, np.maximum(0.0, y))
    along = -x * math.sin(angle) + y * math.cos(angle)
    across = x * math.cos(angle) + y * math.sin(angle) - radius
    after = np.hypot(across, np.minimum(0.0, along))
    flat = np.minimum(np.abs(on_arc), np.minimum(before, after))
    return np.hypot(flat, z) - case["bore"] / 2


def surface(place, heading, length, case):
    """Points on the rod, at a place with the middle of its axis on the radius that suits its heading."""
    along, across, out, tilt = place
    radial = np.array([math.cos(heading), math.sin(heading), 0.0])
    ahead = np.array([-math.sin(heading), math.cos(heading), 0.0])
    up = np.array([0.0, 0.0, 1.0])
    axis = math.cos(tilt) * ahead + math.sin(tilt) * up
    above = math.cos(tilt) * up - math.sin(tilt) * ahead
    middle = (case["radius"] + across) * radial + along * ahead + out * up
    stations = np.array(sorted({s * r for r in RINGS for s in (-1, 1)})) * length / 2
    turns = np.arange(ROUND if case["rod"] > 0 else 1) * 2 * math.pi / ROUND
    ring = case["rod"] / 2 * (np.cos(turns)[:, None] * radial + np.sin(turns)[:, None] * above)
    points = middle + stations[:, None, None] * axis + ring[None]
    return points.reshape(-1, 3).T


def reach(start, heading, length, case):
    """The least that the rod can reach beyond the wall, from a start."""

    def depths(v):
        return beyond(surface(v[:4], heading, length, case), case)

    def slack(v):
        return v[4] - depths(v)

    def slopes(v):
        step = 1e-7 * case["bore"]
        columns = [(depths(v + step * e) - depths(v - step * e)) / (2 * step) for e in np.eye(5)[:4]]
        return np.column_stack([-c for c in columns] + [np.ones(len(columns[0]))])

    guess = np.append(start, depths(np.append(start, 0.0)).max())
    found = minimize(
        lambda v: v[4], guess, jac=lambda v: np.eye(5)[4], method="SLSQP",
        constraints={"type": "ineq", "fun": slack, "jac": slopes},
        options={"maxiter": 80, "ftol": 1e-10},
    )
    return float(depths(found.x).max())


def longest_at(heading, case):
    half = case["bore"] / 2
    starts = [np.array([a * half, b * half, c * half, t]) for a, b, c, t in STARTS]

    def touch(length):
        return min(reach(start, heading, length, case) for start in starts) - TOUCH * case["bore"]

    # A rod so short that it always fits, then longer until none fits.
    low = high = case["bore"] / 2
    while touch(high) <= 0:
        low, high = high, high * 1.6
        if high > 40 * case["bore"]:
            return math.inf
    return brentq(touch, low, high, rtol=2e-5)


def longest(case):
    turn = math.radians(case["angle_deg"])
    return min(longest_at(part * turn, case) for part in HEADINGS)


def main(cases):
    with multiprocessing.Pool() as pool:
        json.dump(pool.map(longest, json.loads(pathlib.Path(cases).read_text()), chunksize=1), sys.stdout)


if __name__ == "__main__":
    main(sys.argv[1])

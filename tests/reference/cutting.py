"""Fewest sticks for lists of pieces, by a whole-number programme; a second opinion on the crate's own.

Reads from standard input a JSON list of jobs, {"stick": 2438, "kerf": 3, "pieces": [1200, 900]}, in
whole units of any kind, and prints a JSON list with the optimum of each. Nothing is shared with the
crate but the problem: every maximal pattern is written down and scipy's `milp` (HiGHS) chooses among
them; where the patterns are too many, it chooses a flow along the stick instead.
"""

import json
import sys
from collections import Counter

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csc_array

MOST_PATTERNS = 20_000


def main() -> None:
    json.dump([fewest(job) for job in json.load(sys.stdin)], sys.stdout)
    print()


def fewest(job: dict) -> int:
    stick = whole(job["stick"]) + whole(job["kerf"])
    sizes = Counter(whole(piece) + whole(job["kerf"]) for piece in job["pieces"])
    if not sizes:
        return 0
    if max(sizes) > stick or min(sizes) <= 0:
        raise ValueError(f"a piece of {job} does not fit its stick")
    types = sorted(sizes.items(), reverse=True)
    patterns = maximal_patterns(stick, types)
    if patterns is None:
        return by_flow(stick, types)
    return by_patterns(patterns, types)


def whole(value: float) -> int:
    if value != int(value):
        raise ValueError(f"{value} is not a whole number of units")
    return int(value)


def maximal_patterns(stick: int, types: list) -> list | None:
    """Patterns to which no piece can be added; None when there are too many to write down."""
    shortest = types[-1][0]
    found = []
    stack = [(0, stick, ())]
    while stack:
        k, room, pattern = stack.pop()
        if k == len(types):
            spare = any(n < d and s <= room for n, (s, d) in zip(pattern, types))
            if not spare:
                found.append(pattern)
            if len(found) > MOST_PATTERNS:
                return None
            continue
        size, demand = types[k]
        if room < shortest:
            stack.append((len(types), room, pattern + (0,) * (len(types) - k)))
            continue
        for count in range(min(demand, room // size) + 1):
            stack.append((k + 1, room - count * size, pattern + (count,)))
        if len(stack) > 50 * MOST_PATTERNS:
            return None
    return found


def by_patterns(patterns: list, types: list) -> int:
    matrix = csc_array(np.array(patterns, dtype=float).T)
    demand = np.array([d for _, d in types], dtype=float)
    return solved(np.ones(len(patterns)), LinearConstraint(matrix, demand, np.inf))


def by_flow(stick: int, types: list) -> int:
    """One unit of flow from 0 to `stick` is one stick; an arc (a, a + size) is a piece cut there.

    Pieces may be cut in falling order on every stick, so places beyond that need no arcs.
    """
    reached = {0}
    arcs = []
    for size, demand in types:
        for _ in range(min(demand, stick // size)):
            reached |= {a + size for a in reached if a + size <= stick}
    for k, (size, _) in enumerate(types):
        arcs += [(a, a + size, k) for a in reached if a + size in reached]
    arcs += [(a, stick, None) for a in reached if a < stick]
    places = {place: row for row, place in enumerate(sorted(reached | {stick}))}
    rows, columns, values = [], [], []
    for column, (a, b, k) in enumerate(arcs):
        rows += [places[a], places[b]]
        columns += [column, column]
        values += [-1.0, 1.0]
        if k is not None:
            rows.append(len(places) + k)
            columns.append(column)
            values.append(1.0)
    # A last variable, the number of sticks, feeds place 0 and drains the stick's end.
    rows += [places[0], places[stick]]
    columns += [len(arcs)] * 2
    values += [1.0, -1.0]
    matrix = csc_array((values, (rows, columns)), shape=(len(places) + len(types), len(arcs) + 1))
    demand = [float(d) for _, d in types]
    low = np.array([0.0] * len(places) + demand)
    high = np.array([0.0] * len(places) + [np.inf] * len(types))
    cost = np.zeros(len(arcs) + 1)
    cost[-1] = 1.0
    return solved(cost, LinearConstraint(matrix, low, high))


def solved(cost: np.ndarray, constraint: LinearConstraint) -> int:
    result = milp(
        cost,
        constraints=constraint,
        integrality=np.ones(len(cost)),
        bounds=Bounds(0, np.inf),
        options={"mip_rel_gap": 0.0},
    )
    if not result.success:
        raise RuntimeError(f"no optimum: {result.message}")
    return round(result.fun)


if __name__ == "__main__":
    main()

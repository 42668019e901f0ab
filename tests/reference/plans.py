"""Second opinions on the search over house plans, by libraries that share nothing with the crate.

Takes a JSON file with any of three lists and prints a JSON object with the answers in the same order.

covers: {"rows": [[column, ...], ...], "columns": n}, the fewest columns so that every row holds one: a whole-number
    programme by scipy's `milp` (HiGHS).
trees: {"nodes": n, "arcs": [[from, to, cost], ...], "terminals": [...], "root": r}, the cheapest set of arcs by which
    every terminal comes to the root: a programme of flows by scipy's `milp`; and with the arcs taken both ways the
    tree of networkx's `steiner_tree`, which is no more than twice the best. (Not by the least arborescence over sets
    of nodes: networkx 3.6.1 has cases in which its own is not the least.)
grids: {"nodes": [[x, y], ...], "boxes": [[x0, y0, x1, y1], ...], "ring": [x0, y0, x1, y1], "from": [node, heading],
    "to": node}, the plain shortest way in metres and the least number of turns by 45 degrees, a turn by 90 counted as
    two, by networkx's `shortest_path_length`; headings count eighths from east, counter-clockwise.
"""

import itertools
import json
import sys

import networkx as nx
import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import lil_array

ONE = 1e-6


def main() -> None:
    with open(sys.argv[1], encoding="utf-8") as file:
        asked = json.load(file)
    answers = {
        "covers": [cover(case) for case in asked.get("covers", [])],
        "trees": [tree(case) for case in asked.get("trees", [])],
        "grids": [grid(case) for case in asked.get("grids", [])],
    }
    json.dump(answers, sys.stdout)


def cover(case: dict) -> int:
    rows, columns = case["rows"], case["columns"]
    held = lil_array((len(rows), columns))
    for row, those in enumerate(rows):
        for column in those:
            held[row, column] = 1
    found = milp(
        np.ones(columns),
        constraints=LinearConstraint(held.tocsr(), lb=1),
        integrality=np.ones(columns),
        bounds=Bounds(0, 1),
    )
    if not found.success:
        raise ValueError(found.message)
    return round(found.fun)


def tree(case: dict) -> dict:
    """One unit of flow from each terminal to the root, over arcs that are paid for once."""
    arcs, nodes, root = case["arcs"], case["nodes"], case["root"]
    terminals = [node for node in case["terminals"] if node != root]
    count = len(arcs)
    size = count * (1 + len(terminals))
    rows, low, high = [], [], []
    for number, terminal in enumerate(terminals):
        at = count * (1 + number)
        for node in range(nodes):
            row = np.zeros(size)
            for arc, (start, end, _) in enumerate(arcs):
                row[at + arc] += (start == node) - (end == node)
            wanted = (node == terminal) - (node == root)
            rows.append(row), low.append(wanted), high.append(wanted)
        for arc in range(count):
            row = np.zeros(size)
            row[at + arc], row[arc] = 1, -1
            rows.append(row), low.append(-np.inf), high.append(0)
    cost = np.concatenate([[c for _, _, c in arcs], np.zeros(size - count)])
    found = milp(
        cost,
        constraints=LinearConstraint(np.array(rows), low, high),
        integrality=np.concatenate([np.ones(count), np.zeros(size - count)]),
        bounds=Bounds(0, 1),
    )
    least = float(round(found.fun)) if found.success else None
    return {"least": least, "undirected": undirected(case, set(terminals) | {root})}


def undirected(case: dict, terminals: set) -> float | None:
    graph = nx.Graph()
    for start, end, cost in case["arcs"]:
        if start != end and (not graph.has_edge(start, end) or graph[start][end]["weight"] > cost):
            graph.add_edge(start, end, weight=cost)
    if any(node not in graph or not nx.has_path(graph, case["root"], node) for node in terminals):
        return None
    found = nx.algorithms.approximation.steiner_tree(graph, terminals, weight="weight")
    return found.size(weight="weight")


def grid(case: dict) -> dict:
    nodes = np.array(case["nodes"])
    places = {(round(x * 1e5), round(y * 1e5)): number for number, (x, y) in enumerate(nodes)}
    lanes = [sorted({round(v * 1e5) for v in nodes[:, axis]}) for axis in (0, 1)]
    graph = nx.DiGraph()
    for number, at in enumerate(nodes):
        for heading in range(8):
            for by in (1, 2, 6, 7):
                turns = min(by, 8 - by)
                graph.add_edge((number, heading), (number, (heading + by) % 8), metres=0.0, turns=turns)
            next_node = ahead(places, lanes, at, heading)
            if next_node is not None and free(case, at, nodes[next_node]):
                metres = float(np.linalg.norm(nodes[next_node] - at))
                graph.add_edge((number, heading), (next_node, heading), metres=metres, turns=0)
    start = tuple(case["from"])
    ends = [(case["to"], heading) for heading in range(8)]
    answer = {}
    for weight in ("metres", "turns"):
        lengths = nx.single_source_dijkstra_path_length(graph, start, weight=weight)
        found = [lengths[end] for end in ends if end in lengths]
        answer[weight] = min(found) if found else None
    return answer


def ahead(places: dict, lanes: list, at: np.ndarray, heading: int) -> int | None:
    """The nearest node straight ahead, by trying every lane."""
    way = np.round([np.cos(heading * np.pi / 4), np.sin(heading * np.pi / 4)], 12)
    axis = 0 if abs(way[0]) > 0.1 else 1
    nearest = None
    for lane in lanes[axis]:
        t = (lane / 1e5 - at[axis]) / way[axis]
        if t <= 2e-5 or (nearest is not None and t >= nearest[0]):
            continue
        point = at + way * t
        key = (round(point[0] * 1e5), round(point[1] * 1e5))
        for dx, dy in itertools.product((0, -1, 1), repeat=2):
            number = places.get((key[0] + dx, key[1] + dy))
            if number is not None:
                nearest = (t, number)
    return None if nearest is None else nearest[1]


def free(case: dict, a: np.ndarray, b: np.ndarray) -> bool:
    """Whether a straight keeps inside the ring and out of every box, as a sample of its points tells."""
    x0, y0, x1, y1 = case["ring"]
    points = a + np.linspace(0, 1, 401)[:, None] * (b - a)
    inside = (points[:, 0] >= x0 - ONE) & (points[:, 1] >= y0 - ONE)
    inside &= (points[:, 0] <= x1 + ONE) & (points[:, 1] <= y1 + ONE)
    if not inside.all():
        return False
    for u0, v0, u1, v1 in case["boxes"]:
        within = (points[:, 0] > u0 + ONE) & (points[:, 0] < u1 - ONE)
        within &= (points[:, 1] > v0 + ONE) & (points[:, 1] < v1 - ONE)
        if within.any():
            return False
    return True


if __name__ == "__main__":
    main()

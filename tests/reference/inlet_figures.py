"""What is told of an inlet beyond air and reserve, reckoned a second time: the friction that its hose bears, the four
readings and their limits, passage, control wire, and how each bend is set.

`hose_air.Motion` walks the hose; lines come from `geometry.py`.
"""

import math

import numpy as np
import yaml

import geometry
from air import by_id, curve_of, leak_of_others, quantity, sealed_by
from geometry import FOOT, INCH, length

FORCE_N = {"lbf": 4.4482216152605, "n": 1.0, "lb": 4.4482216152605, "kgf": 9.80665}
# A gauge, and a flow meter with the hose's own spread, may take so much (common practice, no source).
GAUGE, METER = 0.05, 0.10
# Ohm per 1000 ft at 75 C, uncoated copper, solid and seven strands (NFPA 70, chapter 9, table 8).
TABLE_8 = {18: (7.77, 7.95), 16: (4.89, 4.99), 14: (3.07, 3.14), 12: (1.93, 1.98)}


def standard_of(company, revision):
    """The figures of a revision by clause."""
    for path in (company / "content/standard").glob("*.yaml"):
        value = yaml.safe_load(path.read_text())
        if str(value["revision"]) == revision:
            return {c["clause"]: c for part in value["parts"] for c in part["clauses"]}
    raise KeyError(revision)


# The hose ------------------------------------------------------------------------------------------


def factor_for(moved, spent, reserve, count=41):
    """The factor on all frictions that leaves so much of a reserve, the least over the travel."""
    whole = min(moved.load["length"], moved.walk.whole)

    def least(x):
        shares = np.array([spent(float(at)) for at in x]).T / reserve
        outside = moved.load["floor"] * moved.load["weight"] * (moved.load["length"] - x)
        spread = np.where(x > 0, moved.area * shares[1] / np.maximum(x, 1e-9), 0.0)
        at_valve = moved.area * shares[0] + np.where(x > 0, 0.0, moved.area * shares[1])

        def over(f):
            end = moved.walk.through(x, f * outside - at_valve, f * moved.load["in"], spread, 1)
            return end - moved.tail_area * shares[2]

        factors = rising_root(over, np.zeros_like(x), np.full_like(x, 2.0), 1e3)
        k = int(np.argmin(factors))
        return factors[k], k

    x = np.linspace(0.0, whole, count)
    best, k = least(x)
    near, _ = least(np.linspace(x[max(k - 1, 0)], x[min(k + 1, count - 1)], 21))
    return float(min(best, near))


def rising_root(over, low, high, most):
    """Where a rising function of an array comes to nought; infinite beyond `most`, 0 where it starts above."""
    start = over(low)
    while (over(high) <= 0).any() and high.max() < most:
        high = np.where(over(high) <= 0, 2 * high, high)
    never = over(high) <= 0
    for _ in range(36):
        middle = (low + high) / 2
        above = over(middle) > 0
        low, high = np.where(above, low, middle), np.where(above, middle, high)
        if (high - low).max() < 1e-4:
            break
    return np.where(start > 0, 0.0, np.where(never, np.inf, (low + high) / 2))


def scale(moved, factor):
    """What a spring scale reads with a foot left out, the hose creeping in, at so many times the friction."""
    x = np.array([moved.load["length"] - FOOT])
    if x[0] > moved.walk.whole + 1e-9:
        return None
    p1, p2, p3 = moved.ways()[0](float(x[0]))
    spread = moved.area * p2 / x

    def over(n):
        return moved.walk.through(x, n, factor * moved.load["in"], spread, 1) - moved.tail_area * p3

    high = np.array([moved.tail_area * p3 + moved.area * p2 + 1e4])
    n = float(bisected(over, -high, high)[0])
    return n + moved.area * p1 - factor * moved.load["floor"] * moved.load["weight"] * FOOT


def bisected(over, low, high):
    for _ in range(60):
        middle = (low + high) / 2
        above = over(middle) > 0
        low, high = np.where(above, low, middle), np.where(above, middle, high)
    return (low + high) / 2


def readings(job, inlet, parts, moved, air, asked):
    """The four readings as (expected, least, most), by their keys; nothing for one that cannot be told."""
    found = {"sealed-suction": sealed_reading(job, inlet, parts)}
    if air:
        found["flow"] = (air["flow_m3_s"], (1 - METER) * air["flow_m3_s"], None)
    if not moved.known:
        return found, None
    at_valve_in = air and air["hose_drawn_in"]["suction_at_valve_Pa"]
    factors = grown(moved, asked.get("reserve"))
    if moved.gaps:
        expected = scale(moved, 1.0)
        if expected is not None:
            least = scale(moved, factors) if factors is not None and math.isfinite(factors) else None
            found["draw-in"] = (expected, least, None)
    pulled = pulled_out(moved, at_valve_in, factors, asked.get("pull"))
    if pulled:
        found["pull-out"] = pulled
    return found, factors


def grown(moved, reserve):
    """How much friction may grow until the reserve is the one that is asked, in the way of least reserve."""
    if reserve is None:
        return None
    return min(factor_for(moved, spent, reserve) for spent in moved.ways())


def sealed_reading(job, inlet, parts):
    curve, _ = curve_of(by_id(parts, "units", job["unit"]["model"]))
    expected = sealed_by(curve, leak_of_others(job, inlet, parts))
    everyone = leak_of_others(job, None, parts)
    fallen = sealed_by(curve, lambda p: 2 * everyone(p))
    return expected, (1 - GAUGE) * min(fallen, expected), None


def pulled_out(moved, at_valve_in, factor, limit):
    if moved.valve["switch"] == "door" and at_valve_in is None:
        return None
    at_rest, running = moved.pulls(at_valve_in)
    most = limit
    if factor is not None and math.isfinite(factor) and factor >= 1:
        old_rest, old = moved.pulls(at_valve_in, factor)
        aged = max([old_rest, *old])
        most = aged if limit is None else min(limit, aged)
    return max([at_rest, *running]), None, most


def asked_of(clauses):
    """What a revision asks of draw-in and pull-out."""
    asked = {}
    if "draw-in" in clauses:
        asked["reserve"] = float(clauses["draw-in"].get("reserve", 1.25))
    if "pull-out" in clauses:
        asked["pull"] = quantity(clauses["pull-out"]["limit"], FORCE_N)
    return asked


# Passage, wire -------------------------------------------------------------------------------------


def longest_rod(bore, radius, angle_deg, rod):
    """The longest rigid rod through a bend (plane geometry; `passage.py` finds the same by search)."""
    radius, turn = max(radius, bore / 2), math.radians(angle_deg)
    k, outer = radius - bore / 2 + rod, radius + bore / 2
    if turn >= 2 * math.acos(min(1.0, k / outer)):
        return 2 * math.sqrt((bore - rod) * (2 * radius + rod))
    return 2 * (outer - k * math.cos(turn / 2)) / math.sin(turn / 2)


def stretches(plan, line):
    """The lines from a valve to the unit as (trunk's place or None, line, station, junction's id or None)."""
    found = [(None, line, 0.0, None)]
    while isinstance(found[-1][1].into, dict):
        into = found[-1][1].into
        k = plan.ids.index(into["trunk"])
        found.append((k, plan.trunks[k], found[-1][1].joins_at, into.get("with")))
    return found


def passage(plan, line, parts, hose):
    """The longest rod through every turn to the unit in their order, as (what, n, longest)."""
    bore, rod = length(parts["tube"][0]["bore"]), length(hose["throat"])
    found = []
    for k, here, station, junction in stretches(plan, line):
        if junction:
            part = geometry.part_named(parts, junction)
            found.append((k, None, longest_rod(bore, geometry.figure(part, "radius"), float(part["branch"]), rod)))
        for n, bend in enumerate(here.bends):
            if here.stations[n + 1] >= station:
                found.append((k, n + 1, longest_rod(bore, bend["radius"], bend["angle_deg"], rod)))
    return found


def wire(plan, line, parts):
    """Length and drop of an inlet's control wire."""
    part = parts["wire"][0]
    pipe = sum(float(here.stations[-1]) - station for _, here, station, _ in stretches(plan, line))
    # Looped at both ends: a tenth more, and half a metre at each (common practice, no source).
    long = 1.1 * pipe + 1.0
    gauge, stranded = int(str(part["gauge"]).split()[0]), bool(part["stranded"])
    if gauge in TABLE_8:
        ohm_m = TABLE_8[gauge][stranded] / (1000 * FOOT)
    else:
        across = 0.005 * INCH * 92 ** ((36 - gauge) / 39)
        ohm_m = 1e-6 / 58 / (math.pi / 4 * across**2) * (1 + 0.00393 * 55)
    drop = 2 * long * ohm_m * float(str(part["amps"]).split()[0])
    return {"length_m": long, "drop_V": drop, "drop_share": drop / float(str(part["volts"]).split()[0])}


# How a fitting is set ------------------------------------------------------------------------------

POINTS = [
    "north", "north-north-east", "north-east", "east-north-east", "east", "east-south-east", "south-east",
    "south-south-east", "south", "south-south-west", "south-west", "west-south-west", "west", "west-north-west",
    "north-west", "north-north-west",
]


def looks(way):
    """A direction in words: the compass to the nearest of sixteen points, the slope in whole degrees."""
    east, north, up = way / np.linalg.norm(way)
    rise = math.degrees(math.atan2(up, math.hypot(east, north)))
    if abs(rise) > 89:
        return "straight up" if rise > 0 else "straight down"
    point = POINTS[round(math.degrees(math.atan2(east, north)) / 22.5) % 16]
    if abs(rise) < 1:
        return f"{point}, level"
    return f"{point}, {abs(rise):.0f}° {'above' if rise > 0 else 'below'} level"


def throat(line, n):
    """The side that the inside of a bend lies on, square to the tube that comes in."""
    heading, after = line.legs[n - 1][0], line.legs[n][0]
    return after - heading * (heading @ after)


def roll(line, n):
    """From the line that the throat of the bend before leaves on the tube to the throat of this one, degrees
    clockwise as it is seen looking on."""
    along = line.legs[n - 1][0]
    # The inside of the bend before lies, behind it, toward where its tube came from.
    before = along * (along @ line.legs[n - 2][0]) - line.legs[n - 2][0]
    before, here = before / np.linalg.norm(before), throat(line, n) / np.linalg.norm(throat(line, n))
    right = np.cross(along, before)
    return math.degrees(math.atan2(here @ right, here @ before))

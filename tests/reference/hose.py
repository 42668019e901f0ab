"""The hose as it moves, reckoned a second time: vectors, small even steps, false position.

Nothing is shared with the program: the route is sampled as unit vectors every few millimetres, the
balance is stepped with its differential equation in bends and straights alike for many places of the
tail at once, and the leak is found by scipy's root finder on fluids' friction.

    N(0-) = mu_floor w (L - x);  across the valve N falls by A dp1;
    dN/ds = mu |N k n + w g| + w t_z - A dp2 / x;  at the tail N = A_t dp3.
"""

import math

import numpy as np
from fluids.friction import Colebrook
from scipy.optimize import brentq

ROOM_PA, ROOM_K = 101325.0, 293.15
# Standard air has 0.075 lb/ft3; the gas constant that gives it at the room's pressure and warmth.
STANDARD_DENSITY = 0.075 * 0.45359237 / 0.3048**3
RT = ROOM_PA / STANDARD_DENSITY
VISCOSITY = 1.81e-5
ORIFICE = 0.62
# From here on a narrow ring is taken as turbulent.
TURBULENT = 2300.0
DOWN = np.array([0.0, 0.0, -1.0])
STEP_M = 0.016


def sampled(legs, bends, step=STEP_M):
    """The route as arrays: length of each step, tangent and curvature vector at its middle."""
    tangent = [0.0] + [b["radius"] * math.tan(math.radians(b["angle_deg"]) / 2) for b in bends] + [0.0]
    length, along, curve = [], [], []
    for i, (heading, run) in enumerate(legs):
        straight = run - tangent[i] - tangent[i + 1]
        if straight < -1e-9:
            return None
        n = max(1, math.ceil(straight / step))
        length += [max(0.0, straight) / n] * n
        along += [heading] * n
        curve += [np.zeros(3)] * n
        if i < len(bends):
            angle, radius = math.radians(bends[i]["angle_deg"]), max(bends[i]["radius"], 1e-9)
            after = legs[i + 1][0]
            toward = after - heading * (heading @ after)
            toward = toward / np.linalg.norm(toward)
            n = max(24, math.ceil(angle * radius / step))
            for j in range(n):
                a = (j + 0.5) * angle / n
                length.append(angle * radius / n)
                along.append(math.cos(a) * heading + math.sin(a) * toward)
                curve.append((math.cos(a) * toward - math.sin(a) * heading) / radius)
    return np.array(length), np.array(along), np.array(curve)


class Walk:
    """The balance of a hose on a route, for an array of places of its tail at once."""

    def __init__(self, route, weight):
        self.length, tangent, curve = route
        across = DOWN - (tangent @ DOWN)[:, None] * tangent
        self.kk = (curve**2).sum(axis=1)
        self.ka = 2 * weight * (curve * across).sum(axis=1)
        self.aa = weight**2 * (across**2).sum(axis=1)
        self.rise = weight * tangent[:, 2]
        self.start = np.concatenate([[0.0], np.cumsum(self.length)[:-1]])
        self.whole = float(self.length.sum())

    def through(self, x, n, mu, spread, way):
        """Tension at the tail (`way` 1) or just behind the valve (-1), from that at the other end.

        Both ways the hose creeps along the walk, so friction adds; `spread` is A dp2 / x.
        """
        rows = range(len(self.length))
        n = np.array(n, dtype=float)
        for i in rows if way > 0 else reversed(rows):
            h = np.clip(x - self.start[i], 0.0, self.length[i])
            if not h.any():
                continue
            k1 = self.rate(i, n, mu, spread, way)
            n = n + h * self.rate(i, n + 0.5 * h * k1, mu, spread, way)
        return n

    def rate(self, i, n, mu, spread, way):
        press = np.sqrt(np.maximum(0.0, self.kk[i] * n * n + self.ka[i] * n + self.aa[i]))
        return mu * press + way * (self.rise[i] - spread)


def needed(walk, x, hose, shares, tail_area):
    """Suction at which the balance holds, for arrays of places and of the three shares."""
    area = math.pi / 4 * hose["outside"] ** 2
    outside = hose["floor"] * hose["weight"] * (hose["length"] - x)
    spread = np.where(x > 0, area * shares[1] / np.maximum(x, 1e-9), 0.0)
    # With nothing in yet the air along the hose pulls at the valve itself.
    at_valve = area * shares[0] + np.where(x > 0, 0.0, area * shares[1])

    def over(p):
        end = walk.through(x, outside - at_valve * p, hose["in"], spread * p, 1)
        return end - tail_area * p * shares[2]

    low, over_low = np.zeros_like(x), over(np.zeros_like(x))
    high = np.full_like(x, 1e5)
    over_high = over(high)
    while (over_high > 0).any() and high.max() < 1e9:
        high = np.where(over_high > 0, 8 * high, high)
        over_high = over(high)
    for _ in range(40):
        p = np.where(over_high != over_low, low - over_low * (high - low) / (over_high - over_low), low)
        found = over(p)
        if np.abs(found).max() < 1e-6:
            break
        short = found > 0
        # The end that stays is halved, so that both ends close in (Illinois).
        over_high = np.where(short, over_high / 2, found)
        over_low = np.where(short, found, over_low / 2)
        low, high = np.where(short, p, low), np.where(short, high, p)
    p = np.where(over(high) > 0, np.inf, p)
    return np.where(over(np.zeros_like(x)) <= 0, 0.0, p)


def ring_drop(p, flow, area):
    """Pressure after a sharp ring: p1^2 - p2^2 = (m / Cd a)^2 RT."""
    return math.sqrt(max(1e-9, p * p - (flow / (ORIFICE * area)) ** 2 * RT))


def along_drop(p, flow, gaps, x):
    """Pressure after the ring between hose and tube over a length."""
    area = math.pi / 4 * (gaps["bore"] ** 2 - gaps["outside"] ** 2)
    across = gaps["bore"] - gaps["outside"]
    flux = flow / area
    re = flux * across / VISCOSITY
    if re <= 0 or x <= 0:
        return p
    f = 96 / re if re < TURBULENT else Colebrook(Re=re, eD=gaps["rough"] / across)
    return math.sqrt(max(1e-9, p * p - flux**2 * RT * f * x / across))


def leak(x, gaps, given, line_loss):
    """Leak past the hose in kg/s, and what the valve, the hose's length and its tail take.

    `given(flow, suction)` is what the unit holds, `line_loss(flow, behind, x)` what the empty line takes.
    """
    d = gaps["outside"]
    valve, end = (math.pi / 4 * (a * a - b * b) for a, b in ((gaps["opening"], d), (gaps["bore"], gaps["tail"])))

    def pressures(flow):
        p1 = ring_drop(ROOM_PA, flow, valve)
        p2 = along_drop(p1, flow, gaps, x)
        return p1, p2, ring_drop(p2, flow, end)

    def gap(flow):
        p3 = pressures(flow)[2]
        at_unit = ROOM_PA - p3 + line_loss(flow, p3, x)
        return at_unit - given(flow, at_unit)

    high = 1e-5
    while gap(high) < 0:
        high *= 1.2
    flow = brentq(gap, high / 1.3 if high > 2e-5 else 0.0, high, xtol=1e-13)
    # Where the friction of the ring jumps, no flow meets both sides: what valve and tail leave is the ring's.
    p1, _, p3 = pressures(flow)
    at_unit = given(flow, ROOM_PA - p3)
    p3 = ROOM_PA - at_unit
    for _ in range(3):
        p3 = ROOM_PA - at_unit + line_loss(flow, p3, x)
    p2 = math.sqrt(p3 * p3 + (flow / (ORIFICE * end)) ** 2 * RT)
    return flow, [ROOM_PA - p1, p1 - p2, p2 - p3]


def travel(walk, hose, tail_area, spent):
    """Least reserve of the travel, with the suction needed and had there; `spent(x)` gives the three shares in Pa."""
    whole = min(hose["length"], walk.whole)

    def least(x):
        parts = np.array([spent(float(at)) for at in x]).T
        had = parts.sum(axis=0)
        need = needed(walk, x, hose, parts / had, tail_area)
        reserve = np.where(need > 0, had / np.maximum(need, 1e-12), np.inf)
        k = int(np.argmin(reserve))
        return reserve[k], need[k], had[k], k

    x = np.linspace(0.0, whole, 81)
    best = least(x)
    k = best[3]
    near = least(np.linspace(x[max(k - 1, 0)], x[min(k + 1, 80)], 41))
    return min(best, near, key=lambda found: found[0])[:3]


def pull_out(walk, hose, pulls):
    """Greatest force at the valve; `pulls(x)` gives the forces of the three shares that work against the hand."""
    x = np.linspace(0.0, min(hose["length"], walk.whole), 121)[1:]
    valve, along, tail = np.array([pulls(float(at)) for at in x]).T
    return max(0.0, float((walk.through(x, tail, hose["out"], along / x, -1) + valve).max()))

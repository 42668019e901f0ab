"""Effort and air of a company's jobs, reckoned a second time, by stepping instead of by formulas.

    longsweep inspect --json > figures.json
    python hose_air.py COMPANY figures.json

prints one JSON object: job -> list of inlets with `hose` and `air` as in `inspect --json`; `null`
where the catalog or the job lacks what a figure needs.

The hose is walked in steps of eight millimetres with the tension's own differential equations, not
with their solutions. The air is marched through every part with a density of its own, by scipy's
integrator; friction and bends come from the `fluids` library (Colebrook, Rennels).
"""

import json
import math
import pathlib
import re
import sys

import numpy as np
import yaml
from fluids.fittings import bend_rounded, contraction_sharp, diffuser_sharp
from fluids.friction import Colebrook
from scipy.integrate import solve_ivp
from scipy.interpolate import PchipInterpolator
from scipy.optimize import brentq

import geometry
from geometry import length

LBF, FOOT = 4.4482216152605, 0.3048
# Inches of water are conventional ones, at 4 C (figures of the trade; stated on the packet).
PRESSURE_PA = {"inh2o": 249.08891, "kpa": 1000.0, "pa": 1.0, "mbar": 100.0, "hpa": 100.0}
FLOW_M3S = {"cfm": FOOT**3 / 60, "m3/h": 1 / 3600, "m3/s": 1.0, "l/s": 1e-3}
WEIGHT_N_M = {"lb/ft": LBF / FOOT, "g/m": 9.80665e-3, "kg/m": 9.80665, "n/m": 1.0}
ROOM_PA, ROOM_K = 101325.0, 293.15
# Standard air has 0.075 lb/ft3; the gas constant that gives it at the room's pressure and warmth.
STANDARD_DENSITY = 0.075 * 0.45359237 / FOOT**3
GAS_AIR = ROOM_PA / (STANDARD_DENSITY * ROOM_K)
VISCOSITY = 1.81e-5
NOZZLE_K = 0.5
# Loss from a branch into the run, in velocity heads of the branch, by its angle (ACGIH, from memory).
BRANCH_K = {15: 0.09, 20: 0.12, 30: 0.18, 45: 0.28, 60: 0.44, 90: 1.00}
STEP_M = 0.008


def quantity(text, units):
    number, unit = re.fullmatch(r"\s*(-?[\d.]+)\s*(\S+)\s*", str(text)).groups()
    return float(number) * units[unit.lower()]


def by_id(parts, kind, name):
    return next(part for part in parts[kind] if part["id"] == name)


# The hose ------------------------------------------------------------------------------------------


def slopes(legs, bends):
    """The raceway as a list of (length, sine of the slope or None in a bend, radius)."""
    pieces = []
    tangent = [0.0] + [b["radius"] * math.tan(math.radians(b["angle_deg"]) / 2) for b in bends] + [0.0]
    for i, (heading, run) in enumerate(legs):
        pieces.append((run - tangent[i] - tangent[i + 1], float(heading[2]), None))
        if i < len(bends) and bends[i]["radius"] > 0:
            pieces.append((bends[i]["radius"] * math.radians(bends[i]["angle_deg"]), None, bends[i]["radius"]))
        elif i < len(bends):
            # A bend without a radius still turns the hose, over no length.
            pieces.append((0.0, None, math.radians(bends[i]["angle_deg"])))
    return pieces


def grid(pieces):
    """Small steps along the raceway: arrays of length, sine of slope (nan in a bend), angle turned, radius."""
    rows = []
    for run, sine, radius in pieces:
        if sine is None and run == 0.0:
            rows += [(0.0, math.nan, radius / 200, 0.0)] * 200
            continue
        n = max(1, math.ceil(run / STEP_M))
        turn = run / n / radius if sine is None else 0.0
        rows += [(run / n, math.nan if sine is None else sine, turn, radius or 0.0)] * n
    return np.array(rows)


def rate(tension, weight, friction, sine, radius):
    """Growth of tension per metre on a straight, per radian in a bend."""
    if math.isnan(sine):
        return friction * np.hypot(tension, weight * radius)
    return weight * (friction * math.sqrt(max(0.0, 1 - sine * sine)) + sine)


def step(tension, row, weight, friction, way):
    """One step of many hoses by the midpoint rule, never below nought."""
    run, sine, turn, radius = row
    by = turn if math.isnan(sine) else run
    half = tension + by / 2 * rate(tension, weight, friction, sine * way, radius)
    return np.maximum(0.0, tension + by * rate(np.maximum(0.0, half), weight, friction, sine * way, radius))


def effort(rows, hose):
    """Worst draw-in at the tail and worst pull-out at the valve, over the travel."""
    weight = quantity(hose["weight"], WEIGHT_N_M)
    friction = {k: float(v) for k, v in hose["friction"].items()}
    total = length(hose["length"])
    # The last step of the travel is cut where the hose ends.
    ends = np.cumsum(rows[:, 0])
    travel = min(total, float(ends[-1]))
    last = int(np.searchsorted(ends, travel - 1e-12))
    rows = rows[: last + 1].copy()
    share = 1 - (ends[last] - travel) / rows[-1, 0] if rows[-1, 0] else 1.0
    rows[-1, 0] *= share
    rows[-1, 2] *= share
    ends = np.cumsum(rows[:, 0])
    # One hose for the end of each step, its tail there; a step moves all those that reach so far.
    drawn = friction["floor"] * weight * (total - ends)
    pulled = np.zeros(len(rows))
    steps = [tuple(map(float, row)) for row in rows]
    for i, row in enumerate(steps):
        drawn[i:] = step(drawn[i:], row, weight, friction["in"], 1)
    for i, row in reversed(list(enumerate(steps))):
        pulled[i:] = step(pulled[i:], row, weight, friction["out"], -1)
    return max(float(drawn.max()), friction["floor"] * weight * total), float(pulled.max())


# The air -------------------------------------------------------------------------------------------


def total_pressure(static, flux):
    """Static and velocity pressure together, for a mass flux in kg/(s m2)."""
    return static + flux**2 * GAS_AIR * ROOM_K / (2 * static)


def static_pressure(total, flux):
    """The static pressure of a slow stream whose total pressure is known."""
    half = total / 2
    return half + math.sqrt(half * half - flux**2 * GAS_AIR * ROOM_K / 2)


def march(static, flux, diameter, run, friction):
    """Static pressure after a straight, integrated with friction and the thinning of the air."""
    rt = GAS_AIR * ROOM_K

    def slope(_, p):
        return -friction * flux**2 * rt / (2 * diameter * p) / (1 - flux**2 * rt / p**2)

    return float(solve_ivp(slope, (0.0, run), [static], rtol=1e-9, atol=1e-6).y[0, -1])


def lose(static, flux, heads):
    """Static pressure after a fitting that takes so many velocity heads, spread over its way."""
    return march(static, flux, 1.0, heads, 1.0) if heads > 0 else static


def friction_factor(flux, diameter, rough):
    return Colebrook(Re=flux * diameter / VISCOSITY, eD=rough / diameter)


def through(static, flux, bore, rough, line):
    """Static pressure after a line of legs and bends."""
    legs, bends = line
    for run, sine, radius in slopes(legs, bends):
        if sine is not None:
            static = march(static, flux, bore, max(0.0, run), friction_factor(flux, bore, rough))
    for bend in bends:
        if bend["radius"] > 0:
            heads = bend_rounded(
                Di=bore, angle=bend["angle_deg"], rc=bend["radius"], Re=flux * bore / VISCOSITY,
                roughness=rough, method="Rennels",
            )
            static = lose(static, flux, heads)
    return static


def throat_heads(bore, throat):
    """Loss of a short narrow place, in velocity heads of the bore: into it and out of it again."""
    if throat >= bore:
        return 0.0
    there = contraction_sharp(Di1=bore, Di2=throat) + diffuser_sharp(Di1=throat, Di2=bore)
    return there * (bore / throat) ** 4


def needed(flow, hose, tube, throat, lines, junctions):
    """Suction (of total pressure) at the valve and at the unit for a flow of standard air."""
    mass = flow * STANDARD_DENSITY
    thin, bore = length(hose["bore"]), length(tube["bore"])
    rough = length(tube["roughness"])
    in_hose, in_tube = (mass / (math.pi / 4 * d * d) for d in (thin, bore))
    static = static_pressure(ROOM_PA, in_hose)
    static = lose(static, in_hose, NOZZLE_K)
    static = march(static, in_hose, thin, length(hose["length"]), float(hose["air-friction"]))
    density = static / (GAS_AIR * ROOM_K)
    widening = (1 - (thin / bore) ** 2) ** 2 * in_hose**2 / (2 * density)
    total = total_pressure(static, in_hose) - widening
    at_valve = ROOM_PA - total
    static = static_pressure(total, in_tube)
    for place, (line, angle) in enumerate(zip(lines, junctions + [None])):
        static = through(static, in_tube, bore, rough, line)
        if place == 0:
            static = lose(static, in_tube, throat_heads(bore, throat))
        if angle is not None:
            static = lose(static, in_tube, float(np.interp(angle, list(BRANCH_K), list(BRANCH_K.values()))))
    return at_valve, ROOM_PA - total_pressure(static, in_tube)


def curve_of(unit):
    points = [(quantity(p["flow"], FLOW_M3S), quantity(p["suction"], PRESSURE_PA)) for p in unit["curve"]]
    return PchipInterpolator(*zip(*sorted(points))), max(flow for flow, _ in points)


def cut_at(line, run):
    """The part of a trunk from `run` metres after its start to its end."""
    legs, bends = line
    gone = 0
    while gone < len(legs) - 1 and run >= legs[gone][1]:
        run -= legs[gone][1]
        gone += 1
    kept = [list(leg) for leg in legs[gone:]]
    kept[0][1] -= run
    return kept, bends[gone:]


def way(job, inlet, parts):
    """The lines from the valve to the unit, and the angles of the junctions between them."""
    raceway, onward = inlet["raceway"], inlet.get("onward")
    legs, bends = geometry.legs_and_bends(
        geometry.direction(raceway["leaves"]), raceway["path"], parts, "raceway"
    )
    lines, junctions = [(legs, bends)], []
    if not onward:
        return None
    lines.append(geometry.legs_and_bends(legs[-1][0], onward["path"], parts, "trunk"))
    into = onward["into"]
    while into != "unit":
        trunk = next(t for t in job["trunks"] if t["id"] == into["trunk"])
        junctions.append(float(by_id(parts, "fittings", into["with"])["branch"]))
        line = geometry.legs_and_bends(geometry.direction(trunk["leaves"]), trunk["path"], parts, "trunk")
        lines.append(cut_at(line, length(into["at"])))
        into = trunk["into"]
    return lines, [None] + junctions


def leak_of_others(job, inlet, parts):
    """What the other valves let in at a suction, each growing with the square root of it."""
    valves = [by_id(parts, "valves", other["valve"]) for other in job["inlets"] if other is not inlet]
    rates = [
        quantity(v["leak"], FLOW_M3S) / math.sqrt(quantity(v.get("leak-at", "100 inH2O"), PRESSURE_PA))
        for v in valves
        if "leak" in v
    ]
    return lambda suction: sum(rates) * math.sqrt(max(0.0, suction))


def available(job, inlet, parts):
    """Force on the covered end of the hose."""
    curve, _ = curve_of(by_id(parts, "units", job["unit"]["model"]))
    leak = leak_of_others(job, inlet, parts)
    sealed = float(curve(0.0))
    if leak(sealed) > 0:
        sealed = brentq(lambda p: float(curve(leak(p))) - p, 0.0, sealed)
    outside = length(by_id(parts, "hoses", inlet["hose"])["outside"])
    return sealed * math.pi / 4 * outside**2


def air(job, inlet, parts):
    hose, tube = by_id(parts, "hoses", inlet["hose"]), parts["tube"][0]
    throat = next((length(f["passes"]) for f in parts["fittings"] if f["kind"] == "stop"), math.inf)
    found = way(job, inlet, parts)
    if found is None or "air-friction" not in hose:
        return None
    curve, most = curve_of(by_id(parts, "units", job["unit"]["model"]))

    leak = leak_of_others(job, inlet, parts)

    def gap(flow):
        suction = needed(flow, hose, tube, throat, *found)[1]
        return suction - float(curve(min(most, flow + leak(suction))))

    # Upwards in small steps, for far above the answer the line chokes and has no solution.
    high = most * 0.02
    while gap(high) < 0:
        high += most * 0.02
    flow = brentq(gap, high - most * 0.02 + 1e-6, high, xtol=1e-9)
    at_valve, at_unit = needed(flow, hose, tube, throat, *found)
    return {
        "flow_m3_s": flow,
        "suction_at_valve_Pa": at_valve,
        "suction_at_unit_Pa": at_unit,
        "air_power_W": flow * at_valve,
    }


def figures(job, inlet, parts):
    hose = by_id(parts, "hoses", inlet["hose"])
    raceway = inlet["raceway"]
    line = geometry.legs_and_bends(geometry.direction(raceway["leaves"]), raceway["path"], parts, "raceway")
    pieces = slopes(*line)
    pulled = None
    if "friction" in hose and all(run >= 0 for run, _, _ in pieces):
        draw_in, pull_out = effort(grid(pieces), hose)
        pulled = {
            "draw_in_N": draw_in,
            "available_N": available(job, inlet, parts),
            "pull_out_N": pull_out,
        }
    return {"id": inlet["id"], "hose": pulled, "air": air(job, inlet, parts)}


def main(company, inspected):
    parts = geometry.catalog(company)
    keys = [job["job"] for job in json.loads(pathlib.Path(inspected).read_text())]
    found = {}
    for key in keys:
        job = yaml.safe_load(pathlib.Path(company, "jobs", f"{key}.yaml").read_text())
        found[key] = [figures(job, inlet, parts) for inlet in job["inlets"]]
    json.dump(found, sys.stdout)


if __name__ == "__main__":
    main(*sys.argv[1:])

"""Hose and air of a company's jobs, reckoned a second time, by stepping instead of by formulas.

    longsweep inspect --json > figures.json
    python hose_air.py COMPANY figures.json

prints one JSON object: job -> list of inlets with `hose` and `air` as in `inspect --json`; `null`
where the catalog or the job lacks what a figure needs.

The hose is walked in small steps with the balance's own differential equation (`hose.py`). The air is marched through every part with a density of its own, by scipy's
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
import hose
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


def slopes(legs, bends):
    """The raceway as a list of (length, sine of the slope or None in a bend, radius)."""
    pieces = []
    tangent = [0.0] + [b["radius"] * math.tan(math.radians(b["angle_deg"]) / 2) for b in bends] + [0.0]
    for i, (heading, run) in enumerate(legs):
        pieces.append((run - tangent[i] - tangent[i + 1], float(heading[2]), None))
        if i < len(bends):
            pieces.append((bends[i]["radius"] * math.radians(bends[i]["angle_deg"]), None, bends[i]["radius"]))
    return pieces


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


# The hose ------------------------------------------------------------------------------------------


def line_loss_of(job, inlet, parts):
    """What the empty line takes of a small flow, from behind the hose's tail to the unit, in Pa."""
    tube = parts["tube"][0]
    bore, rough = length(tube["bore"]), length(tube["roughness"])
    throat = next((length(f["passes"]) for f in parts["fittings"] if f["kind"] == "stop"), math.inf)
    found = way(job, inlet, parts)
    lines, junctions = found if found else ([raceway_of(inlet, parts)], [None])
    whole = sum(run for run, _, _ in slopes(*lines[0]))

    def total_loss(mass, behind, lines, junctions, past_stop):
        flux = mass / (math.pi / 4 * bore * bore)
        static = static_pressure(behind, flux)
        for place, (line, angle) in enumerate(zip(lines, junctions + [None])):
            static = through(static, flux, bore, rough, line)
            if place == 0 and past_stop:
                static = lose(static, flux, throat_heads(bore, throat))
            if angle is not None:
                static = lose(static, flux, float(np.interp(angle, list(BRANCH_K), list(BRANCH_K.values()))))
        return behind - total_pressure(static, flux)

    known = {}

    def loss(mass, behind, x):
        # One march for a whole line would do for every x, and the loss is a small part: it grows as the
        # flow to the power 1.8 about a flow at which it is marched.
        key = round(math.log(max(mass, 1e-6)) / 0.2)
        if key not in known:
            at = math.exp(0.2 * key)
            p = 75000.0
            raceway = total_loss(at, p, lines[:1], [None], False)
            known[key] = at, raceway * p, (total_loss(at, p, lines, junctions, True) - raceway) * p
        at, raceway, beyond = known[key]
        return (mass / at) ** 1.8 * (beyond + (1 - min(1.0, x / whole)) * raceway) / behind

    return loss


def raceway_of(inlet, parts):
    raceway = inlet["raceway"]
    return geometry.legs_and_bends(geometry.direction(raceway["leaves"]), raceway["path"], parts, "raceway")


def motion(job, inlet, parts, at_valve_in):
    """Draw-in and pull-out of an inlet's hose; `at_valve_in` is the suction at the valve, hose in and open."""
    part, valve = by_id(parts, "hoses", inlet["hose"]), by_id(parts, "valves", inlet["valve"])
    route = hose.sampled(*raceway_of(inlet, parts))
    if "friction" not in part or route is None:
        return None
    load = {k: float(v) for k, v in part["friction"].items()}
    load |= {k: length(part[k]) for k in ("length", "outside")}
    load["weight"] = quantity(part["weight"], WEIGHT_N_M)
    walk = hose.Walk(route, load["weight"])
    area = math.pi / 4 * load["outside"] ** 2
    curve, most = curve_of(by_id(parts, "units", job["unit"]["model"]))
    others = leak_of_others(job, inlet, parts)
    sealed = float(curve(0.0))
    if others(sealed) > 0:
        sealed = brentq(lambda p: float(curve(others(p))) - p, 0.0, sealed)
    runs = valve["switch"] == "door" and at_valve_in is not None
    if "opening" in valve and "tail" in part:
        tube = parts["tube"][0]
        gaps = {"bore": length(tube["bore"]), "rough": length(tube["roughness"]), "outside": load["outside"]}
        gaps |= {"opening": length(valve["opening"]), "tail": length(part["tail"])}
        tail_area = math.pi / 4 * gaps["tail"] ** 2
        loss = line_loss_of(job, inlet, parts)

        def given(flow, suction):
            return float(curve(min(most, flow / STANDARD_DENSITY + others(suction))))

        ways = [(tail_area, lambda x: hose.leak(x, gaps, given, loss)[1])]
        open_ways = [lambda x: hose.leak(x, gaps, lambda *_: at_valve_in, lambda *_: 0.0)[1]]
    else:
        tail_area = area
        pure = [[1.0, 0, 0], [0, 1.0, 0], [0, 0, 1.0]]
        ways = [(area, lambda x, k=k: [sealed * share for share in k]) for k in pure]
        open_ways = [lambda x, k=k: [at_valve_in * share for share in k] for k in pure]
    reserve, need, had = min((hose.travel(walk, load, a, spent) for a, spent in ways), key=lambda found: found[0])
    areas = np.array([area, area, tail_area])
    pulled = [hose.pull_out(walk, load, lambda x: np.zeros(3))]
    if runs:
        pulled += [hose.pull_out(walk, load, lambda x, w=w: areas * w(x)) for w in open_ways]
    return {
        "reserve": reserve,
        "draw_in_suction_Pa": need,
        "had_suction_Pa": had,
        "draw_in_N": need * area,
        "available_N": had * area,
        "pull_out_N": max(pulled) if runs or valve["switch"] != "door" else None,
        "pull_out_at_rest_N": pulled[0],
    }


def air(job, inlet, parts):
    part, tube = by_id(parts, "hoses", inlet["hose"]), parts["tube"][0]
    throat = next((length(f["passes"]) for f in parts["fittings"] if f["kind"] == "stop"), math.inf)
    found = way(job, inlet, parts)
    if found is None or "air-friction" not in part:
        return None
    curve, most = curve_of(by_id(parts, "units", job["unit"]["model"]))

    others = leak_of_others(job, inlet, parts)

    def solved(lines, junctions):
        def gap(flow):
            suction = needed(flow, part, tube, throat, lines, junctions)[1]
            return suction - float(curve(min(most, flow + others(suction))))

        # Upwards in small steps, for far above the answer the line chokes and has no solution.
        high = most * 0.02
        while gap(high) < 0:
            high += most * 0.02
        flow = brentq(gap, high - most * 0.02 + 1e-6, high, xtol=1e-9)
        return flow, *needed(flow, part, tube, throat, lines, junctions)

    lines, junctions = found
    flow, at_valve, at_unit = solved(lines, junctions)
    # Drawn in, the hose fills the first of the raceway; its arcs are a little shorter than their runs.
    legs, bends = lines[0]
    stored = min(length(part["length"]), sum(run for _, run in legs))
    drawn_in = [cut_at((legs, bends), stored - 1e-9), *lines[1:]]
    return {
        "flow_m3_s": flow,
        "suction_at_valve_Pa": at_valve,
        "suction_at_unit_Pa": at_unit,
        "air_power_W": flow * at_valve,
        "at_valve_in": solved(drawn_in, junctions)[1],
    }


def figures(job, inlet, parts):
    known = air(job, inlet, parts)
    return {"id": inlet["id"], "hose": motion(job, inlet, parts, known and known.pop("at_valve_in")), "air": known}


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

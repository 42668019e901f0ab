"""The air of an inlet reckoned a second time: marched through every part with a density of its own.

scipy's integrator goes along the tubes; friction and bends come from the `fluids` library (Colebrook, Rennels).
"""

import math
import re

import numpy as np
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
    """Suction (of total pressure) at valve and unit for a flow of standard air, and the speed in the first tube."""
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
    # The air thins on its way, so that it is slowest where it comes into the tube.
    slowest = in_tube * GAS_AIR * ROOM_K / static
    for place, (line, angle) in enumerate(zip(lines, junctions + [None])):
        static = through(static, in_tube, bore, rough, line)
        if place == 0:
            static = lose(static, in_tube, throat_heads(bore, throat))
        if angle is not None:
            static = lose(static, in_tube, float(np.interp(angle, list(BRANCH_K), list(BRANCH_K.values()))))
    return at_valve, ROOM_PA - total_pressure(static, in_tube), slowest


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
        line = geometry.legs_and_bends(geometry.direction(trunk["leaves"]), trunk["path"], parts, "trunk")
        # Where one line goes on as another there is no junction.
        goes_on = into["at"] == "start"
        junctions.append(None if goes_on else float(by_id(parts, "fittings", into["with"])["branch"]))
        lines.append(line if goes_on else cut_at(line, length(into["at"])))
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


def raceway_of(inlet, parts):
    raceway = inlet["raceway"]
    return geometry.legs_and_bends(geometry.direction(raceway["leaves"]), raceway["path"], parts, "raceway")


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


def sealed_by(curve, leak):
    """Suction with nothing flowing but a leak."""
    tight = float(curve(0.0))
    return brentq(lambda p: float(curve(leak(p))) - p, 0.0, tight) if leak(tight) > 0 else tight


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
    # Drawn in, the hose fills the first of the raceway; its arcs are a little shorter than their runs.
    legs, bends = lines[0]
    stored = min(length(part["length"]), sum(run for run, _, _ in slopes(legs, bends)))
    drawn_in = solved([empty_after(legs, bends, stored), *lines[1:]], junctions)
    return as_told(solved(lines, junctions)) | {"hose_drawn_in": as_told(drawn_in)}


def as_told(solved):
    flow, at_valve, at_unit, velocity = solved
    return {
        "flow_m3_s": flow,
        "velocity_m_s": velocity,
        "suction_at_valve_Pa": at_valve,
        "suction_at_unit_Pa": at_unit,
        "air_power_W": flow * at_valve,
    }


def empty_after(legs, bends, stored):
    """What of a raceway is empty when so many metres along its centreline are filled."""
    for i, (run, sine, _) in enumerate(slopes(legs, bends)):
        if stored < run - 1e-9:
            break
        stored -= run
    else:
        return [[legs[-1][0], 0.0]], []
    leg = i // 2
    if sine is None:
        # The tail lies in a bend: what is left of it counts with the angle that is left.
        bend = bends[leg]
        left = bend | {"angle_deg": bend["angle_deg"] * (1 - stored / run)}
        given_back = left["radius"] * math.tan(math.radians(left["angle_deg"]) / 2)
        whole = bend["radius"] * math.tan(math.radians(bend["angle_deg"]) / 2)
        after = [list(legs[leg + 1])] + [list(other) for other in legs[leg + 2:]]
        after[0][1] += given_back - whole
        return [[legs[leg][0], given_back], *after], [left, *bends[leg + 1:]]
    kept = [list(other) for other in legs[leg:]]
    behind = bends[leg - 1]["radius"] * math.tan(math.radians(bends[leg - 1]["angle_deg"]) / 2) if leg else 0.0
    kept[0][1] -= behind + stored
    return kept, bends[leg:]

"""The geometry of jobs, reckoned a second time, by other means than the program's.

    python geometry.py COMPANY [JOB ...]

prints one JSON object: job -> list of inlets with the keys of `raceway` in `longsweep inspect --json`.
Directions are turned by rotation matrices (Rodrigues), the hose path is measured along points
sampled on the true arcs, rolls come from an angle in the plane across the tube. Nothing is shared
with the program but the words of the job files.
"""

import json
import math
import pathlib
import re
import sys

import numpy as np
import yaml

FOOT, INCH = 0.3048, 0.0254
UNIT_M = {
    "ft": FOOT, "foot": FOOT, "feet": FOOT, "'": FOOT,
    "in": INCH, "inch": INCH, "inches": INCH, '"': INCH,
    "m": 1.0, "cm": 0.01, "mm": 0.001,
}
COMPASS = {
    "east": (1, 0, 0), "west": (-1, 0, 0), "north": (0, 1, 0),
    "south": (0, -1, 0), "up": (0, 0, 1), "down": (0, 0, -1),
}
# Moves up or down that are less than this do not count as a reversal (the firm's job format).
SMALL_MOVE = INCH / 2
# Chords per arc; a right angle in 4000 chords is short of its arc by less than 1e-8 of it.
CHORDS = 4000


def length(text):
    """A length in metres from `12 ft 6-1/2 in`, `3810 mm` and the like."""
    rest, total, found = str(text).strip().lower(), 0.0, False
    sign = -1.0 if rest.startswith("-") else 1.0
    rest = rest.lstrip("+-").strip()
    piece = re.compile(
        r"""(?: (?P<whole>\d+)[\s-]+ )? (?: (?P<top>\d+)\s*/\s*(?P<low>\d+) | (?P<plain>\d*\.?\d+) )
            \s* (?P<unit>feet|foot|ft|inches|inch|in|mm|cm|m|'|") \s*""",
        re.VERBOSE,
    )
    while rest:
        m = piece.match(rest)
        if not m:
            raise ValueError(f"no length: {text!r}")
        number = int(m["top"]) / int(m["low"]) if m["top"] else float(m["plain"])
        total += (number + int(m["whole"] or 0)) * UNIT_M[m["unit"]]
        rest, found = rest[m.end():], True
    if not found:
        raise ValueError(f"no length: {text!r}")
    return sign * total


def direction(value):
    """A unit vector (east, north, up) from a compass word or a mix of them."""
    if isinstance(value, str):
        return np.array(COMPASS[value.strip().lower()], dtype=float)
    v = sum(float(k) * np.array(COMPASS[w.strip().lower()], dtype=float) for w, k in value.items())
    return v / np.linalg.norm(v)


def place(value):
    return np.array([length(value[k]) for k in ("east", "north", "up")])


def turn(value):
    """Angle in degrees and the direction it turns toward."""
    if isinstance(value, dict):
        return float(value["by"]), direction(value["toward"])
    angle, word = str(value).split(None, 1)
    return float(angle), direction(word)


def rotation(axis, angle):
    """The matrix that turns by `angle` (radians, right-handed) about the unit vector `axis`."""
    k = np.array([[0, -axis[2], axis[1]], [axis[2], 0, -axis[0]], [-axis[1], axis[0], 0]])
    return np.eye(3) + math.sin(angle) * k + (1 - math.cos(angle)) * (k @ k)


def turned(heading, angle_deg, toward):
    axis = np.cross(heading, toward)
    return rotation(axis / np.linalg.norm(axis), math.radians(angle_deg)) @ heading


def catalog(company):
    """All parts of all catalog files: lists run together, single parts as they stand."""
    parts = {}
    for path in sorted(pathlib.Path(company, "content", "catalog").rglob("*.yaml")):
        for key, value in (yaml.safe_load(path.read_text()) or {}).items():
            parts.setdefault(key, []).extend(value if isinstance(value, list) else [value])
    return parts


def find_bend(parts, angle, name, use):
    """The bend named, else the first of that angle that suits; None where there is none."""
    for part in parts["fittings"]:
        if name is not None:
            if part["id"] == name:
                return part
        elif part["kind"] == "bend" and abs(float(part["angle"]) - angle) < 1e-6:
            if part.get("for", "either") in (use, "either"):
                return part
    return None


def legs_and_bends(leaves, path, parts, use):
    """Legs as (heading, length) with runs in a row as one, and a bend after each leg but the last."""
    heading, legs, bends = leaves, [[leaves, 0.0]], []
    for step in path:
        if "run" in step:
            legs[-1][1] += length(step["run"])
            continue
        angle, toward = turn(step["turn"])
        heading = turned(heading, angle, toward)
        part = find_bend(parts, angle, step.get("with"), use)
        bends.append({
            "angle_deg": angle,
            "radius": length(part["radius"]) if part else 0.0,
            "to_stop": length(part["laying-length"]) if part else 0.0,
        })
        legs.append([heading, 0.0])
    return legs, bends


def arc_points(corner, before, after, radius):
    """Points along the arc that rounds a corner, from tangent point to tangent point."""
    # The centre lies on the line that halves the inner angle, as far off as the radius asks.
    inward = (after - before) / np.linalg.norm(after - before)
    half = 0.5 * math.acos(max(-1.0, min(1.0, float(before @ after))))
    centre = corner + inward * radius / math.cos(half)
    axis = np.cross(before, after)
    axis /= np.linalg.norm(axis)
    start = corner - before * ((corner - centre) @ before) - centre
    k = np.array([[0, -axis[2], axis[1]], [axis[2], 0, -axis[0]], [-axis[1], axis[0], 0]])
    a = np.linspace(0.0, 2 * half, CHORDS + 1)[:, None]
    return centre + start + np.sin(a) * (k @ start) + (1 - np.cos(a)) * (k @ k @ start)


def hose_path(points, legs, bends):
    """The length along straights and sampled arcs; where bends overlap, a straight counts back."""
    total, last = 0.0, points[0]
    for i, bend in enumerate(bends):
        before, after = legs[i][0], legs[i + 1][0]
        if bend["radius"] == 0.0:
            first = end = points[i + 1]
        else:
            arc = arc_points(points[i + 1], before, after, bend["radius"])
            total += float(np.linalg.norm(np.diff(arc, axis=0), axis=1).sum())
            first, end = arc[0], arc[-1]
        total += float((first - last) @ before)
        last = end
    return total + float((points[-1] - last) @ legs[-1][0])


def rolls(legs):
    """For each bend after the first, the angle of its plane from the plane of the bend before."""
    found = [None]
    for i in range(1, len(legs) - 1):
        along = legs[i][0]
        was = np.cross(legs[i - 1][0], along)
        now = np.cross(along, legs[i + 1][0])
        # Seen looking along the tube, clockwise is from `was` toward along x was (right-handed).
        flat = complex(now @ was, now @ np.cross(along, was))
        roll = math.degrees(math.atan2(flat.imag, flat.real))
        found.append(180.0 if roll < -180.0 + 1e-9 else roll)
    return found


def riser_length(legs):
    """How many leading legs are steeper than 45 degrees; just 45 is not."""
    n = 0
    while n < len(legs) and abs(math.degrees(math.asin(max(-1, min(1, legs[n][0][2]))))) > 45 + 1e-6:
        n += 1
    return n


def reversals(heights):
    """How often the line turns from rising to falling or back, by moves of half an inch or more."""
    count, way, high, low = 0, 0, heights[0], heights[0]
    for h in heights[1:]:
        # `high` and `low` are the extremes since the line last took a new way.
        high, low = max(high, h), min(low, h)
        new = way
        if way != 1 and h - low >= SMALL_MOVE - 1e-9:
            new = 1
        elif way != -1 and high - h >= SMALL_MOVE - 1e-9:
            new = -1
        if new != way:
            count, way, high, low = count + (way != 0), new, h, h
    return count


def lay(start, leaves, path, parts, use):
    """All figures of one line of tube."""
    legs, bends = legs_and_bends(leaves, path, parts, use)
    points = [start]
    for heading, run in legs:
        points.append(points[-1] + heading * run)
    riser = riser_length(legs)
    level = points[riser][2]
    centre = np.cumsum([run for _, run in legs])
    stops = [0.0] + [b["to_stop"] for b in bends] + [0.0]
    return {
        "centre_m": float(centre[-1]),
        "hose_path_m": hose_path(points, legs, bends),
        "bend_total_deg": sum(b["angle_deg"] for b in bends),
        "level_deviation_m": float(max(abs(p[2] - level) for p in points[riser:])),
        "reversals": reversals([float(p[2]) for p in points]),
        "end": points[-1].tolist(),
        "bends": [
            {
                "n": i + 1,
                "angle_deg": b["angle_deg"],
                "at_centre_m": float(centre[i]),
                "point": points[i + 1].tolist(),
                "roll_deg": roll,
            }
            for i, (b, roll) in enumerate(zip(bends, rolls(legs)))
        ],
        "tubes": [
            {"mark": f"A{i + 1}", "clear_m": run - stops[i] - stops[i + 1]}
            for i, (_, run) in enumerate(legs)
        ],
    }


def inlet(value, parts):
    raceway = value["raceway"]
    start = place(value["at"]) if value.get("at") else np.zeros(3)
    figures = lay(start, direction(raceway["leaves"]), raceway["path"], parts, "raceway")
    return {"id": value["id"], "raceway": figures}


def main(company, *jobs):
    parts = catalog(company)
    root = pathlib.Path(company, "jobs")
    keys = jobs or [p.relative_to(root).with_suffix("").as_posix() for p in sorted(root.rglob("*.yaml"))]
    found = {}
    for key in keys:
        job = yaml.safe_load((root / f"{key}.yaml").read_text())
        found[key] = [inlet(i, parts) for i in job["inlets"]]
    json.dump(found, sys.stdout)


if __name__ == "__main__":
    main(*sys.argv[1:])

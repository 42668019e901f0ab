"""The geometry of jobs, reckoned a second time, by other means than the program's.

    python geometry.py COMPANY [JOB ...]

prints one JSON object: job -> its inlets and trunks with the keys of `longsweep inspect --json`: raceway,
onward, bends, tubes, what joins and how each branch stands, misclosures.
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
            "known": part is not None and abs(float(part["angle"]) - angle) < 1e-6,
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


def first_of(parts, kind, uses):
    """The first part of a kind, by the uses in the order in which they are preferred; None without one."""
    for use in uses:
        for part in parts["fittings"]:
            if part["kind"] == kind and part.get("for", "either") == use:
                return part
    return None


def figure(part, key):
    """A length of a part; nothing where the catalog is silent."""
    return length(part[key]) if part and key in part else 0.0


def part_named(parts, name):
    return next(part for part in parts["fittings"] if part["id"] == name)


class Line:
    """One line of tube, followed from its start through all its legs."""

    def __init__(self, start, leaves, path, parts, stop_after=None):
        """`stop_after` tells how many of the steps lie before the stop; None where there is none."""
        self.parts, self.start, self.leaves, self.path = parts, start, leaves, path
        self.legs, self.bends = legs_and_bends(leaves, path, parts, "raceway")
        self.points = [start]
        for heading, run in self.legs:
            self.points.append(self.points[-1] + heading * run)
        self.stations = np.concatenate([[0.0], np.cumsum([run for _, run in self.legs])])
        self.end, self.heading = self.points[-1], self.legs[-1][0]
        self.stop_m = None
        if stop_after is not None:
            self.stop_m = sum(length(step["run"]) for step in path[:stop_after] if "run" in step)
        self.joinings = []
        self.head_m, self.tail_m, self.plug, self.tail_known = 0.0, 0.0, False, True

    def at(self, station):
        """The point so far along the runs."""
        for i, (heading, run) in enumerate(self.legs):
            if station <= self.stations[i + 1] + 1e-6:
                return self.points[i] + heading * (station - self.stations[i])
        return None

    def leg_at(self, station):
        for i in range(len(self.legs)):
            if station < self.stations[i + 1] - 1e-9:
                return i
        return len(self.legs) - 1

    def bend_figures(self, first, last):
        turns = rolls(self.legs)
        return [
            {
                "n": i + 1,
                "angle_deg": self.bends[i]["angle_deg"],
                "at_centre_m": float(self.stations[i + 1]),
                "point": self.points[i + 1].tolist(),
                "roll_deg": turns[i],
            }
            for i in range(first, last)
        ]

    def tubes(self):
        """Clear lengths, leg by leg, between all that stands on the leg; and how many lie before the stop.

        `clear` then has them once more, None where a fitting at an end is not known well enough to tell.
        """
        found, before_stop, first = [], 0, True
        self.clear = []
        last = len(self.legs) - 1
        ends_in_turn = "turn" in self.path[-1]

        def add(clear, known):
            # Nothing stands before a junction at the very start of a trunk.
            if not (first and self.plug and clear <= 0):
                found.append(clear)
                self.clear.append(clear if known else None)

        for i in range(len(self.legs)):
            at = self.stations[i] + (self.bends[i - 1]["to_stop"] if i else self.head_m)
            end = self.stations[i + 1] - (self.bends[i]["to_stop"] if i < last else self.tail_m)
            known = self.bends[i - 1]["known"] if i else True
            on_leg = [(m, half or 0.0, half or 0.0, False, half is not None) for m, half in self.joinings if self.leg_at(m) == i]
            if self.stop_m is not None and self.leg_at(self.stop_m) == i:
                stop = first_of(self.parts, "stop", ["raceway", "either"])
                on_leg.append((self.stop_m, 0.0, figure(stop, "inside-gap"), True, "inside-gap" in (stop or {})))
            if i == last and ends_in_turn:
                break
            for m, less, more, is_stop, told in sorted(on_leg, key=lambda item: item[0]):
                # The run to a stop ends where its tube seats in it; the gap comes off the tube beyond.
                add(m - less - at, known and (told or is_stop))
                first, known = False, told
                if is_stop:
                    before_stop = len(found)
                at = m + more
            add(end - at, known and (self.bends[i]["known"] if i < last else self.tail_known))
            first = False
        return found, before_stop


def meeting(trunk, end, heading):
    """The station of a trunk at which the axis through `end` along `heading` passes nearest to it."""
    best = None
    for i, (along, run) in enumerate(trunk.legs):
        if run <= 0 or 1 - (along @ heading) ** 2 <= 1e-9:
            continue
        # Both parameters by least squares: from + s along = end + t heading.
        matrix = np.column_stack([along, -heading])
        s, _ = np.linalg.lstsq(matrix, end - trunk.points[i], rcond=None)[0]
        s = min(max(s, 0.0), run)
        off = trunk.points[i] + along * s - end
        gap = np.linalg.norm(np.cross(off, heading))
        key = (round(gap, 9), np.linalg.norm(off))
        if best is None or key < best[0]:
            best = (key, trunk.stations[i] + s)
    return None if best is None else float(best[1])


def entry(run, branch):
    """How a branch stands on a run: its turn, its rise and, where it has a side, its roll."""
    found = {"turn_deg": math.degrees(math.atan2(np.linalg.norm(np.cross(run, branch)), run @ branch))}
    side = -(branch - run * (run @ branch))
    if np.linalg.norm(side) < 1e-3:
        return found
    side /= np.linalg.norm(side)
    found["rise_deg"] = math.degrees(math.asin(max(-1.0, min(1.0, side[2]))))
    # The branch turned about the run until it stands upright (or north, on an upright run).
    top = np.array([0.0, 0.0, 1.0]) if abs(run[2]) < 1 - 1e-12 else np.array([0.0, 1.0, 0.0])
    across = np.cross(run, top) / np.linalg.norm(np.cross(run, top))
    above = np.cross(across, run)
    # Looking along the run with `above` upward, `across` lies to the right.
    found["roll_deg"] = math.degrees(math.atan2(side @ across, side @ above))
    return found


class Job:
    """All lines of a job, each in its place."""

    def __init__(self, value, parts):
        self.value, self.parts = value, parts
        self.ids = [trunk["id"] for trunk in value.get("trunks") or []]
        self.unit = place(value["unit"]["at"]) if value["unit"].get("at") else None
        self.trunks, self.placed = {}, {}
        for k in range(len(self.ids)):
            self.trunk(k)
        self.inlets = [self.line_of(inlet) for inlet in value["inlets"]]
        self.join()

    def trunk(self, k):
        """A trunk, and whether it has a place; one that it runs into is followed first."""
        if k in self.trunks:
            return
        spec = self.value["trunks"][k]
        if spec["into"] != "unit":
            self.trunk(self.ids.index(spec["into"]["trunk"]))
        start = place(spec["starts"]) if spec.get("starts") else None
        line, ends = self.settled(start, direction(spec["leaves"]), spec["path"], spec["into"], None)
        if start is None and ends is not None:
            moved = Line(ends - line.end, line.leaves, line.path, self.parts)
            moved.into, moved.joins_at = line.into, line.joins_at
            line = moved
        self.trunks[k], self.placed[k] = line, start is not None or ends is not None
        self.trunks[k].ends = None if start is None else ends

    def line_of(self, spec):
        raceway, onward = spec["raceway"], spec.get("onward") or {"path": [], "into": None}
        start = place(spec["at"]) if spec.get("at") else None
        path = raceway["path"] + onward["path"]
        # A stop that ends the line parts nothing.
        before = len(raceway["path"]) if onward["path"] else None
        line, ends = self.settled(start, direction(raceway["leaves"]), path, onward["into"], before)
        line.ends = None if start is None else ends
        line.raceway_bends = sum("turn" in step for step in raceway["path"])
        line.whole = onward["into"] is None
        return line

    def settled(self, start, leaves, path, into, stop_after):
        """The line with its last run worked out, and the place where it should end; None if not known."""
        here = np.zeros(3) if start is None else start
        rest = bool(path) and path[-1].get("run") == "rest"
        line = Line(here, leaves, path[:-1] + [{"run": "0 m"}] if rest else path, self.parts, stop_after)
        station, ends = self.target(into, line, start is not None)
        if rest:
            run = max(0.0, float((ends - line.end) @ line.heading))
            line = Line(here, leaves, path[:-1] + [{"run": f"{run:.12f} m"}], self.parts, stop_after)
        line.into, line.joins_at = into, station
        return line, ends

    def target(self, into, line, started):
        if into is None:
            return None, None
        if into == "unit":
            return None, self.unit
        k = self.ids.index(into["trunk"])
        trunk, known = self.trunks[k], self.placed[k]
        if into.get("at") == "start":
            return 0.0, trunk.start if known else None
        if "at" in into:
            station = length(into["at"])
        elif known and started:
            station = meeting(trunk, line.end, line.heading)
        else:
            station = None
        return station, trunk.at(station) if known and station is not None else None

    def join(self):
        gap = figure(first_of(self.parts, "coupling", ["trunk", "either", "raceway"]), "gap") / 2
        for trunk in self.trunks.values():
            trunk.plug, trunk.entries = True, []
        for line in self.inlets + [self.trunks[k] for k in range(len(self.ids))]:
            if not isinstance(line.into, dict):
                continue
            trunk = self.trunks[self.ids.index(line.into["trunk"])]
            if line.into.get("at") == "start":
                line.tail_m, trunk.head_m, trunk.plug = gap, gap, False
                continue
            fitting = part_named(self.parts, line.into["with"])
            line.tail_m, line.tail_known = figure(fitting, "branch-laying-length"), "branch-laying-length" in fitting
            if line.joins_at is not None:
                half = length(fitting["run-laying-length"]) if "run-laying-length" in fitting else None
                trunk.joinings.append((line.joins_at, half))
                run = trunk.legs[trunk.leg_at(line.joins_at)][0]
                trunk.entries.append({"at_m": line.joins_at, **entry(run, line.heading)})

    def figures(self):
        return {
            "inlets": [self.inlet(spec, line) for spec, line in zip(self.value["inlets"], self.inlets)],
            "trunks": [self.trunk_figures(k) for k in range(len(self.ids))],
        }

    def inlet(self, spec, line):
        raceway = spec["raceway"]
        tubes, before_stop = line.tubes()
        if line.whole:
            before_stop = len(tubes)
        found = {
            "id": spec["id"],
            "raceway": hose_part(line.start, direction(raceway["leaves"]), raceway["path"], self.parts),
        }
        found["raceway"]["bends"] = line.bend_figures(0, line.raceway_bends)
        found["raceway"]["tubes"] = [{"clear_m": clear} for clear in line.clear[:before_stop]]
        if not line.whole:
            found["onward"] = {
                "bends": line.bend_figures(line.raceway_bends, len(line.bends)),
                "tubes": [{"clear_m": clear} for clear in line.clear[before_stop:]],
                "end": line.end.tolist(),
            }
        if line.ends is not None:
            found["misclosure_m"] = float(np.linalg.norm(line.end - line.ends))
        return found

    def trunk_figures(self, k):
        line = self.trunks[k]
        found = {
            "id": self.ids[k],
            "centre_m": float(line.stations[-1]),
            "end": line.end.tolist(),
            "bends": line.bend_figures(0, len(line.bends)),
            "tubes": [{"clear_m": clear} for clear in line.tubes()[0] and line.clear],
            "joins": sorted(line.entries, key=lambda item: item["at_m"]),
        }
        if line.ends is not None:
            found["misclosure_m"] = float(np.linalg.norm(line.end - line.ends))
        return found


def hose_part(start, leaves, path, parts):
    """What the hose has to do with: the figures of the line from the valve to the stop."""
    line = Line(start, leaves, path, parts)
    riser = riser_length(line.legs)
    level = line.points[riser][2]
    return {
        "centre_m": float(line.stations[-1]),
        "hose_path_m": hose_path(line.points, line.legs, line.bends),
        "bend_total_deg": sum(b["angle_deg"] for b in line.bends),
        "level_deviation_m": float(max(abs(p[2] - level) for p in line.points[riser:])),
        "reversals": reversals([float(p[2]) for p in line.points]),
        "end": line.end.tolist(),
    }


def main(company, *jobs):
    parts = catalog(company)
    root = pathlib.Path(company, "jobs")
    keys = jobs or [p.relative_to(root).with_suffix("").as_posix() for p in sorted(root.rglob("*.yaml"))]
    found = {}
    for key in keys:
        job = yaml.safe_load((root / f"{key}.yaml").read_text())
        found[key] = Job(job, parts).figures()
    json.dump(found, sys.stdout)


if __name__ == "__main__":
    main(*sys.argv[1:])

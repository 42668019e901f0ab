"""What goes on the truck, read back from packets and worked out again from the words of their jobs.

    python printed_loads.py COMPANY

prints a list of what is wrong: the load sheet with its spares, `material.list` of `packet.json`, and what `takeoff` wrote
to `takeoff/JOB.txt` and `takeoff/JOB.csv`. Of the program's own figures only the pieces of each tube are taken, which
`printed_cuts.py` holds against the drawings.
"""

import csv
import html
import json
import math
import pathlib
import re
import sys

import yaml

import geometry as geo

SMALL = 1e-9
SAWN = {"stud", "joist", "rafter", "top-plate", "bottom-plate"}
# Dressed sizes by PS 20, inches.
DRESSED = {"2x4": 3.5, "2x6": 5.5, "2x8": 7.25, "2x10": 9.25, "2x12": 11.25}
PLACES = {
    "tube": "Rack", "bend": "Fittings bin", "coupling": "Fittings bin", "stop": "Fittings bin", "cap": "Fittings bin",
    "junction": "Fittings bin", "valve": "Wall parts box", "framing": "Wall parts box", "screw": "Wall parts box",
    "wire": "Wall parts box", "strap": "Wall parts box", "cement": "Cement box", "primer": "Cement box",
    "hose": "For trim", "unit": "For trim",
}


def words(text):
    return re.sub(r"\s+", " ", html.unescape(re.sub(r"<[^>]*>", "", text))).strip()


class Load:
    """One job: what it wants, kind by kind, and what is printed of that."""

    def __init__(self, company, key, parts, firm, wrong):
        self.key, self.parts, self.firm, self.wrong = key, parts, firm, wrong
        self.metric = firm["lengths"] == "metric"
        folder = company / "site/jobs" / key
        self.page = re.sub(r"<(script|style|svg)\b.*?</\1>", "", (folder / "index.html").read_text(), flags=re.S)
        self.record = json.loads((folder / "packet.json").read_text())
        self.value = yaml.safe_load((company / "jobs" / f"{key}.yaml").read_text())
        self.job = geo.Job(self.value, parts)
        self.text = (company / f"takeoff/{key}.txt").read_text()
        self.rows = list(csv.DictReader((company / f"takeoff/{key}.csv").open(newline="")))

    def bad(self, *what):
        self.wrong.append(f"{self.key}: " + " ".join(map(str, what)))

    def lines(self):
        """Every line as it is written, as it was followed, and its part of the record."""
        for spec, line, told in zip(self.value["inlets"], self.job.inlets, self.record["inlets"]):
            yield spec, line, [told["raceway"], told["onward"] or {"tubes": [], "bends": []}]
        for k, (spec, told) in enumerate(zip(self.value.get("trunks") or [], self.record["trunks"])):
            yield spec, self.job.trunks[k], [told]

    def fitting(self, name):
        return geo.part_named(self.parts, name)["name"]

    def named(self, kind, name):
        return next(part["name"] for part in self.parts[kind] if part["id"] == name)

    def wanted(self):
        """(kind, part) with how many."""
        want = {}

        def add(kind, part, count=1):
            want[kind, part] = want.get((kind, part), 0) + count

        begun = [spec["into"]["trunk"] for spec, *_ in self.with_into() if spec["into"].get("at") == "start"]
        for spec, line, told in self.lines():
            for bend, use in self.bends(spec):
                add("bend", bend)
            into = self.into(spec)
            if isinstance(into, dict) and "with" in into:
                add("junction", self.fitting(into["with"]))
            if "raceway" not in spec and spec["id"] not in begun and geo.first_of(self.parts, "cap", ["trunk", "either"]):
                add("cap", geo.first_of(self.parts, "cap", ["trunk", "either"])["name"])
            uses = [["raceway", "either", "trunk"], ["trunk", "either", "raceway"]] if "raceway" in spec else [["trunk", "either", "raceway"]]
            couplings = [sum(max(len(tube["pieces_m"]) - 1, 0) for tube in part["tubes"]) for part in told]
            couplings[-1] += isinstance(into, dict) and into.get("at") == "start"
            for count, use in zip(couplings, uses):
                part = geo.first_of(self.parts, "coupling", use)
                if count:
                    add("coupling", part["name"] if part else "coupling", count)
        for inlet in self.value["inlets"]:
            add("valve", self.named("valves", inlet["valve"]))
            add("hose", self.named("hoses", inlet["hose"]))
            add("stop", geo.first_of(self.parts, "stop", ["raceway", "either"])["name"])
            add("screw", "screw", 4)
        add("unit", self.named("units", self.value["unit"]["model"]))
        joints = self.joints(begun)
        for kind, part in [("cement", "solvent cement, 1-pint can"), ("primer", "primer, 1-pint can")]:
            add(kind, part, math.ceil(joints / 120 / 0.473 - 1e-6))
        add("strap", "strap", self.straps())
        plates, ties = self.steel()
        add("framing", "shield plate", plates)
        add("framing", "steel tie", ties)
        holes = self.fire_holes()
        add("framing", f"fireblock sealant for {holes} hole{'s' * (holes != 1)}", int(holes > 0))
        wire = self.parts["wire"][0]
        add("wire", f"control wire, {wire['gauge'].split()[0]} AWG", self.wire())
        tube = self.parts["tube"][0]
        add("tube", None, self.record["material"]["sticks"] or 0)
        return {item: count for item, count in want.items() if count}

    def into(self, spec):
        return (spec.get("onward") or {}).get("into") if "raceway" in spec else spec["into"]

    def with_into(self):
        for spec, line, told in self.lines():
            into = self.into(spec)
            if isinstance(into, dict):
                yield {"into": into}, line

    def path(self, spec):
        if "raceway" not in spec:
            return [(step, "trunk") for step in spec["path"]]
        onward = (spec.get("onward") or {"path": []})["path"]
        return [(step, "raceway") for step in spec["raceway"]["path"]] + [(step, "trunk") for step in onward]

    def bends(self, spec):
        for step, use in self.path(spec):
            if "turn" in step:
                angle, _ = geo.turn(step["turn"])
                part = geo.find_bend(self.parts, angle, step.get("with"), use)
                yield (part["name"] if part else f"bend of {angle:g}°"), use

    def joints(self, begun):
        """One for each end of a piece that seats in something."""
        pieces = sum(len(tube["pieces_m"]) for *_, told in self.lines() for part in told for tube in part["tubes"])
        cap = geo.first_of(self.parts, "cap", ["trunk", "either"])
        bare = [spec["id"] for spec in self.value.get("trunks") or [] if spec["id"] not in begun and not cap]
        cut = {trunk["id"]: trunk["tubes"][:1] for trunk in self.record["trunks"]}
        return 2 * pieces - sum(bool(cut[name] and cut[name][0]["pieces_m"]) for name in bare)

    def straps(self):
        """At both ends of every leg, at a stop within one, and between them every 4 ft level, 10 ft upright."""
        count = 0
        for spec, line, _ in self.lines():
            for heading, run in line.legs:
                upright = abs(heading[2]) > math.sin(math.radians(45)) + SMALL
                count += max(math.ceil(run / ((10 if upright else 4) * geo.FOOT) - SMALL), 1) - 1
            count += len(line.legs) + 1 + ("raceway" in spec and bool((spec.get("onward") or {}).get("path")))
        return count

    def crossings(self):
        for spec, line, _ in self.lines():
            along = 0.0
            for step, _ in self.path(spec):
                if "run" in step:
                    for c in step.get("crosses") or []:
                        if isinstance(c, dict):
                            yield line, along + geo.length(c["at"]), c
                    along += geo.length(step["run"])

    def steel(self):
        """Plates by P2603.2.1, on each face with under 1-1/4 in of wood; ties by R602.6.1."""
        plates = ties = 0
        for _, _, c in self.crossings():
            if c["member"] not in SAWN or "hole" not in c or not (c.get("size") or c.get("depth")):
                continue
            wide = geo.length(c["depth"]) if "depth" in c else DRESSED[c["size"]] * geo.INCH
            hole = geo.length(c["hole"])
            near = geo.length(c["from-edge"]) if "from-edge" in c else (wide - hole) / 2
            plates += sum(wood < 1.25 * geo.INCH - 1e-7 for wood in (near, wide - hole - near))
            ties += bool(c["member"] == "top-plate" and c.get("bearing") and hole > wide / 2 + 1e-7)
        return plates, ties

    def fire_holes(self):
        """Holes of plates, floor lines and the garage wall, and levels that a line passes with none of them near."""
        closed = [
            (line, at) for line, at, c in self.crossings()
            if c["member"] in ("top-plate", "bottom-plate") or c.get("floor-line") or c.get("garage-wall")
        ]
        count = len(closed)
        for spec, line, _ in self.lines():
            if "raceway" in spec and not spec.get("at"):
                continue
            for i, (heading, run) in enumerate(line.legs):
                low, high = sorted((line.points[i][2], line.points[i + 1][2]))
                for level in self.value.get("levels") or []:
                    up = geo.length(level["up"])
                    if low < up <= high:
                        heights = [line.at(at)[2] for of, at in closed if of is line and line.leg_at(at) == i]
                        count += not any(abs(z - up) <= 0.5 for z in heights)
        return count

    def wire(self):
        """Along the pipe from each valve to the unit, a tenth more, and half a metre at each end."""
        total = 0.0
        for spec in self.value["inlets"]:
            line, into = self.job.inlets[self.value["inlets"].index(spec)], self.into(spec)
            if not into:
                continue
            pipe = float(line.stations[-1])
            while isinstance(into, dict):
                k = self.job.ids.index(into["trunk"])
                trunk = self.job.trunks[k]
                pipe += float(trunk.stations[-1]) - (0.0 if into.get("at") == "start" else line.joins_at)
                line, into = trunk, self.value["trunks"][k]["into"]
            total += 1.1 * pipe + 1.0
        return math.ceil(total / (1.0 if self.metric else geo.FOOT) - 1e-7)

    def check(self):
        want = self.wanted()
        tube = self.parts["tube"][0]
        self.same("packet.json", want, [(i["kind"], i["part"], i["count"]) for i in self.record["material"]["list"]])
        self.same("takeoff --csv", want, [(i["kind"], i["part"], float(i["count"])) for i in self.rows])
        listed = re.findall(r"^ *([\d.]+) (\w+) +(.*?)(?:  \(.*\))?$", self.text.split("\n\nCutting plan")[0], flags=re.M)
        kinds = {i["part"]: i["kind"] for i in self.rows}
        self.same("takeoff", want, [(kinds.get(part), part, float(count)) for count, unit, part in listed])
        self.loaded(want)
        self.uncut()

    def same(self, where, want, told):
        had = {}
        for kind, part, count in told:
            key = (kind, None if kind == "tube" else part)
            had[key] = had.get(key, 0) + count
        for item in sorted(set(want) | set(had), key=str):
            if want.get(item) != had.get(item):
                self.bad(where, item, "has", had.get(item), "and wants", want.get(item))

    def loaded(self, want):
        """The load sheet: each part where it lies, with its spares."""
        places = re.findall(r'<section class="loading"><h3>(.*?)</h3>(.*?)</section>', self.page, flags=re.S)
        had = {}
        for place, body in places:
            for count, part in re.findall(r'<td class="count"><b>(.*?)</b></td><th scope="row">(.*?)</th>', body, flags=re.S):
                part = words(re.sub(r'<span class="fine">.*?</span>', "", part, flags=re.S))
                had.setdefault((words(place), part), []).append(words(count))
        for (kind, part), count in want.items():
            rows = had.pop((PLACES[kind], part), None) if part else self.sticks(had)
            unit = (" m" if self.metric else " ft") if kind == "wire" else ""
            more = self.spares(kind, part, count)
            said = f"{count}{unit}" + (f" + {more}" if more else "")
            if rows != [said]:
                self.bad("loaded", kind, part, "as", rows, "and not", said)
        for (place, part), count in had.items():
            if place not in ("Tools and bits", "Before you drive off") and not all(c.startswith("+ ") for c in count):
                self.bad("loaded for nothing:", place, part, count)
        self.bits(had)

    def sticks(self, had):
        key = next((key for key in had if key[0] == "Rack"), None)
        return had.pop(key, None)

    def spares(self, kind, part, used):
        ids = {fitting["name"]: fitting["id"] for fitting in self.parts["fittings"]}
        total = 0
        for rule in self.firm.get("spares") or []:
            of = rule.get("part") or rule.get("kind")
            if of == ids.get(part, "?") or of == {"tube": "stick"}.get(kind, kind):
                each = {
                    "job": 1, "inlet": len(self.value["inlets"]), "trunk": len(self.value.get("trunks") or []),
                    "ten": math.ceil(used / 10),
                }
                total += rule["count"] * each[rule["per"]]
        return total

    def bits(self, had):
        """A bit for each size of hole that the job gives, with how many."""
        sizes = {}
        for *_, c in self.crossings():
            if "hole" in c:
                size = round(geo.length(c["hole"]), 4)
                sizes[size] = sizes.get(size, 0) + 1
        told = re.findall(r"<b>1</b></td><th scope=\"row\">bit, (.*?) <span class=\"fine\">\((\d+) holes?\)</span>", self.page)
        told = {geo.length(words(size)): int(count) for size, count in told}
        step = 0.001 if self.metric else geo.INCH / 16
        if sorted(sizes.values()) != sorted(told.values()) or any(
            min((abs(size - m) for m in told), default=1.0) > step / 2 + 1e-6 for size in sizes
        ):
            self.bad("bits for", told, "and holes", sizes)

    def uncut(self):
        """Tubes that nobody can cut are said to be missing from every list."""
        n = sum(
            not tube["pieces_m"] for *_, told in self.lines() for part in told for tube in part["tubes"]
        )
        lists = [("load sheet", words(self.page)), ("takeoff", self.text), ("csv", " ".join(r["note"] for r in self.rows))]
        for where, text in lists:
            found = re.search(r"(\d+) tubes? cannot be made and (?:is|are) not counted", text)
            if (int(found[1]) if found else 0) != n:
                self.bad(where, "says", found and found[0], "of", n, "tubes that are not cut")


def main(company):
    company = pathlib.Path(company)
    parts, wrong, items = geo.catalog(company), [], 0
    firm = yaml.safe_load((company / "content/company.yaml").read_text())
    for path in sorted((company / "jobs").glob("*.yaml")):
        load = Load(company, path.stem, parts, firm, wrong)
        load.check()
        items += len(load.wanted())
    json.dump({"wrong": wrong, "items": items}, sys.stdout)


if __name__ == "__main__":
    main(*sys.argv[1:])

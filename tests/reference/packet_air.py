"""What the sheets of a packet tell of hose and air, read back and held against `packet.json` and the job's words.

`printed_air.py` uses it.
"""

import collections
import html
import math
import re
from fractions import Fraction

import geometry as geo
import inlet_figures as again
from printed_cuts import Packet, words

KINDS = {
    "inH2O": (249.08891, 1), "kPa": (1000.0, 0.1), "cfm": (geo.FOOT**3 / 60, 1), "m³/h": (1 / 3600, 1),
    "lbf": (4.4482216152605, 0.1), "N": (1.0, 1), "ft/min": (geo.FOOT / 60, 1), "m/s": (1.0, 0.1),
    "W": (1.0, 1), "V": (1.0, 0.01), "%": (0.01, 0.1), "x": (1.0, 0.01),
}
FIGURE = re.compile(r"(-?\d+(?:\.\d+)?) (" + "|".join(KINDS) + r")(?![A-Za-z0-9/])")
LENGTH = re.compile(r"-?(?:\d+ ft(?: \d+(?:-\d+/\d+)? in| \d+/\d+ in)?|\d+(?:-\d+/\d+)? in|\d+/\d+ in|\d+ mm)\b")


def said(text):
    """Every figure with a unit in a text: in SI, half of the step that it is printed by, if it is rounded down."""
    scale = [(float(n), *KINDS[unit], unit == "x") for n, unit in FIGURE.findall(text)]
    return [(n * si, si * step / 2, down) for n, si, step, down in scale]


def degrees(text):
    """An angle as it is printed: `22-1/2`, `33.7`."""
    whole, part = re.fullmatch(r"(?:(\d+(?:\.\d+)?)(?:-|$))?(\d+/\d+)?", text).groups()
    return float(whole or 0) + float(Fraction(part or 0))


class AirPages(Packet):
    """One job's sheets beside its record and what its file says."""

    def __init__(self, company, key, parts, step_m, wrong):
        super().__init__(company, key, parts, step_m, wrong)
        self.seen = collections.Counter()
        office = (company / "site/jobs" / key / "office.html").read_text()
        self.office = re.sub(r"<(script|style|svg)\b.*?</\1>", "", office, flags=re.S)
        self.clauses = again.standard_of(company, self.record["standard"])
        self.asked = again.asked_of(self.clauses)

    def tells(self, what, text, expected):
        """The figures with units in a text, in their order, are those of the record."""
        found = said(text)
        if len(found) != len(expected):
            return self.bad(what, "tells", text, "for", expected)
        for (value, half, down), wanted in zip(found, expected):
            self.seen["printed"] += 1
            off = wanted - value - (half if down else 0.0)
            if not abs(off) <= half * (1 + 1e-6) + 1e-9:
                self.bad(what, "tells", text, "for", expected)

    def lengths(self, what, text, expected, down=False):
        found = [geo.length(m[0]) for m in LENGTH.finditer(text)]
        if len(found) != len(expected):
            return self.bad(what, "tells", text, "for", expected)
        for value, wanted in zip(found, expected):
            self.seen["printed"] += 1
            off = value - wanted
            low, high = (-self.step_m, 0.0) if down else (-self.step_m / 2, self.step_m / 2)
            if not low - geo.INCH * 1e-4 <= off <= high + 1e-6:
                self.bad(what, "tells", text, "for", wanted)

    # The check sheet ------------------------------------------------------------------------------

    NAMES = {"sealed-suction": "Sealed suction", "flow": "Airflow", "draw-in": "Draw-in", "pull-out": "Pull-out"}

    def cell(self, record, key):
        """What stands in a cell of the readings: what was read, and what is expected."""
        label = re.escape(html.escape(f"{record['name']}: {self.NAMES[key]}"))
        cell = self.found(rf'<td data-label="{label}">(.*?)</td>')[0]
        taken = re.search(r"<b>(.*?)</b>", cell, flags=re.S)
        expected = re.findall(r'<span class="fine">(.*)</span>', cell, flags=re.S)[-1]
        return words(taken[1]) if taken else "", words(expected)

    def checked(self):
        for record in self.record["inlets"]:
            told = {r["reading"]: r for r in record["readings"]}
            for key in self.NAMES:
                taken, expected = self.cell(record, key)
                if key not in told:
                    if expected != "not worked out":
                        self.bad(record["id"], key, "is expected to be", expected, "and nobody knows")
                    continue
                self.reading(f"{record['id']} {key}", told[key], taken, expected)

    def reading(self, what, told, taken, expected):
        """A limit is printed as it is judged by, and never with more allowed than was worked out."""
        wanted = [max(told["expected"], 0.0) if told["reading"] == "draw-in" else told["expected"]]
        wanted += [max(told[k], 0.0) for k in ("least", "most") if told[k] is not None]
        self.tells(what, expected, wanted)
        if len(said(expected)) != len(wanted):
            return
        limit = said(expected)[-1][0] if len(wanted) > 1 else None
        if limit is not None:
            self.seen["limits"] += 1
            more = limit - told["most"] if told["most"] is not None else max(told["least"], 0.0) - limit
            if more > 1e-9 * abs(limit):
                self.bad(what, "lets pass more than is allowed:", expected, "for", told)
        if told["taken"] is None:
            return
        self.seen["taken"] += 1
        read = said(taken)[0][0]
        low = told["least"] is not None and limit is not None and read < limit - 1e-9
        high = told["most"] is not None and limit is not None and read > limit + 1e-9
        if taken.endswith("CALL") != (low or high) or told["passes"] == (low or high):
            self.bad(what, "was read", taken, "where is said", expected, "and the record has", told)

    # The office annex -----------------------------------------------------------------------------

    def figures(self, record, rows, part):
        who, hose_, air_ = record["id"], record["hose"], record["air"]
        self.lengths(f"{who} path", rows["Hose path"][0], [record["raceway"]["hose_path_m"]])
        results = dict(re.findall(r"<summary>(.*?): <b>(.*?)</b></summary>", part, flags=re.S))
        for name, result in results.items():
            top = rows.get(words(name), (None,))[0]
            if top is not None and words(name) != "Where the suction is spent" and top != words(result):
                self.bad(who, words(name), "is", top, "in the table and", words(result), "in its working")
        if "not_reckoned" not in hose_:
            self.drawn(who, rows, hose_)
        elif "Draw-in, at its worst" in rows:
            self.bad(who, "tells a draw-in that was not reckoned")
        sealed = rows["Sealed suction at the valve"][0]
        self.tells(f"{who} sealed", sealed, [hose_["sealed_suction_Pa"]])
        if "not_reckoned" in air_:
            if "Airflow, hose out" in rows:
                self.bad(who, "tells air that was not reckoned")
            return
        drawn_in = air_["hose_drawn_in"]
        self.tells(f"{who} airflow", " ".join(rows["Airflow, hose out"]), [air_["flow_m3_s"], drawn_in["flow_m3_s"]])
        suctions = [air_["suction_at_valve_Pa"], air_["suction_at_unit_Pa"]]
        self.tells(f"{who} suction", " ".join(rows["Suction at the valve, hose out"]), suctions)
        self.tells(f"{who} air power", rows["Air power"][0], [air_["air_power_W"]])
        self.tells(f"{who} speed", rows["Slowest air in any tube"][0], [air_["velocity_m_s"]])

    def drawn(self, who, rows, told):
        value, means = rows["Draw-in, at its worst"]
        self.tells(f"{who} draw-in", value, [told["draw_in_N"]])
        given = [told["available_N"]] + ([] if told["reserve"] is None else [told["reserve"]])
        self.tells(f"{who} draw-in", means, given)
        if "own weight" not in means:
            self.lengths(f"{who} draw-in", means, [] if told["at_m"] <= 0 else [told["at_m"]])
        spent = rows.get("Where the suction is spent")
        if spent:
            self.tells(f"{who} spent", " ".join(spent), [*told["spent_Pa"], told["leak_m3_s"]])
        elif not told["wanted"]:
            self.bad(who, "does not tell where the suction is spent")
        bears = rows.get("Friction the hose can bear", ("",))[0]
        if bears != "any" or told["friction_it_bears"] is not None:
            self.tells(f"{who} bears", bears, [told["friction_it_bears"]])
        value, means = rows["Pull-out, at its worst"]
        pulled = told["pull_out_N"] if told["pull_out_N"] is not None else told["pull_out_at_rest_N"]
        self.tells(f"{who} pull-out", value, [pulled])
        if "unit running" in means and told["pull_out_N"] is not None:
            self.tells(f"{who} pull-out", means, [told["pull_out_at_rest_N"]])

    def catches(self, who, part, told, says):
        """One place catches first: the first on the way that stops what the handle lets in, else the tightest."""
        marked = [i for i, text in enumerate(says) if "catches first" in text]
        if not told:
            return
        lengths = [row["longest_m"] for row in told]
        handle = geo.length(part["handle-passes"]) if "handle-passes" in part else None
        stops = [i for i, m in enumerate(lengths) if handle is not None and m < handle - 1e-7]
        first = stops[0] if stops else lengths.index(min(lengths))
        if not stops and len(marked) == 1 and abs(lengths[marked[0]] - min(lengths)) < 1e-9:
            first = min(i for i, m in enumerate(lengths) if m - min(lengths) < 1e-9)
        self.seen["caught"] += bool(stops)
        if marked != [first]:
            self.bad(who, "is caught first at", marked, "for", first, "of", lengths)

    # Route sheets and cut lists -------------------------------------------------------------------

    def spare(self, record, part):
        """What is left past the hose, new and grown: on the route sheet, at the stop, on the cover."""
        hose_m = geo.length(part["length"])
        grown = hose_m * (1 + self.allowance())
        path = record["raceway"]["hose_path_m"]
        facts = dict(self.found_in(record, r'<dt class="cell-name">(.*?)</dt><dd>(.*?)</dd>'))
        new, old = re.fullmatch(r"new (.*), grown (.*)", facts["Spare"]).groups()
        stop = self.stops.get(record["id"])
        told = [("new", new, path - hose_m), ("grown", old, path - grown)]
        # Where short tapes are added up at the stop, both spares stand on the route sheet alone.
        if stop and "Spare: new hose" in stop:
            said_new, said_old = re.search(r"Spare: new hose (.*?), grown (.*?)\.(?: |$)", stop).groups()
            told += [("new at the stop", said_new, path - hose_m), ("grown at the stop", said_old, path - grown)]
        for what, text, left in told:
            value = geo.length(text.removesuffix(" short")) * (-1 if text.endswith("short") else 1)
            self.seen["spare"] += 1
            # What is short is rounded up, what is left to the nearest.
            slack = self.step_m if left < 0 else self.step_m / 2
            if abs(value - left) > slack + 1e-6 or text.endswith("short") != (left < -1e-6):
                self.bad(record["id"], "has a spare", what, "of", text, "for", left)
        self.lengths(record["id"], facts["Hose path"], [path])
        expected = [record["hose"]["sealed_suction_Pa"]]
        expected += [] if record["air"]["flow_m3_s"] is None else [record["air"]["flow_m3_s"]]
        self.tells(f"{record['id']} expected", facts["Expected"], expected)

    def allowance(self):
        clause = self.clauses.get("hose-room")
        return float(str(clause["allowance"]).removesuffix("%")) / 100 if clause else 0.0

    def found_in(self, record, pattern):
        """What a pattern finds on an inlet's route sheet."""
        anchor = f'id="{record["id"]}-route"'
        sheet = self.page[self.page.index(anchor):]
        sheet = sheet[:sheet.index("<footer")]
        return [tuple(words(x) for x in found) for found in re.findall(pattern, sheet, flags=re.S)]

    def between(self):
        """The rows between tubes by their line and mark."""
        letters = {o["mark"]: o["id"] for kind in ("inlets", "trunks") for o in self.record[kind]}
        self.bends, self.stops, self.junctions = {}, {}, {}
        last = None
        head = r'<div class="cut-(?:tube|between)"'
        for row in re.findall(rf'{head} role="row"><?(.*?)(?={head}|<footer)', self.page, flags=re.S):
            mark = words(re.search(r'cut-mark[^>]*>(.*?)</b>', row, flags=re.S)[1])
            text = words(re.search(r'<div role="cell">(.*?)</div>', row, flags=re.S)[1])
            tube = re.fullmatch(r"([A-Z]+)\d+", mark)
            bend = re.fullmatch(r"([A-Z]+?)B(\d+)", mark)
            if mark == "STOP":
                self.stops[last] = text
            elif bend and bend[1] in letters and "throat" in text:
                self.bends[letters[bend[1]], int(bend[2])] = text
            elif tube and tube[1] in letters:
                last = letters[tube[1]]
            elif mark in letters:
                self.junctions[mark] = text

    def set(self, who, line):
        """How each bend is turned: its throat in words, and the roll as an arc round the tube."""
        outside = geo.length(self.parts["tube"][0]["outside"])
        for n in range(1, len(line.bends) + 1):
            text = self.bends.get((who, n))
            if text is None:
                self.bad(who, "has no row for bend", n)
                continue
            way = again.throat(line, n)
            self.seen["throats"] += 1
            if f"throat {again.looks(way)}." not in text:
                self.bad(who, "bend", n, "looks", again.looks(way), "and is told", text)
            if n == 1:
                if "First bend." not in text:
                    self.bad(who, "bend 1 is told", text)
                continue
            self.rolled(f"{who} bend {n}", n, again.roll(line, n), outside, text)

    def rolled(self, what, n, roll, outside, text):
        arc = abs(roll) / 360 * math.pi * outside
        ways = r"(?: (clockwise|counter-clockwise) from|, directly opposite)"
        told = re.search(rf"Roll: (?:(.*?){ways} |on )B{n - 1}'s line", text)
        self.seen["rolls"] += 1
        if not told:
            return self.bad(what, "has no roll in", text)
        value = geo.length(told[1]) if told[1] else 0.0
        # Under 1/32 in nobody sees it.
        slack = self.step_m / 2 if told[1] else geo.INCH / 32
        if abs(value - arc) > slack + 1e-6:
            self.bad(what, "is rolled", text, "for", arc)
        if told[2] and told[2] != ("clockwise" if roll > 0 else "counter-clockwise"):
            self.bad(what, "is rolled", text, "for", roll)

    def trunks(self):
        for k, name in enumerate(self.job.ids):
            self.set(name, self.job.trunks[k])
        letters = {o["id"]: o["mark"] for kind in ("inlets", "trunks") for o in self.record[kind]}
        lines = [(spec["id"], line) for spec, line in zip(self.value["inlets"], self.job.inlets)]
        lines += [(name, self.job.trunks[k]) for k, name in enumerate(self.job.ids)]
        for name, line in lines:
            if isinstance(line.into, dict) and line.into.get("at") != "start":
                self.joined(name, letters[name], line)

    def joined(self, name, mark, line):
        """A junction on its trunk's list: which way the branch looks, and how far that is turned."""
        text = self.junctions.get(mark)
        if text is None:
            return self.bad(name, "joins, and no row tells it")
        self.seen["junctions"] += 1
        if f"branch {again.looks(-line.heading)}." not in text:
            self.bad(name, "comes from", again.looks(-line.heading), "and is told", text)
        trunk = self.job.trunks[self.job.ids.index(line.into["trunk"])]
        self.lengths(name, text.split("; ")[0].split(". ")[-1], [line.joins_at])
        run = trunk.legs[trunk.leg_at(line.joins_at)][0]
        # On an upright run nothing round it is up: its branch is turned from north.
        upright = abs(run[2]) > 1 - 1e-9
        self.seen["upright junctions"] += bool(upright)
        roll = geo.entry(run, line.heading).get("roll_deg", 0.0)
        told = text.split("; ", 1)[1]
        turned = re.match(r"(\S+)° (clockwise|counter-clockwise) from (up|north)\.", told)
        points = re.match(r"it points (straight up|straight down|north|south)\.", told)
        if turned:
            value = degrees(turned[1]) * (1 if turned[2] == "clockwise" else -1)
        elif points:
            value = 0.0 if points[1] in ("straight up", "north") else 180.0
        else:
            return self.bad(name, "is turned", told)
        said_from = turned[3] if turned else points[1]
        if abs((value - roll + 180) % 360 - 180) > 0.51 or upright != (said_from in ("north", "south")):
            self.bad(name, "is turned", told, "for", roll, "on an upright run" if upright else "")

    # What was found -------------------------------------------------------------------------------

    LONG = r"((?:\d+ ft )?[\d./-]+ (?:in|mm|ft|m))"
    # What is measured, what it is held against, and whether that is the most.
    MEASURES = {
        "draw-in": (r"([\d.]+) x the need", r"([\d.]+) x required", False),
        "pull-out": (r"^([\d.]+) (?:lbf|N)", r"([\d.]+) (?:lbf|N) allowed", True),
        "air-velocity": (r"^([\d.]+) ", r"([\d.]+) (?:ft/min|m/s) or more required", False),
        "suction-at-valve": (r"^([\d.]+) ", r"([\d.]+) (?:inH2O|kPa) or more required", False),
        "wire-drop": (r"([\d.]+) % of the supply", r"([\d.]+) % allowed", True),
        "passage": (rf"passes (?:only )?{LONG}", rf"(?:lets in|longer than) {LONG}", False),
        "misclosure": (rf"by {LONG}; ", rf"; {LONG} allowed", True),
        "hose-room": (rf"^{LONG} of hose path", rf"{LONG} needed", False),
    }

    def findings(self):
        """A figure that breaks its limit is not printed as one that keeps it, nor the other way round."""
        for record in self.record["inlets"]:
            for found in record["findings"]:
                if found["clause"] in self.MEASURES and found["measured"] is not None:
                    self.finding(record["id"], found)

    def finding(self, who, found):
        first, second, most = self.MEASURES[found["clause"]]
        a, b = re.search(first, found["note"]), re.search(second, found["note"])
        if not a or not b:
            return self.bad(who, found["clause"], "says", found["note"])
        a, b = (geo.length(m[1]) if " " in m[1] else float(m[1]) for m in (a, b))
        broken = found["verdict"] != "pass"
        self.seen["findings"] += 1
        self.seen["findings broken"] += broken
        if broken != (a > b + 1e-9 if most else a < b - 1e-9):
            self.bad(who, found["clause"], "is", found["verdict"], "of", found["measured"], "and says", found["note"])

"""Figures of `packet.json` against what the pages print of them, and readings typed in against what is expected.

    python printed_record.py COMPANY

prints a list of what is wrong and how many figures were compared. A printed figure may differ from the record's by half
of its last place; what the record does not know no page may tell.
"""

import html
import json
import pathlib
import re
import sys

import yaml

import geometry as geo

INCH_WATER, LBF, CFM = 249.08891, 4.4482216152605, 0.3048**3 / 60
UNITS = {
    "inH2O": INCH_WATER, "kPa": 1000.0, "lbf": LBF, "N": 1.0, "cfm": CFM, "m³/h": 1 / 3600,
    "ft/min": 0.3048 / 60, "m/s": 1.0, "W": 1.0, "V": 1.0, "%": 0.01, "x": 1.0,
}
# Rows of the annex: name, where its value stands in the record, and what stands beside it.
ROWS = {
    "Hose path": ("raceway/hose_path_m", []),
    "Draw-in, at its worst": ("hose/draw_in_N", [("suction gives {}", "hose/available_N"), (r"suction gives .*?, {} the need", "hose/reserve")]),
    "Friction the hose can bear": ("hose/friction_it_bears", []),
    "Pull-out, at its worst": ("hose/pull_out_N", [("{} at rest", "hose/pull_out_at_rest_N")]),
    "Sealed suction at the valve": ("hose/sealed_suction_Pa", []),
    "Airflow, hose out": ("air/flow_m3_s", [("{} with the hose in the raceway", "air/hose_drawn_in/flow_m3_s")]),
    "Suction at the valve, hose out": ("air/suction_at_valve_Pa", [("{} at the unit", "air/suction_at_unit_Pa")]),
    "Air power": ("air/air_power_W", []),
    "Slowest air in any tube": ("air/velocity_m_s", []),
}
READINGS = {"Sealed suction": "sealed-suction", "Airflow": "flow", "Draw-in": "draw-in", "Pull-out": "pull-out"}


def words(text):
    text = re.sub(r"<[^>]*>", "", text.replace("<br>", " "))
    return re.sub(r"\s+", " ", html.unescape(text)).strip()


def at(record, path):
    for key in path.split("/"):
        record = (record or {}).get(key)
    return record


class Pages:
    def __init__(self, company, key, firm, wrong):
        self.key, self.wrong, self.count = key, wrong, 0
        self.step_m = 0.001 if firm["lengths"] == "metric" else geo.INCH / 16
        folder = company / "site/jobs" / key
        strip = lambda name: re.sub(r"<(script|style|svg)\b.*?</\1>", "", (folder / name).read_text(), flags=re.S)
        self.index, self.office = strip("index.html"), strip("office.html")
        self.record = json.loads((folder / "packet.json").read_text())
        self.value = yaml.safe_load((company / f"jobs/{key}.yaml").read_text())

    def bad(self, *what):
        self.wrong.append(f"{self.key}: " + " ".join(map(str, what)))

    def figure(self, where, printed, value, down=False):
        """A printed figure against the record's: to the nearest, but what may be reached (`down`, factors) rounded down."""
        self.count += 1
        if printed is None or value is None:
            if (printed is None) != (value is None):
                self.bad(where, "is printed", printed, "and recorded", value)
            return
        text = printed.replace("\u00a0", " ")
        number = re.match(r"(-?[\d.]+) (.*)$", text)
        unit = UNITS.get(number[2].split(" ")[0]) if number else None
        if unit is None:
            told, step = geo.length(text), self.step_m
        else:
            decimals = len(number[1].partition(".")[2])
            told, step = float(number[1]) * unit, unit * 10.0**-decimals
        down = down or text.split(" ")[1:2] == ["x"]
        off = value - told - (step / 2 if down else 0.0)
        if abs(off) > step / 2 * (1 + 1e-6) + (1e-6 * step if down else 1e-9):
            self.bad(where, "is printed", printed, "and recorded", value)

    def annex(self):
        """The rows of figures of each inlet, in the job's order."""
        parts = re.split(r"<section>\s*<h3>", self.office)[1:]
        for inlet, part in zip(self.record["inlets"], parts):
            rows = re.findall(r'<tr><th scope="row">(.*?)</th><td data-label="Value">(.*?)</td><td[^>]*>(.*?)</td></tr>', part, flags=re.S)
            rows = {words(name): (words(value), words(means)) for name, value, means in rows}
            for name, (path, beside) in ROWS.items():
                value, means = rows.get(name, (None, ""))
                told = at(inlet, path)
                if value == "any" or name == "Friction the hose can bear" and told is None and value is None:
                    continue
                if name.startswith("Pull-out") and told is None and "with the unit running not known" in means:
                    # What is printed is the pull at rest.
                    told = at(inlet, "hose/pull_out_at_rest_N")
                self.figure(f"{inlet['id']} {name}", value, told)
                for pattern, path in beside:
                    one = r"(-?[\d.]+ (?:inH2O|kPa|lbf|N|cfm|m³/h|x))"
                    found = re.search(pattern.replace("{}", one), means)
                    if found:
                        self.figure(f"{inlet['id']} {name}: {means}", found[1], at(inlet, path))
                    elif value is not None and at(inlet, path) is not None and "at rest" not in pattern and "the hose slides" not in means:
                        self.bad(inlet["id"], name, "says", means, "without", path)
            spent = rows.get("Where the suction is spent")
            if spent:
                told = re.findall(r"(-?[\d.]+ (?:inH2O|kPa)) (?:in the valve|along the hose|round the tail)", spent[0])
                for printed, value in zip(told, inlet["hose"]["spent_Pa"]):
                    self.figure(f"{inlet['id']} spent", printed, value)
                self.figure(f"{inlet['id']} leak", re.search(r"with (.*?) leaking", spent[1])[1], inlet["hose"]["leak_m3_s"])
            self.passage(inlet, part)
            for what, group in [("Draw-in and pull-out", inlet["hose"]), ("Air", inlet["air"])]:
                if ("not_reckoned" in group) != (f"{what} not worked out" in words(part)):
                    self.bad(inlet["id"], what, "is recorded as", group.get("not_reckoned"), "and the annex says otherwise")

    def passage(self, inlet, part):
        table = re.search(r"Longest rigid object that gets through</h4>(.*?)</table>", part, flags=re.S)
        rows = re.findall(r'<th scope="row">(.*?)</th><td>(.*?)</td>', table[1], flags=re.S) if table else []
        if [words(place) for place, _ in rows] != [one["place"] for one in inlet["passage"]]:
            self.bad(inlet["id"], "passage", rows)
        for (place, long), one in zip(rows, inlet["passage"]):
            self.figure(f"{inlet['id']} passage {place}", words(long).replace(" (catches first)", ""), one["longest_m"], down=True)

    def cover(self):
        rows = re.findall(r'<th scope="row"><a href="#[^"]*-route">(.*?)</a></th>(.*?)</tr>', self.index, flags=re.S)
        if len(rows) != len(self.record["inlets"]):
            self.bad(len(rows), "inlets on the cover")
        for (_, row), inlet in zip(rows, self.record["inlets"]):
            cell = lambda label: words(re.search(rf'data-label="{label}">(.*?)</td>', row, flags=re.S)[1])
            self.figure(f"{inlet['id']} path on the cover", cell("Hose path"), inlet["raceway"]["hose_path_m"])
            bends = [bend["angle_deg"] for bend in inlet["raceway"]["bends"]]
            turn, count = re.fullmatch(r"([\d./-]+)° in (\d+)", cell("Bends")).groups()
            if degrees(turn) != sum(bends) or int(count) != len(bends) or abs(inlet["raceway"]["bend_total_deg"] - sum(bends)) > 1e-6:
                self.bad(inlet["id"], "bends on the cover", cell("Bends"), "for", bends)
            stamp = re.search(r'class="stamp ([\w-]+)', row)[1]
            if stamp != inlet["verdict"]:
                self.bad(inlet["id"], "stamped", stamp, "on the cover and recorded", inlet["verdict"])

    def checks(self):
        """The readings: what is expected, its limits, what was typed in, and whether that passes by what is printed."""
        cells = {}
        for name, row in re.findall(r'<tr><th scope="row">([\w -]+?) <span class="fine">.*?</th>(.*?)</tr>', self.index, flags=re.S):
            if name in READINGS:
                for label, body in re.findall(r'<td data-label="(.*?)">(.*?)</td>', row, flags=re.S):
                    cells[html.unescape(label)] = body
        for spec, inlet in zip(self.value["inlets"], self.record["inlets"]):
            for name, key in READINGS.items():
                told = next((one for one in inlet["readings"] if one["reading"] == key), None)
                body = cells.get(f"{inlet['name']}: {name}")
                if body is None:
                    self.bad(inlet["id"], "has no reading", name)
                    continue
                self.reading(f"{inlet['id']} {name}", words(body), told, (spec.get("readings") or {}).get(key))

    def reading(self, where, said, told, typed):
        if told is None:
            if "not worked out" not in said:
                self.bad(where, "is printed", said, "and not recorded")
            return
        found = re.search(r"(?:up to )?(-?[\d.]+ [^ ;]+)(?: or more)?(?:; call under (.*?))?(?:; call over (.*?))?$", said)
        taken, verdict = None, None
        if typed:
            read = re.match(r"(-?[\d.]+ \S+): (pass|CALL) ", said)
            if not read:
                return self.bad(where, "was typed in as", typed, "and prints", said)
            taken, verdict = read.groups()
            self.figure(f"{where}, taken", taken, told["taken"])
        elif told["taken"] is not None:
            self.bad(where, "nobody took", told["taken"])
        self.figure(f"{where}, expected", found[1], max(told["expected"], 0.0) if "draw-in" in told["reading"] else told["expected"])
        value = lambda text: float(text.split(" ")[0]) * UNITS[text.split(" ")[1]]
        # Limits are printed to the side that keeps them, at most a whole place away.
        for printed, limit, side in [(found[2], told["least"], 1), (found[3], told["most"], -1)]:
            self.count += 1
            if (printed is None) != (limit is None):
                self.bad(where, "limit", printed, "for", limit)
            elif printed:
                number, unit = printed.split(" ")[:2]
                step = UNITS[unit] * 10.0 ** -len(number.partition(".")[2])
                past = (value(printed) - max(limit, 0.0)) * side
                if past < -1e-4 * step or past > step * 1.0001:
                    self.bad(where, "limit", printed, "for", limit)
        if taken:
            low = found[2] and value(taken) < value(found[2]) - 1e-9
            high = found[3] and value(taken) > value(found[3]) + 1e-9
            if told["passes"] != (verdict == "pass"):
                self.bad(where, "is printed", verdict, "and recorded", told["passes"])
            if not (low or high) and verdict != "pass":
                self.bad(where, "passes by what is printed and is told to call:", said)

    def plan(self):
        """How many sticks, and whether fewer would do."""
        text, material = words(self.index), self.record["material"]
        found = re.search(r"(\d+) sticks? of (.*?), (fewest possible|fewest for these pieces|at least (\d+) are needed)", text)
        if not found:
            if material["sticks"] is not None:
                self.bad("no sticks are told for", material["sticks"])
            return
        bound = int(found[4]) if found[4] else int(found[1])
        if int(found[1]) != material["sticks"] or bound != material["sticks_lower_bound"] or material["proven"] != (not found[4]):
            self.bad("sticks told as", found[0], "for", material["sticks"], material["sticks_lower_bound"], material["proven"])


def degrees(text):
    whole, _, part = text.rpartition("-") if "/" in text else (text, "", "")
    top, low = (part.split("/") + ["1"])[:2] if part else ("0", "1")
    return float(whole or 0) + float(top) / float(low)


def main(company):
    company = pathlib.Path(company)
    firm = yaml.safe_load((company / "content/company.yaml").read_text())
    wrong, count = [], 0
    for path in sorted((company / "jobs").rglob("*.yaml")):
        key = path.relative_to(company / "jobs").with_suffix("").as_posix()
        pages = Pages(company, key, firm, wrong)
        pages.annex()
        pages.cover()
        pages.checks()
        pages.plan()
        count += pages.count
    json.dump({"wrong": wrong, "count": count}, sys.stdout)


if __name__ == "__main__":
    main(*sys.argv[1:])

"""Reads what packets tell of hose and air back, and works it out again from the words of the jobs and the catalog.

    python printed_air.py COMPANY

prints {"wrong": [...], "seen": {...}}: what is wrong, and how many figures of each kind were held against another.
Every figure of `packet.json` is held against a second reckoning (`hose_air.py`, `inlet_figures.py`), every figure on
the office's annex, the route sheets, the cut lists and the check sheet against `packet.json`: to the step that it is
printed by, and a limit never on the side that allows more.
"""

import collections
import html
import json
import math
import multiprocessing
import pathlib
import re
import sys

import geometry as geo
import hose_air
import inlet_figures as again
from air import STANDARD_DENSITY, air
from hose_air import Motion
from packet_air import AirPages, said
from printed_cuts import words

# On a straight one step is exact; each bend is walked in two dozen.
hose_air.STEP_M = 10.0
# The second reckoning walks in steps and marches; the reserve of a hose whose friction may grow takes both.
CLOSE, WIDE = 0.01, 0.03


class Air(AirPages):
    """The same, and every figure of the record reckoned again."""

    def close(self, what, found, expected, tolerance=CLOSE):
        """A figure of the record against the second reckoning."""
        if expected is None or found is None:
            if (expected is None) != (found is None):
                self.bad(what, "is", found, "in the record and", expected, "reckoned again")
            return
        self.seen["reckoned"] += 1
        # A hose that all but falls out by itself takes a small rest of large forces.
        near = 0.05 if "pull-out" in what else 0.0
        if abs(found - expected) > tolerance * abs(expected) + near:
            self.bad(what, "is", found, "in the record and", expected, "reckoned again")

    def inlets(self):
        for spec, line, record in zip(self.value["inlets"], self.job.inlets, self.record["inlets"]):
            hose_part = next(h for h in self.parts["hoses"] if h["id"] == spec["hose"])
            known = air(self.value, spec, self.parts)
            moved = Motion(self.value, spec, self.parts)
            self.air(spec["id"], record["air"], known)
            self.hose(spec["id"], record, moved, known)
            found, _ = again.readings(self.value, spec, self.parts, moved, known, self.asked)
            self.readings(spec["id"], record, found)
            self.spare(record, hose_part)
            self.set(spec["id"], line)
            if "misclosure_m" in record:
                far = float(geo.np.linalg.norm(line.end - line.ends)) if line.ends is not None else None
                if far is None or abs(far - record["misclosure_m"]) > 1e-6:
                    self.bad(spec["id"], "misses by", record["misclosure_m"], "for", far)

    def air(self, who, record, known):
        for key in ["flow_m3_s", "velocity_m_s", "suction_at_valve_Pa", "suction_at_unit_Pa", "air_power_W"]:
            self.close(f"{who} {key}", record[key], known and known[key], 2 * CLOSE if "power" in key else CLOSE)
            if known and key != "velocity_m_s":
                found, expected = record["hose_drawn_in"][key], known["hose_drawn_in"][key]
                self.close(f"{who} drawn in {key}", found, expected, 2 * CLOSE)

    def hose(self, who, record, moved, known):
        told = record["hose"]
        if not moved.known:
            if told["reserve"] is not None or "not_reckoned" not in told:
                self.bad(who, "has a reserve that cannot be told:", told)
            return
        least = moved.least()
        reserve, _, _ = min(least, key=lambda found: found[0])
        self.close(f"{who} reserve", told["reserve"], None if math.isinf(reserve) else reserve)
        for case, found in zip(told["cases"], least):
            self.close(f"{who} reserve of a case", case["reserve"], None if math.isinf(found[0]) else found[0])
        self.close(f"{who} sealed", told["sealed_suction_Pa"], moved.sealed)
        self.spent(who, told, moved)
        bears = min(again.factor_for(moved, spent, 1.0) for spent in moved.ways())
        self.close(f"{who} friction it bears", told["friction_it_bears"], None if math.isinf(bears) else bears, WIDE)
        at_rest, running = moved.pulls(known and known["hose_drawn_in"]["suction_at_valve_Pa"])
        self.close(f"{who} pull-out at rest", told["pull_out_at_rest_N"], at_rest)
        pulled = max([at_rest, *running]) if running or moved.valve["switch"] != "door" else None
        self.close(f"{who} pull-out", told["pull_out_N"], pulled, WIDE)
        if not math.isclose(told["draw_in_N"], told["draw_in_suction_Pa"] * moved.area, rel_tol=1e-9):
            self.bad(who, "is drawn in by", told["draw_in_N"], "of", told["draw_in_suction_Pa"])
        if not math.isclose(told["available_N"], told["had_suction_Pa"] * moved.area, rel_tol=1e-9):
            self.bad(who, "has", told["available_N"], "of", told["had_suction_Pa"])

    def spent(self, who, told, moved):
        """The shares at the place that the record names, and that they add up."""
        total, at = sum(told["spent_Pa"]), told["at_m"]
        if not math.isclose(total, told["had_suction_Pa"], rel_tol=1e-6):
            self.bad(who, "spends", told["spent_Pa"], "of", told["had_suction_Pa"])
        if bool(told["wanted"]) == bool(moved.gaps):
            self.bad(who, "wants", told["wanted"], "of", moved.part["id"], moved.valve["id"])
        if not moved.gaps:
            if total and max(told["spent_Pa"]) != total:
                self.bad(who, "spends", told["spent_Pa"], "with gaps that nobody knows")
            return
        flow, shares = moved.leak(at)
        self.close(f"{who} leak at {at:.2f} m", told["leak_m3_s"], flow / STANDARD_DENSITY, 0.02)
        for name, share, found in zip(["valve", "hose", "tail"], told["spent_Pa"], shares):
            self.seen["reckoned"] += 1
            if abs(share - found) > 0.02 * total:
                self.bad(who, "spends", share, "at", name, "and", found, "reckoned again")

    def readings(self, who, record, found):
        told = {r["reading"]: r for r in record["readings"]}
        if sorted(told) != sorted(found):
            self.bad(who, "has readings", sorted(told), "for", sorted(found))
        for key, (expected, least, most) in found.items():
            if key not in told:
                continue
            # What a scale reads is the small rest of large forces.
            for name, wanted in [("expected", expected), ("least", least), ("most", most)]:
                value = told[key][name]
                if (value is None) != (wanted is None):
                    self.bad(who, key, name, "is", value, "for", wanted)
                elif wanted is not None:
                    self.seen["readings"] += 1
                    step = said(self.cell(record, key)[1])[0][1] * 2 if name != "expected" else 0.0
                    if abs(value - wanted) > WIDE * abs(wanted) + step + (0.15 if key == "draw-in" else 0.05):
                        self.bad(who, key, name, "is", value, "and", wanted, "reckoned again")

    def annex(self):
        for spec, line, record in zip(self.value["inlets"], self.job.inlets, self.record["inlets"]):
            name = re.escape(html.escape(record["name"]))
            part = re.search(rf"<h3>{name}</h3>(.*?)(?=<h3>|$)", self.office, flags=re.S)[1]
            rows = re.findall(r'<tr><th scope="row">(.*?)</th><td data-label="Value">(.*?)</td>'
                              r'<td data-label="What it means">(.*?)</td></tr>', part, flags=re.S)
            rows = {words(n): (words(v), words(m)) for n, v, m in rows}
            self.figures(record, rows, part)
            self.wire(spec, line, record, rows)
            table = re.findall(r'<tr><th scope="row">([^<]*)</th><td>(.*?)</td></tr>', part, flags=re.S)
            self.passage(spec, line, record, [(words(p), words(v)) for p, v in table])

    def wire(self, spec, line, record, rows):
        told = record["wire"]
        if spec.get("onward") is None or not self.parts.get("wire"):
            if "Control wire" in rows or told.get("length_m") is not None:
                self.bad(spec["id"], "has a wire that cannot be told")
            return
        expected = again.wire(self.job, line, self.parts)
        for key, value in expected.items():
            self.close(f"{spec['id']} wire {key}", told[key], value, 1e-4)
        self.lengths(f"{spec['id']} wire", rows["Control wire"][0], [told["length_m"]])
        lost = " ".join(rows["Voltage lost in the control wire"])
        self.tells(f"{spec['id']} wire", lost, [told["drop_V"], told["drop_share"]])

    def passage(self, spec, line, record, table):
        who, part = spec["id"], next(h for h in self.parts["hoses"] if h["id"] == spec["hose"])
        told = record["passage"]
        if spec.get("onward") is None or "throat" not in part:
            if told or table:
                self.bad(who, "tells passage that nobody knows")
            return
        expected = again.passage(self.job, line, self.parts, part)
        letters = {o["id"]: o["mark"] for kind in ("inlets", "trunks") for o in self.record[kind]}
        if len(expected) != len(told) or len(told) != len(table):
            return self.bad(who, "passes", len(told), "turns,", len(table), "told, for", len(expected))
        for (k, n, longest), row, (place, says) in zip(expected, told, table):
            owner = spec["id"] if k is None else self.job.ids[k]
            begins = f"{letters[owner]}B{n}" if n else f"the junction into trunk {owner}"
            if not row["place"].startswith(begins) or place != row["place"]:
                self.bad(who, "passes", row["place"], "for", begins)
            self.close(f"{who} passage at {place}", row["longest_m"], longest, 1e-6)
            self.lengths(f"{who} passage at {place}", says, [row["longest_m"]], down=True)
        self.catches(who, part, told, [says for _, says in table])


def one(company, key):
    parts, wrong = geo.catalog(company), []
    metric = geo.yaml.safe_load((company / "content/company.yaml").read_text())["lengths"] == "metric"
    packet = Air(company, key, parts, 0.001 if metric else geo.INCH / 16, wrong)
    packet.between()
    packet.inlets()
    packet.trunks()
    packet.checked()
    packet.annex()
    packet.findings()
    return wrong, packet.seen


def main(company):
    company = pathlib.Path(company)
    keys = [path.stem for path in sorted((company / "jobs").glob("*.yaml"))]
    wrong, seen = [], collections.Counter()
    with multiprocessing.Pool() as pool:
        for found, counted in pool.starmap(one, [(company, key) for key in keys], chunksize=1):
            wrong += found
            seen += counted
    json.dump({"wrong": wrong, "seen": seen}, sys.stdout)


if __name__ == "__main__":
    main(*sys.argv[1:])

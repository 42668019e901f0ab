"""Hose and air of a company's jobs, reckoned a second time, by stepping instead of by formulas.

    longsweep inspect --json > figures.json
    python hose_air.py COMPANY figures.json

prints one JSON object: job -> list of inlets with `hose` and `air` as in `inspect --json`; `null`
where the catalog or the job lacks what a figure needs.

The hose is walked in small steps with the balance's own differential equation (`hose.py`); the air is
marched through every part (`air.py`).
"""

import json
import math
import pathlib
import sys

import numpy as np
import yaml

import geometry
import hose
from air import (
    STANDARD_DENSITY, WEIGHT_N_M, air, by_id, curve_of, leak_of_others, line_loss_of, quantity, raceway_of, sealed_by,
)
from geometry import length

STEP_M = 0.016
# All of the suction spent in the valve, along the hose, round its tail.
PURE = [[1.0, 0, 0], [0, 1.0, 0], [0, 0, 1.0]]


class Motion:
    """An inlet's hose in its raceway and what draws it; `None` for `route` or `load` where they cannot be told."""

    def __init__(self, job, inlet, parts):
        self.part, self.valve = by_id(parts, "hoses", inlet["hose"]), by_id(parts, "valves", inlet["valve"])
        self.route = hose.sampled(*raceway_of(inlet, parts), step=STEP_M)
        self.known = "friction" in self.part and self.route is not None
        if not self.known:
            return
        part = self.part
        self.load = {k: float(v) for k, v in part["friction"].items()}
        self.load |= {k: length(part[k]) for k in ("length", "outside")}
        self.load["weight"] = quantity(part["weight"], WEIGHT_N_M)
        self.walk = hose.Walk(self.route, self.load["weight"])
        self.area = math.pi / 4 * self.load["outside"] ** 2
        self.curve, self.most = curve_of(by_id(parts, "units", job["unit"]["model"]))
        self.others = leak_of_others(job, inlet, parts)
        self.sealed = sealed_by(self.curve, self.others)
        self.gaps, self.leaks = None, {}
        if "opening" in self.valve and "tail" in part:
            tube = parts["tube"][0]
            self.gaps = {"bore": length(tube["bore"]), "rough": length(tube["roughness"])}
            self.gaps |= {"outside": self.load["outside"], "opening": length(self.valve["opening"])}
            self.gaps["tail"] = length(part["tail"])
            self.loss = line_loss_of(job, inlet, parts)
        self.tail_area = math.pi / 4 * self.gaps["tail"] ** 2 if self.gaps else self.area

    def given(self, flow, suction):
        """What the unit holds."""
        return float(self.curve(min(self.most, flow / STANDARD_DENSITY + self.others(suction))))

    def leak(self, x):
        """The leak in kg/s and the three shares of the suction with so much of the hose in."""
        return self.once(x, None, self.given, self.loss)

    def once(self, x, suction, given, loss):
        """The leak at a place, told once for all who ask; `suction` tells one way of drawing from another."""
        key = (round(x, 6), suction)
        if key not in self.leaks:
            self.leaks[key] = hose.leak(x, self.gaps, given, loss)
        return self.leaks[key]

    def ways(self):
        """How the suction is spent over the travel: once where the gaps tell, else in the three pure cases."""
        if self.gaps:
            return [lambda x: self.leak(x)[1]]
        return [lambda x, k=k: [self.sealed * share for share in k] for k in PURE]

    def open_ways(self, at_valve_in):
        """The same with the handle open."""
        if self.gaps:
            return [lambda x: self.once(x, at_valve_in, lambda *_: at_valve_in, lambda *_: 0.0)[1]]
        return [lambda x, k=k: [at_valve_in * share for share in k] for k in PURE]

    def pulls(self, at_valve_in, friction=1.0):
        """Force to pull the hose out with the unit at rest, and, where it may run, the greatest then."""
        load = self.load | {"out": friction * self.load["out"]}
        at_rest = hose.pull_out(self.walk, load, lambda x: np.zeros(3))
        if self.valve["switch"] != "door" or at_valve_in is None:
            return at_rest, []
        areas = np.array([self.area, self.area, self.tail_area])
        ways = self.open_ways(at_valve_in)
        return at_rest, [hose.pull_out(self.walk, load, lambda x, w=w: areas * w(x)) for w in ways]

    def least(self):
        """Least reserve of the travel with the suction needed and had there, in each way."""
        return [hose.travel(self.walk, self.load, self.tail_area, spent) for spent in self.ways()]


def motion(job, inlet, parts, at_valve_in):
    """Draw-in and pull-out of an inlet's hose; `at_valve_in` is the suction at the valve, hose in and open."""
    moved = Motion(job, inlet, parts)
    if not moved.known:
        return None
    reserve, need, had = min(moved.least(), key=lambda found: found[0])
    at_rest, running = moved.pulls(at_valve_in)
    told = running or moved.valve["switch"] != "door"
    return {
        "reserve": reserve,
        "draw_in_suction_Pa": need,
        "had_suction_Pa": had,
        "draw_in_N": need * moved.area,
        "available_N": had * moved.area,
        "pull_out_N": max([at_rest, *running]) if told else None,
        "pull_out_at_rest_N": at_rest,
    }


def figures(job, inlet, parts):
    known = air(job, inlet, parts)
    at_valve_in = known and known["hose_drawn_in"]["suction_at_valve_Pa"]
    return {"id": inlet["id"], "hose": motion(job, inlet, parts, at_valve_in), "air": known}


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

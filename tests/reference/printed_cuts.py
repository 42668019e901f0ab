"""Reads the packets of a company back and works them out again from the words of its jobs.

    python printed_cuts.py COMPANY

prints a list of what is wrong: sums of the cut lists, cuts and pieces against the tubes of `geometry.py`, sticks that
are cut into more than they are long, and the places of everything that is set out or bored. Every length is read as
it is printed.
"""

import html
import json
import pathlib
import re
import sys

import yaml

import geometry as geo

SAME_M = 1e-6


def words(text):
    text = re.sub(r"<[^>]*>", "", text.replace("<br>", " "))
    return re.sub(r"\s+", " ", html.unescape(text)).strip()


class Packet:
    """One job's page beside what its file says."""

    def __init__(self, company, key, parts, step_m, wrong):
        self.key, self.parts, self.step_m, self.wrong = key, parts, step_m, wrong
        folder = company / "site/jobs" / key
        page = (folder / "index.html").read_text()
        self.page = re.sub(r"<(script|style|svg)\b.*?</\1>", "", page, flags=re.S)
        self.record = json.loads((folder / "packet.json").read_text())
        self.value = yaml.safe_load((company / "jobs" / f"{key}.yaml").read_text())
        self.job = geo.Job(self.value, parts)

    def bad(self, *what):
        self.wrong.append(f"{self.key}: " + " ".join(map(str, what)))

    def found(self, pattern):
        return re.findall(pattern, self.page, flags=re.S)

    def lines(self):
        """Every line: id, letters, how it is written, how it was followed."""
        letters = {o["id"]: o["mark"] for kind in ("inlets", "trunks") for o in self.record[kind]}
        for spec, line in zip(self.value["inlets"], self.job.inlets):
            yield spec["id"], letters[spec["id"]], spec, line
        for k, name in enumerate(self.job.ids):
            yield name, letters[name], self.value["trunks"][k], self.job.trunks[k]

    def cuts(self):
        """The cut lists; returns each piece with its printed length."""
        clear = {}
        for _, letters, _, line in self.lines():
            clear.update({f"{letters}{n + 1}": m for n, m in enumerate(line.tubes()[0])})
        rows = self.found(
            r'<div class="cut-tube" role="row">(.*?)(?=<div class="cut-(?:tube|between)" role="row">|<footer)'
        )
        pieces, seen = {}, []
        for row in rows:
            mark = words(re.search(r'cut-mark[^>]*>(.*?)</b>', row, flags=re.S)[1])
            seen.append(mark)
            said, cut = re.search(r'<div role="cell">(.*?)=<br><b class="length">(.*?)</b>', row, flags=re.S).groups()
            if words(cut) == "not known":
                continue
            plan, *deducts = [geo.length(term) for term in words(said).split(" − ")]
            short = re.fullmatch(r"(.*) too short", words(cut))
            cut_m = -geo.length(short[1]) if short else geo.length(words(cut))
            if abs(cut_m - clear[mark]) > self.step_m / 2 + SAME_M:
                self.bad(mark, "is cut", words(cut), "but wants", clear[mark])
            if abs(plan - sum(deducts) - cut_m) > SAME_M:
                self.bad(mark, "does not add up:", words(said), "=", words(cut))
            deduct = words(re.search(r'<span>− (.*?) =</span> <output', row, flags=re.S)[1])
            if abs(plan - geo.length(deduct) - cut_m) > SAME_M:
                self.bad(mark, "taped as planned comes to another cut:", words(said), "with", deduct)
            named = re.findall(
                r'<span class="piece"><b class="length">(.*?)</b> <b class="length">(.*?)</b>', row, flags=re.S
            )
            for name, long in named or ([] if short else [(mark, cut)]):
                pieces[words(name)] = geo.length(words(long))
        if sorted(seen) != sorted(clear):
            self.bad("rows of tubes", sorted(seen), "for", sorted(clear))
        return pieces

    def sticks(self, pieces):
        """The cutting plan: each piece once, on no stick more than it holds, and no more left than there is."""
        tube = self.parts["tube"][0]
        stick, kerf = geo.length(tube["stick"]), geo.length(tube["kerf"])
        cut = []
        for marks in self.found(r"sticks? whole(?:, [^<]* each)?</b> (.*?)</p>"):
            cut += [(mark, None) for mark in words(marks).split(", ")]
        for row in self.found(r'<li><input type="checkbox" data-note="job/loaded/stick \d+"(.*?)</li>'):
            on = re.findall(r'<b>([^<]*)</b> <b class="length">(.*?)</b>', row)
            on = [(mark, geo.length(words(long))) for mark, long in on]
            total = sum(m for _, m in on)
            if total + kerf * (len(on) - 1) > stick + SAME_M:
                self.bad("more than a stick:", on)
            left = re.match(r"left ([^,]*)", words(row[row.index('"left"') + 7:]))[1]
            if geo.length(left) > max(stick - total - kerf * len(on), 0.0) + SAME_M:
                self.bad("left", left, "of", on)
            cut += on
        made = {mark for mark in pieces if mark in {name for name, _ in cut}}
        if len(cut) != len(made):
            self.bad("cut twice or for nothing:", sorted(mark for mark, _ in cut))
        for mark, m in cut:
            if m is not None and abs(m - pieces.get(mark, -1.0)) > SAME_M:
                self.bad(mark, "is", m, "on the stick and", pieces.get(mark), "in the list")
        return made

    def made(self, pieces, cut):
        """Pieces with the gaps of their couplings make up the tube; those that are made are cut."""
        for inlet in self.record["inlets"]:
            self.part(inlet["raceway"], ["raceway", "either", "trunk"], cut)
            self.part(inlet["onward"] or {}, ["trunk", "either", "raceway"], cut)
        for trunk in self.record["trunks"]:
            self.part(trunk, ["trunk", "either", "raceway"], cut)

    def part(self, part, uses, cut):
        gap = geo.figure(geo.first_of(self.parts, "coupling", uses), "gap")
        for tube in part.get("tubes", []):
            long = tube["pieces_m"]
            if long and abs(sum(long) + gap * (len(long) - 1) - tube["clear_m"]) > SAME_M:
                self.bad(tube["mark"], "is made of", long)
            names = [tube["mark"]] if len(long) == 1 else [tube["mark"] + chr(97 + n) for n in range(len(long))]
            for name in names:
                if name not in cut:
                    self.bad(name, "is cut from no stick")

    def places(self):
        """Bends, stops, valves, junctions and bores, from the datums or the line's start."""
        rows = {}
        for mark, line, cells in self.found(r'aria-label="([^"]*) of ([^"]*) set out"> [^<]*</b>(.*?)</div>'):
            cells = [words(cell) for cell in cells.split("</span><span>")]
            rows.setdefault(html.unescape(line).removeprefix("trunk "), []).append((html.unescape(mark), cells))
        bores = {}
        for row in self.found(r"<tr>(<th[^>]*><input[^>]*bored\">.*?)</tr>"):
            mark, _, bit, *cells = [words(cell) for cell in re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", row, flags=re.S)]
            bores[mark] = (bit, cells[:3])
        for name, letters, spec, line in self.lines():
            self.of_line(line, self.expected(letters, spec, line), rows.get(name, []))
            path = spec["raceway"]["path"] + spec["onward"]["path"] if "raceway" in spec else spec["path"]
            self.bored(line, letters, path, bores)
        if bores:
            self.bad("bored, and nobody asked for it:", sorted(bores))

    def expected(self, letters, spec, line):
        """Mark and station of everything that is set out on a line."""
        found = [("VALVE" if "raceway" in spec else "START", 0.0)]
        found += [(f"{letters}B{n + 1}", line.stations[n + 1]) for n in range(len(line.bends))]
        if "raceway" in spec:
            found.append(("STOP", sum(geo.length(step["run"]) for step in spec["raceway"]["path"] if "run" in step)))
        for _, other, _, joining in self.lines():
            into = joining.into
            if isinstance(into, dict) and into.get("at") != "start" and self.job.trunks[
                self.job.ids.index(into["trunk"])
            ] is line:
                found.append((f"for {other}", joining.joins_at))
        return sorted(found, key=lambda item: item[1])

    def of_line(self, line, expected, rows):
        if sorted(mark for mark, _ in rows) != sorted(mark for mark, _ in expected):
            return self.bad("set out:", [mark for mark, _ in rows], "for", [mark for mark, _ in expected])
        for (mark, station), (told, cells) in zip(expected, rows):
            self.at(f"{mark} at {station:.3f} m", line, station, cells)
            if told != mark:
                self.bad(told, "stands where", mark, "should")

    def bored(self, line, letters, path, bores):
        along, found = 0.0, []
        for step in path:
            if "run" in step:
                crosses = step.get("crosses") or []
                found += [(along + geo.length(c["at"]), c) for c in crosses if isinstance(c, dict)]
                along += geo.length(step["run"])
        for n, (station, crossing) in enumerate(sorted(found, key=lambda item: item[0])):
            bit, cells = bores.pop(f"{letters}X{n + 1}")
            self.at(f"{letters}X{n + 1}", line, station, cells)
            if abs(geo.length(bit) - geo.length(crossing["hole"])) > self.step_m / 2 + SAME_M:
                self.bad(f"{letters}X{n + 1}", "is bored", bit, "for", crossing["hole"])

    def at(self, mark, line, station, cells):
        """Whether three cells, east or west, north or south, and height, tell a place of a line."""
        point = line.at(station)
        here = [self.across(cells[0], 0, line), self.across(cells[1], 1, line), self.height(cells[2], line)]
        if any(abs(a - b) > self.step_m / 2 + SAME_M for a, b in zip(here, point)):
            self.bad(mark, "is set out at", cells, "and stands at", [round(float(m), 4) for m in point])

    def across(self, cell, axis, line):
        datum = re.match(r"(?:on )?D(\d+)", cell)
        base = line.start[axis]
        if datum:
            given = self.value["datums"][int(datum[1]) - 1]
            base = geo.length(given["east" if axis == 0 else "north"])
        far = re.search(r"(?:^|, )([^,]*) ([EWNS])$", cell)
        if not far:
            return base
        return base + geo.length(far[1]) * (1 if far[2] == "EN"[axis] else -1 if far[2] == "WS"[axis] else geo.math.nan)

    def height(self, cell, line):
        base, *far = re.split(r" ([+−]) ", cell)
        up = line.start[2] if base == "start" else geo.length(self.value["levels"][int(base[1:]) - 1]["up"])
        return up + (geo.length(far[1]) * (1 if far[0] == "+" else -1) if far else 0.0)


def main(company):
    company = pathlib.Path(company)
    parts, wrong = geo.catalog(company), []
    metric = yaml.safe_load((company / "content/company.yaml").read_text())["lengths"] == "metric"
    for path in sorted((company / "jobs").glob("*.yaml")):
        packet = Packet(company, path.stem, parts, 0.001 if metric else geo.INCH / 16, wrong)
        pieces = packet.cuts()
        packet.made(pieces, packet.sticks(pieces))
        packet.places()
    json.dump(wrong, sys.stdout)


if __name__ == "__main__":
    main(*sys.argv[1:])

"""Revisions of a standard changed by lot, and what the comparison and the jobs by revision print of that.

    python printed_changes.py change COMPANY SEED

writes revision 2026-2 from 2026-1 with changes by lot, and what they are to `changed.json`; after a publish

    python printed_changes.py read COMPANY

prints a list of what is wrong. `today.json` holds the verdict of every job by 2026-2, as `inspect` found it.
"""

import copy
import html
import json
import pathlib
import random
import re
import sys

import yaml

from printed_standing import Packet

# The key of each figure, and whether more of it asks for more.
FIGURES = {
    "hose-room": ("allowance", True), "one-level": ("tolerance", False), "misclosure": ("tolerance", False),
    "bend-total": ("limit", False), "bend-radius": ("least", True), "bend-spacing": ("least", True),
    "stubs": ("least", True), "draw-in": ("reserve", True), "pull-out": ("limit", False),
    "air-velocity": ("least", True), "suction-at-valve": ("least", True), "wire-drop": ("limit", False),
    "circuit": ("limit", False),
}
NEVER_WAIVED = {
    "bores", "circuit", "wire-drop", "wye-junctions", "bore-size", "clash", "cut-tubes", "fitting-room", "open-ends",
}
# Judged whatever a firm's standard says.
ALWAYS = {"hose-room", "fitting-room", "cut-tubes", "clash", "open-ends", "bores", "bore-size"}
PER = ["joint", "inlet", "job"]
WHEN = ["load", "rough-in", "trim", "prove", "hand-over"]
DUTIES = {"seal": ["door", "cuff"], "grips": ["anywhere", "full-length"], "switch": ["door", "cuff", "tab"]}


def words(text):
    text = re.sub(r"<[^>]*>", "", text.replace("<br>", " "))
    return re.sub(r"\s+", " ", html.unescape(text)).strip()


def name(clause):
    return clause["id"] if clause["clause"] == "by-eye" else clause["clause"]


def titled(clause):
    return f"{clause['no']} {clause['title']}"


def change(folder, seed):
    dice = random.Random(seed)
    file = folder / "content/standard/2026-1.yaml"
    old = yaml.load(file.read_text(), yaml.BaseLoader)
    new = copy.deepcopy(old)
    new.update(revision="2026-2", effective="2026-06-01", changes=[])
    told = {}
    for part in new["parts"]:
        kept = []
        for clause in part["clauses"]:
            lot = dice.random()
            if lot < 0.08:
                told[name(clause)] = {"group": "Dropped", "says": ["It said:"], "title": titled(clause)}
                if name(clause) in ALWAYS:
                    told[name(clause)]["says"].append("held to it all the same")
                continue
            if lot < 0.5:
                was = copy.deepcopy(clause)
                found = [one for one in [changed(dice, clause)] if one]
                if found:
                    ways = [way for way, _ in found]
                    group = next(way for way in ("Loosened", "Tightened", "Reworded") if way in ways)
                    told[name(clause)] = {"group": group, "says": [say for _, say in found], "title": titled(clause)}
                    assert clause != was
            kept.append(clause)
        part["clauses"] = kept
    new["parts"] = [part for part in new["parts"] if part["clauses"]]
    last = new["parts"][-1]["clauses"]
    number = last[0]["no"].split(".")[0]
    last.append({"clause": "by-eye", "no": f"{number}.99", "id": "fresh", "title": "Fresh", "level": "must",
                 "per": "job", "when": "prove", "tick": "Fresh", "text": "A new clause.", "because": "It is new."})
    told["fresh"] = {"group": "New", "says": ["A new clause."], "title": titled(last[-1])}
    for key, one in told.items():
        one["why"] = f"Since {key} was so." if dice.random() < 0.5 else None
        if one["why"]:
            new["changes"].append({"clause": key, "because": one["why"]})
    if not new["changes"]:
        del new["changes"]
    text = yaml.safe_dump(new, sort_keys=False, allow_unicode=True, width=10_000)
    # Truths and days are plain words of the format.
    text = re.sub(r"^( *(?:- )?(?:waivable|effective): )'(.*)'$", r"\1\2", text, flags=re.M)
    (folder / "content/standard/2026-2.yaml").write_text(text)
    (folder / "changed.json").write_text(json.dumps(told))


def changed(dice, clause):
    """One change of a clause by lot: which way it goes and what is told of it; None where it is not to be had."""
    kinds = ["level", "text", "because", "source", "title", "waivable"]
    if clause["clause"] == "by-eye":
        kinds += ["tick", "per", "when", "for"]
    elif clause["clause"] in FIGURES:
        kinds += ["figure"] * 6
    kind = dice.choice(kinds)
    return globals()[f"of_{kind.replace('-', '_')}"](dice, clause)


def of_level(dice, clause):
    if "fails-at" in clause:
        return None
    was = clause["level"]
    clause["level"] = {"must": "should", "should": "must"}[was]
    way = "Loosened" if was == "must" else "Tightened"
    return way, f"Was a {was}, is a {clause['level']}."


def reworded(key, lead, told):
    """Other words under a key, and how the comparison tells those that stood there."""

    def change(dice, clause):
        was = clause[key]
        clause[key] = lead + was
        return "Reworded", f"{told}: {plain(was)}"

    return change


of_text = reworded("text", "Reworded: ", "Said")
of_because = reworded("because", "Reworded: ", "Reason was")
of_source = reworded("source", "Reworded, ", "Source was")


def of_title(dice, clause):
    was = clause["title"]
    clause["title"] = "Reworded " + was.lower()
    return "Reworded", f"Was called: {was}"


def of_waivable(dice, clause):
    may = clause.get("waivable", "no" if name(clause) in NEVER_WAIVED else "yes")
    clause["waivable"] = {"yes": "no", "no": "yes"}[may]
    return ("Loosened", "A job may now set it aside.") if may == "no" else ("Tightened", "A job may no longer set it aside.")


def of_tick(dice, clause):
    was = clause["tick"]
    clause["tick"] = "Reworded: " + was
    return "Reworded", f"The line to tick said: {was}"


def of_per(dice, clause):
    was = clause["per"]
    clause["per"] = dice.choice([per for per in PER if per != was])
    return "Loosened" if PER.index(clause["per"]) > PER.index(was) else "Tightened", "Was ticked once for"


def of_when(dice, clause):
    was = clause["when"]
    clause["when"] = dice.choice([when for when in WHEN if when != was])
    return "Loosened" if WHEN.index(clause["when"]) > WHEN.index(was) else "Tightened", "Was ticked once for"


def of_for(dice, clause):
    was = clause.get("for") or {}
    now = {duty: dice.choice(of) for duty, of in DUTIES.items() if dice.random() < 0.4}
    if now == was:
        return None
    clause.pop("for", None)
    if now:
        clause["for"] = now
    valves = [dict(zip(DUTIES, duties)) | {"rough-in": set_at} for duties in every(list(DUTIES.values())) for set_at in ("frame", "box")]
    concerns = lambda line, valve: all(valve[duty] == of for duty, of in line.items())
    lost = any(concerns(was, valve) and not concerns(now, valve) for valve in valves)
    return "Loosened" if lost else "Tightened", "Was ticked once for"


def every(lists):
    return [[first, *rest] for first in lists[0] for rest in every(lists[1:])] if lists else [[]]


def of_figure(dice, clause):
    key, more = FIGURES[clause["clause"]]
    number, unit = re.fullmatch(r"([\d.]+)(.*)", clause[key]).groups()
    factor = dice.choice([0.5, 0.75, 1.25, 2.0])
    now = float(number) * factor
    if "fails-at" in clause or unit.strip() == "deg" and not now.is_integer():
        return None
    was = clause[key]
    clause[key] = f"{now:g}{unit}"
    way = "Tightened" if (factor > 1) == more else "Loosened"
    return way, ["Limit was", float(number), now, unit.strip()]


def plain(text):
    """Words without what marks them up."""
    return re.sub(r"\s+", " ", re.sub(r"[*`]", "", text)).strip()


def said(line, wanted):
    """Whether a printed line tells a change."""
    if isinstance(wanted, str):
        return wanted in line
    start, was, now, unit = wanted
    found = re.search(r"Limit was (.*?), is (.*?)\.(?: |$)", line)
    return bool(found) and all(abs(figure(text, unit) - value) <= 0.06 * value for text, value in zip(found.groups(), (was, now)))


def figure(text, unit):
    """A printed figure in the unit in which it is written."""
    text = text.replace(",", "")
    if unit == "in":
        feet = re.match(r"(\d+) ft", text)
        inches = re.search(r"(?:(\d+)-)?(\d+)(?:/(\d+))? in", text)
        whole, top, low = (int(n or 0) for n in inches.groups()) if inches else (0, 0, 0)
        return 12 * int(feet[1] if feet else 0) + whole + (top / low if low else top)
    return float(re.match(r"[\d.]+", text)[0])


def read(folder):
    told = json.loads((folder / "changed.json").read_text())
    wrong = []
    for page in ("changes", "book"):
        text = (folder / f"site/standard/2026-2/{page}.html").read_text()
        if page == "changes":
            compared(text, told, wrong)
        elif not all(words(one["why"]) in words(text) for one in told.values() if one["why"]):
            wrong.append("the book lacks the reason of a change")
    today(folder, wrong)
    json.dump({"wrong": wrong, "count": len(told)}, sys.stdout)


def compared(text, told, wrong):
    rows = {}
    body = text[text.index('<section class="sheet'):]
    for group in re.split(r"<h3>", body)[1:]:
        title = words(group[: group.index("</h3>")])
        for row in re.findall(r"<li>(.*?)</li>", group, flags=re.S):
            rows.setdefault(words(row.split("<br>")[0]), []).append((title, words(row)))
    for key, one in told.items():
        found = rows.pop(one["title"], [])
        if len(found) != 1:
            wrong.append(f"{key} is told {len(found)} times: {found}")
            continue
        (group, row), = found
        if group != one["group"]:
            wrong.append(f"{key} stands under {group} and not under {one['group']}: {row}")
        wrong.extend(f"{key} lacks {say}: {row}" for say in one["says"] if not said(row, say))
        why = one["why"] or ("It is new." if key == "fresh" else "No reason given.")
        if not row.endswith(f"Why: {why}"):
            wrong.append(f"{key} lacks its reason {why}: {row}")
    wrong.extend(f"told and not changed: {title} {found}" for title, found in rows.items())


def today(folder, wrong):
    """Every job by revision 2026-2, in force, beside its own verdict."""
    standard = yaml.safe_load((folder / "content/standard/2026-2.yaml").read_text())
    titles = {name(clause): clause["title"] for part in standard["parts"] for clause in part["clauses"]}
    full = lambda id, number: f"{number} {titles[id]}" if number else Packet.titles[id]
    verdicts = json.loads((folder / "today.json").read_text())
    text = (folder / "site/standard/jobs.html").read_text()
    for job, now in verdicts.items():
        rows = re.findall(rf'<tr><th scope="row"><a href="[^"]*jobs/{job}/index\.html">.*?</tr>', text, flags=re.S)
        own = json.loads((folder / f"site/jobs/{job}/packet.json").read_text())["verdict"]
        if not rows:
            wrong.append(f"{job} stands in no list of jobs by revision")
        for row in rows:
            stamps = re.findall(r'class="stamp ([\w-]+)', row)
            if stamps != [own, now["verdict"]]:
                wrong.append(f"{job} is stamped {stamps}, and is {own} by its own and {now['verdict']} today")
            broken = words(re.findall(r"<td[^>]*>(.*?)</td>", row, flags=re.S)[-1])
            printed = set() if broken.startswith("nothing") else set(broken.split("; "))
            wanted = {f"{verdict}: {full(id, number)}" for verdict, id, number in now["broken"]}
            if printed != wanted:
                wrong.append(f"{job} today: printed {sorted(printed)}, found {sorted(wanted)}")
    count = re.search(r"By revision 2026-2: (\d+) would fail, (\d+) would be on hold, (\d+) would not", words(text))
    of = lambda verdict: sum(now["verdict"] == verdict for now in verdicts.values())
    if not count or [int(n) for n in count.groups()] != [of("fail"), of("hold"), len(verdicts) - of("fail") - of("hold")]:
        wrong.append(f"counted {count and count[0]}, found {of('fail')} and {of('hold')}")


if __name__ == "__main__":
    task, folder, *seed = sys.argv[1:]
    change(pathlib.Path(folder), int(seed[0])) if task == "change" else read(pathlib.Path(folder))

"""Waivers and papers by lot, and what packets print of how a job stands, held against the words of the job files.

    python printed_standing.py settle COMPANY SEED

puts waivers and papers into the jobs of a company that was published without any, and keeps in `settled.json` what
has to come of each; after the company was published once more

    python printed_standing.py read COMPANY

prints a list of what is wrong. A finding is told by its owner, clause, mark and place among its like.
"""

import html
import json
import pathlib
import random
import re
import sys

import yaml

import geometry as geo

# From the mildest; what is cleared or not checked shows in no stamp.
ORDER = ["pass", "waived", "caution", "hold", "fail"]
# What a job may not set aside where a standard does not say: what rests on a code, and what cannot be built.
NEVER_WAIVED = {
    "bores", "circuit", "wire-drop", "wye-junctions", "bore-size", "clash", "cut-tubes", "fitting-room", "open-ends",
}
# What cannot be built, or may hurt somebody: a must whatever a standard says, and no waiver helps.
ALWAYS = {"hose-room", "fitting-room", "cut-tubes", "clash", "open-ends", "bores", "bore-size"}
OTHERS_WORD = {"engineered", "truss", "steel", "masonry"}
OF_THE_JOB = {"circuit"}


def words(text):
    text = re.sub(r"<[^>]*>", "", text.replace("<br>", " "))
    return re.sub(r"\s+", " ", html.unescape(text)).strip()


def worst(verdicts):
    return max((v for v in verdicts if v in ORDER), key=ORDER.index, default="pass")


def findings(record):
    """Every finding with its owner: ("inlet", id), ("trunk", id) or ("job", "")."""
    for kind in ("inlets", "trunks"):
        for one in record[kind]:
            yield from (((kind[:-1], one["id"]), f) for f in one["findings"])
    yield from ((("job", ""), f) for f in record["findings"])


def told(record):
    """The findings by what tells them from each other."""
    seen, found = {}, {}
    for owner, f in findings(record):
        key = (*owner, f["clause"], f.get("mark") or "", f["number"])
        seen[key] = seen.get(key, -1) + 1
        found["|".join([*key, str(seen[key])])] = f
    return found


class Company:
    def __init__(self, folder):
        self.folder = pathlib.Path(folder)
        self.parts = geo.catalog(self.folder)
        self.jobs = sorted(path.stem for path in (self.folder / "jobs").glob("*.yaml"))
        firm = yaml.safe_load((self.folder / "content/company.yaml").read_text())
        standard = yaml.safe_load((self.folder / f"content/standard/{firm['standard']}.yaml").read_text())
        self.clauses = {}
        for clause in (clause for part in standard["parts"] for clause in part["clauses"]):
            self.clauses[clause["id"] if clause["clause"] == "by-eye" else clause["clause"]] = clause

    def record(self, key):
        return json.loads((self.folder / "site/jobs" / key / "packet.json").read_text())

    def waivable(self, clause):
        return self.clauses[clause].get("waivable", clause not in NEVER_WAIVED)

    def waits_for_a_word(self, value, owner, f):
        """Whether somebody else's word would do, and no figure is wanted."""
        if f["clause"] == "circuit":
            unit = next(u for u in self.parts["units"] if u["id"] == value["unit"]["model"])
            return "own-circuit" not in value["unit"] and "amps" in unit and "breaker" in unit
        if f["clause"] != "bores" or not f.get("mark"):
            return False
        nth = int(f["mark"].rpartition("X")[2]) - 1
        return member(value, owner, nth) in OTHERS_WORD


def steps(value, owner):
    kind, name = owner
    spec = next(spec for spec in value[f"{kind}s"] if spec["id"] == name)
    return spec["raceway"]["path"] + (spec.get("onward") or {"path": []})["path"] if kind == "inlet" else spec["path"]


def member(value, owner, nth):
    """What the bore at a place of a line goes through."""
    along, found = 0.0, []
    for step in steps(value, owner):
        if "run" in step:
            crosses = step.get("crosses") or []
            found += [(along + geo.length(c["at"]), c["member"]) for c in crosses if isinstance(c, dict)]
            along += geo.length(step["run"])
    return sorted(found, key=lambda item: item[0])[nth][1]


def settle(company, seed):
    dice, kept = random.Random(seed), {}
    for key in company.jobs:
        path = company.folder / f"jobs/{key}.yaml"
        value, record = yaml.safe_load(path.read_text()), company.record(key)
        raw = told(record)
        waivers, papers = offered(company, dice, value, record)
        kept[key] = expected(company, value, record, raw, waivers, papers)
        path.write_text(written(path.read_text(), waivers, papers))
    (company.folder / "settled.json").write_text(json.dumps(kept))


def offered(company, dice, value, record):
    """Waivers as (inlet, clause), papers as (owner, clause, mark or None); few of no use, so that some jobs are read."""
    useless = 0.04 if dice.random() < 0.5 else 0.0
    computed = [c for c, text in company.clauses.items() if text["clause"] != "by-eye"]
    waivers, papers = [], []
    for owner, f in findings(record):
        if f["clause"] not in computed:
            continue
        broken, held = f["verdict"] in ("fail", "caution"), f["verdict"] == "hold"
        can = owner[0] == "inlet" and company.waivable(f["clause"]) and f["number"]
        if owner[0] == "inlet" and (owner[1], f["clause"]) not in waivers:
            if broken and can and dice.random() < 0.6 or dice.random() < useless / 4:
                waivers.append((owner[1], f["clause"]))
        word = held and company.waits_for_a_word(value, owner, f)
        if word and dice.random() < 0.7 or dice.random() < useless / 4:
            mark = f.get("mark")
            bare = mark[mark.index("X"):] if "X" in (mark or "") else mark
            paper = (owner, f["clause"], dice.choice([mark, bare, None]))
            others = [p for p in papers if p[:2] == paper[:2]]
            if not others or all(p[2] and paper[2] and p[2] != paper[2] for p in others):
                papers.append(paper)
    return waivers, papers


def answers(paper, owner, f):
    at, mark = paper[2], f.get("mark") or ""
    same = at is None or at == mark or ("X" in mark and mark[mark.index("X"):] == at)
    return paper[0] == owner and paper[1] == f["clause"] and same


def expected(company, value, record, raw, waivers, papers):
    """The verdict of every finding, and the waivers and papers that do nothing, by their place among all."""
    verdicts, used_waivers, used_papers = {}, set(), set()
    refused = [i for i, (_, clause) in enumerate(waivers) if not company.waivable(clause) or clause in OF_THE_JOB]
    for key, f in raw.items():
        owner = tuple(key.split("|")[:2])
        verdict = f["verdict"]
        for i, (inlet, clause) in enumerate(waivers):
            if owner == ("inlet", inlet) and clause == f["clause"] and verdict in ("fail", "caution") and f["number"]:
                verdict = "waived"
                used_waivers.add(i)
                if clause in ALWAYS - {"hose-room"} and company.clauses[clause]["level"] == "must":
                    nth = sum(k.startswith(f"inlet|{inlet}|{clause}|{key.split('|')[3]}||") for k in verdicts)
                    verdicts[f"inlet|{inlet}|{clause}|{key.split('|')[3]}||{nth}"] = "fail"
        for i, paper in enumerate(papers):
            if verdict == "hold" and answers(paper, owner, f) and company.waits_for_a_word(value, owner, f):
                verdict = "cleared"
                used_papers.add(i)
        verdicts[key] = verdict
    hoses = {hose["id"]: geo.length(hose["length"]) for hose in company.parts["hoses"]}
    spec = {inlet["id"]: inlet for inlet in value["inlets"]}
    long = {one["id"]: one["raceway"]["hose_path_m"] for one in record["inlets"]}
    for inlet, clause in waivers:
        # No waiver makes a hose shorter.
        if clause == "hose-room" and long[inlet] < hoses[spec[inlet]["hose"]] - 1e-7:
            verdicts.setdefault(f"inlet|{inlet}|hose-room|||0", "fail")
    idle = [["waiver", i] for i in range(len(waivers)) if i in refused or i not in used_waivers]
    # A waiver that is refused as it is read keeps the job from being inspected at all.
    idle = [["waiver", i] for i in refused] or idle + [["paper", i] for i in range(len(papers)) if i not in used_papers]
    return {"verdicts": verdicts, "idle": idle, "waivers": waivers, "papers": papers}


def name(kind, i):
    return f"{'Reason' if kind == 'waiver' else 'Letter'} {i}."


def written(text, waivers, papers):
    """The job with them in it."""
    lines = []
    for line in text.splitlines():
        lines.append(line)
        inlet = re.fullmatch(r"  - id: (room-\d+)", line)
        own = [(i, clause) for i, (of, clause) in enumerate(waivers) if inlet and of == inlet[1]]
        if own:
            lines.append("    waivers:")
        lines += [f"      - {{clause: {clause}, because: {name('waiver', i)}, by: Lead {i}}}" for i, clause in own]
    if papers:
        lines.append("cleared:")
    for i, ((kind, owner), clause, at) in enumerate(papers):
        of = f"{kind}: {owner}, " if kind != "job" else ""
        mark = f"at: {at}, " if at else ""
        paper = f"paper: {name('paper', i)}, by: Engineer {i}, on: 2026-04-{i % 28 + 1:02}"
        lines.append(f"  - {{clause: {clause}, {of}{mark}{paper}}}")
    return "\n".join(lines) + "\n"


class Packet:
    def __init__(self, company, key, kept, wrong):
        self.company, self.key, self.kept, self.wrong = company, key, kept, wrong
        self.folder = company.folder / "site/jobs" / key
        self.text = (company.folder / f"jobs/{key}.yaml").read_text()
        self.value = yaml.safe_load(self.text)

    def bad(self, *what):
        self.wrong.append(f"{self.key}: " + " ".join(map(str, what)))

    def unread(self):
        """A job with a waiver or a paper of no use is not read, and each of them is told with its line."""
        page = (self.folder / "index.html").read_text()
        rows = [int(n) for n in re.findall(r'<t[hd][^>]*>\s*(?:Line )?(\d+)\s*</t[hd]>', page)]
        for kind, i in self.kept["idle"]:
            lines = self.text.splitlines()
            line = next(n + 1 for n, words in enumerate(lines) if name(kind, i) in words)
            if line not in rows:
                self.bad(kind, i, "of no use at line", line, "is not told; told are", rows)
        if ">not read<" not in page or "may be built" in words(page).lower():
            self.bad("a job of no use is read")

    def read(self):
        record = json.loads((self.folder / "packet.json").read_text())
        verdicts, own = self.kept["verdicts"], told(record)
        if {k: f["verdict"] for k, f in own.items()} != verdicts:
            keys = sorted(set(own) | set(verdicts))
            both = [(k, own.get(k, {}).get("verdict"), verdicts.get(k)) for k in keys]
            self.bad("found and expected:", [one for one in both if one[1] != one[2]])
        for key, f in own.items():
            if f["verdict"] == "cleared" and (f["measured"] is not None or not f["cleared"]["paper"]):
                self.bad(key, "is told as computed, or without its paper")
            if f["verdict"] == "waived" and not f["waiver"]["because"]:
                self.bad(key, "is waived without a reason")
        self.stamps = {}
        for kind in ("inlets", "trunks"):
            for one in record[kind]:
                wanted = worst(v for k, v in verdicts.items() if k.startswith(f"{kind[:-1]}|{one['id']}|"))
                self.stamps[one["id"]] = wanted
                if one["verdict"] != wanted:
                    self.bad(one["id"], "is", one["verdict"], "and should be", wanted)
        self.verdict = worst(verdicts.values())
        if record["verdict"] != self.verdict or record["may_be_built"] != (self.verdict not in ("hold", "fail")):
            self.bad("the job is", record["verdict"], record["may_be_built"], "and should be", self.verdict)
        self.record = record
        self.pages()

    def pages(self):
        pages = {page: (self.folder / f"{page}.html").read_text() for page in ("index", "office", "owner")}
        for page, text in pages.items():
            plain = words(re.sub(r"<(script|style)\b.*?</\1>", " ", text, flags=re.S)).lower()
            free = re.sub(r"not to be built|not built yet", "", plain)
            if self.verdict in ("hold", "fail") and re.search(r"\b(may|can) be built|built as drawn", free):
                self.bad(page, "says of a job on", self.verdict, "that it may be built")
            for sheet in re.split(r'(?=<section class="sheet kind-)', text)[1:]:
                self.sheet(page, sheet)
        self.index = pages["index"]
        self.cover()
        self.told_on_pages(pages["index"], pages["office"])
        self.bored(pages["index"])

    def sheet(self, page, text):
        """One sheet's stamp and bar."""
        kind = re.search(r"kind-([\w-]+)", text)[1]
        anchor = re.search(r'id="([^"]*)"', text)[1]
        inlet = re.fullmatch(r"(room-\d+)-(?:route|cuts)(?:-\d+)?", anchor)
        own = self.stamps[inlet[1]] if inlet else self.verdict
        block = text[text.index('<footer class="title-block">'):]
        stamp = re.search(r'<span class="stamp ([\w-]+) big">', block)
        if not stamp or stamp[1] != own:
            self.bad(page, anchor, "is stamped", stamp and stamp[1], "and should be", own)
        bar = re.search(r'<p class="bar">(.*?)</p>', text)
        stops = self.verdict in ("hold", "fail")
        if bool(bar) != stops:
            self.bad(page, anchor, "has the bar", bar and bar[1], "in a job that is", self.verdict)
        if bar and kind != "owner":
            worse = own if own in ("hold", "fail") else self.verdict
            if not re.search(r"\bfails?\b" if worse == "fail" else r"\bhold\b", bar[1].lower()):
                self.bad(page, anchor, "is", own, "in a job on", self.verdict, "under the bar", bar[1])
            if not re.search("build nothing", bar[1].lower()):
                self.bad(page, anchor, "does not say to build nothing:", bar[1])
        beside = re.search(r'<span class="beside-stamp">(.*?)</span>', block)
        want = {"hold": "job on hold", "fail": "job fails"}.get(self.verdict) if inlet and own != self.verdict else None
        if (beside and beside[1]) != want:
            self.bad(page, anchor, "has beside its stamp", beside and beside[1], "for", want)

    def cover(self):
        cover = self.index[self.index.index('<section class="sheet kind-job-cover"'):]
        says = words(re.search(r'<p class="verdict-line">(.*?)</p>', cover, flags=re.S)[1])
        start = {
            "hold": "hold Not to be built before", "fail": "fail Do not build.", "pass": "pass It may be built",
            "caution": "caution It may be built. Read", "waived": "waived It may be built. A clause was set aside",
        }[self.verdict]
        if not says.startswith(start):
            self.bad("the cover says", says)
        tables = " ".join(re.findall(r'<table class="fold holds">(.*?)</table>', self.index, flags=re.S))
        rows = re.findall(r'<th scope="row">(.*?)</th><td data-label="What waits">(.*?)</td>', tables, flags=re.S)
        printed = sorted((place, words(what).rstrip(".")) for where, what in rows for place in words(where).split("; "))
        names = {("inlet", i["id"]): i["name"] for i in self.record["inlets"]}
        names |= {("trunk", t["id"]): f"trunk {t['id']}" for t in self.record["trunks"]} | {("job", ""): "the job"}
        held = []
        for owner, f in findings(self.record):
            if f["verdict"] == "hold":
                mark = f", {f['mark']}" if f.get("mark") else ""
                title = self.title(f)
                note = f["note"][0].upper() + f["note"][1:]
                held.append((names[owner] + mark, f"{title}: {note}".rstrip(".")))
        if printed != sorted(held):
            self.bad("holds printed but not had", [h for h in printed if h not in held], "had but not printed",
                     [h for h in sorted(held) if h not in printed], len(printed), len(held))

    def title(self, f):
        clause = self.company.clauses.get(f["clause"]) if f["number"] else None
        return f"{f['number']} {clause['title']}" if clause else f"{self.titles.get(f['clause'], '')}"

    # Headings of what no revision leaves out, as the program gives them.
    titles = {
        "hose-room": "Hose room", "fitting-room": "Fitting room", "cut-tubes": "Tubes that can be cut",
        "clash": "Clash", "open-ends": "Open ends", "bores": "Bores", "bore-size": "Bore size",
    }

    def told_on_pages(self, index, office):
        """Every finding that was settled, with who did, on a sheet of the truck or at least in the annex."""
        rows = [row for text in (index, office) for row in re.findall(r'<li class="finding">(.*?)</li>', text, flags=re.S)]
        for row in rows:
            stamp = re.search(r'class="stamp ([\w-]+)', row)[1]
            said = words(row)
            if stamp == "cleared" and not re.search(r"Hold cleared: Letter \d+\.; Engineer \d+, 2026-04-\d\d", said):
                self.bad("a cleared finding without its paper:", said)
            if stamp == "waived" and not re.search(r"Set aside by Lead \d+: Reason \d+\.", said):
                self.bad("a waived finding without its reason:", said)
            if stamp in ("cleared", "waived") and "Remedy:" in said:
                self.bad("what is settled is told to be done:", said)
        printed = " ".join(words(row) for row in rows)
        for owner, f in findings(self.record):
            if f["verdict"] == "cleared" and f["cleared"]["paper"] not in printed:
                self.bad(owner, f["clause"], f.get("mark"), "is cleared, and no page names", f["cleared"]["paper"])
            if f["verdict"] == "waived" and f["waiver"]["because"] not in printed:
                self.bad(owner, f["clause"], "is set aside, and no page says why")

    def bored(self, index):
        """The stamp of every bore is the verdict of its own finding, or worse."""
        stamps = dict(re.findall(r'bored">\s*([^<]*?)</th>.*?data-label="Verdict"><span><span class="stamp ([\w-]+)', index, flags=re.S))
        for owner, f in findings(self.record):
            if f["clause"] == "bores" and f.get("mark"):
                printed = stamps.get(f["mark"])
                order = ["pass", "cleared", "not-checked", "waived", "caution", "hold", "fail"]
                if printed is None or order.index(printed) < order.index(f["verdict"]):
                    self.bad(f["mark"], "is bored by the stamp", printed, "and is", f["verdict"])


def lists(company, packets, wrong):
    """The cover of the set and the job list: how many stand how, and the stamp of each job that is named."""
    site = company.folder / "site"
    stands = [packet.verdict for packet in packets if packet.verdict]
    unread = len(packets) - len(stands)
    clear = sum(v not in ("hold", "fail") for v in stands)
    count = f"{clear} may be built, {stands.count('hold')} on hold, {stands.count('fail')} failed, {unread} not read."
    for path in (site / "index.html", site / "job-list/index.html"):
        if f"{len(packets)} jobs: {count}" not in words(path.read_text()):
            wrong.append(f"{path} does not say: {count}")
    named = 0
    for path in [site / "index.html", *site.glob("job-list/*.html")]:
        for row in re.findall(r"<article.*?</article>|<tr>.*?</tr>", path.read_text(), flags=re.S):
            # An inlet's own stamp stands in a list under the job's.
            stamp = re.search(r'class="stamp ([\w-]+)', row.split("<ul")[0])
            for packet in packets:
                if stamp and f"jobs/{packet.key}/index.html" in row:
                    named += 1
                    if stamp[1] != (packet.verdict or "not-read"):
                        wrong.append(f"{path.name}: {packet.key} is stamped {stamp[1]} and is {packet.verdict}")
    if named < 2 * len(packets):
        wrong.append(f"{named} rows name the {len(packets)} jobs")


def read(company):
    kept = json.loads((company.folder / "settled.json").read_text())
    wrong, packets, count = [], [], {}
    for key in company.jobs:
        packet = Packet(company, key, kept[key], wrong)
        packet.verdict = None
        packets.append(packet)
        if kept[key]["idle"]:
            packet.unread()
        else:
            packet.read()
            for verdict in kept[key]["verdicts"].values():
                count[verdict] = count.get(verdict, 0) + 1
    lists(company, packets, wrong)
    count["jobs not read"] = sum(packet.verdict is None for packet in packets)
    count["jobs to be built"] = sum(packet.verdict in ("pass", "waived", "caution") for packet in packets)
    json.dump({"wrong": wrong, "count": count}, sys.stdout)


if __name__ == "__main__":
    task, folder, *seed = sys.argv[1:]
    settle(Company(folder), int(seed[0])) if task == "settle" else read(Company(folder))

//! The cover of a packet: how the job stands, what it waits for, what can hurt, the inlets, sign-off.
use super::Source;
use super::cautions::cautions;
use super::here::Here;
use super::outline::Kind;
use super::prose::sentence;
use super::route::spare_words;
use super::sheet::{Cell, FindingRow, Link, Stamp, finding_rows};
use super::spill::{CoverMore, numbers, split};
use super::worked::{InletPart, Worked};
use crate::company::{Forced, Owner};
use crate::standard::{Finding, Of, Verdict};
use serde::Serialize;

/// The cover.
#[derive(Debug, Clone, Serialize)]
pub struct JobCover {
    pub facts: Vec<Cell>,
    pub stamp: Stamp,
    /// What the verdict means for the crew.
    pub verdict_words: String,
    /// What must be cleared before anyone builds, that of the job as a whole first, as far as the sheet has room.
    pub holds: Vec<HoldRow>,
    /// What stands on the sheets that go on from the cover, and which they are; empty for none.
    pub more: String,
    pub inlets: Vec<InletRow>,
    /// What was found of the job as a whole.
    pub findings: Vec<FindingRow>,
    pub hazards: Vec<Hazard>,
    pub index: Vec<IndexRow>,
    /// Other forms of the packet: for printing, for the office, as data.
    pub forms: Vec<Link>,
    pub signs: Vec<Sign>,
}

/// A hold: where, and what clears it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct HoldRow {
    pub place: String,
    pub what: String,
    pub clears: String,
}

/// An inlet on the cover.
#[derive(Debug, Clone, Serialize)]
pub struct InletRow {
    pub name: String,
    pub href: String,
    pub stamp: Stamp,
    pub valve: String,
    pub hose: String,
    pub path: String,
    pub bends: String,
    pub spare: String,
    /// What decides the verdict; empty for a pass.
    pub words: String,
}

/// A hazard of this job, in a line.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Hazard {
    pub title: String,
    pub because: String,
    pub what: String,
    pub who: String,
}

/// A line of a sheet index.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct IndexRow {
    pub number: String,
    pub title: String,
    pub href: String,
    pub stamp: Option<Stamp>,
}

/// A stage that somebody signs.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Sign {
    pub stage: &'static str,
    pub note: String,
}

/// Lays the cover out with the sheets that go on from it; `kinds` are the sheets of the packet in order.
pub fn sheets(source: &Source, kinds: &[Kind]) -> (JobCover, Vec<CoverMore>) {
    let (worked, here) = (source.worked, source.here(Kind::Cover));
    let verdict = worked.work.findings.verdict();
    let cover = JobCover {
        facts: facts(worked),
        stamp: verdict.into(),
        verdict_words: verdict_words(verdict).into(),
        holds: holds(worked),
        more: String::new(),
        inlets: worked.inlets().map(|part| inlet_row(source, &part, &here)).collect(),
        findings: open(&beyond_inlets(worked), (&worked.work.job.standard, &here)),
        hazards: hazards(worked),
        index: index(source, kinds, &here),
        forms: forms(source, &here),
        signs: signs(),
    };
    let (mut cover, more) = split(cover, super::room_mm(worked, Kind::Cover));
    if more.iter().any(|sheet| !sheet.holds.is_empty()) && verdict == Verdict::Hold {
        let behind = numbers(more.len());
        cover.verdict_words = format!("Not to be built before every hold below and on {behind} is cleared.");
    }
    (cover, more)
}

/// The findings that stand on no inlet's sheets: those of the trunks, each with its trunk's name, and the job's.
fn beyond_inlets(worked: &Worked) -> Vec<Finding> {
    let work = worked.work;
    let beyond = work.findings.all().filter(|(of, _)| !matches!(of, Some(Owner::Inlet(_))));
    let named = |(of, finding): (Of, &Finding)| match of {
        Some(_) => Finding { note: format!("{}: {}", work.whose(of), finding.note), ..finding.clone() },
        None => finding.clone(),
    };
    beyond.map(named).collect()
}

/// Places that a row of the holds names at most, so that no row grows higher than a sheet.
const PLACES: usize = 8;

/// Every hold: where it is, what waits, and what clears it; those of the job as a whole first.
fn holds(worked: &Worked) -> Vec<HoldRow> {
    let row = |(of, finding): (Of, &Finding)| {
        let whose = worked.work.whose(of);
        let mark = finding.mark.as_deref().map(|mark| format!(", {mark}")).unwrap_or_default();
        HoldRow {
            place: format!("{whose}{mark}"),
            what: format!("{}: {}", finding.named(), sentence(&finding.note)),
            clears: sentence(finding.remedy.as_deref().unwrap_or("ask the crew lead")),
        }
    };
    let (of_job, of_lines): (Vec<_>, Vec<_>) = worked.work.findings.holds().partition(|(of, _)| of.is_none());
    let mut rows: Vec<(HoldRow, usize)> = Vec::new();
    for hold in of_job.into_iter().chain(of_lines).map(row) {
        // What waits for the same thing in several places stands once.
        let same = |known: &&mut (HoldRow, usize)| {
            known.0.what == hold.what && known.0.clears == hold.clears && known.1 < PLACES
        };
        match rows.iter_mut().find(same) {
            Some((known, places)) => {
                known.place.push_str(&format!("; {}", hold.place));
                *places += 1;
            }
            None => rows.push((hold, 1)),
        }
    }
    rows.into_iter().map(|(row, _)| row).collect()
}

/// The word of the standard, as its first page defines it.
pub fn level_word(level: Forced) -> &'static str {
    match level {
        Forced::Must => "must",
        Forced::Should => "should",
    }
}

/// What decided an inlet's verdict, in one sentence; the standard's numbers and names alone, for the sheets
/// tell the rest.
fn deciding_words(findings: &[Finding], verdict: Verdict) -> String {
    if verdict == Verdict::Pass {
        return String::new();
    }
    let deciding = findings.iter().filter(|f| f.verdict == verdict);
    let names: Vec<String> = deciding.map(Finding::named).collect();
    sentence(&names.join("; "))
}

/// Findings that want something done; what holds stands in the list of holds.
fn open(found: &[Finding], by: (&str, &Here)) -> Vec<FindingRow> {
    let wanted = |verdict| !matches!(verdict, Verdict::Pass | Verdict::NotChecked | Verdict::Hold);
    finding_rows(found, &[], by, wanted)
}

/// The job in a few words, as far as the title block does not say it.
fn facts(worked: &Worked) -> Vec<Cell> {
    let job = worked.work.job;
    let built = job.built.map_or("year not given".into(), |year| year.to_string());
    let mut facts = vec![
        Cell::new("House built", built),
        Cell::new("Power unit", job.unit.model.name.clone()),
        Cell::new("Standard", format!("{}, {}", worked.work.standard.title, job.standard)),
    ];
    if !worked.firm.crew_leads.is_empty() {
        facts.push(Cell::new("Crew leads", worked.firm.crew_leads.join(", ")));
    }
    facts.extend(worked.firm.telephone.iter().map(|number| Cell::new("Telephone", number.clone())));
    facts
}

/// What the verdict means.
fn verdict_words(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Fail => {
            "Do not build. The job breaks the standard. Fix the lines named on the sheets, then publish again."
        }
        Verdict::Caution => "It may be built. Read the cautions on the sheets first.",
        Verdict::Waived => {
            "It may be built. A clause was set aside; the reason and the name stand beside it."
        }
        Verdict::Hold => "Not to be built before every hold below is cleared.",
        Verdict::Pass | Verdict::Cleared | Verdict::NotChecked => "It may be built as drawn.",
    }
}

/// One inlet.
fn inlet_row(source: &Source, part: &InletPart, here: &Here) -> InletRow {
    let worked = source.worked;
    let (say, raceway) = (worked.work.say, part.raceway);
    let verdict = worked.work.findings.inlet_verdict(part.index);
    let count = raceway.bends;
    InletRow {
        name: part.inlet.name.clone(),
        href: source.out.inlet_link(here, part.index),
        stamp: verdict.into(),
        valve: part.inlet.valve.name.clone(),
        hose: part.inlet.hose.name.clone(),
        path: say.length(raceway.hose_path_m),
        bends: format!("{} in {count}", say.angle(raceway.bend_total_deg)),
        spare: spare_words(say, raceway.hose_path_m, part.inlet.hose.length_m),
        words: deciding_words(part.findings, verdict),
    }
}

/// The hazards of this job; the office annex has each in full with its source.
fn hazards(worked: &Worked) -> Vec<Hazard> {
    let all = cautions(worked.work.job, &worked.work.lines);
    all.into_iter()
        .map(|caution| Hazard {
            title: caution.title.to_string(),
            because: caution.because,
            what: sentence(first_words(caution.what)),
            who: caution.who.to_string(),
        })
        .collect()
}

/// The first thing to do of several; the office annex has them all.
fn first_words(words: &str) -> &str {
    let end = words.find(';').unwrap_or(words.len());
    words.get(..end).unwrap_or(words)
}

/// The sheet index of the packet: one line to a kind.
fn index(source: &Source, kinds: &[Kind], here: &Here) -> Vec<IndexRow> {
    let row = |kind: &Kind| IndexRow {
        number: String::new(),
        title: super::title(source.worked, *kind),
        href: source.out.link(here, *kind),
        stamp: None,
    };
    kinds.iter().skip(1).map(row).collect()
}

/// What stands beside the packet.
fn forms(source: &Source, here: &Here) -> Vec<Link> {
    let link = |page: &str, text: &str| Link { href: here.to(page, ""), text: text.into() };
    vec![
        link("index.html", "Cover of the set"),
        link(&source.out.page(Kind::Office), "Office annex"),
        link(&source.out.owner_page(), "Homeowner's sheet alone, to send"),
        link(&format!("{}/packet.json", source.out.folder), "Figures as data"),
    ]
}

/// The stages that are signed for.
fn signs() -> Vec<Sign> {
    let stages = ["Taped", "Rough-in", "Trim", "Proved", "Handed over"];
    stages.map(|stage| Sign { stage, note: format!("job/signed/{}", crate::text::slug(stage)) }).into()
}

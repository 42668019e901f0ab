//! The cover of a packet: how the job stands, what can hurt, which sheets there are, how to go about it.
use super::cautions::{Caution, cautions};
use super::checking::{PHASES, PhaseList, clause_lines, phase_name};
use super::outline::Outline;
use super::place::Place;
use super::sheet::{Cell, FindingRow, Link, Stamp, finding_rows};
use super::worked::{InletPart, Worked};
use crate::company::{Forced, Per};
use crate::standard::{Finding, Verdict};
use serde::Serialize;

/// The cover.
#[derive(Debug, Clone, Serialize)]
pub struct JobCover {
    pub facts: Vec<Cell>,
    /// What the verdict means for the crew.
    pub verdict_words: String,
    pub inlets: Vec<InletRow>,
    pub findings: Vec<FindingRow>,
    pub cautions: Vec<Caution>,
    pub index: Vec<IndexRow>,
    /// Other forms of the packet: for printing, as data.
    pub forms: Vec<Link>,
    pub steps: Vec<Step>,
    pub phases: Vec<PhaseList>,
    pub signs: Vec<&'static str>,
}

/// An inlet on the cover.
#[derive(Debug, Clone, Serialize)]
pub struct InletRow {
    pub name: String,
    pub href: String,
    pub stamp: Stamp,
    pub valve: String,
    pub hose: String,
    /// What decides the verdict.
    pub words: String,
}

/// A line of a sheet index.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct IndexRow {
    pub number: String,
    pub title: String,
    pub href: String,
    pub stamp: Option<Stamp>,
}

/// A step of the work.
#[derive(Debug, Clone, Serialize)]
pub struct Step {
    pub head: &'static str,
    pub text: &'static str,
}

/// Lays the cover out.
pub fn sheet(worked: &Worked, out: &Outline, here: &Place) -> JobCover {
    JobCover {
        facts: facts(worked),
        verdict_words: verdict_words(worked),
        inlets: worked.inlets().map(|part| inlet_row(worked, &part, out, here)).collect(),
        findings: finding_rows(&worked.work.findings.job, &[], &worked.work.job.standard, here),
        cautions: cautions(worked.work.job, &worked.work.routes),
        index: index(out, here),
        forms: forms(out, here),
        steps: STEPS.map(|(head, text)| Step { head, text }).into(),
        phases: job_phases(worked, here),
        signs: vec!["Measured", "Rough-in", "Trim", "Proved", "Handed over"],
    }
}

/// RFC 2119's word.
pub fn level_word(level: Forced) -> &'static str {
    match level {
        Forced::Must => "must",
        Forced::Should => "should",
    }
}

/// What decided an inlet's verdict, in one sentence.
pub fn deciding_words(findings: &[Finding], verdict: Verdict) -> String {
    let deciding: Vec<&Finding> = findings.iter().filter(|f| f.verdict == verdict).collect();
    let unjudged = findings.iter().filter(|f| f.verdict == Verdict::NotChecked).count();
    let tail = match unjudged {
        0 => String::new(),
        1 => " 1 clause could not be checked.".into(),
        n => format!(" {n} clauses could not be checked."),
    };
    match (verdict, deciding.as_slice()) {
        (Verdict::Pass, _) => format!("Every clause that could be checked is met.{tail}"),
        (_, [only]) => {
            format!("{} {}: {}{tail}", only.number, only.title, super::prose::sentence(&only.note))
        }
        (_, many) => {
            let names: Vec<String> = many.iter().map(|f| format!("{} {}", f.number, f.title)).collect();
            format!("{}.{tail}", names.join("; "))
        }
    }
}

/// How a crew goes about it.
const STEPS: [(&str, &str); 8] = [
    ("Load", "Takeoff sheet: tick part by part onto the truck."),
    (
        "Measure",
        "Second sheet of each inlet: write what the tape says beside every planned run. Where it differs, cut nothing; tell the crew lead, who has the job worked out anew.",
    ),
    ("Look behind", "Read the cautions on this cover; find wires, pipes and gas before the bit goes in."),
    ("Bore and set", "Bores as the findings allow. Frames or boxes plumb and firm."),
    (
        "Cut and dry-fit",
        "Square cut, ends deburred inside and out, mark written on each tube, insertion mark and alignment line drawn, whole raceway dry-fitted.",
    ),
    (
        "Cement, joint by joint",
        "From the valve to the stop, cement on the tube and not in the socket, full depth, hold until it takes; tick the joint. Then the stop fitting.",
    ),
    (
        "Close up",
        "Straps, shield plates, fireblock, control wire. Nothing is covered until its boxes are ticked.",
    ),
    (
        "Trim, prove, hand over",
        "Third sheet of each inlet, readings written down; then the homeowner's sheet.",
    ),
];

/// The job in a few lines.
fn facts(worked: &Worked) -> Vec<Cell> {
    let job = worked.work.job;
    let built = job.built.map_or("not given".into(), |year| year.to_string());
    vec![
        Cell::new("Place", job.address.clone()),
        Cell::new("Date", job.date.to_string()),
        Cell::new("House built", built),
        Cell::new("Power unit", job.unit.model.name.clone()),
        Cell::new("Judged by", format!("{}, revision {}", worked.work.standard.title, job.standard)),
    ]
}

/// What the verdict means.
fn verdict_words(worked: &Worked) -> String {
    let words = match worked.work.findings.verdict() {
        Verdict::Fail => {
            "Do not build it as drawn: a must of the standard is broken. The remedies are on the sheets."
        }
        Verdict::Caution => "It may be built; what the cautions say is to be weighed first.",
        Verdict::Waived => "It may be built; a clause was set aside, with the reason and the name beside it.",
        Verdict::Hold => "Not to be built before every hold listed here is cleared.",
        Verdict::Pass | Verdict::Cleared | Verdict::NotChecked => "It may be built as drawn.",
    };
    words.into()
}

/// One inlet.
fn inlet_row(worked: &Worked, part: &InletPart, out: &Outline, here: &Place) -> InletRow {
    let verdict = worked.work.findings.inlet_verdict(part.index);
    InletRow {
        name: part.inlet.name.clone(),
        href: out.inlet_link(here, part.index),
        stamp: verdict.into(),
        valve: part.inlet.valve.name.clone(),
        hose: part.inlet.hose.name.clone(),
        words: deciding_words(part.findings, verdict),
    }
}

/// The packet's sheet index.
fn index(out: &Outline, here: &Place) -> Vec<IndexRow> {
    let row = |entry: &super::outline::Entry| IndexRow {
        number: entry.number.clone(),
        title: entry.title.clone(),
        href: out.link(here, entry),
        stamp: None,
    };
    out.entries.iter().map(row).collect()
}

/// The packet in other forms.
fn forms(out: &Outline, here: &Place) -> Vec<Link> {
    let mut forms = vec![Link { href: here.to("index.html", ""), text: "Cover of the set".into() }];
    if !here.whole_packet {
        forms.push(Link {
            href: here.to(&format!("{}/packet.html", out.folder), ""),
            text: "Whole packet on one page, to print".into(),
        });
    }
    forms.push(Link {
        href: here.to(&format!("{}/packet.json", out.folder), ""),
        text: "Figures as data".into(),
    });
    forms
}

/// Lines that are ticked once for the job.
fn job_phases(worked: &Worked, here: &Place) -> Vec<PhaseList> {
    let list = |phase| PhaseList {
        name: phase_name(phase),
        lines: clause_lines(worked.work.standard, Per::Job, phase, None, here),
    };
    PHASES.map(list).into_iter().filter(|phase| !phase.lines.is_empty()).collect()
}

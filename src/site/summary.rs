//! What the sheets that list many jobs need to know of one: small enough to be kept from run to run.
use crate::company::Standard;
use crate::packet::cautions::cautions;
use crate::packet::here::Here;
use crate::packet::outline::{Kind, Outline};
use crate::packet::worked::Worked;
use crate::standard::{Finding, Findings, Verdict};
use serde::{Deserialize, Serialize};

/// A job in short.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct JobSummary {
    /// The file's path under `jobs/` without its ending.
    pub key: String,
    pub title: String,
    pub address: String,
    pub date: String,
    /// The revision that judged it.
    pub standard: String,
    pub verdict: Verdict,
    /// How it stands by the revision in force, where that is another one.
    pub today: Option<Today>,
    pub cover: Target,
    pub inlets: Vec<LineSummary>,
    pub trunks: Vec<LineSummary>,
    /// Titles of the cautions it brings.
    pub hazards: Vec<String>,
    /// Of the job as a whole.
    pub found: Found,
}

/// A job held against the revision in force.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Today {
    pub verdict: Verdict,
    /// Numbers and headings of the clauses that it would fail, or that would put it on hold, in the
    /// standard's order, each once.
    pub broken: Vec<(Verdict, String)>,
}

/// A line in short: an inlet with its whole line, or a trunk.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct LineSummary {
    pub name: String,
    pub verdict: Verdict,
    pub sheet: Target,
    pub found: Found,
}

/// What the clauses found, in short. Most of them are met in most jobs, and of those the name is enough: ten
/// years of jobs are held in memory at once.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Found {
    /// Ids of the clauses of which everything passes, a space between.
    met: String,
    /// All other findings; a pass beside a break is none.
    pub told: Vec<FindingSummary>,
}

/// A finding that is no pass, in short.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct FindingSummary {
    pub clause: String,
    pub verdict: Verdict,
    /// How far past its limit, in thousandths of the limit; 0 where it keeps to it or has none.
    pub past_permille: u32,
    pub note: String,
}

/// A place on a page under `site/`.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Target {
    pub page: String,
    pub anchor: String,
}

impl Target {
    /// The way there from a page.
    pub fn from(&self, here: &Here) -> String {
        here.to(&self.page, &self.anchor)
    }
}

impl JobSummary {
    /// A job worked up, in short; `in_force` is the revision that it would be held to today.
    pub fn of(worked: &Worked, in_force: &Standard) -> JobSummary {
        let (work, out) = (worked.work, Outline::of(worked.work.job));
        let target = |kind: Kind| Target { page: out.page(kind), anchor: out.anchor(kind) };
        let inlets = worked.inlets().map(|part| LineSummary {
            name: part.inlet.name.clone(),
            verdict: work.findings.inlet_verdict(part.index),
            sheet: target(Kind::Route(part.index)),
            found: Found::of(part.findings),
        });
        let trunks =
            work.job.trunks().iter().zip(&work.findings.trunks).map(|(trunk, findings)| LineSummary {
                name: format!("trunk {}", trunk.name),
                verdict: Verdict::worst(findings.iter().map(|finding| finding.verdict)),
                sheet: target(Kind::Trunk),
                found: Found::of(findings),
            });
        JobSummary {
            key: work.job.key.clone(),
            title: work.job.title.clone(),
            address: work.job.address.clone(),
            date: work.job.date.to_string(),
            standard: work.job.standard.clone(),
            verdict: work.findings.verdict(),
            today: (in_force.revision != work.job.standard).then(|| Today::of(&work.by(in_force))),
            cover: target(Kind::Cover),
            inlets: inlets.collect(),
            trunks: trunks.collect(),
            hazards: cautions(work.job, &work.lines).iter().map(|one| one.title.to_owned()).collect(),
            found: Found::of(&work.findings.job),
        }
    }
}

/// How far a broken clause is past its limit, in thousandths of the limit.
fn past_permille(finding: &Finding) -> u32 {
    let broken = finding.verdict.broken() || finding.verdict == Verdict::Waived;
    match (finding.measured, finding.limit) {
        (Some(measured), Some(limit)) if broken && limit != 0.0 => {
            // Past the largest number counts as the largest.
            ((measured - limit).abs() / limit.abs() * 1000.0).round() as u32
        }
        _ => 0,
    }
}

impl Today {
    fn of(findings: &Findings) -> Today {
        let mut broken: Vec<(Verdict, String)> = Vec::new();
        for (_, finding) in findings.all().filter(|(_, finding)| finding.verdict.stops()) {
            let name = finding.named();
            match broken.iter_mut().find(|(_, known)| *known == name) {
                Some((verdict, _)) => *verdict = (*verdict).max(finding.verdict),
                None => broken.push((finding.verdict, name)),
            }
        }
        Today { verdict: findings.verdict(), broken }
    }
}

impl Found {
    fn of(findings: &[Finding]) -> Found {
        let told: Vec<&Finding> = findings.iter().filter(|found| found.verdict != Verdict::Pass).collect();
        let mut met: Vec<&str> = Vec::new();
        for finding in findings {
            let id = finding.clause.as_str();
            if !met.contains(&id) && !told.iter().any(|told| told.clause == id) {
                met.push(id);
            }
        }
        Found { met: met.join(" "), told: told.into_iter().map(FindingSummary::of).collect() }
    }

    /// Whether everything that a clause found passes.
    pub fn meets(&self, clause: &str) -> bool {
        self.met.split(' ').any(|id| id == clause)
    }

    /// What a clause found that is no pass.
    pub fn told_by<'a>(&'a self, clause: &'a str) -> impl Iterator<Item = &'a FindingSummary> {
        self.told.iter().filter(move |finding| finding.clause == clause)
    }
}

impl FindingSummary {
    fn of(finding: &Finding) -> FindingSummary {
        FindingSummary {
            clause: finding.clause.to_string(),
            verdict: finding.verdict,
            past_permille: past_permille(finding),
            note: finding.note.clone(),
        }
    }
}

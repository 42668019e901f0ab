//! What the sheets that list many jobs need to know of one: small enough to be kept from run to run.
use crate::packet::outline::{Kind, Outline};
use crate::packet::place::Place;
use crate::packet::worked::Worked;
use crate::standard::{Finding, Verdict};
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
    pub cover: Target,
    pub inlets: Vec<InletSummary>,
    /// Findings of the job as a whole.
    pub findings: Vec<FindingSummary>,
}

/// An inlet in short.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct InletSummary {
    pub name: String,
    pub verdict: Verdict,
    pub sheet: Target,
    pub findings: Vec<FindingSummary>,
}

/// A finding in short.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct FindingSummary {
    pub clause: String,
    pub verdict: Verdict,
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
    pub fn from(&self, here: &Place) -> String {
        here.to(&self.page, &self.anchor)
    }
}

impl JobSummary {
    /// A job worked up, in short.
    pub fn of(worked: &Worked) -> JobSummary {
        let (work, out) = (worked.work, Outline::of(worked.work.job));
        let target = |kind: Kind| Target { page: out.page(kind), anchor: out.anchor(kind) };
        let inlets = worked.inlets().map(|part| InletSummary {
            name: part.inlet.name.clone(),
            verdict: work.findings.inlet_verdict(part.index),
            sheet: target(Kind::Route(part.index)),
            findings: part.findings.iter().map(FindingSummary::of).collect(),
        });
        JobSummary {
            key: work.job.key.clone(),
            title: work.job.title.clone(),
            address: work.job.address.clone(),
            date: work.job.date.to_string(),
            standard: work.job.standard.clone(),
            verdict: work.findings.verdict(),
            cover: target(Kind::Cover),
            inlets: inlets.collect(),
            findings: work.findings.job.iter().map(FindingSummary::of).collect(),
        }
    }
}

impl FindingSummary {
    fn of(finding: &Finding) -> FindingSummary {
        FindingSummary {
            clause: finding.clause.to_string(),
            verdict: finding.verdict,
            note: finding.note.clone(),
        }
    }
}

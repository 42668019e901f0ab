//! How a clause was met in the firm's jobs: the worst and the latest by name, the rest by number, so that the
//! page of a clause does not grow with the firm.
use super::input::Set;
use super::summary::{FindingSummary, JobSummary, LineSummary};
use crate::company::Standard;
use crate::packet::here::Here;
use crate::packet::prose::sentence;
use crate::packet::sheet::Stamp;
use crate::standard::Verdict;
use serde::Serialize;
use std::cmp::Reverse;

/// So many rows of a list are named.
pub const NAMED: usize = 8;

/// Outcomes of the same kind.
#[derive(Debug, Clone, Serialize)]
pub struct MetList {
    pub name: &'static str,
    /// The worst first, then the latest.
    pub rows: Vec<MetRow>,
    /// What is not named, in words; empty where all are.
    pub rest: String,
}

/// One outcome.
#[derive(Debug, Clone, Serialize)]
pub struct MetRow {
    pub place: String,
    pub href: String,
    pub stamp: Stamp,
    pub note: String,
}

/// An outcome that may be named.
struct Met<'a> {
    job: &'a JobSummary,
    /// The line whose it is; none where it is the job's.
    line: Option<&'a LineSummary>,
    finding: &'a FindingSummary,
}

/// Which lines broke a clause, were let off, met it, in the jobs that this revision judged.
pub fn met_lists(set: &Set, standard: &Standard, clause: &str, here: &Here) -> Vec<MetList> {
    let met = outcomes(set, standard, clause);
    let list = |(name, verdicts): (&'static str, &[Verdict])| {
        let mut of_it: Vec<&Met> = met.iter().filter(|met| verdicts.contains(&met.finding.verdict)).collect();
        of_it.sort_by_key(|met| {
            (Reverse(met.finding.verdict), Reverse(met.finding.past_permille), Reverse(&met.job.date))
        });
        let rest = rest(of_it.len().saturating_sub(NAMED));
        let rows = of_it.into_iter().take(NAMED).map(|met| met.row(here)).collect();
        MetList { name, rows, rest }
    };
    let lists: [(&'static str, &[Verdict]); 6] = [
        ("Broke it", &[Verdict::Fail, Verdict::Caution]),
        ("On hold", &[Verdict::Hold]),
        ("Hold cleared by a paper", &[Verdict::Cleared]),
        ("Set aside with a reason", &[Verdict::Waived]),
        ("Met it", &[Verdict::Pass]),
        ("Could not be checked", &[Verdict::NotChecked]),
    ];
    lists.into_iter().map(list).filter(|list| !list.rows.is_empty()).collect()
}

/// `and 52 more`; empty for none.
pub fn rest(count: usize) -> String {
    if count == 0 { String::new() } else { format!("and {count} more") }
}

/// Every finding of a clause under a revision.
fn outcomes<'a>(set: &Set<'a>, standard: &Standard, clause: &str) -> Vec<Met<'a>> {
    let mut met = Vec::new();
    for job in set.jobs.iter().filter(|job| job.standard == standard.revision) {
        for line in job.inlets.iter().chain(&job.trunks) {
            let of_it = || line.findings.iter().filter(|finding| finding.clause == clause);
            // Met is a clause of which everything passes; a pass beside a break is none.
            let all = of_it().all(|finding| finding.verdict == Verdict::Pass);
            let told = of_it().filter(|finding| all || finding.verdict != Verdict::Pass);
            met.extend(told.map(|finding| Met { job, line: Some(line), finding }));
        }
        let of_it = job.findings.iter().filter(|finding| finding.clause == clause);
        met.extend(of_it.map(|finding| Met { job, line: None, finding }));
    }
    met
}

impl Met<'_> {
    fn row(&self, here: &Here) -> MetRow {
        let (place, sheet) = match self.line {
            Some(line) => (format!("{}, {}", self.job.title, line.name), &line.sheet),
            None => (self.job.title.clone(), &self.job.cover),
        };
        MetRow {
            place,
            href: sheet.from(here),
            stamp: self.finding.verdict.into(),
            note: sentence(&self.finding.note),
        }
    }
}

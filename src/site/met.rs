//! How a clause was met in the firm's jobs: the worst and the latest by name, the rest by number, so that the
//! page of a clause does not grow with the firm.
use super::input::Set;
use super::summary::{FindingSummary, Found, JobSummary, LineSummary};
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
    /// Whether any row says what was found.
    pub noted: bool,
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
    /// None where the clause is met.
    finding: Option<&'a FindingSummary>,
}

/// Which lines broke a clause, were let off, met it, in the jobs that this revision judged.
pub fn met_lists(set: &Set, standard: &Standard, clause: &str, here: &Here) -> Vec<MetList> {
    let met = outcomes(set, standard, clause);
    let list = |(name, verdicts): (&'static str, &[Verdict])| {
        let mut of_it: Vec<&Met> = met.iter().filter(|met| verdicts.contains(&met.verdict())).collect();
        let past_permille = |met: &Met| met.finding.map_or(0, |finding| finding.past_permille);
        of_it
            .sort_by_key(|met| (Reverse(met.verdict()), Reverse(past_permille(met)), Reverse(&met.job.date)));
        let rest = rest(of_it.len().saturating_sub(NAMED));
        let rows: Vec<MetRow> = of_it.into_iter().take(NAMED).map(|met| met.row(here)).collect();
        MetList { name, noted: rows.iter().any(|row| !row.note.is_empty()), rows, rest }
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

/// What a clause found in every line and job under a revision.
fn outcomes<'a>(set: &Set<'a>, standard: &Standard, clause: &'a str) -> Vec<Met<'a>> {
    let of = |job: &'a JobSummary, line: Option<&'a LineSummary>, found: &'a Found| {
        let met = found.meets(clause).then_some(Met { job, line, finding: None });
        let told = found.told_by(clause).map(move |finding| Met { job, line, finding: Some(finding) });
        met.into_iter().chain(told)
    };
    let judged = set.jobs.iter().copied().filter(|job| job.standard == standard.revision);
    judged
        .flat_map(|job| {
            let lines = job.inlets.iter().chain(&job.trunks);
            lines.flat_map(move |line| of(job, Some(line), &line.found)).chain(of(job, None, &job.found))
        })
        .collect()
}

impl Met<'_> {
    fn verdict(&self) -> Verdict {
        self.finding.map_or(Verdict::Pass, |finding| finding.verdict)
    }

    fn row(&self, here: &Here) -> MetRow {
        let (place, sheet) = match self.line {
            Some(line) => (format!("{}, {}", self.job.title, line.name), &line.sheet),
            None => (self.job.title.clone(), &self.job.cover),
        };
        MetRow {
            place,
            href: sheet.from(here),
            stamp: self.verdict().into(),
            note: self.finding.map(|finding| sentence(&finding.note)).unwrap_or_default(),
        }
    }
}

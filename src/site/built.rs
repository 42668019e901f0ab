//! Which jobs were built to which revision, and which of them today's revision would fail. Jobs are counted;
//! the worst and the latest are named, so that the sheet does not grow with the firm.
use super::cover::{cover_cells, job_page};
use super::input::Set;
use super::met::{NAMED, rest};
use super::summary::{JobSummary, Today};
use super::ways::{BUILT, Placed, cover_nth, cover_series};
use crate::packet::here::Here;
use crate::packet::sheet::{Sheet, Stamp};
use crate::standard::Verdict;
use serde::Serialize;
use std::cmp::Reverse;

/// Jobs by revision, the newest revision first.
#[derive(Debug, Clone, Serialize)]
pub struct Built {
    pub intro: String,
    pub revisions: Vec<BuiltTo>,
}

/// The jobs of a revision.
#[derive(Debug, Clone, Serialize)]
pub struct BuiltTo {
    pub name: String,
    /// How many, and how they stand today.
    pub count: String,
    pub lists: Vec<JobList>,
}

/// Jobs that stand alike.
#[derive(Debug, Clone, Serialize)]
pub struct JobList {
    pub name: String,
    pub rows: Vec<JobRow>,
    /// What is not named, in words; empty where all are.
    pub rest: String,
}

/// A job.
#[derive(Debug, Clone, Serialize)]
pub struct JobRow {
    pub title: String,
    pub href: String,
    pub date: String,
    /// By its own revision, and by the one in force.
    pub own: Stamp,
    pub today: Stamp,
    /// Clauses that it would fail, or that would put it on hold.
    pub broken: String,
}

/// The sheet.
pub fn sheet(set: &Set, here: &Here) -> Sheet<super::Body> {
    let now = set.in_force().map(|standard| standard.revision.as_str()).unwrap_or_default();
    let intro = format!(
        "Every job is judged by the revision it names, and that verdict stands. Beside it stands how the same lines would \
         fare by revision {now}, in force today: what was built to an earlier one need not be changed for that, but whoever \
         opens the wall again should know."
    );
    let revisions =
        set.standards.iter().rev().map(|standard| built_to(set, &standard.revision, now, here)).collect();
    let body = super::Body::Built(Built { intro, revisions });
    let placed = Placed { series: &cover_series(), nth: cover_nth(BUILT), here };
    placed.sheet(set, "Jobs by revision".into(), cover_cells(set), body)
}

fn built_to(set: &Set, revision: &str, now: &str, here: &Here) -> BuiltTo {
    let mut jobs: Vec<&JobSummary> =
        set.jobs.iter().copied().filter(|job| job.standard == revision).collect();
    jobs.sort_by_key(|job| Reverse(job.date.clone()));
    let of = |verdict: Verdict| jobs.iter().copied().filter(|job| today(job) == verdict).collect::<Vec<_>>();
    let (failed, held) = (of(Verdict::Fail), of(Verdict::Hold));
    let count = match jobs.len() {
        0 => "No job was built to it.".into(),
        n => format!(
            "{} built to it. By revision {now}: {} would fail, {} would be on hold, {} would not.",
            if n == 1 { "1 job was".to_owned() } else { format!("{n} jobs were") },
            failed.len(),
            held.len(),
            n - failed.len() - held.len()
        ),
    };
    let lists = [
        list("Would fail today, the worst first", worst_first(failed), here),
        list("Would be on hold today", worst_first(held), here),
        list("The latest", jobs, here),
    ];
    let lists = lists.into_iter().filter(|list| !list.rows.is_empty()).collect();
    let name = if revision == now {
        format!("Revision {revision}, in force")
    } else {
        format!("Revision {revision}")
    };
    BuiltTo { name, count, lists }
}

/// A job's verdict by the revision in force.
fn today(job: &JobSummary) -> Verdict {
    job.today.as_ref().map_or(job.verdict, |today| today.verdict)
}

/// Jobs of the same verdict, the one with most broken clauses first, then the latest.
fn worst_first(mut jobs: Vec<&JobSummary>) -> Vec<&JobSummary> {
    let broken = |job: &JobSummary| job.today.as_ref().map_or(0, |today| today.broken.len());
    jobs.sort_by_key(|job| (Reverse(broken(job)), Reverse(job.date.clone())));
    jobs
}

fn list(name: &str, jobs: Vec<&JobSummary>, here: &Here) -> JobList {
    let rest = rest(jobs.len().saturating_sub(NAMED));
    JobList {
        name: name.into(),
        rows: jobs.into_iter().take(NAMED).map(|job| row(job, here)).collect(),
        rest,
    }
}

fn row(job: &JobSummary, here: &Here) -> JobRow {
    JobRow {
        title: job.title.clone(),
        href: here.to(&job_page(&job.key), ""),
        date: job.date.clone(),
        own: job.verdict.into(),
        today: today(job).into(),
        broken: job.today.as_ref().map_or_else(|| "the same revision".into(), broken_words),
    }
}

/// `fail: 2.1 Bend total; hold: 4.1 Bores`
fn broken_words(today: &Today) -> String {
    if today.broken.is_empty() {
        return "nothing fails, nothing is on hold".into();
    }
    let words = |(verdict, name): &(Verdict, String)| format!("{}: {name}", verdict.word());
    today.broken.iter().map(words).collect::<Vec<_>>().join("; ")
}

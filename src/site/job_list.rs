//! The job list: every job of the firm on sheets of so many rows, by year, the latest first; and the jobs that
//! may not be built as they are, the worst first. The first sheet counts, so that it grows with the years only.
use super::cover::{cover_cells, job_page};
use super::input::{Set, Unread};
use super::summary::{JobSummary, LineSummary};
use super::ways::{JOBS, Placed, Series};
use crate::packet::here::Here;
use crate::packet::sheet::{Link, Sheet, Stamp};
use crate::standard::Verdict;
use serde::Serialize;
use std::cmp::Reverse;

/// Rows of a sheet.
pub const ROWS: usize = 60;
/// Errors told of a job that could not be read; its own sheet tells all.
const ERRORS: usize = 2;

/// A sheet of the list.
#[derive(Debug, Clone, Serialize)]
pub struct JobList {
    pub intro: String,
    /// On the first sheet alone.
    pub years: Vec<YearRow>,
    pub rows: Vec<JobLine>,
}

/// A year in numbers.
#[derive(Debug, Clone, Serialize)]
pub struct YearRow {
    pub name: Link,
    pub jobs: usize,
    pub fail: usize,
    pub hold: usize,
    /// Jobs with nothing failed and nothing on hold.
    pub clear: usize,
}

/// A job.
#[derive(Debug, Clone, Serialize)]
pub struct JobLine {
    pub title: String,
    pub href: String,
    pub date: String,
    pub stamp: Stamp,
    pub words: String,
}

/// A job of the firm, read or not.
#[derive(Debug, Clone, Copy)]
pub enum Job<'a> {
    Read(&'a JobSummary),
    Unread(&'a Unread),
}

/// A sheet of rows: its number, its title, its page, and what stands on it.
struct Rows<'a> {
    number: String,
    title: String,
    page: String,
    jobs: Vec<Job<'a>>,
}

impl<'a> Job<'a> {
    pub fn key(self) -> &'a str {
        match self {
            Job::Read(job) => &job.key,
            Job::Unread(job) => &job.key,
        }
    }

    pub fn title(self) -> &'a str {
        match self {
            Job::Read(job) => &job.title,
            Job::Unread(job) => &job.key,
        }
    }

    pub fn stamp(self) -> Stamp {
        match self {
            Job::Read(job) => job.verdict.into(),
            Job::Unread(_) => Stamp::not_read(),
        }
    }

    /// Where it is and since when; for a job that could not be read, what is wrong with it.
    pub fn words(self) -> String {
        match self {
            Job::Read(job) => [job.address.as_str(), &job.date].join(", ").trim_start_matches(", ").into(),
            Job::Unread(job) => trouble(job),
        }
    }

    fn line(self, here: &Here) -> JobLine {
        let (date, words) = match self {
            Job::Read(job) => (job.date.clone(), job.address.clone()),
            Job::Unread(job) => (String::new(), trouble(job)),
        };
        let href = here.to(&job_page(self.key()), "");
        JobLine { title: self.title().into(), href, date, stamp: self.stamp(), words }
    }
}

/// The first errors of a job, and how many more there are.
fn trouble(job: &Unread) -> String {
    let line = |row: &super::input::UnreadRow| match row.line.as_str() {
        "" => format!("{} {}", row.wrong, row.instead),
        line => format!("Line {line}: {} {}", row.wrong, row.instead),
    };
    let told: Vec<String> = job.rows.iter().take(ERRORS).map(line).collect();
    match job.rows.len().saturating_sub(ERRORS) {
        0 if told.is_empty() => "Its file, or what it rests on, has errors.".into(),
        0 => told.join(" "),
        more => format!("{} And {more} more.", told.join(" ")),
    }
}

/// The jobs that may not be built as they are: not read first, then failed, then on hold; of those alike the one
/// with most findings that stop it, then the latest.
pub fn to_see_to<'a>(set: &Set<'a>) -> Vec<Job<'a>> {
    let mut stopped: Vec<&JobSummary> = set.jobs.iter().copied().filter(|job| job.verdict.stops()).collect();
    stopped.sort_by_key(|job| {
        (Reverse(job.verdict), Reverse(stops(job)), Reverse(job.date.as_str()), job.key.as_str())
    });
    let mut unread: Vec<&Unread> = set.unread.iter().collect();
    unread.sort_by_key(|job| job.key.as_str());
    unread.into_iter().map(Job::Unread).chain(stopped.into_iter().map(Job::Read)).collect()
}

fn stops(job: &JobSummary) -> usize {
    let of_lines = job.inlets.iter().chain(&job.trunks).flat_map(|line: &LineSummary| &line.found.told);
    of_lines.chain(&job.found.told).filter(|finding| finding.verdict.stops()).count()
}

/// Every job that was read, the latest first.
pub fn latest<'a>(set: &Set<'a>) -> Vec<&'a JobSummary> {
    let mut jobs: Vec<&JobSummary> = set.jobs.to_vec();
    jobs.sort_by_key(|job| (Reverse(job.date.as_str()), job.key.as_str()));
    jobs
}

/// How many jobs there are and how they stand.
pub fn count_words(set: &Set) -> String {
    let of = |verdict: Verdict| set.jobs.iter().filter(|job| job.verdict == verdict).count();
    let (failed, held, unread) = (of(Verdict::Fail), of(Verdict::Hold), set.unread.len());
    let all = set.jobs.len() + unread;
    let jobs = if all == 1 { "1 job".to_owned() } else { format!("{all} jobs") };
    let clear = set.jobs.len() - failed - held;
    format!("{jobs}: {clear} may be built, {held} on hold, {failed} failed, {unread} not read.")
}

/// Every sheet of the list but the first.
fn sheets_of_rows<'a>(set: &Set<'a>) -> Vec<Rows<'a>> {
    let mut sheets = parted("To see to", "Jobs to see to", "to-see-to", to_see_to(set));
    let jobs = latest(set);
    for of_year in jobs.chunk_by(|a, b| year(a) == year(b)) {
        let Some(year) = of_year.first().map(|job| year(job)) else { continue };
        let jobs = of_year.iter().map(|job| Job::Read(job)).collect();
        sheets.extend(parted(&format!("Jobs {year}"), &format!("Jobs of {year}"), year, jobs));
    }
    sheets
}

/// `2026-03-14` is of 2026.
fn year(job: &JobSummary) -> &str {
    job.date.split('-').next().unwrap_or_default()
}

fn parted<'a>(number: &str, title: &str, page: &str, jobs: Vec<Job<'a>>) -> Vec<Rows<'a>> {
    let count = jobs.len().div_ceil(ROWS);
    let sheet = |(nth, jobs): (usize, &[Job<'a>])| {
        let (number, title) = match count {
            1 => (number.to_owned(), title.to_owned()),
            _ => (format!("{number}, {}", nth + 1), format!("{title}, {} of {count}", nth + 1)),
        };
        Rows { number, title, page: rows_page(page, nth), jobs: jobs.to_vec() }
    };
    jobs.chunks(ROWS).enumerate().map(sheet).collect()
}

/// Page of the sheet at `nth` (from 0) of a list.
fn rows_page(list: &str, nth: usize) -> String {
    match nth {
        0 => format!("job-list/{list}.html"),
        nth => format!("job-list/{list}-{}.html", nth + 1),
    }
}

/// Page of the jobs to see to.
pub fn to_see_to_page() -> String {
    rows_page("to-see-to", 0)
}

/// The sheets of the list, each with its page.
pub fn sheets(set: &Set) -> Vec<(Here, Sheet<super::Body>)> {
    let lists = sheets_of_rows(set);
    let first = ("Job list".to_owned(), JOBS.to_owned());
    let rest = lists.iter().map(|list| (list.number.clone(), list.page.clone()));
    let series: Series = std::iter::once(first).chain(rest).collect();
    let mut sheets = vec![front(set, &series)];
    for (nth, list) in lists.iter().enumerate() {
        let here = Here::page(list.page.clone());
        let rows = list.jobs.iter().map(|job| job.line(&here)).collect();
        let body = super::Body::JobList(JobList { intro: String::new(), years: Vec::new(), rows });
        let placed = Placed { series: &series, nth: nth + 1, here: &here };
        sheets.push((here.clone(), placed.sheet(set, list.title.clone(), cover_cells(set), body)));
    }
    sheets
}

/// The first sheet: the years in numbers.
fn front(set: &Set, series: &Series) -> (Here, Sheet<super::Body>) {
    let here = Here::page(JOBS);
    let mut years = Vec::new();
    let stopped = to_see_to(set);
    if !stopped.is_empty() {
        let name = Link { href: here.to(&to_see_to_page(), ""), text: "To see to, all years".into() };
        years.push(year_row(name, stopped.iter().copied()));
    }
    let jobs = latest(set);
    for of_year in jobs.chunk_by(|a, b| year(a) == year(b)) {
        let Some(year) = of_year.first().map(|job| year(job)) else { continue };
        let name = Link { href: here.to(&rows_page(year, 0), ""), text: year.to_owned() };
        years.push(year_row(name, of_year.iter().map(|job| Job::Read(job))));
    }
    let intro = match jobs.len() + set.unread.len() {
        0 => "No job yet.".into(),
        _ => format!(
            "{} A year's jobs stand the latest first, {ROWS} to a sheet; the title block leads to the next one. A job \
             that could not be read has no date and stands with the jobs to see to.",
            count_words(set)
        ),
    };
    let body = super::Body::JobList(JobList { intro, years, rows: Vec::new() });
    let placed = Placed { series, nth: 0, here: &here };
    let sheet = placed.sheet(set, "Job list".into(), cover_cells(set), body);
    (here, sheet)
}

fn year_row<'a>(name: Link, jobs: impl Iterator<Item = Job<'a>>) -> YearRow {
    let mut row = YearRow { name, jobs: 0, fail: 0, hold: 0, clear: 0 };
    for job in jobs {
        row.jobs += 1;
        match job {
            Job::Read(job) if job.verdict == Verdict::Fail => row.fail += 1,
            Job::Read(job) if job.verdict == Verdict::Hold => row.hold += 1,
            Job::Read(_) => row.clear += 1,
            Job::Unread(_) => {}
        }
    }
    row
}

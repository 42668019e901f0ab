//! The cover of the set: how the jobs stand, the worst and the latest of them by name, and the index of sheets.
//! It does not grow with the firm: jobs, clauses and lessons are counted here and listed on sheets of their own.
use super::course::{self, length_words};
use super::input::{LessonPage, Set, Unread};
use super::job_list::{self, Job, latest, to_see_to};
use super::met::{NAMED, rest};
use super::summary::{JobSummary, LineSummary};
use super::ways::{
    BUILT, COURSE, FIND, GLOSSARY, JOBS, KEYS, PARTS, Placed, SOURCES, STUDY, Series, book_page,
    compare_page, cover_series, standard_page,
};
use crate::lesson::Part;
use crate::packet::cover::IndexRow;
use crate::packet::here::Here;
use crate::packet::outline::job_folder;
use crate::packet::sheet::{Cell, Link, Sheet, Stamp};
use serde::Serialize;

/// The cover.
#[derive(Debug, Clone, Serialize)]
pub struct SetCover {
    pub contact: Vec<String>,
    /// How many jobs there are and how they stand.
    pub count: String,
    pub lists: Vec<JobRows>,
    /// The way to all jobs.
    pub all_jobs: Link,
    pub index: Vec<IndexGroup>,
}

/// Jobs on the cover that are named for the same reason.
#[derive(Debug, Clone, Serialize)]
pub struct JobRows {
    pub name: &'static str,
    pub jobs: Vec<JobRow>,
    /// What is not named, and the way to it; no text where all are.
    pub rest: Link,
}

/// A job on the cover.
#[derive(Debug, Clone, Serialize)]
pub struct JobRow {
    pub title: String,
    pub href: String,
    pub stamp: Stamp,
    pub words: String,
    pub inlets: Vec<InletStamp>,
}

/// An inlet's stamp.
#[derive(Debug, Clone, Serialize)]
pub struct InletStamp {
    pub name: String,
    pub href: String,
    pub stamp: Stamp,
}

/// Sheets of a kind.
#[derive(Debug, Clone, Serialize)]
pub struct IndexGroup {
    pub name: String,
    pub rows: Vec<IndexRow>,
}

/// A job that could not be read.
#[derive(Debug, Clone, Serialize)]
pub struct UnreadJob {
    pub file: String,
    pub rows: Vec<super::input::UnreadRow>,
}

/// The cover sheet.
pub fn sheet(set: &Set, here: &Here) -> Sheet<super::Body> {
    let body = SetCover {
        contact: set.firm.contact.clone(),
        count: job_list::count_words(set),
        lists: job_rows(set, here),
        all_jobs: Link { href: here.to(JOBS, ""), text: "All jobs, by year".into() },
        index: index(set, here),
    };
    let placed = Placed { series: &cover_series(), nth: 0, here };
    let sheet = placed.sheet(set, set.firm.name.clone(), cover_cells(set), super::Body::SetCover(body));
    Sheet { under_title: "Job packets, the standard, lessons.".into(), ..sheet }
}

/// The jobs that are named: the worst, and of the others the latest.
fn job_rows(set: &Set, here: &Here) -> Vec<JobRows> {
    let stopped = to_see_to(set);
    let (worst, more) = stopped.split_at(stopped.len().min(NAMED));
    let named = |job: &&JobSummary| worst.iter().any(|worst| worst.key() == job.key);
    let others: Vec<&JobSummary> = latest(set).into_iter().filter(|job| !named(job)).collect();
    let (late, old) = others.split_at(others.len().min(NAMED));
    let late: Vec<Job> = late.iter().map(|job| Job::Read(job)).collect();
    let list = |name, jobs: &[Job], rest_of: usize, page: &str| JobRows {
        name,
        jobs: jobs.iter().map(|job| job_row(*job, here)).collect(),
        rest: Link { href: here.to(page, ""), text: rest(rest_of) },
    };
    let lists = [
        list("To see to", worst, more.len(), &job_list::to_see_to_page()),
        list("The latest", &late, old.len(), JOBS),
    ];
    lists.into_iter().filter(|list| !list.jobs.is_empty()).collect()
}

/// The page of an unread job.
pub fn unread_sheet(set: &Set, unread: &Unread, here: &Here) -> Sheet<super::Body> {
    let series: Series = vec![("1 of 1".into(), here.path().into())];
    let body = super::Body::UnreadJob(UnreadJob {
        file: format!("jobs/{}.yaml", unread.key),
        rows: unread.rows.clone(),
    });
    let cells = vec![Cell::new("Job", unread.key.clone())];
    let mut sheet = Placed { series: &series, nth: 0, here }.sheet(set, unread.key.clone(), cells, body);
    sheet.block.stamp = Some(Stamp::not_read());
    sheet.bar = "NOT READ: build nothing by this sheet".into();
    sheet
}

/// Page of a job's cover.
pub fn job_page(key: &str) -> String {
    format!("{}/index.html", job_folder(key))
}

/// The fields of the covers.
pub fn cover_cells(set: &Set) -> Vec<Cell> {
    let mut cells = Vec::new();
    if let Some(standard) = set.in_force() {
        cells.push(Cell::new("Standard in force", standard.revision.clone()));
    }
    cells.push(Cell::new("Jobs", (set.jobs.len() + set.unread.len()).to_string()));
    cells.push(Cell::new("Lessons", set.lessons.len().to_string()));
    cells
}

fn job_row(job: Job, here: &Here) -> JobRow {
    let inlet = |inlet: &LineSummary| InletStamp {
        name: inlet.name.clone(),
        href: inlet.sheet.from(here),
        stamp: inlet.verdict.into(),
    };
    let inlets = match job {
        Job::Read(job) => job.inlets.iter().map(inlet).collect(),
        Job::Unread(_) => Vec::new(),
    };
    let href = here.to(&job_page(job.key()), "");
    JobRow { title: job.title().into(), href, stamp: job.stamp(), words: job.words(), inlets }
}

/// The sheet index.
fn index(set: &Set, here: &Here) -> Vec<IndexGroup> {
    let row = |number: &str, title: String, page: &str| IndexRow {
        number: number.into(),
        title,
        href: here.to(page, ""),
        stamp: None,
    };
    let mut groups = vec![IndexGroup {
        name: "Covers".into(),
        rows: vec![
            row("Index", "Find a word, a clause, a job".into(), FIND),
            row("Job list", "All jobs, by year".into(), JOBS),
            row("Parts", "Parts and their figures".into(), PARTS),
            row("Sources", "What it rests on, read and from memory".into(), SOURCES),
            row("Words", "Words of the trade as we say them".into(), GLOSSARY),
            row("Record", "Study record: lessons passed, cards signed".into(), STUDY),
            row("Jobs by revision", "Built to which revision, and how they stand today".into(), BUILT),
            row("Keys", "What each file may say".into(), KEYS),
        ],
    }];
    for standard in set.standards.iter().rev() {
        groups.push(standard_group(set, standard, here));
    }
    let part = |(part, lessons): (Part, Vec<(usize, &LessonPage)>)| IndexRow {
        number: part.word().into(),
        title: length_words(lessons.into_iter().map(|(_, lesson)| lesson)),
        href: here.to(COURSE, &course::anchor(part)),
        stamp: None,
    };
    groups
        .push(IndexGroup { name: "Course".into(), rows: course::parts(set).into_iter().map(part).collect() });
    groups.retain(|group| !group.rows.is_empty());
    groups
}

/// The sheets of a revision; its clauses stand on the overview.
fn standard_group(set: &Set, standard: &crate::company::Standard, here: &Here) -> IndexGroup {
    let in_force = set.in_force().is_some_and(|s| s.revision == standard.revision);
    let mut rows = vec![(
        format!("Standard {}", standard.revision),
        format!("All {} clauses", standard.clauses().count()),
        standard_page(&standard.revision),
    )];
    rows.push((
        format!("Document {}", standard.revision),
        "The whole standard, to print".to_string(),
        book_page(&standard.revision),
    ));
    if let Some(before) = super::compare::before(set, standard) {
        rows.push((
            format!("Changes {}", standard.revision),
            format!("What changed since {}", before.revision),
            compare_page(&standard.revision),
        ));
    }
    let state = match set.in_force() {
        _ if in_force => "in force",
        Some(now) if standard.effective < now.effective => "earlier",
        _ => "to come",
    };
    let rows = rows.into_iter().map(|(number, title, page)| IndexRow {
        number,
        title,
        href: here.to(&page, ""),
        stamp: None,
    });
    IndexGroup { name: format!("Standard, revision {} ({state})", standard.revision), rows: rows.collect() }
}

//! The cover of the set: every job with its stamp, and the index of all sheets.
use super::input::{Set, Unread};
use super::summary::{JobSummary, LineSummary};
use super::ways::{
    BUILT, FIND, GLOSSARY, KEYS, PARTS, Placed, SOURCES, STUDY, Series, book_page, compare_page,
    cover_series, lesson_series, standard_page,
};
use crate::lesson::Part;
use crate::packet::cover::IndexRow;
use crate::packet::here::Here;
use crate::packet::outline::job_folder;
use crate::packet::sheet::{Cell, Sheet, Stamp};
use serde::Serialize;

/// The cover.
#[derive(Debug, Clone, Serialize)]
pub struct SetCover {
    pub contact: Vec<String>,
    pub jobs: Vec<JobRow>,
    pub index: Vec<IndexGroup>,
}

/// A job on the cover.
#[derive(Debug, Clone, Serialize)]
pub struct JobRow {
    pub title: String,
    pub href: String,
    pub stamp: Stamp,
    pub words: String,
    pub inlets: Vec<InletStamp>,
    /// Diagnostics of a job that could not be read; else empty.
    pub trouble: String,
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
    let read = set.jobs.iter().map(|job| (job.key.clone(), job_row(job, here)));
    let unread = set.unread.iter().map(|unread| (unread.key.clone(), unread_row(unread, here)));
    let mut jobs: Vec<(String, JobRow)> = read.chain(unread).collect();
    jobs.sort_by(|a, b| a.0.cmp(&b.0));
    let body = SetCover {
        contact: set.firm.contact.clone(),
        jobs: jobs.into_iter().map(|(_, row)| row).collect(),
        index: index(set, here),
    };
    let placed = Placed { series: &cover_series(), nth: 0, here };
    let sheet = placed.sheet(set, set.firm.name.clone(), cover_cells(set), super::Body::SetCover(body));
    Sheet { under_title: "Job packets, the standard, lessons.".into(), ..sheet }
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

/// A job that was read.
fn job_row(job: &JobSummary, here: &Here) -> JobRow {
    let inlet = |inlet: &LineSummary| InletStamp {
        name: inlet.name.clone(),
        href: inlet.sheet.from(here),
        stamp: inlet.verdict.into(),
    };
    JobRow {
        title: job.title.clone(),
        href: here.to(&job_page(&job.key), ""),
        stamp: job.verdict.into(),
        words: [job.address.as_str(), &job.date].join(", ").trim_start_matches(", ").to_string(),
        inlets: job.inlets.iter().map(inlet).collect(),
        trouble: String::new(),
    }
}

/// A job that was not.
fn unread_row(unread: &Unread, here: &Here) -> JobRow {
    JobRow {
        title: unread.key.clone(),
        href: here.to(&job_page(&unread.key), ""),
        stamp: Stamp::not_read(),
        words: "Its file, or what it rests on, has errors. Its sheets say what stands.".into(),
        inlets: Vec::new(),
        trouble: unread.diagnostics.clone(),
    }
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
    for part in Part::ALL {
        let lessons = set.lessons.iter().zip(lesson_series(set)).filter(|(lesson, _)| lesson.part == part);
        let rows =
            lessons.map(|(lesson, (number, page))| row(&number, lesson.title.clone(), &page)).collect();
        groups.push(IndexGroup { name: format!("Lessons: {}", part.word()), rows });
    }
    groups.retain(|group| !group.rows.is_empty());
    groups
}

/// The sheets of a revision: all where it is in force, else the overview alone.
fn standard_group(set: &Set, standard: &crate::company::Standard, here: &Here) -> IndexGroup {
    let in_force = set.in_force().is_some_and(|s| s.revision == standard.revision);
    let mut rows = vec![(
        format!("Standard {}", standard.revision),
        "All clauses".to_string(),
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
    if in_force {
        let page = |id: &str| crate::packet::sheet::clause_page(&standard.revision, id);
        rows.extend(
            standard.clauses().map(|c| (format!("Clause {}", c.number), c.title.clone(), page(&c.id))),
        );
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

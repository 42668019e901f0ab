//! Where the sheets of the set stand, and their title blocks.
use super::input::Set;
use crate::packet::here::Here;
use crate::packet::sheet::{Cell, Link, Sheet, TitleBlock};
use crate::text::slug;

/// The cover of the set.
pub const COVER: &str = "index.html";
/// The job list.
pub const JOBS: &str = "job-list/index.html";
/// The course.
pub const COURSE: &str = "course/index.html";
/// The course as one document to print.
pub const COURSE_BOOK: &str = "course/book.html";
/// The index of terms.
pub const FIND: &str = "find.html";
/// How the paths of its shards begin.
pub const SHARDS: &str = "find/";

/// The parts sheet.
pub const PARTS: &str = "parts.html";

/// The firm's words.
pub const GLOSSARY: &str = "words.html";

/// The study record.
pub const STUDY: &str = "study-record.html";

/// Every key of every file.
pub const KEYS: &str = "keys.html";

/// The sheet of sources, which stands with the standard.
pub const SOURCES: &str = "standard/sources.html";

/// Which jobs were built to which revision.
pub const BUILT: &str = "standard/jobs.html";

/// Page of a lesson, under `site/`.
pub fn lesson_page(id: &str) -> String {
    format!("lessons/{}.html", slug(id))
}

/// Overview of a revision, under `site/`.
pub fn standard_page(revision: &str) -> String {
    format!("standard/{}/index.html", slug(revision))
}

/// Comparison of a revision with the one before it, under `site/`.
pub fn compare_page(revision: &str) -> String {
    format!("standard/{}/changes.html", slug(revision))
}

/// A revision as one document to print, under `site/`.
pub fn book_page(revision: &str) -> String {
    format!("standard/{}/book.html", slug(revision))
}

/// A row of sheets that follow each other: number and page of each.
pub type Series = Vec<(String, String)>;

/// A sheet of a series; `nth` is its place there, from 0.
pub struct Placed<'a> {
    pub series: &'a Series,
    pub nth: usize,
    pub here: &'a Here,
}

impl Placed<'_> {
    /// The sheet with its title block.
    pub fn sheet(&self, set: &Set, title: String, cells: Vec<Cell>, body: super::Body) -> Sheet<super::Body> {
        let block = title_block(set, self.series, self.nth, self.here, cells);
        Sheet {
            anchor: slug(&block.number),
            title,
            under_title: String::new(),
            bar: String::new(),
            jumps: Vec::new(),
            block,
            body,
        }
    }
}

/// Title block of the sheet at `nth` (from 0) of a series; the first one's previous is the cover.
pub fn title_block(set: &Set, series: &Series, nth: usize, here: &Here, cells: Vec<Cell>) -> TitleBlock {
    let link = |(number, page): &(String, String)| Link { href: here.to(page, ""), text: number.clone() };
    let cover = ("Cover".to_string(), COVER.to_string());
    let before = nth.checked_sub(1).and_then(|i| series.get(i));
    let previous = before.or((here.path() != COVER).then_some(&cover));
    let firm = Cell::new("Firm", set.firm.name.clone());
    TitleBlock {
        cells: std::iter::once(firm).chain(cells).collect(),
        number: series.get(nth).map(|(number, _)| number.clone()).unwrap_or_default(),
        stamp: None,
        beside_stamp: String::new(),
        previous: previous.map(link),
        next: series.get(nth + 1).map(link),
        index: Some(Link { href: here.to(COVER, ""), text: "Sheet index".into() }),
    }
}

/// Number and page of the lessons.
pub fn lesson_series(set: &Set) -> Series {
    let number = |(place, lesson): (usize, &super::input::LessonPage)| {
        (format!("Lesson {}", place + 1), lesson_page(&lesson.id))
    };
    set.lessons.iter().enumerate().map(number).collect()
}

/// Number and page of the covers.
pub fn cover_series() -> Series {
    vec![
        ("Cover".into(), COVER.into()),
        ("Index".into(), FIND.into()),
        ("Parts".into(), PARTS.into()),
        ("Sources".into(), SOURCES.into()),
        ("Jobs by revision".into(), BUILT.into()),
        ("Words".into(), GLOSSARY.into()),
        ("Study record".into(), STUDY.into()),
        ("Course".into(), COURSE.into()),
        ("Keys".into(), KEYS.into()),
    ]
}

/// The place of a page among the covers.
pub fn cover_nth(page: &str) -> usize {
    cover_series().iter().position(|(_, known)| known == page).unwrap_or_default()
}

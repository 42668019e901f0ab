//! The set of sheets as files, and the one place that writes them.
//!
//! [`pages`] is pure: from what was read and worked out to paths and bytes. [`Writer`] puts them in
//! `site/` and touches nothing there that an earlier run did not write.
mod bar;
mod bare;
mod book;
mod built;
mod compare;
mod course;
mod cover;
mod find;
mod input;
mod job_list;
mod keys;
mod lean;
mod lessons;
mod made;
mod met;
mod page;
mod parts;
mod sources;
mod standard;
mod study;
mod summary;
pub(crate) mod teach;
mod theme;
mod ways;
mod words;
mod write;

pub use bar::Bar;
pub use input::{JobEntry, Set, Unread, UnreadRow};
pub use made::{Failed, Made};
pub use page::style_kind;
pub use summary::JobSummary;
pub use theme::{Theme, ThemeError, ThemeFile};
pub use ways::{compare_page, lesson_page, standard_page};
#[cfg(test)]
pub(crate) use write::write;
pub use write::{
    RECORD, Report, WriteError, Writer, fingerprint, forget_open_pages, own_time, tell_open_pages,
};

use crate::packet::here::Here;
use crate::packet::outline::{Kind, Outline};
use crate::packet::route::elevation_file;
use crate::packet::sheet::{Sheet, clause_page};
use crate::packet::{self, Source};
use made::Maker;
use page::{Notes, Page, Print};
use serde::Serialize;

/// What stands on a sheet that is not a packet's; the tag picks the template.
#[derive(Debug, Clone, Serialize)]
#[serde(tag = "kind", content = "body", rename_all = "kebab-case")]
pub enum Body {
    SetCover(cover::SetCover),
    Find(find::Find),
    Standard(standard::Overview),
    Clause(standard::ClauseSheet),
    Compare(compare::Compare),
    Lesson(lessons::LessonSheet),
    UnreadJob(cover::UnreadJob),
    Parts(parts::Parts),
    Sources(sources::Sources),
    Built(built::Built),
    JobList(job_list::JobList),
    Course(course::Course),
    CoursePiece(course::book::CoursePiece),
    StudyRecord(study::StudyRecord),
    Words(words::Glossary),
    Book(book::Leaf),
    Keys(keys::Keys),
}

/// A file of the set.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SiteFile {
    /// Under `site/`, `/` between folders.
    pub path: String,
    pub bytes: Vec<u8>,
}

/// Every page of the set that is not a packet's, in the order of their making. One that cannot be laid out
/// stops no other.
pub fn pages(set: &Set, theme: &Theme) -> Made {
    let mut maker = Maker::new(set, theme);
    let here = Here::page(ways::COVER);
    maker.single(&here, cover::sheet(set, &here));
    find_pages(&mut maker);
    let here = Here::page(ways::GLOSSARY);
    maker.single(&here, words::sheet(set, &here));
    let here = Here::page(ways::PARTS);
    maker.single(&here, parts::sheet(set, &here));
    let here = Here::page(ways::SOURCES);
    maker.single(&here, sources::sheet(set, &here));
    let here = Here::page(ways::STUDY);
    maker.scripted(&here, study::sheet(set, &here), &["study.js", "record.js"]);
    let here = Here::page(ways::BUILT);
    maker.single(&here, built::sheet(set, &here));
    for (here, sheet) in job_list::sheets(set) {
        maker.single(&here, sheet);
    }
    let here = Here::page(ways::COURSE);
    maker.single(&here, course::sheet(set, &here));
    let here = Here::page(ways::COURSE_BOOK);
    let title = format!("The course, to print – {}", set.firm.name);
    let sheets = course::book::sheets(set, &here);
    maker.page(&here, &Page::new(set.firm, &here, title, Print::RunOn, sheets));
    let here = Here::page(ways::KEYS);
    maker.single(&here, keys::sheet(set, &here));
    set.standards.iter().for_each(|standard| standard_pages(&mut maker, standard));
    for (nth, lesson) in set.lessons.iter().enumerate() {
        let here = Here::page(lesson_page(&lesson.id));
        maker.scripted(&here, lessons::sheet(set, lesson, nth, &here), &["study.js", "ask.js"]);
    }
    for unread in set.unread.iter().filter(|unread| !unread.packet_stands) {
        let here = Here::page(cover::job_page(&unread.key));
        maker.single(&here, cover::unread_sheet(set, unread, &here));
    }
    maker.made
}

/// The index, with its script and its shards.
fn find_pages(maker: &mut Maker) {
    let here = Here::page(ways::FIND);
    let (sheet, shards) = find::sheet(maker.set, &here);
    // The page names its shards, so an earlier one stands with its own.
    if maker.scripted(&here, sheet, &["find.js"]) {
        maker.made.files.extend(shards);
    }
}

/// The sheets of a revision.
fn standard_pages(maker: &mut Maker, standard: &crate::company::Standard) {
    let set = maker.set;
    let here = Here::page(standard_page(&standard.revision));
    maker.single(&here, standard::overview(set, standard, &here));
    // As a book, each of its sheets is one printed page.
    let here = Here::page(ways::book_page(&standard.revision));
    let title = format!("{}, revision {}, to print – {}", standard.title, standard.revision, set.firm.name);
    let shown = standard.clauses().map(|clause| (clause.id.as_str(), book::pictures(set, standard, clause)));
    let mut shown: book::Shown = shown.collect();
    let sheets = book::sheets(set, standard, &shown, &here);
    maker.page(&here, &Page::new(set.firm, &here, title, Print::OneEach, sheets));
    let series = standard::series(set, standard);
    let mut nth = 1;
    if let Some(before) = compare::before(set, standard) {
        let here = Here::page(compare_page(&standard.revision));
        maker.single(&here, compare::sheet(set, before, standard, &here));
        nth += 1;
    }
    for clause in standard.by_number() {
        let here = Here::page(clause_page(&standard.revision, &clause.id));
        let pictures = shown.remove(&*clause.id).unwrap_or_default();
        let placed = ways::Placed { series: &series, nth, here: &here };
        maker.single(&here, standard::clause(set, standard, (clause, pictures), &placed));
        nth += 1;
    }
}

/// A packet: its pages, its drawings and data.
pub fn packet_files(theme: &Theme, entry: JobEntry) -> Result<Vec<SiteFile>, ThemeError> {
    let job = entry.worked.work.job;
    let out = Outline::of(job);
    let mut files = packet_pages(theme, &entry, &out)?;
    for (inlet, drawn) in job.inlets.iter().zip(entry.pictures.inlets) {
        let path = format!("{}/{}.svg", out.folder, elevation_file(&inlet.id));
        files.push(SiteFile { path, bytes: drawn.elevation.into_bytes() });
    }
    for (name, bytes) in entry.beside {
        files.push(SiteFile { path: format!("{}/{name}", out.folder), bytes });
    }
    Ok(files)
}

/// The pages of a packet: all its sheets on one, the owner's alone, and the office annex.
fn packet_pages(theme: &Theme, entry: &JobEntry, out: &Outline) -> Result<Vec<SiteFile>, ThemeError> {
    let source = Source { worked: &entry.worked, pictures: &entry.pictures, out };
    let (job, firm) = (entry.worked.work.job, entry.worked.firm);
    let laid = packet::lay(&source);
    let owners = laid.iter().filter(|laid| laid.kind == Kind::Owner).map(|laid| laid.sheet.clone().alone());
    let owners: Vec<Sheet<packet::Body>> = owners.collect();
    let here = Here::page(out.page(Kind::Cover));
    let sheets = laid.into_iter().map(|laid| laid.sheet).collect();
    let mut whole = Page::new(firm, &here, job.title.clone(), Print::OneEach, sheets);
    whole.notes = Some(Notes { job: job.key.clone(), title: job.title.clone() });
    whole.scripts = vec!["notes.js"];
    let mut files = vec![html(theme, &here, &whole)?];
    let here = Here::page(out.owner_page());
    let title = format!("{}: for the homeowner", job.title);
    files.push(html(theme, &here, &Page::new(firm, &here, title, Print::OneEach, owners))?);
    let here = Here::page(out.page(Kind::Office));
    let title = format!("{}: office annex", job.title);
    let office = vec![packet::office(&source).sheet];
    files.push(html(theme, &here, &Page::new(firm, &here, title, Print::RunOn, office))?);
    Ok(files)
}

/// A page as a file.
fn html<B: Serialize>(theme: &Theme, here: &Here, page: &Page<B>) -> Result<SiteFile, ThemeError> {
    let text = theme.page(page).map_err(|error| error.on(here.path()))?;
    Ok(SiteFile { path: here.path().into(), bytes: text.into_bytes() })
}

#[cfg(test)]
mod tests;

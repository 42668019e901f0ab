//! What stays of earlier runs where its source cannot be read: packets, revisions, lessons, and the whole set
//! where there is no firm or catalog to work with. All of it stands under a bar that says so.
use crate::company::Loaded;
use crate::packet::outline::job_folder;
use crate::site::{Bar, Failed, WriteError, Writer};
use crate::text::{Diagnostic, slug};
use jiff::{Timestamp, Zoned, tz::TimeZone};
use std::path::Path;
use std::time::SystemTime;

/// How times are told on the bar: day and minute, by the clock of the place.
const MINUTE: &str = "%Y-%m-%d %H:%M";

/// Lets pages stand; told when a run began.
pub struct Stays<'w> {
    writer: &'w Writer,
    now: String,
}

impl<'w> Stays<'w> {
    pub fn new(writer: &'w Writer) -> Stays<'w> {
        Stays { writer, now: Zoned::now().strftime(MINUTE).to_string() }
    }

    /// Whether the cover of a packet of an earlier run stands for a job.
    pub fn has_cover(&self, key: &str) -> bool {
        self.writer.has(&format!("{}/index.html", job_folder(key)))
    }

    /// Lets what there is of a job's last packet stand.
    pub fn packet(&self, key: &str, why: &str) -> Result<(), WriteError> {
        let folder = format!("{}/", job_folder(key));
        self.pages(|path| path.strip_prefix(&folder).is_some_and(|file| !file.contains('/')), why)
    }

    /// Lets the sheets of revisions and lessons stand whose files cannot be read.
    pub fn unread_sources(
        &self,
        loaded: &Loaded,
        unread_lessons: &[(String, String)],
    ) -> Result<(), WriteError> {
        for faulty in &loaded.faulty_standards {
            let read = |name: &&String| loaded.standards.iter().any(|s| slug(&s.revision) == slug(name));
            for name in faulty.names.iter().filter(|name| !read(name)) {
                let folder = format!("standard/{}/", slug(name));
                self.pages(|path| path.starts_with(&folder), &why(&faulty.faults))?;
            }
        }
        for (page, why) in unread_lessons {
            self.pages(|path| path == page, why)?;
        }
        Ok(())
    }

    /// Lets a page about the whole set stand that could not be laid out, with what goes with it.
    pub fn failed(&self, page: &Failed) -> Result<(), WriteError> {
        self.pages(|path| page.takes(path), &page.fault.place())
    }

    /// Lets every page that passes stand, under a bar.
    fn pages(&self, passes: impl Fn(&str) -> bool, why: &str) -> Result<(), WriteError> {
        for path in self.writer.written(passes) {
            self.writer.keep(&path, |text, written| {
                let bar = Bar { made: written.map(minute).unwrap_or_default(), since: &self.now, why };
                match path.rsplit_once('.').map(|(_, ending)| ending) {
                    Some("html") => Some(bar.over(text)),
                    Some("json") => Some(bar.in_data(text)),
                    _ => None,
                }
            })?;
        }
        Ok(())
    }
}

/// Lets the whole set stand, where nothing can be made anew; answers whether a page was changed, `None`
/// where there is no set.
pub fn whole_set(root: &Path, why: &str) -> Result<Option<bool>, WriteError> {
    let site = root.join("site");
    if !site.join(crate::site::RECORD).is_file() {
        return Ok(None);
    }
    let writer = Writer::open(&site)?;
    Stays::new(&writer).pages(|_| true, why)?;
    // What the last run kept goes, so that every page is made anew once its source can be read.
    let report = writer.finish(|_| true, Some((super::kept::NAME, super::Kept::default().bytes())))?;
    Ok(Some(!report.written.is_empty()))
}

/// What is bad, in a few words: the first place, and how many more.
pub fn why(faults: &[Diagnostic]) -> String {
    let first = faults.first().map(Diagnostic::place).unwrap_or_default();
    match faults.len() {
        0 | 1 => first,
        2 => format!("{first} and 1 more error"),
        n => format!("{first} and {} more errors", n - 1),
    }
}

fn minute(time: SystemTime) -> String {
    Timestamp::try_from(time)
        .map_or(String::new(), |time| time.to_zoned(TimeZone::system()).strftime(MINUTE).to_string())
}

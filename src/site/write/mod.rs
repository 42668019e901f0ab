//! Writes the set into `site/`, and nothing else anywhere.
//!
//! A file goes to a temporary one in a folder of its own in `site/` and is then renamed into its place, so
//! that a reader never sees half of it. Files are held back and go together, since one order to bring many to
//! the disk costs a fraction of one for each. What an earlier run wrote is known from a record, from the journal
//! of a run that was cut off, and from the mark that every page and drawing carries; only that is written
//! over or removed. A page that was changed by hand is set aside under another name and said. Symbolic
//! links are never followed and never replaced. One run at a time writes; a second one waits for the lock.
mod bench;
mod mark;
mod place;
mod rebuilt;
mod record;
mod stale;
mod stand;

pub use mark::fingerprint;
pub use record::RECORD;

use super::SiteFile;
use crate::text::refused;
use bench::{Bench, sync, sync_folder};
use mark::unmarked;
use record::{JOURNAL, Known, Made, open_journal, record_text};
use stale::remove_stale;
use stand::{barred, folder_of, is_inside, link_on_the_way};
use std::collections::{BTreeMap, HashSet};
use std::fmt;
use std::fs::{self, File};
use std::io;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard};
use std::time::SystemTime;

/// How everything begins that the program keeps for itself in `site/`.
const OWN: &str = ".longsweep-";
/// What open pages ask under `watch`, in `site/`; [`super::theme`] puts the asking into every page.
const WATCHED: &str = ".longsweep-watch.js";
/// Held while a run writes, in `site/`.
const LOCK: &str = ".longsweep-lock";
/// What is held back at most before it is put in its place, bytes and files.
const MOST_HELD: (usize, usize) = (8 << 20, 1024);

/// What a run did.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Report {
    pub written: Vec<String>,
    /// How many files were already as they should be.
    pub unchanged: usize,
    pub removed: Vec<String>,
    /// What was left alone, and why.
    pub left: Vec<Left>,
    /// Pages changed by hand: their path, and the path at which the changed one now stands.
    pub aside: Vec<(String, String)>,
    /// Whether the record of earlier runs could not be read, and was made anew.
    pub healed: bool,
}

/// A file left alone.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Left {
    pub path: String,
    pub why: &'static str,
    /// Whether the set is short of a sheet by it.
    pub missing: bool,
}

/// Why the set could not be written, one sentence.
#[derive(Debug)]
pub enum WriteError {
    /// A path that is not a plain path under `site/`.
    Path(String),
    /// Two files of the set with the same path.
    Twice(String),
    /// Something else stands in the place of the record.
    Record(String),
    /// The file system refused.
    Io(PathBuf, io::Error),
}

impl fmt::Display for WriteError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            WriteError::Path(path) => write!(f, "`{path}` is no path inside the site folder"),
            WriteError::Twice(path) => write!(f, "two sheets would stand at `{path}`"),
            WriteError::Record(why) => write!(f, "the record in the site folder cannot be used: {why}"),
            WriteError::Io(path, error) => write!(f, "cannot write {}: {}", path.display(), refused(error)),
        }
    }
}

impl std::error::Error for WriteError {}

/// Writes a set that is all at hand; see [`Writer`].
#[cfg(test)]
pub fn write(site_dir: &Path, files: &[SiteFile], hold: impl Fn(&str) -> bool) -> Result<Report, WriteError> {
    files.iter().try_for_each(|file| sound(&file.path))?;
    let writer = Writer::open(site_dir)?;
    files.iter().try_for_each(|file| writer.put(file.clone()))?;
    writer.finish(hold, None)
}

/// One run of writing, file by file and from several threads.
pub struct Writer {
    site_dir: PathBuf,
    known: Known,
    bench: Bench,
    state: Mutex<State>,
    /// Held till the end of the run; it goes last.
    _lock: File,
}

/// What a run has done so far.
struct State {
    journal: File,
    made: BTreeMap<String, Made>,
    put: HashSet<String>,
    /// Files that wait for others, and their bytes.
    held: Vec<SiteFile>,
    held_bytes: usize,
    /// Folders that no link and no file stands in the way of.
    open: HashSet<String>,
    report: Report,
}

impl Writer {
    /// Takes the folder for this run, and reads what earlier runs wrote there.
    pub fn open(site_dir: &Path) -> Result<Writer, WriteError> {
        fs::create_dir_all(site_dir).map_err(|error| WriteError::Io(site_dir.into(), error))?;
        let lock = locked(site_dir)?;
        let bench = Bench::open(site_dir)?;
        let known = Known::read(site_dir)?;
        let report = Report { healed: known.torn, ..Report::default() };
        let journal = open_journal(site_dir)?;
        let state = State {
            journal,
            made: BTreeMap::new(),
            put: HashSet::new(),
            held: Vec::new(),
            held_bytes: 0,
            open: HashSet::new(),
            report,
        };
        Ok(Writer { site_dir: site_dir.into(), _lock: lock, known, bench, state: Mutex::new(state) })
    }

    /// Takes a file of the set, to be put in its place with others; see [`Writer::settle`].
    pub fn put(&self, file: SiteFile) -> Result<(), WriteError> {
        sound(&file.path)?;
        let full = {
            let mut state = self.state();
            if !state.put.insert(file.path.clone()) {
                return Err(WriteError::Twice(file.path));
            }
            state.held_bytes += file.bytes.len();
            state.held.push(file);
            state.held_bytes >= MOST_HELD.0 || state.held.len() >= MOST_HELD.1
        };
        if full { self.settle() } else { Ok(()) }
    }

    /// Puts every file that is held back in its place, unless the very bytes stand there.
    pub fn settle(&self) -> Result<(), WriteError> {
        let held = {
            let mut state = self.state();
            state.held_bytes = 0;
            std::mem::take(&mut state.held)
        };
        self.place(held)
    }

    /// Whether a file that an earlier run wrote stands as it was written, by its length and time; it is
    /// then of this set too. Where it does not, it has to be put again.
    pub fn stands(&self, path: &str) -> bool {
        let Some(made) = self.known.last(path) else { return false };
        let Ok(meta) = fs::symlink_metadata(self.site_dir.join(path)) else { return false };
        let same = meta.is_file()
            && made.at_ns != 0
            && changed_ns(&meta) == made.at_ns
            && made.bytes() == Some(meta.len())
            && self.barred(path).is_none();
        if same {
            self.state().made.insert(path.to_owned(), made.clone());
        }
        same
    }

    /// Why the folder of a path must not be entered; asked of the disk till it may, then known.
    fn barred(&self, path: &str) -> Option<&'static str> {
        let folder = folder_of(path);
        if self.state().open.contains(folder) {
            return None;
        }
        let why = barred(&self.site_dir, folder);
        if why.is_none() {
            self.state().open.insert(folder.to_owned());
        }
        why
    }

    /// The paths that an earlier run wrote and that pass.
    pub fn written(&self, passes: impl Fn(&str) -> bool) -> Vec<String> {
        self.known.paths().into_iter().filter(|path| passes(path)).map(str::to_owned).collect()
    }

    /// Lets a file of an earlier run stand, its text changed by `change`, which is told its text and when it
    /// was written. One that was changed by hand is changed the same, and set aside as it was; one that is gone stays
    /// on the record.
    pub fn keep(
        &self,
        path: &str,
        change: impl FnOnce(&str, Option<SystemTime>) -> Option<String>,
    ) -> Result<(), WriteError> {
        let Some(last) = self.known.last(path).filter(|_| is_inside(path)) else { return Ok(()) };
        let target = self.site_dir.join(path);
        let plain = link_on_the_way(&self.site_dir, path).is_none();
        let bytes = plain.then(|| fs::read(&target).ok()).flatten();
        let text = bytes.and_then(|bytes| String::from_utf8(bytes).ok());
        let written = fs::metadata(&target).and_then(|meta| meta.modified()).ok();
        match text.and_then(|text| change(unmarked(&text), written)) {
            Some(text) => self.put(SiteFile { path: path.to_owned(), bytes: text.into_bytes() }),
            None => {
                self.state().made.insert(path.to_owned(), last.clone());
                Ok(())
            }
        }
    }

    /// Whether an earlier run wrote a page whose path passes.
    pub fn wrote(&self, passes: impl Fn(&str) -> bool) -> bool {
        self.known.paths().into_iter().any(passes)
    }

    /// Whether a file that an earlier run wrote is there, if only changed by hand.
    pub fn has(&self, path: &str) -> bool {
        let there = || fs::symlink_metadata(self.site_dir.join(path)).is_ok_and(|meta| meta.is_file());
        self.known.has(path) && is_inside(path) && there()
    }

    /// Reads a file that the program keeps for itself beside the record.
    pub fn own(&self, name: &str) -> Option<Vec<u8>> {
        fs::read(self.site_dir.join(format!("{OWN}{name}"))).ok()
    }

    /// When such a file was last written.
    pub fn own_time(&self, name: &str) -> Option<SystemTime> {
        own_time(&self.site_dir, name)
    }

    /// Ends the run: removes files of earlier runs that this one did not make, but for those that `hold`
    /// keeps because what they were made from could not be read this time; then writes `own`, name and
    /// bytes, and the record.
    pub fn finish(
        self,
        hold: impl Fn(&str) -> bool,
        own: Option<(&str, Vec<u8>)>,
    ) -> Result<Report, WriteError> {
        self.settle()?;
        let (site_dir, bench) = (self.site_dir, self.bench);
        let State { journal, mut made, mut report, .. } =
            self.state.into_inner().unwrap_or_else(std::sync::PoisonError::into_inner);
        report.unchanged = made.len() - report.written.iter().filter(|path| made.contains_key(*path)).count();
        let kept = remove_stale(&site_dir, &self.known, &made, &hold, &mut report);
        made.extend(kept);
        report.written.sort_unstable();
        report.left.sort_by(|a, b| a.path.cmp(&b.path));
        report.aside.sort_unstable();
        // What the record names must be on the disk before the record is.
        sync(&site_dir, report.written.iter().chain(&report.removed))?;
        let own = own.map(|(name, bytes)| (format!("{OWN}{name}"), bytes));
        let record = (RECORD.to_owned(), record_text(&made).into_bytes());
        for (name, bytes) in own.into_iter().chain([record]) {
            if fs::read(site_dir.join(&name)).map_or(true, |now| now != bytes) {
                bench.write(&name, &bytes)?;
                sync_folder(&site_dir)?;
            }
        }
        drop(journal);
        // A journal or bench that stays is taken up or cleared next time, and does no harm.
        let _ = fs::remove_file(site_dir.join(JOURNAL));
        drop(bench);
        Ok(report)
    }

    fn state(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(std::sync::PoisonError::into_inner)
    }
}

/// When a file that the program keeps for itself in the site folder was last written.
pub fn own_time(site_dir: &Path, name: &str) -> Option<SystemTime> {
    fs::metadata(site_dir.join(format!("{OWN}{name}"))).and_then(|meta| meta.modified()).ok()
}

/// Tells the pages that are open with `?watch` that the set was written anew: they load this script again
/// and again, and load themselves again when what it says has changed.
pub fn tell_open_pages(site_dir: &Path) -> Result<(), WriteError> {
    let path = site_dir.join(WATCHED);
    if fs::symlink_metadata(&path).is_ok_and(|meta| !meta.is_file()) {
        return Err(WriteError::Record(format!("{WATCHED} is no plain file")));
    }
    let since = SystemTime::now().duration_since(SystemTime::UNIX_EPOCH).unwrap_or_default();
    fs::write(&path, format!("longsweepSet(\"{}\");\n", since.as_nanos()))
        .map_err(|error| WriteError::Io(path, error))
}

/// Takes away what open pages ask under `watch`, once nobody watches any more; they ask in vain and stay as
/// they are.
pub fn forget_open_pages(site_dir: &Path) {
    let path = site_dir.join(WATCHED);
    if fs::symlink_metadata(&path).is_ok_and(|meta| meta.is_file()) {
        // One that cannot be removed does no harm.
        let _ = fs::remove_file(path);
    }
}

/// Refuses a path that would lead outside, or to what the program keeps for itself.
fn sound(path: &str) -> Result<(), WriteError> {
    if is_inside(path) && !path.starts_with(OWN) { Ok(()) } else { Err(WriteError::Path(path.to_owned())) }
}

/// When a file was last changed, in nanoseconds since 1970; 0 where the file system tells no time.
fn changed_ns(meta: &fs::Metadata) -> u128 {
    let since = |time: SystemTime| time.duration_since(SystemTime::UNIX_EPOCH).ok();
    meta.modified().ok().and_then(since).map_or(0, |time| time.as_nanos())
}

/// Holds the folder for this run; waits while another has it.
fn locked(site_dir: &Path) -> Result<File, WriteError> {
    let path = site_dir.join(LOCK);
    if fs::symlink_metadata(&path).is_ok_and(|meta| !meta.is_file()) {
        return Err(WriteError::Record(format!("{LOCK} is no plain file")));
    }
    let fail = |error| WriteError::Io(path.clone(), error);
    let lock = File::options().create(true).write(true).truncate(false).open(&path).map_err(fail)?;
    match lock.lock() {
        // Some shares know no locks; files are put in place whole there all the same.
        Err(error) if error.kind() == io::ErrorKind::Unsupported => Ok(lock),
        other => other.map(|()| lock).map_err(fail),
    }
}

#[cfg(test)]
mod tests;

//! Writes the set into `site/`, and nothing else anywhere.
//!
//! A file goes to a temporary one in a folder of its own in `site/` and is then renamed into its place, so
//! that a reader never sees half of it. What an earlier run wrote is known from a record, from the journal
//! of a run that was cut off, and from the mark that every page and drawing carries; only that is written
//! over or removed. A page that was changed by hand is set aside under another name and said. Symbolic
//! links are never followed and never replaced. One run at a time writes; a second one waits for the lock.
mod mark;
mod record;
mod stand;

pub use mark::fingerprint;
pub use record::RECORD;

use super::SiteFile;
use crate::text::refused;
use mark::{Mark, marked, read, unmarked};
use record::{JOURNAL, Known, Made, note, open_journal, record_text};
use stand::{Standing, is_inside, link_on_the_way, standing};
use std::collections::{BTreeMap, BTreeSet, HashSet};
use std::fmt;
use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard};
use std::time::SystemTime;

/// How everything begins that the program keeps for itself in `site/`.
const OWN: &str = ".longsweep-";
/// Where files are written before they are put in their place, in `site/`.
const BENCH: &str = ".longsweep-bench";
/// What open pages ask under `watch`, in `site/`; [`super::theme`] puts the asking into every page.
const WATCHED: &str = ".longsweep-watch.js";
/// Held while a run writes, in `site/`.
const LOCK: &str = ".longsweep-lock";

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
    files.iter().try_for_each(|file| writer.put(file))?;
    writer.finish(hold, None)
}

/// One run of writing, file by file and from several threads.
pub struct Writer {
    site_dir: PathBuf,
    /// Held till the end of the run.
    _lock: File,
    known: Known,
    state: Mutex<State>,
}

/// What a run has done so far.
struct State {
    journal: File,
    made: BTreeMap<String, Made>,
    put: HashSet<String>,
    /// Folders that no link and no file stands in the way of.
    open: HashSet<PathBuf>,
    report: Report,
}

impl Writer {
    /// Takes the folder for this run, and reads what earlier runs wrote there.
    pub fn open(site_dir: &Path) -> Result<Writer, WriteError> {
        fs::create_dir_all(site_dir).map_err(|error| WriteError::Io(site_dir.into(), error))?;
        let lock = locked(site_dir)?;
        clear_bench(site_dir)?;
        let known = Known::read(site_dir)?;
        let report = Report { healed: known.torn, ..Report::default() };
        let journal = open_journal(site_dir)?;
        let state =
            State { journal, made: BTreeMap::new(), put: HashSet::new(), open: HashSet::new(), report };
        Ok(Writer { site_dir: site_dir.into(), _lock: lock, known, state: Mutex::new(state) })
    }

    /// Puts a file of the set in its place, unless the very bytes stand there.
    pub fn put(&self, file: &SiteFile) -> Result<(), WriteError> {
        let path = file.path.as_str();
        sound(path)?;
        let (bytes, print) = marked(path, &file.bytes);
        if !self.state().put.insert(path.to_owned()) {
            return Err(WriteError::Twice(path.to_owned()));
        }
        match standing(&self.site_dir, path, &bytes, &self.known) {
            Standing::Same => {}
            Standing::Foreign(why) => {
                self.state().report.left.push(Left { path: path.into(), why, missing: true });
                return Ok(());
            }
            stands => {
                if stands == Standing::Edited {
                    let aside = set_aside(&self.site_dir, path)?;
                    self.state().report.aside.push((path.into(), aside));
                }
                note(&mut self.state().journal, path, &print)
                    .map_err(|error| WriteError::Io(JOURNAL.into(), error))?;
                write_file(&self.site_dir, path, &bytes)?;
                self.state().report.written.push(path.into());
            }
        }
        let at_ns = fs::metadata(self.site_dir.join(path)).map_or(0, |meta| changed_ns(&meta));
        self.state().made.insert(path.to_owned(), Made { print, at_ns });
        Ok(())
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
            && self.is_open(path);
        if same {
            self.state().made.insert(path.to_owned(), made.clone());
        }
        same
    }

    /// Whether no link stands on the way to a path; asked once for each folder.
    fn is_open(&self, path: &str) -> bool {
        let folder = self.site_dir.join(path).parent().map(Path::to_path_buf).unwrap_or_default();
        if self.state().open.contains(&folder) {
            return true;
        }
        let open = link_on_the_way(&self.site_dir, path).is_none();
        if open {
            self.state().open.insert(folder);
        }
        open
    }

    /// The paths that an earlier run wrote and that pass.
    pub fn written(&self, passes: impl Fn(&str) -> bool) -> Vec<String> {
        self.known.paths().into_iter().filter(|path| passes(path)).map(str::to_owned).collect()
    }

    /// Lets a file of an earlier run stand, its text changed by `change`, which is told its text and when it
    /// was written. One that was changed by hand, or is gone, is left as it is and stays on the record.
    pub fn keep(
        &self,
        path: &str,
        change: impl FnOnce(&str, Option<SystemTime>) -> Option<String>,
    ) -> Result<(), WriteError> {
        let Some(last) = self.known.last(path).filter(|_| is_inside(path)) else { return Ok(()) };
        let target = self.site_dir.join(path);
        let plain = link_on_the_way(&self.site_dir, path).is_none();
        let bytes = plain.then(|| fs::read(&target).ok()).flatten();
        let ours = |bytes: &[u8]| self.known.agrees(path, &fingerprint(bytes)) || read(bytes) == Mark::Whole;
        let text = bytes.filter(|bytes| ours(bytes)).and_then(|bytes| String::from_utf8(bytes).ok());
        let written = fs::metadata(&target).and_then(|meta| meta.modified()).ok();
        match text.and_then(|text| change(unmarked(&text), written)) {
            Some(text) => self.put(&SiteFile { path: path.to_owned(), bytes: text.into_bytes() }),
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
        let site_dir = self.site_dir;
        let State { journal, mut made, mut report, .. } =
            self.state.into_inner().unwrap_or_else(std::sync::PoisonError::into_inner);
        report.unchanged = made.len() - report.written.iter().filter(|path| made.contains_key(*path)).count();
        let kept = remove_stale(&site_dir, &self.known, &made, &hold, &mut report);
        made.extend(kept);
        report.written.sort_unstable();
        report.left.sort_by(|a, b| a.path.cmp(&b.path));
        report.aside.sort_unstable();
        // What the record names must be on the disk before the record is.
        sync(&site_dir, &report)?;
        let own = own.map(|(name, bytes)| (format!("{OWN}{name}"), bytes));
        let record = (RECORD.to_owned(), record_text(&made).into_bytes());
        for (name, bytes) in own.into_iter().chain([record]) {
            if fs::read(site_dir.join(&name)).map_or(true, |now| now != bytes) {
                write_file(&site_dir, &name, &bytes)?;
                sync_folder(&site_dir)?;
            }
        }
        drop(journal);
        // A journal or bench that stays is taken up or cleared next time, and does no harm.
        let _ = fs::remove_file(site_dir.join(JOURNAL));
        let _ = fs::remove_dir(site_dir.join(BENCH));
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

/// Clears what a run that was killed left on the bench.
fn clear_bench(site_dir: &Path) -> Result<(), WriteError> {
    let bench = site_dir.join(BENCH);
    match fs::symlink_metadata(&bench) {
        Err(_) => {}
        Ok(meta) if meta.is_dir() => {
            fs::remove_dir_all(&bench).map_err(|error| WriteError::Io(bench.clone(), error))?;
        }
        Ok(_) => return Err(WriteError::Record(format!("{BENCH} is no folder"))),
    }
    fs::create_dir(&bench).map_err(|error| WriteError::Io(bench, error))
}

/// Writes one file by way of the bench.
fn write_file(site_dir: &Path, path: &str, bytes: &[u8]) -> Result<(), WriteError> {
    let target = site_dir.join(path);
    let fail = |error: io::Error| WriteError::Io(target.clone(), error);
    fs::create_dir_all(target.parent().unwrap_or(site_dir)).map_err(fail)?;
    let mut builder = tempfile::Builder::new();
    #[cfg(unix)]
    {
        // A temporary file is private by default; a sheet is for everyone that the user's mask lets in.
        use std::os::unix::fs::PermissionsExt;
        builder.permissions(fs::Permissions::from_mode(0o666));
    }
    let mut temporary = builder.tempfile_in(site_dir.join(BENCH)).map_err(fail)?;
    temporary.write_all(bytes).map_err(fail)?;
    temporary.as_file().sync_data().map_err(fail)?;
    temporary.persist(&target).map_err(|error| fail(error.error))?;
    Ok(())
}

/// Moves a page that was changed by hand to a free name beside it, and answers that name.
fn set_aside(site_dir: &Path, path: &str) -> Result<String, WriteError> {
    let (stem, ending) = path.rsplit_once('.').unwrap_or((path, "txt"));
    let free = (1..)
        .map(|n| format!("{stem}.by-hand-{n}.{ending}"))
        .find(|name| fs::symlink_metadata(site_dir.join(name)).is_err())
        .unwrap_or_default();
    fs::rename(site_dir.join(path), site_dir.join(&free))
        .map_err(|error| WriteError::Io(site_dir.join(path), error))?;
    Ok(free)
}

/// Brings every folder that got or lost a file to the disk.
fn sync(site_dir: &Path, report: &Report) -> Result<(), WriteError> {
    let touched = report.written.iter().chain(&report.removed);
    let folders: BTreeSet<PathBuf> =
        touched.filter_map(|path| Some(site_dir.join(path).parent()?.to_path_buf())).collect();
    folders.iter().filter(|folder| folder.is_dir()).try_for_each(|folder| sync_folder(folder))
}

#[cfg(unix)]
fn sync_folder(folder: &Path) -> Result<(), WriteError> {
    match File::open(folder).and_then(|folder| folder.sync_all()) {
        // Some file systems sync no folders.
        Err(error) if error.kind() == io::ErrorKind::InvalidInput => Ok(()),
        other => other.map_err(|error| WriteError::Io(folder.into(), error)),
    }
}

#[cfg(not(unix))]
fn sync_folder(_: &Path) -> Result<(), WriteError> {
    Ok(())
}

/// Removes what an earlier run wrote and this one does not make; gives back the entries that stay on the
/// record because their files were left.
fn remove_stale(
    site_dir: &Path,
    known: &Known,
    made: &BTreeMap<String, Made>,
    hold: impl Fn(&str) -> bool,
    report: &mut Report,
) -> BTreeMap<String, Made> {
    let mut kept = BTreeMap::new();
    let mut folders = BTreeSet::new();
    for path in known.paths().into_iter().filter(|path| !made.contains_key(*path)) {
        let Some(last) = known.last(path) else { continue };
        // A record edited by hand must not lead outside.
        if !is_inside(path) || report.left.iter().any(|left| left.path == path) {
            continue;
        }
        if hold(path) {
            kept.insert(path.to_owned(), last.clone());
            continue;
        }
        match remove_one(site_dir, path, known) {
            Ok(true) => {
                folders.extend(site_dir.join(path).parent().map(Path::to_path_buf));
                report.removed.push(path.to_owned());
            }
            Ok(false) => {}
            Err(why) => {
                report.left.push(Left { path: path.to_owned(), why, missing: false });
                kept.insert(path.to_owned(), last.clone());
            }
        }
    }
    remove_empty(site_dir, folders);
    kept
}

/// Removes one file when it is as it was written; `Ok(false)` when it is gone already.
fn remove_one(site_dir: &Path, path: &str, known: &Known) -> Result<bool, &'static str> {
    if let Some(why) = link_on_the_way(site_dir, path) {
        return Err(why);
    }
    let target = site_dir.join(path);
    let Ok(bytes) = fs::read(&target) else {
        return Ok(false);
    };
    if !known.agrees(path, &fingerprint(&bytes)) {
        return Err("it was changed since it was written");
    }
    fs::remove_file(&target).map(|()| true).map_err(|_| "it could not be removed")
}

/// Removes folders that the removals emptied, upwards, never the site folder itself.
fn remove_empty(site_dir: &Path, folders: BTreeSet<PathBuf>) {
    for folder in folders.into_iter().rev() {
        let mut at = folder.as_path();
        // Removing a folder that is not empty fails, which ends the climb.
        while at != site_dir && at.starts_with(site_dir) && fs::remove_dir(at).is_ok() {
            let Some(parent) = at.parent() else { break };
            at = parent;
        }
    }
}

#[cfg(test)]
mod tests;

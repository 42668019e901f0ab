//! The record of what was written, and the journal of a run under way.
//!
//! The record names every file of the set with its fingerprint; it is replaced whole at the end of a run.
//! While a run goes on, the journal gets a line for each file before that file is put in its place, those of
//! files that go together at once, so that after a run that was cut off every file of it is still known. A
//! record or journal that is missing, empty or torn is no error: the set is then known by the marks of its pages.
use super::WriteError;
use super::rebuilt::by_marks;
use serde::{Deserialize, Serialize, Serializer};
use std::collections::{BTreeMap, HashMap};
use std::fs::{self, File, OpenOptions};
use std::io::Write;
use std::path::Path;

/// The record, in `site/`.
pub const RECORD: &str = ".longsweep-set.json";
/// The journal of a run under way, in `site/`.
pub const JOURNAL: &str = ".longsweep-journal";

/// What was written at a path: its fingerprint, and when the file was last changed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Made {
    pub print: String,
    /// Nanoseconds since 1970 by the file system's clock; 0 where it tells no time.
    pub at_ns: u128,
}

impl Made {
    /// From the record, `cbf29ce484222325-0@1700000000000000000`.
    fn of(words: &str) -> Made {
        let (print, at) = words.split_once('@').unwrap_or((words, "0"));
        Made { print: print.to_owned(), at_ns: at.parse().unwrap_or(0) }
    }

    /// The length that its fingerprint tells.
    pub fn bytes(&self) -> Option<u64> {
        self.print.rsplit('-').next()?.parse().ok()
    }
}

/// Path to what was written there: the last, and, after a run that was cut off, the one before too.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Known {
    made: HashMap<String, Vec<Made>>,
    /// Whether a record stood there that could not be read.
    pub torn: bool,
    /// Whether there was none that could be read, so that all is known by its marks.
    pub rebuilt: bool,
}

#[derive(Debug, Default, Deserialize)]
struct Record {
    made: BTreeMap<String, String>,
}

/// The same as it is written.
#[derive(Debug, Serialize)]
struct Recorded<'a> {
    made: &'a BTreeMap<String, Made>,
}

impl Serialize for Made {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(&format_args!("{}@{}", self.print, self.at_ns))
    }
}

impl Known {
    /// What is known of a site folder. A link in the place of the record is refused.
    pub fn read(site_dir: &Path) -> Result<Known, WriteError> {
        let mut known = Known::default();
        let text = plain_text(&site_dir.join(RECORD))?;
        match text.as_deref().map(serde_json::from_str::<Record>) {
            Some(Ok(record)) => {
                record.made.into_iter().for_each(|(path, words)| known.add(path, Made::of(&words)));
            }
            none => {
                (known.torn, known.rebuilt) = (none.is_some(), true);
                by_marks(site_dir).into_iter().for_each(|(path, made)| known.add(path, made));
            }
        }
        // The last line of a journal may be cut off anywhere; it is then left out.
        let journal = plain_text(&site_dir.join(JOURNAL))?.unwrap_or_default();
        for line in journal.split_inclusive('\n').filter(|line| line.ends_with('\n')) {
            if let Some((print, path)) = line.trim_end_matches('\n').split_once(' ') {
                known.add(path.to_owned(), Made { print: print.to_owned(), at_ns: 0 });
            }
        }
        Ok(known)
    }

    fn add(&mut self, path: String, made: Made) {
        self.made.entry(path).or_default().push(made);
    }

    /// Whether a path was written by an earlier run.
    pub fn has(&self, path: &str) -> bool {
        self.made.contains_key(path)
    }

    /// Whether what stands at a path is as an earlier run wrote it.
    pub fn agrees(&self, path: &str, print: &str) -> bool {
        self.made.get(path).is_some_and(|known| known.iter().any(|one| one.print == print))
    }

    /// What was written at a path last.
    pub fn last(&self, path: &str) -> Option<&Made> {
        self.made.get(path)?.last()
    }

    /// Every path, in order.
    pub fn paths(&self) -> Vec<&str> {
        let mut paths: Vec<&str> = self.made.keys().map(String::as_str).collect();
        paths.sort_unstable();
        paths
    }
}

/// The text of a plain file; `None` where there is none, an empty one where it is no text.
fn plain_text(path: &Path) -> Result<Option<String>, WriteError> {
    match fs::symlink_metadata(path) {
        Err(_) => Ok(None),
        Ok(meta) if !meta.is_file() => {
            Err(WriteError::Record(format!("{} is no plain file", path.display())))
        }
        Ok(_) => {
            let bytes = fs::read(path).map_err(|error| WriteError::Io(path.into(), error))?;
            Ok(Some(String::from_utf8_lossy(&bytes).into_owned()))
        }
    }
}

/// The record's text.
pub fn record_text(made: &BTreeMap<String, Made>) -> String {
    // A map of strings always serialises.
    serde_json::to_string_pretty(&Recorded { made }).unwrap_or_default()
}

/// Opens the journal, at its end.
pub fn open_journal(site_dir: &Path) -> Result<File, WriteError> {
    let path = site_dir.join(JOURNAL);
    OpenOptions::new().create(true).append(true).open(&path).map_err(|error| WriteError::Io(path, error))
}

/// Notes in the journal what is about to be put in its place: fingerprints and paths.
pub fn note<'a>(journal: &mut File, files: impl Iterator<Item = (&'a str, &'a str)>) -> std::io::Result<()> {
    // A path with a line break in it is refused before; a run cut off in the middle leaves half a line at most.
    let lines: String = files.flat_map(|(print, path)| [print, " ", path, "\n"]).collect();
    journal.write_all(lines.as_bytes())
}

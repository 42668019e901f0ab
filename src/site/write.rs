//! Writes the set into `site/`, and nothing else anywhere.
//!
//! A file goes to a temporary one in its own folder and is then renamed, so that a reader never sees
//! half of it. What an earlier run wrote is known from a record in the folder; only that may be written
//! over or removed, and it is removed only when it still is as it was written. Symbolic links are never
//! followed and never replaced.
use super::SiteFile;
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt;
use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// The record of what was written, in `site/`.
pub const RECORD: &str = ".longsweep-set.json";

/// What a run did.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Report {
    pub written: Vec<String>,
    /// How many files were already as they should be.
    pub unchanged: usize,
    pub removed: Vec<String>,
    /// What was left alone, and why.
    pub left: Vec<Left>,
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
    /// The record is there and cannot be read.
    Record(String),
    /// The file system refused.
    Io(PathBuf, io::Error),
}

impl fmt::Display for WriteError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            WriteError::Path(path) => write!(f, "`{path}` is no path inside the site folder"),
            WriteError::Twice(path) => write!(f, "two sheets would stand at `{path}`"),
            WriteError::Record(why) => {
                write!(f, "the record {RECORD} in the site folder cannot be read: {why}")
            }
            WriteError::Io(path, error) => write!(f, "cannot write {}: {error}", path.display()),
        }
    }
}

impl std::error::Error for WriteError {}

/// The record: path to fingerprint of what was written there.
#[derive(Debug, Default, Serialize, Deserialize)]
struct Record {
    made: BTreeMap<String, String>,
}

/// Writes the set.
pub fn write(site_dir: &Path, files: &[SiteFile]) -> Result<Report, WriteError> {
    let wanted = checked(files)?;
    fs::create_dir_all(site_dir).map_err(|error| WriteError::Io(site_dir.into(), error))?;
    let old = read_record(site_dir)?;
    let mut report = Report::default();
    let mut todo = Vec::new();
    let mut made = BTreeMap::new();
    for (path, bytes) in &wanted {
        match standing(site_dir, path, bytes, &old) {
            Standing::Same => report.unchanged += 1,
            Standing::Ours => todo.push((*path, *bytes)),
            Standing::Foreign(why) => {
                report.left.push(Left { path: path.to_string(), why, missing: true });
                continue;
            }
        }
        made.insert(path.to_string(), fingerprint(bytes));
    }
    // The record goes first, with the old entries kept: if the run is cut off, every file it wrote is
    // known as its own next time.
    let mut both = old.made.clone();
    both.extend(made.clone());
    write_record(site_dir, Record { made: both })?;
    for (path, bytes) in todo {
        write_file(&site_dir.join(path), bytes)?;
        report.written.push(path.into());
    }
    let kept = remove_stale(site_dir, &old, &made, &mut report);
    made.extend(kept);
    write_record(site_dir, Record { made })?;
    Ok(report)
}

/// What stands at a path.
enum Standing {
    /// The very bytes.
    Same,
    /// Nothing, or a file that an earlier run wrote.
    Ours,
    Foreign(&'static str),
}

/// The files by path, every path sound and only once.
fn checked(files: &[SiteFile]) -> Result<BTreeMap<&str, &[u8]>, WriteError> {
    let mut wanted = BTreeMap::new();
    for file in files {
        if !is_inside(&file.path) || file.path == RECORD {
            return Err(WriteError::Path(file.path.clone()));
        }
        if wanted.insert(file.path.as_str(), file.bytes.as_slice()).is_some() {
            return Err(WriteError::Twice(file.path.clone()));
        }
    }
    Ok(wanted)
}

/// Whether a path stays inside the folder: plain names with `/` between them.
fn is_inside(path: &str) -> bool {
    let plain =
        |part: &str| !part.is_empty() && part != "." && part != ".." && !part.contains(['\\', '\0', ':']);
    path.split('/').all(plain)
}

/// What stands at a path now.
fn standing(site_dir: &Path, path: &str, bytes: &[u8], old: &Record) -> Standing {
    if let Some(why) = link_on_the_way(site_dir, path) {
        return Standing::Foreign(why);
    }
    let Ok(meta) = fs::symlink_metadata(site_dir.join(path)) else {
        return Standing::Ours;
    };
    if !meta.is_file() {
        return Standing::Foreign("something other than a file stands there");
    }
    let same =
        meta.len() == bytes.len() as u64 && fs::read(site_dir.join(path)).is_ok_and(|now| now == bytes);
    match (same, old.made.contains_key(path)) {
        (true, _) => Standing::Same,
        (false, true) => Standing::Ours,
        (false, false) => Standing::Foreign("a file that longsweep did not write stands there"),
    }
}

/// Why a path must not be touched: a link, or a file where a folder should be, on the way or at its end.
fn link_on_the_way(site_dir: &Path, path: &str) -> Option<&'static str> {
    let mut at = site_dir.to_path_buf();
    let parts: Vec<&str> = path.split('/').collect();
    for (nth, part) in parts.iter().enumerate() {
        at.push(part);
        let Ok(meta) = fs::symlink_metadata(&at) else {
            return None;
        };
        if meta.file_type().is_symlink() {
            return Some("a symbolic link stands there");
        }
        if nth + 1 < parts.len() && !meta.is_dir() {
            return Some("a file stands where its folder should be");
        }
    }
    None
}

/// Writes one file by way of a temporary one beside it.
fn write_file(target: &Path, bytes: &[u8]) -> Result<(), WriteError> {
    let fail = |error: io::Error| WriteError::Io(target.into(), error);
    let folder = target.parent().unwrap_or(Path::new("."));
    fs::create_dir_all(folder).map_err(fail)?;
    let mut builder = tempfile::Builder::new();
    builder.prefix(".longsweep-").suffix(".tmp");
    #[cfg(unix)]
    {
        // A temporary file is private by default; a sheet is for everyone that the user's mask lets in.
        use std::os::unix::fs::PermissionsExt;
        builder.permissions(fs::Permissions::from_mode(0o666));
    }
    let mut temporary = builder.tempfile_in(folder).map_err(fail)?;
    temporary.write_all(bytes).map_err(fail)?;
    temporary.persist(target).map_err(|error| fail(error.error))?;
    Ok(())
}

/// Removes what an earlier run wrote and this one does not make; gives back the entries that stay on the
/// record because their files were left.
fn remove_stale(
    site_dir: &Path,
    old: &Record,
    made: &BTreeMap<String, String>,
    report: &mut Report,
) -> BTreeMap<String, String> {
    let mut kept = BTreeMap::new();
    let mut folders = BTreeSet::new();
    for (path, print) in old.made.iter().filter(|(path, _)| !made.contains_key(*path)) {
        // A record edited by hand must not lead outside.
        if !is_inside(path) || report.left.iter().any(|left| left.path == *path) {
            continue;
        }
        match remove_one(site_dir, path, print) {
            Ok(true) => {
                folders.extend(site_dir.join(path).parent().map(Path::to_path_buf));
                report.removed.push(path.clone());
            }
            Ok(false) => {}
            Err(why) => {
                report.left.push(Left { path: path.clone(), why, missing: false });
                kept.insert(path.clone(), print.clone());
            }
        }
    }
    remove_empty(site_dir, folders);
    kept
}

/// Removes one file when it is as it was written; `Ok(false)` when it is gone already.
fn remove_one(site_dir: &Path, path: &str, print: &str) -> Result<bool, &'static str> {
    if let Some(why) = link_on_the_way(site_dir, path) {
        return Err(why);
    }
    let target = site_dir.join(path);
    let Ok(bytes) = fs::read(&target) else {
        return Ok(false);
    };
    if fingerprint(&bytes) != print {
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

/// Reads the record; none is an empty one.
fn read_record(site_dir: &Path) -> Result<Record, WriteError> {
    let path = site_dir.join(RECORD);
    match fs::symlink_metadata(&path) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(Record::default()),
        Err(error) => return Err(WriteError::Io(path, error)),
        Ok(meta) if !meta.is_file() => return Err(WriteError::Record("it is no plain file".into())),
        Ok(_) => {}
    }
    let text = fs::read_to_string(&path).map_err(|error| WriteError::Record(error.to_string()))?;
    serde_json::from_str(&text).map_err(|error| WriteError::Record(error.to_string()))
}

/// Writes the record.
fn write_record(site_dir: &Path, record: Record) -> Result<(), WriteError> {
    let text =
        serde_json::to_string_pretty(&record).map_err(|error| WriteError::Record(error.to_string()))?;
    let path = site_dir.join(RECORD);
    if fs::read_to_string(&path).is_ok_and(|now| now == text) {
        return Ok(());
    }
    write_file(&path, text.as_bytes())
}

/// A fingerprint that tells an edited file from an unedited one: FNV-1a, 64 bits, and the length. It
/// guards against mistakes, not against someone who means to deceive.
fn fingerprint(bytes: &[u8]) -> String {
    let hash = bytes.iter().fold(0xcbf2_9ce4_8422_2325_u64, |hash, byte| {
        (hash ^ u64::from(*byte)).wrapping_mul(0x0000_0100_0000_01b3)
    });
    format!("{hash:016x}-{}", bytes.len())
}

#[cfg(test)]
#[path = "write_tests.rs"]
mod tests;

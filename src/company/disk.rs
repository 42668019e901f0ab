//! The disk under a company: folders walked, names listed, files read. What they hold others tell.
use crate::text::{Diagnostic, MOST_BYTES, decode, refused, too_large};
use std::fs::File;
use std::io::Read;
use std::path::{Path, PathBuf};
use walkdir::WalkDir;

pub(super) const LESSONS: &str = "content/lessons";
pub(super) const JOBS: &str = "jobs";

/// What a folder holds.
pub(super) struct Walked {
    /// Hidden ones left out.
    pub(super) files: Vec<PathBuf>,
    /// Whether the folder is there, and no part of it could not be read.
    pub(super) whole: bool,
}

/// Walks a folder. Links are followed; a link that leads back into its own folder is told.
pub(super) fn walk(root: &Path, folder: &str, found: &mut Vec<Diagnostic>) -> Walked {
    let start = root.join(folder);
    let mut walked = Walked { files: Vec::new(), whole: start.is_dir() };
    if !walked.whole {
        return walked;
    }
    let shown = |name: &std::ffi::OsStr| !name.to_string_lossy().starts_with('.');
    let walk = WalkDir::new(&start).follow_links(true).min_depth(1).sort_by_file_name();
    for entry in walk.into_iter().filter_entry(|entry| shown(entry.file_name())) {
        match entry {
            Ok(entry) if entry.file_type().is_file() => walked.files.push(entry.into_path()),
            Ok(_) => {}
            Err(error) => {
                walked.whole &= error.loop_ancestor().is_some();
                found.push(walk_fault(root, folder, &error));
            }
        }
    }
    walked
}

impl Walked {
    /// Files of these endings from the company folder, sorted.
    pub(super) fn of(&self, root: &Path, endings: &[&str], found: &mut Vec<Diagnostic>) -> Vec<String> {
        let named = self.files.iter().filter(|path| ends(path, endings));
        let mut files: Vec<String> = named.filter_map(|path| kept(relative(root, path), found)).collect();
        files.sort();
        files
    }
}

/// Files under a folder by their ending, sorted, hidden ones left out.
pub(super) fn files(root: &Path, folder: &str, endings: &[&str], found: &mut Vec<Diagnostic>) -> Vec<String> {
    walk(root, folder, found).of(root, endings, found)
}

/// Whether a file's name has one of these endings; case does not matter.
pub(super) fn ends(path: &Path, endings: &[&str]) -> bool {
    let ending = path.extension().and_then(|e| e.to_str()).unwrap_or("").to_lowercase();
    endings.contains(&ending.as_str())
}

fn walk_fault(root: &Path, folder: &str, error: &walkdir::Error) -> Diagnostic {
    let path = error.path().and_then(|path| path.strip_prefix(root).ok());
    let file = path.map_or(folder.to_owned(), |path| path.to_string_lossy().replace('\\', "/"));
    if error.loop_ancestor().is_some() {
        return Diagnostic::of_file(
            &file,
            "this link leads back into its own folder",
            Some("remove the link"),
        );
    }
    let reason = error.io_error().map_or("unknown reason".to_owned(), refused);
    Diagnostic::of_file(&file, format!("this cannot be read: {reason}"), None)
}

/// The path from the company folder, with `/` between folders.
pub(super) fn relative(root: &Path, path: &Path) -> Result<String, Vec<Diagnostic>> {
    let inner = path.strip_prefix(root).unwrap_or(path);
    let names: Option<Vec<&str>> = inner.components().map(|part| part.as_os_str().to_str()).collect();
    names.map(|names| names.join("/")).ok_or_else(|| {
        let shown = inner.to_string_lossy().into_owned();
        let message = "the file's name is not UTF-8";
        vec![Diagnostic::of_file(&shown, message, Some("rename the file"))]
    })
}

/// The text of a file, read no further than allowed.
pub(super) fn read_text(root: &Path, file: &str) -> Result<String, Vec<Diagnostic>> {
    let refuse = |error: std::io::Error| {
        let message = format!("the file cannot be read: {}", refused(&error));
        vec![Diagnostic::of_file(file, message, None)]
    };
    let opened = File::open(root.join(file)).map_err(refuse)?;
    let size = opened.metadata().map_err(refuse)?.len();
    if size > MOST_BYTES as u64 {
        return Err(too_large(file, size));
    }
    let mut bytes = Vec::new();
    opened.take(MOST_BYTES as u64 + 1).read_to_end(&mut bytes).map_err(refuse)?;
    decode(file, &bytes).map(str::to_owned)
}

/// The names in a folder.
pub(super) fn names(folder: &Path) -> Option<Vec<String>> {
    let entries = std::fs::read_dir(folder).ok()?.flatten();
    Some(entries.map(|entry| entry.file_name().to_string_lossy().into_owned()).collect())
}

/// A value, or its faults put with the others.
pub(super) fn kept<T>(read: Result<T, Vec<Diagnostic>>, found: &mut Vec<Diagnostic>) -> Option<T> {
    read.map_err(|faults| found.extend(faults)).ok()
}

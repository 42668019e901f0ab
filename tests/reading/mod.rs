//! What the tests of reading share: the demo's catalog and standards, and the table of clauses.
#![allow(dead_code)]
pub mod held;

use longsweep::company::{Catalog, Firm, Paper, Standard, read_catalog, read_standards};
use longsweep::measure::Lengths;
use std::path::{Path, PathBuf};

pub use longsweep::standard::kinds;

pub fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

/// Files of a folder with their text, sorted.
pub fn texts(folder: &Path) -> Vec<(String, String)> {
    let mut files: Vec<PathBuf> =
        std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    files.sort();
    // A file that no test reads proves nothing.
    files.retain(|path| path.is_file());
    let unread = files.iter().find(|path| path.extension().is_none_or(|ending| ending != "yaml"));
    assert_eq!(unread, None, "this file of {} is read by no test", folder.display());
    files
        .into_iter()
        .map(|path| (path.display().to_string(), std::fs::read_to_string(&path).unwrap()))
        .collect()
}

pub fn catalog() -> Catalog {
    let files = texts(&root().join("content/catalog"));
    let files: Vec<(&str, &str)> = files.iter().map(|(file, text)| (file.as_str(), text.as_str())).collect();
    let (catalog, faults) = read_catalog(&files);
    assert_eq!(faults, []);
    catalog.unwrap()
}

pub fn standards() -> Vec<Standard> {
    let files = texts(&root().join("content/standard"));
    let files: Vec<(&str, &str)> = files.iter().map(|(file, text)| (file.as_str(), text.as_str())).collect();
    let (standards, faults) = read_standards(&files, &kinds());
    assert_eq!(faults, []);
    standards
}

pub fn firm() -> Firm {
    Firm {
        name: "Saltmarsh Piping Co.".into(),
        contact: Vec::new(),
        paper: Paper::Letter,
        lengths: Lengths::FtIn,
        theme: "drafting".into(),
        theme_at: Default::default(),
        standard: "2026-1".into(),
        crew_leads: Vec::new(),
        telephone: None,
        spares: Vec::new(),
        pictures: false,
    }
}

type Shared = (Catalog, Vec<Standard>);

/// The demo's catalog and standards, read once.
pub fn shared() -> &'static Shared {
    static SHARED: std::sync::OnceLock<Shared> = std::sync::OnceLock::new();
    SHARED.get_or_init(|| (catalog(), standards()))
}

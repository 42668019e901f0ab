//! What stands at a path of the site folder.
use super::changed_ns;
use super::mark::{Mark, carries, fingerprint, read};
use super::record::Known;
use std::fs;
use std::path::Path;

/// What stands at a path.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// The very bytes.
    Same,
    /// Nothing, or a file as an earlier run wrote it.
    Ours,
    /// A file of ours that was changed by hand.
    Edited,
    /// Not to be touched, and why.
    Foreign(&'static str),
}

/// Whether a path stays inside the folder: plain names with `/` between them.
pub fn is_inside(path: &str) -> bool {
    let plain = |part: &str| {
        !part.is_empty() && part != "." && part != ".." && !part.contains(['\\', '\0', ':', '\n', '\r'])
    };
    path.split('/').all(plain)
}

/// A file as it was seen: its length, and when it was last changed; none where there was none.
pub type Seen = Option<(u64, u128)>;

/// What stands at a path now.
pub fn seen(target: &Path) -> Seen {
    fs::symlink_metadata(target).ok().map(|meta| (meta.len(), changed_ns(&meta)))
}

/// What stands at a path whose folder may be entered, when `bytes` are wanted there, and as what it was seen.
pub fn standing(target: &Path, path: &str, bytes: &[u8], known: &Known) -> (Standing, Seen) {
    let Ok(meta) = fs::symlink_metadata(target) else {
        return (Standing::Ours, None);
    };
    let seen = Some((meta.len(), changed_ns(&meta)));
    if meta.file_type().is_symlink() {
        return (Standing::Foreign(LINK), seen);
    }
    if !meta.is_file() {
        return (Standing::Foreign("something other than a file stands there"), seen);
    }
    let Ok(now) = fs::read(target) else {
        return (Standing::Foreign("a file that cannot be read stands there"), seen);
    };
    if now == bytes {
        return (Standing::Same, seen);
    }
    let standing = match (read(path, &now), known.has(path)) {
        (Mark::Whole, _) => Standing::Ours,
        (_, true) if known.agrees(path, &fingerprint(&now)) => Standing::Ours,
        (Mark::Broken, _) | (_, true) => Standing::Edited,
        // Without a record nobody can tell whose it is: it is not lost, and the set has its file.
        (Mark::None, false) if known.rebuilt && !carries(path) => Standing::Edited,
        (Mark::None, false) => Standing::Foreign("a file that longsweep did not write stands there"),
    };
    (standing, seen)
}

const LINK: &str = "a symbolic link stands there";

/// The folder of a path, empty at the top.
pub fn folder_of(path: &str) -> &str {
    path.rsplit_once('/').map_or("", |(folder, _)| folder)
}

/// Why a folder must not be entered: a link, or a file where a folder should be.
pub fn barred(site_dir: &Path, folder: &str) -> Option<&'static str> {
    let mut at = site_dir.to_path_buf();
    for part in folder.split('/').filter(|part| !part.is_empty()) {
        at.push(part);
        // What is not there is made, and stands in nobody's way.
        let meta = fs::symlink_metadata(&at).ok()?;
        if meta.file_type().is_symlink() {
            return Some(LINK);
        }
        if !meta.is_dir() {
            return Some("a file stands where its folder should be");
        }
    }
    None
}

/// Why a path must not be touched: its folder must not be entered, or a link stands at its end.
pub fn link_on_the_way(site_dir: &Path, path: &str) -> Option<&'static str> {
    let linked = || fs::symlink_metadata(site_dir.join(path)).is_ok_and(|meta| meta.file_type().is_symlink());
    barred(site_dir, folder_of(path)).or_else(|| linked().then_some(LINK))
}

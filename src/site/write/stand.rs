//! What stands at a path of the site folder.
use super::mark::{Mark, fingerprint, read};
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

/// What stands at a path now, when `bytes` are wanted there.
pub fn standing(site_dir: &Path, path: &str, bytes: &[u8], known: &Known) -> Standing {
    if let Some(why) = link_on_the_way(site_dir, path) {
        return Standing::Foreign(why);
    }
    let Ok(meta) = fs::symlink_metadata(site_dir.join(path)) else {
        return Standing::Ours;
    };
    if !meta.is_file() {
        return Standing::Foreign("something other than a file stands there");
    }
    let Ok(now) = fs::read(site_dir.join(path)) else {
        return Standing::Foreign("a file that cannot be read stands there");
    };
    if now == bytes {
        return Standing::Same;
    }
    match (read(&now), known.has(path)) {
        (Mark::Whole, _) => Standing::Ours,
        (_, true) if known.agrees(path, &fingerprint(&now)) => Standing::Ours,
        (Mark::Broken, _) | (_, true) => Standing::Edited,
        (Mark::None, false) => Standing::Foreign("a file that longsweep did not write stands there"),
    }
}

/// Why a path must not be touched: a link, or a file where a folder should be, on the way or at its end.
pub fn link_on_the_way(site_dir: &Path, path: &str) -> Option<&'static str> {
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

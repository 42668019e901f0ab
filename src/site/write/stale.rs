//! Files of earlier runs that this one does not make.
use super::mark::fingerprint;
use super::record::{Known, Made};
use super::stand::{is_inside, link_on_the_way};
use super::{Left, Report};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

/// Removes what an earlier run wrote and this one does not make; gives back the entries that stay on the
/// record because their files were left.
pub fn remove_stale(
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
                // Without a record it may be anybody's copy of a page: that is said once.
                if !known.rebuilt {
                    kept.insert(path.to_owned(), last.clone());
                }
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

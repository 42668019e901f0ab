//! What a set without a record holds, told by the marks of its pages.
use super::OWN;
use super::mark::{Mark, carries, fingerprint, read};
use super::record::Made;
use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

/// How the name of a page that was set aside is told from that of one of the set.
const ASIDE: &str = ".by-hand-";
/// Files without a mark that stand beside the cover of a packet.
const BESIDE: [&str; 2] = ["packet.json", "takeoff.csv"];

/// Every file that an earlier run surely wrote: pages and drawings by their marks; what carries none by its place, beside
/// the cover of a packet or below `find/`. A page that was changed by hand is of the set, and agrees with no fingerprint.
pub fn by_marks(site_dir: &Path) -> Vec<(String, Made)> {
    let files = files(site_dir);
    let bytes = |path: &str| fs::read(site_dir.join(path)).ok();
    let made = |print: String| Made { print, at_ns: 0 };
    let of_page = |path: &String| {
        let bytes = bytes(path)?;
        match read(path, &bytes) {
            Mark::Whole => Some((path.clone(), made(fingerprint(&bytes)))),
            Mark::Broken => Some((path.clone(), made(String::new()))),
            Mark::None => None,
        }
    };
    let mut known: Vec<(String, Made)> =
        files.iter().filter(|path| carries(path)).filter_map(of_page).collect();
    let pages: BTreeSet<&str> = known.iter().map(|(path, _)| path.as_str()).collect();
    let by_place = |path: &&String| {
        let (folder, name) = path.rsplit_once('/').unwrap_or(("", path));
        BESIDE.contains(&name) && pages.contains(format!("{folder}/index.html").as_str())
            || folder == "find" && name.ends_with(".js") && pages.contains("find.html")
    };
    let others = files.iter().filter(|path| !carries(path)).filter(by_place);
    let others = others.filter_map(|path| Some((path.clone(), made(fingerprint(&bytes(path)?)))));
    let others: Vec<(String, Made)> = others.collect();
    known.extend(others);
    known
}

/// The files below a folder that may be of the set; no link is followed.
fn files(site_dir: &Path) -> Vec<String> {
    let all = walkdir::WalkDir::new(site_dir).into_iter().flatten();
    let plain = all.filter(|entry| entry.file_type().is_file());
    let paths = plain.filter_map(|entry| {
        let below = entry.path().strip_prefix(site_dir).ok()?;
        let parts: Option<Vec<&str>> = below.iter().map(|part| part.to_str()).collect();
        Some(parts?.join("/"))
    });
    paths.filter(|path| !path.starts_with(OWN) && !path.contains(ASIDE)).collect()
}

//! Fingerprints of all that a set is made from: what a page rests on is told by them, from run to run and,
//! under `watch`, from save to save.
use crate::site::fingerprint;
use rayon::prelude::*;
use std::collections::BTreeMap;
use std::ffi::OsStr;
use std::fs;
use std::path::{Path, PathBuf};
use walkdir::WalkDir;

/// The folders that a set is made from.
pub const FOLDERS: [&str; 3] = ["content", "jobs", "themes"];

/// What every plan's file ends in.
const PLAN: &str = ".plan.";

/// What a save touched.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Touched {
    /// No byte of any file.
    Nothing,
    /// Jobs and plans alone.
    Jobs,
    /// What every job may rest on.
    All,
}

/// Path from the company folder, `/` between folders, to the fingerprint of that file.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Sources(BTreeMap<String, String>);

impl Sources {
    /// Fingerprints of every file. They are taken before the files are read for a set, so that a file
    /// that is saved in between counts as changed the next time.
    pub fn read(root: &Path) -> Sources {
        Sources(FOLDERS.iter().flat_map(|folder| under(root, folder)).collect())
    }

    /// Takes anew what stands at these paths and below; tells what of it changed. A path outside the
    /// company folder, as some systems tell it, has everything taken anew.
    pub fn refresh(&mut self, root: &Path, paths: &[PathBuf]) -> Touched {
        let inside: Option<Vec<String>> = paths.iter().map(|path| relative(root, path)).collect();
        let before = self.0.clone();
        match inside {
            None => *self = Sources::read(root),
            Some(inside) => {
                for path in inside.iter().filter(|path| is_source(path)) {
                    let below = format!("{path}/");
                    self.0.retain(|known, _| known != path && !known.starts_with(&below));
                    self.0.extend(under(root, path));
                }
            }
        }
        touched(&before, &self.0)
    }

    /// Fingerprint of the program, and of every file under `content/` and `themes/`.
    pub fn base(&self) -> String {
        let mut told = String::new();
        if let Ok(meta) = std::env::current_exe().and_then(fs::metadata) {
            told.push_str(&format!("{} {:?}\n", meta.len(), meta.modified().ok()));
        }
        for (path, print) in self.0.iter().filter(|(path, _)| !path.starts_with("jobs/")) {
            told.push_str(&format!("{path} {print}\n"));
        }
        fingerprint(told.as_bytes())
    }

    /// Fingerprint of each job's file together with the plans beside it, by the file's path.
    pub fn jobs(&self) -> BTreeMap<&str, String> {
        let jobs = || self.0.range("jobs/".to_owned()..).take_while(|(path, _)| path.starts_with("jobs/"));
        let mut plans: BTreeMap<&str, String> = BTreeMap::new();
        for (path, print) in jobs().filter(|(path, _)| path.contains(PLAN)) {
            plans.entry(folder(path)).or_default().push_str(&format!(" {path} {print}"));
        }
        let told = |(path, print): (&'_ String, &String)| match plans.get(folder(path)) {
            Some(plans) => fingerprint(format!("{print}{plans}").as_bytes()),
            None => print.clone(),
        };
        jobs().map(|(path, print)| (path.as_str(), told((path, print)))).collect()
    }
}

fn folder(path: &str) -> &str {
    path.rsplit_once('/').map_or("", |(folder, _)| folder)
}

fn is_source(path: &str) -> bool {
    FOLDERS
        .iter()
        .any(|folder| path == *folder || path.strip_prefix(folder).is_some_and(|p| p.starts_with('/')))
        && !path.split('/').any(|part| hidden(OsStr::new(part)))
}

fn hidden(name: &OsStr) -> bool {
    name.to_string_lossy().starts_with('.')
}

fn relative(root: &Path, path: &Path) -> Option<String> {
    let inner = path.strip_prefix(root).ok()?;
    let parts: Vec<_> = inner.components().map(|part| part.as_os_str().to_string_lossy()).collect();
    Some(parts.join("/"))
}

/// Every file at a path or below it, hidden ones left out; a file that cannot be read has its error for a
/// fingerprint.
fn under(root: &Path, path: &str) -> Vec<(String, String)> {
    let walk = WalkDir::new(root.join(path)).follow_links(true);
    let shown = |entry: &walkdir::DirEntry| entry.depth() == 0 || !hidden(entry.file_name());
    let files: Vec<PathBuf> = walk
        .into_iter()
        .filter_entry(shown)
        .flatten()
        .filter(|entry| entry.file_type().is_file())
        .map(walkdir::DirEntry::into_path)
        .collect();
    let print = |file: &PathBuf| {
        let print = fs::read(file).map_or_else(|error| error.to_string(), |bytes| fingerprint(&bytes));
        Some((relative(root, file)?, print))
    };
    files.par_iter().filter_map(print).collect()
}

fn touched(before: &BTreeMap<String, String>, now: &BTreeMap<String, String>) -> Touched {
    let gone_or_changed = before.iter().filter(|(path, print)| now.get(*path) != Some(print));
    let new = now.iter().filter(|(path, _)| !before.contains_key(*path));
    let mut touched = Touched::Nothing;
    for (path, _) in gone_or_changed.chain(new) {
        if !path.starts_with("jobs/") {
            return Touched::All;
        }
        touched = Touched::Jobs;
    }
    touched
}

#[cfg(test)]
mod tests {
    use super::*;

    fn folder_of(files: &[(&str, &str)]) -> tempfile::TempDir {
        let root = tempfile::tempdir().unwrap();
        files.iter().for_each(|(path, text)| write(root.path(), path, text));
        root
    }

    fn write(root: &Path, path: &str, text: &str) {
        fs::create_dir_all(root.join(path).parent().unwrap()).unwrap();
        fs::write(root.join(path), text).unwrap();
    }

    #[test]
    fn tells_what_a_save_touched() {
        let root =
            folder_of(&[("content/company.yaml", "a"), ("jobs/one.yaml", "b"), ("themes/t/x.css", "c")]);
        let at = |path: &str| vec![root.path().join(path)];
        let mut sources = Sources::read(root.path());
        write(root.path(), "jobs/one.yaml", "b");
        assert_eq!(sources.refresh(root.path(), &at("jobs/one.yaml")), Touched::Nothing);
        write(root.path(), "jobs/one.yaml", "c");
        assert_eq!(sources.refresh(root.path(), &at("jobs/one.yaml")), Touched::Jobs);
        write(root.path(), "jobs/2027/two.yaml", "d");
        assert_eq!(sources.refresh(root.path(), &at("jobs/2027")), Touched::Jobs);
        assert_eq!(sources, Sources::read(root.path()));
        fs::remove_dir_all(root.path().join("jobs/2027")).unwrap();
        assert_eq!(sources.refresh(root.path(), &at("jobs/2027")), Touched::Jobs);
        write(root.path(), "themes/t/x.css", "e");
        assert_eq!(sources.refresh(root.path(), &at("themes/t/x.css")), Touched::All);
        write(root.path(), "site/index.html", "f");
        write(root.path(), "jobs/.one.yaml.swp", "g");
        let unseen = [at("site/index.html"), at("jobs/.one.yaml.swp"), at("")].concat();
        assert_eq!(sources.refresh(root.path(), &unseen), Touched::Nothing);
        assert_eq!(sources.refresh(root.path(), &["/elsewhere".into()]), Touched::Nothing);
        assert_eq!(sources, Sources::read(root.path()));
    }

    #[test]
    fn a_job_rests_on_the_plans_beside_it_and_on_no_others() {
        let root =
            folder_of(&[("jobs/a/one.yaml", "1"), ("jobs/b/two.yaml", "2"), ("jobs/a/x.plan.yaml", "p")]);
        let before = Sources::read(root.path());
        write(root.path(), "jobs/a/x.plan.yaml", "q");
        let after = Sources::read(root.path());
        assert_ne!(before.jobs()["jobs/a/one.yaml"], after.jobs()["jobs/a/one.yaml"]);
        assert_eq!(before.jobs()["jobs/b/two.yaml"], after.jobs()["jobs/b/two.yaml"]);
        assert_eq!(before.base(), after.base());
    }
}

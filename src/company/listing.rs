//! Which files of a company are jobs: by the whole folder, or by one key alone; and which hold a job that nothing
//! reads.
use super::disk::{JOBS, LESSONS, Walked, ends, kept, names, read_text, relative};
use super::read::{JOB_ENDINGS, PLAN_ENDING, job_key};
use crate::text::Diagnostic;
use std::collections::HashMap;
use std::path::Path;
use walkdir::WalkDir;

/// A job's file, not read yet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct JobFile {
    /// Its path under `jobs/` without its ending.
    pub key: String,
    /// From the company folder.
    pub file: String,
}

/// Every job's file, in the order of keys, and the plans that stand among them, which are no jobs. Keys
/// become folders, so that case does not tell them apart.
pub(super) fn job_files(
    root: &Path,
    walked: Walked,
    found: &mut Vec<Diagnostic>,
) -> (Vec<JobFile>, Vec<(String, String)>) {
    let mut jobs: Vec<JobFile> = Vec::new();
    let mut taken: HashMap<String, String> = HashMap::new();
    let (plans, files): (Vec<String>, Vec<String>) =
        walked.of(root, &JOB_ENDINGS, found).into_iter().partition(|file| file.ends_with(PLAN_ENDING));
    let read = |file: String| kept(read_text(root, &file), found).map(|text| (file, text));
    let plans: Vec<(String, String)> = plans.into_iter().filter_map(read).collect();
    for file in files {
        let key = job_key(&file);
        if let Some(first) = taken.get(&key.to_lowercase()) {
            let message = format!("this job would take the place of `{first}`");
            let help = Some("give the file another name; neither case nor ending tells jobs apart");
            found.push(Diagnostic::of_file(&file, message, help));
            continue;
        }
        taken.insert(key.to_lowercase(), key.clone());
        jobs.push(JobFile { key, file });
    }
    jobs.sort_by(|a, b| a.key.cmp(&b.key));
    found.extend(strays(root, &walked));
    (jobs, plans)
}

/// Files that hold a job and are read by nothing: those whose names do not end as a job's does, and those that
/// stand beside the folder of jobs.
fn strays(root: &Path, jobs: &Walked) -> Vec<Diagnostic> {
    let beside = [("", 1), ("content", 1), (LESSONS, usize::MAX)].into_iter().flat_map(|(folder, depth)| {
        let shown = |entry: &walkdir::DirEntry| !entry.file_name().to_string_lossy().starts_with('.');
        let walk = WalkDir::new(root.join(folder)).min_depth(1).max_depth(depth).sort_by_file_name();
        walk.into_iter().filter_entry(shown).flatten().map(walkdir::DirEntry::into_path)
    });
    let among = jobs.files.iter().filter(|path| !ends(path, &JOB_ENDINGS));
    let among = among.filter_map(|path| stray(root, path, false));
    let beside = beside.filter(|path| ends(path, &JOB_ENDINGS)).filter_map(|path| stray(root, &path, true));
    among.chain(beside).collect()
}

/// A file that holds a job, where it is none that an editor left behind; `elsewhere` tells that it stands
/// beside the folder of jobs.
fn stray(root: &Path, path: &Path, elsewhere: bool) -> Option<Diagnostic> {
    const SPARED: [&str; 6] = ["bak", "orig", "swp", "tmp", "old", "md"];
    const MOST: u64 = 200_000;
    let name = path.file_name()?.to_string_lossy().into_owned();
    if name.ends_with('~') || ends(path, &SPARED) {
        return None;
    }
    std::fs::metadata(path).ok().filter(|about| about.is_file() && about.len() <= MOST)?;
    let text = std::fs::read_to_string(path).ok()?;
    text.lines().find(|line| line.starts_with("inlets:"))?;
    let stem = name.split('.').next().unwrap_or(&name);
    let file = relative(root, path).unwrap_or_else(|_| name.clone());
    let help = match elsewhere {
        true => format!("move it to jobs/{stem}.yaml; if it is no job, leave it"),
        false => format!("rename it to {stem}.yaml; if it is no job, leave it"),
    };
    Some(Diagnostic::of_file(&file, "this file holds a job, and is not read", Some(&help)).warning())
}

/// The file of a key, found without a look at any other job; `None` where there is none, or where one of
/// the names on the way to it is told from another by its case or ending alone.
pub(super) fn job_alone(root: &Path, key: &str) -> Option<JobFile> {
    let plain = |part: &str| !part.is_empty() && !part.starts_with('.') && !part.contains(['\\', ':']);
    if !key.split('/').all(plain) {
        return None;
    }
    let mut file = JOBS.to_owned();
    for part in key.split('/') {
        let wanted = part.to_lowercase();
        let same = |name: &String| name.to_lowercase() == wanted || job_key(&name.to_lowercase()) == wanted;
        let mut alike = names(&root.join(&file))?.into_iter().filter(same);
        let (name, none) = (alike.next()?, alike.next());
        if none.is_some() || job_key(&name) != part {
            return None;
        }
        file = format!("{file}/{name}");
    }
    let is_job = !file.ends_with(PLAN_ENDING) && job_key(&file) == key && root.join(&file).is_file();
    is_job.then(|| JobFile { key: key.to_owned(), file })
}

/// Path and text of every plan in the folder of a job.
pub(super) fn plans_beside(root: &Path, job: &str) -> Vec<(String, String)> {
    let folder = job.rsplit_once('/').map_or("", |(folder, _)| folder);
    let mut plans = names(&root.join(folder)).unwrap_or_default();
    plans.retain(|name| name.ends_with(PLAN_ENDING) && !name.starts_with('.'));
    plans.sort();
    let files = plans.into_iter().map(|name| format!("{folder}/{name}"));
    files.filter_map(|file| Some((file.clone(), read_text(root, &file).ok()?))).collect()
}

/// A job's file name becomes its address, so it holds only what an address holds.
pub(super) fn check_key(file: &str, key: &str) -> Result<(), Vec<Diagnostic>> {
    let odd = key.chars().find(|c| !(c.is_alphanumeric() || matches!(c, '-' | '_' | '.' | '/')));
    let Some(odd) = odd else { return Ok(()) };
    let better: String = key
        .chars()
        .map(|c| if c.is_alphanumeric() || matches!(c, '_' | '.' | '/') { c } else { '-' })
        .collect();
    let message = format!("the file name holds `{}`, which its pages' address cannot", odd.escape_debug());
    let help = format!("rename it to jobs/{better}.yaml");
    Err(vec![Diagnostic::of_file(file, message, Some(&help))])
}

//! A company with as many jobs as are asked for: the demo's jobs over and over, each with a title and a
//! first run of its own, in a folder for every thousandth.
use std::fmt::Write;
use std::fs;
use std::path::{Path, PathBuf};

/// Writes so many jobs under `jobs/` and answers the file of each.
pub fn fill(company: &Path, jobs: usize) -> Vec<PathBuf> {
    let demo = super::repository().join("jobs");
    let mut texts: Vec<(PathBuf, String)> = walkdir::WalkDir::new(&demo)
        .into_iter()
        .flatten()
        .filter(|entry| entry.path().extension().is_some_and(|ending| ending == "yaml"))
        .map(|entry| (entry.path().into(), fs::read_to_string(entry.path()).expect("a job")))
        .filter(|(_, text)| !text.contains(".plan.yaml"))
        .collect();
    texts.sort();
    let mut files = Vec::new();
    for n in 0..jobs {
        let text = &texts[n % texts.len()].1;
        let file = company.join(format!("jobs/y{:02}/job-{n:05}.yaml", n * 20 / jobs.max(1)));
        fs::create_dir_all(file.parent().expect("a folder")).expect("a folder");
        fs::write(&file, told(text, n)).expect("a job");
        files.push(file);
    }
    files
}

/// A job's text with the number in its title, and in the length of its first run in thirty-seconds of an inch.
fn told(text: &str, n: usize) -> String {
    let mut out = String::new();
    let mut run = false;
    for line in text.lines() {
        match line.strip_prefix("title: ") {
            Some(title) => drop(writeln!(out, "title: No {n} {title}")),
            None if !run && line.trim_start().starts_with("- run: ") && line.ends_with(" ft") => {
                run = true;
                let _ = writeln!(out, "{} {}/32 in", line, n % 31 + 1);
            }
            None => drop(writeln!(out, "{line}")),
        }
    }
    out
}

//! One bad file never stops the others, whatever is wrong with it.
mod reading;

use longsweep::company::{Job, Loaded, UnreadJob, load, load_named, read_job};
use proptest::prelude::*;
use std::fs;
use std::path::Path;

const JOB: &str = "title: Heron Lane\ndate: 2026-11-30\nunit: {model: basement-600}\ninlets:\n  - {id: hall, valve: \
                   door-sealed, hose: socked-40, raceway: {leaves: down, path: [{run: 46 ft}]}}\n";

/// A copy of the demo's content without its jobs.
fn folder() -> tempfile::TempDir {
    let dir = tempfile::tempdir().unwrap();
    for part in ["content/catalog", "content/standard", "content/lessons", "jobs/2026"] {
        fs::create_dir_all(dir.path().join(part)).unwrap();
    }
    for part in ["content/catalog", "content/standard", "content"] {
        for (file, text) in reading::texts(&reading::root().join(part)) {
            let name = Path::new(&file).file_name().unwrap().to_owned();
            fs::write(dir.path().join(part).join(name), text).unwrap();
        }
    }
    dir
}

fn write(dir: &Path, file: &str, bytes: impl AsRef<[u8]>) {
    fs::write(dir.join(file), bytes).unwrap();
}

/// `key: ok` or `key: message of the first fault`, for each job.
fn outcome(loaded: &Loaded) -> Vec<String> {
    let line = |job: &Result<_, longsweep::company::UnreadJob>| match job {
        Ok(job) => {
            let job: &longsweep::company::Job = job;
            format!("{}: ok", job.key)
        }
        Err(unread) => format!("{}: {}", unread.key, unread.diagnostics[0].message),
    };
    loaded.jobs.iter().map(line).collect()
}

#[test]
fn bad_jobs_stand_beside_good_ones() {
    let dir = folder();
    let root = dir.path();
    write(root, "jobs/2026/good.yaml", JOB);
    write(root, "jobs/also-good.yml", JOB);
    write(root, "jobs/binary.yaml", b"title: \0\x01");
    write(root, "jobs/latin.yaml", b"title: caf\xe9");
    write(root, "jobs/wide.yaml", b"\xff\xfet\0i\0");
    write(root, "jobs/empty.yaml", "");
    write(root, "jobs/comment.yaml", "# later\n");
    write(root, "jobs/deep.yaml", "[".repeat(100_000));
    write(root, "jobs/large.yaml", "k: some value\n".repeat(750_000));
    write(root, "jobs/many.yaml", "k: v\n".repeat(100_000));
    write(root, "jobs/list.yaml", "- a\n- b\n");
    write(root, "jobs/a b.yaml", JOB);
    write(root, "jobs/notes.txt", "no job");
    write(root, "jobs/.hidden.yaml", "no: job");
    let started = std::time::Instant::now();
    let loaded = load(root, &reading::kinds());
    assert!(started.elapsed().as_secs() < 20, "took {:?}", started.elapsed());
    assert_eq!(loaded.diagnostics, []);
    let want = [
        "2026/good: ok",
        "a b: the file name holds ` `, which its pages' address cannot",
        "also-good: ok",
        "binary: the file is no text, but a program's own format",
        "comment: the file is empty",
        "deep: brackets or indents go more than 24 deep",
        "empty: the file is empty",
        "large: the file has 10.01 MB; at most 1 MB",
        "latin: a letter here is saved in another encoding than UTF-8",
        "list: this is a list, not a job",
        "many: the file holds too many values; at most 40000",
        "wide: the file is UTF-16, not UTF-8",
    ];
    assert_eq!(outcome(&loaded), want);
}

#[test]
fn keys_are_unique_whatever_their_case_or_ending() {
    let dir = folder();
    write(dir.path(), "jobs/Gull.yaml", JOB);
    write(dir.path(), "jobs/gull.yaml", JOB);
    write(dir.path(), "jobs/gull.yml", JOB);
    let loaded = load(dir.path(), &reading::kinds());
    assert_eq!(outcome(&loaded), ["Gull: ok"]);
    let said: Vec<String> = loaded.listing.iter().map(|d| format!("{}: {}", d.file, d.message)).collect();
    assert_eq!(
        said,
        [
            "jobs/gull.yaml: this job would take the place of `Gull`",
            "jobs/gull.yml: this job would take the place of `Gull`",
        ]
    );
}

#[test]
fn a_bad_part_stops_only_the_jobs_that_use_it() {
    let dir = folder();
    let root = dir.path();
    write(root, "jobs/uses.yaml", JOB.replace("socked-40", "worn-40"));
    write(root, "jobs/other.yaml", JOB);
    write(root, "content/catalog/worn.yaml", "hoses:\n  - {id: worn-40, length: 40}\n");
    write(
        root,
        "content/catalog/zz-again.yaml",
        "hoses:\n  - {id: bare-40, length: 40 ft, outside: 2 in, bore: 1 in, weight: 1 N/m, sock: no}\n",
    );
    let loaded = load(root, &reading::kinds());
    write(root, "jobs/twice.yaml", JOB.replace("socked-40", "bare-40"));
    let loaded_again = load(root, &reading::kinds());
    assert_eq!(outcome(&loaded_again)[1], "twice: the hose id `bare-40` is given twice");
    assert_eq!(outcome(&loaded), ["other: ok", "uses: no unit after `40` in a length"]);
    assert!(loaded.jobs[1].as_ref().is_err_and(|unread| unread.elsewhere));
    assert!(loaded.diagnostics.iter().any(|d| d.message == "no unit after `40` in a length"));
    let twice = loaded.diagnostics.iter().find(|d| d.message.contains("twice")).unwrap();
    assert_eq!((twice.file.as_str(), twice.line), ("content/catalog/zz-again.yaml", 2));
    assert_eq!(twice.related[0].file, "content/catalog/hoses.yaml");
    let drawn = twice.render(false, 100);
    assert!(
        drawn.contains("content/catalog/hoses.yaml:11:10") && drawn.contains("zz-again.yaml:2:10"),
        "{drawn}"
    );
}

#[test]
fn what_is_missing_is_told_once_and_for_each_job() {
    let dir = tempfile::tempdir().unwrap();
    fs::create_dir_all(dir.path().join("jobs")).unwrap();
    write(dir.path(), "jobs/a.yaml", JOB);
    let loaded = load(dir.path(), &reading::kinds());
    let files: Vec<&str> = loaded.diagnostics.iter().map(|d| d.file.as_str()).collect();
    assert_eq!(files, ["content/company.yaml", "content/catalog"]);
    assert_eq!(loaded.lost, ["content/standard", "content/lessons"]);
    assert_eq!(outcome(&loaded), ["a: the job cannot be read without content/company.yaml"]);
}

#[test]
fn a_broken_standard_is_told_where_it_is_used() {
    let dir = folder();
    let root = dir.path();
    write(root, "content/standard/2026-1.yaml", "revision: [");
    write(root, "jobs/new.yaml", JOB);
    write(root, "jobs/old.yaml", format!("standard: \"2025-2\"\n{JOB}"));
    let loaded = load(root, &reading::kinds());
    assert_eq!(loaded.firm.as_ref().unwrap().standard, "2026-1");
    assert_eq!(outcome(&loaded), ["new: the `[` that opens here is never closed", "old: ok"]);
    let said: Vec<&str> = loaded.diagnostics.iter().map(|d| d.message.as_str()).collect();
    assert!(said.iter().any(|m| m.contains("that opens here is never closed")), "{said:?}");
    assert_eq!(said.len(), 1, "the cause is named once: {said:?}");
}

#[cfg(unix)]
#[test]
fn links_that_lead_back_are_told() {
    let dir = folder();
    write(dir.path(), "jobs/good.yaml", JOB);
    std::os::unix::fs::symlink(dir.path().join("jobs"), dir.path().join("jobs/2026/again")).unwrap();
    std::os::unix::fs::symlink("nowhere.yaml", dir.path().join("jobs/gone.yaml")).unwrap();
    let loaded = load(dir.path(), &reading::kinds());
    assert_eq!(outcome(&loaded), ["good: ok"]);
    let said: Vec<String> = loaded.listing.iter().map(|d| d.message.clone()).collect();
    assert!(said.contains(&"this link leads back into its own folder".to_owned()), "{said:?}");
    assert_eq!(said.len(), 2, "{said:?}");
}

#[test]
fn lessons_come_sorted_with_their_text() {
    let dir = folder();
    write(dir.path(), "content/lessons/b.md", "# B\n");
    write(dir.path(), "content/lessons/a.md", "# A\n");
    write(dir.path(), "content/lessons/c.md", b"\xff");
    let loaded = load(dir.path(), &reading::kinds());
    let names: Vec<&str> = loaded.lessons.iter().map(|(file, _)| file.as_str()).collect();
    assert_eq!(names, ["content/lessons/a.md", "content/lessons/b.md"]);
    assert_eq!(loaded.diagnostics[0].file, "content/lessons/c.md");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    /// A job with a piece cut out and another put in is read or refused, with marks that can be drawn.
    #[test]
    fn a_damaged_job_never_panics(at in 0_usize..400, cut in 0_usize..12, put in "[-0-9a-z:{}\\[\\],&*!|>'\"#%@` \n\t~é½]{0,6}") {
        let text: Vec<char> = JOB.chars().collect();
        let at = at.min(text.len());
        let end = (at + cut).min(text.len());
        let damaged: String = text[..at].iter().chain(put.chars().collect::<Vec<_>>().iter()).chain(&text[end..]).collect();
        let (catalog, standards) = reading::shared();
        if let Err(faults) = read_job("jobs/a.yaml", &damaged, catalog, &reading::firm(), standards, &[]) {
            prop_assert!(!faults.is_empty());
            for fault in faults {
                let _ = (fault.render_plain(), fault.render(true, 100));
                prop_assert!(fault.line >= 1 && fault.column >= 1);
            }
        }
    }
}

#[test]
fn a_job_read_by_its_name_is_the_job_read_with_all_the_others() {
    let dir = folder();
    write(dir.path(), "jobs/2026/gull.yaml", JOB);
    write(dir.path(), "jobs/2026/bad.yml", JOB.replace("socked-40", "worn-40"));
    write(dir.path(), "jobs/Twice.yaml", JOB);
    write(dir.path(), "jobs/twice.yml", JOB);
    write(dir.path(), "jobs/spoilt.yaml", "[");
    let all = load(dir.path(), &reading::kinds());
    for key in ["2026/gull", "2026/bad", "Twice", "twice", "2026", "../content/company", "nobody", ""] {
        let named = load_named(dir.path(), &reading::kinds(), &[key]);
        let of_all = all.jobs.iter().filter(|job| match job {
            Ok(job) => job.key == key,
            Err(unread) => unread.key == key,
        });
        let told = |jobs: Vec<&Result<Job, UnreadJob>>| format!("{jobs:?}");
        assert_eq!(told(named.jobs.iter().collect()), told(of_all.collect()), "{key}");
        let alone = named.job_files.iter().all(|file| file.key == key);
        assert_eq!(alone, key.starts_with("2026/"), "{key} looked at {:?}", named.job_files);
    }
}

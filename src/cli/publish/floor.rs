//! What a full publish costs against its floor: the same pages rendered from ready contexts by bare `tera`,
//! the lessons by bare `pulldown-cmark`, and the files written from memory. A timing, not a check; run it with
//! `cargo test --release --lib floor -- --ignored --nocapture --test-threads 1`, where `LONGSWEEP_JOBS`
//! gives another number of jobs than 100.
// The generator of the benchmarks under `tests/`.
#[path = "../../../tests/common/many.rs"]
mod many;

use super::{Office, Read};
use crate::site::Theme;
use std::fs;
use std::hint::black_box;
use std::path::{Path, PathBuf};
use walkdir::WalkDir;

/// The repository, in which the generator finds the demo's jobs.
fn repository() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Processor time of this process so far, all threads, user and system, in seconds: the 14th and 15th word
/// of its `stat`, in hundredths of a second, as Linux tells it.
fn cpu_s() -> f64 {
    let stat = fs::read_to_string("/proc/self/stat").expect("Linux");
    let words: Vec<&str> = stat.rsplit_once(") ").expect("its name").1.split(' ').collect();
    let ticks = |at: usize| words[at].parse::<f64>().expect("a number");
    (ticks(11) + ticks(12)) / 100.0
}

/// Processor time of what is done so many times, for one time.
fn took_s(times: u32, mut what: impl FnMut()) -> f64 {
    let before = cpu_s();
    (0..times).for_each(|_| what());
    (cpu_s() - before) / f64::from(times)
}

/// The demo company with so many jobs.
fn company(jobs: usize) -> tempfile::TempDir {
    let company = tempfile::tempdir().expect("a temporary folder");
    for folder in ["content", "themes"] {
        for (path, bytes) in files(&repository().join(folder)) {
            write(&company.path().join(folder), &path, &bytes);
        }
    }
    many::fill(company.path(), jobs);
    company
}

/// Every file of a folder, by its path in it.
fn files(folder: &Path) -> Vec<(PathBuf, Vec<u8>)> {
    let entries = WalkDir::new(folder).sort_by_file_name().into_iter().flatten();
    let files = entries.filter(|entry| entry.file_type().is_file());
    files
        .map(|file| {
            let path = file.path().strip_prefix(folder).expect("below it").to_path_buf();
            (path, fs::read(file.path()).expect("a file"))
        })
        .collect()
}

fn write(folder: &Path, path: &Path, bytes: &[u8]) {
    let target = folder.join(path);
    fs::create_dir_all(target.parent().expect("a folder")).expect("a folder");
    fs::write(target, bytes).expect("a file");
}

/// Publishes anew and answers the contexts from which its pages were rendered.
fn contexts(root: &Path) -> (Theme, Vec<tera::Context>) {
    let mut office = Office::open(root);
    let read = Read::of(root, &office.sources).unwrap_or_else(|_| panic!("a company"));
    read.theme.note_contexts();
    office.read = Some(read);
    assert_eq!(office.publish().code, super::FINE);
    let theme = office.read.take().expect("it was read").theme;
    let contexts = theme.noted_contexts();
    (theme, contexts)
}

#[test]
#[ignore = "a timing, not a check"]
fn a_full_publish_against_its_floor() {
    let jobs = std::env::var("LONGSWEEP_JOBS").ok().and_then(|jobs| jobs.parse().ok()).unwrap_or(100);
    let company = company(jobs);
    let (root, site) = (company.path(), company.path().join("site"));
    let full_s = took_s(1, || assert_eq!(Office::open(root).publish().code, super::FINE));
    fs::remove_dir_all(&site).expect("the set");
    let (theme, contexts) = contexts(root);
    let (pages, others): (Vec<_>, Vec<_>) =
        files(&site).into_iter().partition(|(path, _)| path.extension().is_some_and(|end| end == "html"));
    assert_eq!(pages.len(), contexts.len(), "a context for each page");
    let lessons: Vec<String> = files(&root.join("content/lessons"))
        .into_iter()
        .filter_map(|(_, bytes)| String::from_utf8(bytes).ok())
        .collect();
    let (times, floor) = (5, tempfile::tempdir().expect("a temporary folder"));
    let tera_s = took_s(times, || contexts.iter().for_each(|context| drop(black_box(theme.bare(context)))));
    let lessons_s = took_s(times, || {
        for lesson in &lessons {
            let mut html = String::new();
            let options = pulldown_cmark::Options::all();
            pulldown_cmark::html::push_html(&mut html, pulldown_cmark::Parser::new_ext(lesson, options));
            black_box(html);
        }
    });
    let write_s = took_s(1, || {
        pages.iter().chain(&others).for_each(|(path, bytes)| write(floor.path(), path, bytes));
    });
    let bytes: usize = pages.iter().chain(&others).map(|(_, bytes)| bytes.len()).sum();
    let least_s = tera_s + lessons_s + write_s;
    println!("{jobs} jobs, {} pages, {} files, {} kB", pages.len(), pages.len() + others.len(), bytes / 1000);
    println!("full publish          {full_s:8.2} s CPU, {:.1} ms a job", full_s / jobs as f64 * 1000.0);
    println!("floor                 {least_s:8.2} s CPU");
    println!("  tera                {tera_s:8.2} s");
    println!("  pulldown-cmark      {lessons_s:8.3} s");
    println!("  files from memory   {write_s:8.2} s");
    println!("full over floor       {:8.1}", full_s / least_s);
}

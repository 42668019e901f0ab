//! Whole publishes: a small company with a past, in which one file at a time is changed and put right again.
//!
//! After each publish: a job that is not read has no packet but its last one, under a bar, and a record that
//! says that it may not be built; every drawing can be shown; the exit code says whether all was read. When
//! all is put right again, the set is the one of the beginning, byte for byte.
use super::dice::Dice;
use super::mutate::{Words, mutated};
use super::reading;
use super::tally::Tally;
use longsweep::cli::{Cli, Command, run as run_command};
use longsweep::company::load;
use longsweep::standard::kinds;
use std::collections::BTreeMap;
use std::fs;
use std::ops::Range;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::time::Instant;

const JOBS: [&str; 2] = ["tern-house.yaml", "godwit-house.yaml"];
const LESSONS: [&str; 2] = ["bends.md", "plan-reading.md"];
/// All is put right after so many publishes.
const RIGHT_AFTER: usize = 8;

/// The company in a folder, in memory where the machine has such a place.
struct Company {
    folder: tempfile::TempDir,
    /// The files that are changed, with what they hold when all is right.
    right: Vec<(PathBuf, Vec<u8>)>,
    set: BTreeMap<String, Vec<u8>>,
}

impl Company {
    fn begin() -> Company {
        let memory = Path::new("/dev/shm");
        let folder = match memory.is_dir() {
            true => tempfile::tempdir_in(memory),
            false => tempfile::tempdir(),
        };
        let folder = folder.expect("a folder");
        let mut files: Vec<String> = vec!["content/company.yaml".into(), "content/words.yaml".into()];
        for part in ["content/catalog", "content/standard"] {
            for entry in fs::read_dir(reading::root().join(part)).expect("a folder") {
                files.push(format!("{part}/{}", entry.expect("an entry").file_name().to_string_lossy()));
            }
        }
        files.extend(JOBS.map(|job| format!("jobs/{job}")));
        files.extend(LESSONS.map(|lesson| format!("content/lessons/{lesson}")));
        files.sort();
        let themes = walkdir::WalkDir::new(reading::root().join("themes/drafting"));
        for theme in themes.into_iter().flatten().filter(|entry| entry.file_type().is_file()) {
            let path = theme.path().strip_prefix(reading::root()).expect("below the root");
            put(&folder.path().join(path), &fs::read(theme.path()).expect("a file"));
        }
        let read = |file: String| {
            let mut bytes = fs::read(reading::root().join(&file)).expect("a file");
            if file.ends_with(".md") {
                bytes = alone(&String::from_utf8_lossy(&bytes)).into_bytes();
            }
            put(&folder.path().join(&file), &bytes);
            (folder.path().join(&file), bytes)
        };
        let right = files.into_iter().map(read).collect();
        let mut company = Company { folder, right, set: BTreeMap::new() };
        assert_eq!(company.publish(), 0, "the company is not right to begin with");
        company.set = company.pages();
        company
    }

    fn root(&self) -> &Path {
        self.folder.path()
    }

    fn publish(&self) -> u8 {
        run_command(&Cli { company: self.root().to_owned(), command: Some(Command::Publish) })
    }

    /// Every file of the set with its bytes, but for what the program keeps for itself.
    fn pages(&self) -> BTreeMap<String, Vec<u8>> {
        let site = self.root().join("site");
        let files = walkdir::WalkDir::new(&site).into_iter().flatten().filter(|e| e.file_type().is_file());
        files
            .map(|entry| {
                let path = entry.path().strip_prefix(&site).expect("below the set").display().to_string();
                (path, fs::read(entry.path()).expect("a page"))
            })
            .filter(|(path, _)| !path.contains(".longsweep-"))
            .collect()
    }

    fn put_right(&self) {
        self.right.iter().for_each(|(path, bytes)| put(path, bytes));
    }

    /// What is wrong after a publish, if anything; answers whether all was read.
    fn sound(&self, code: u8) -> Result<bool, String> {
        let (loaded, pages) = (load(self.root(), &kinds()), self.pages());
        let mut whole = loaded.diagnostics.is_empty();
        for (file, job) in loaded.job_files.iter().zip(&loaded.jobs) {
            whole &= job.is_ok();
            let folder = format!("jobs/{}/", longsweep::text::slug(&file.key));
            let own = pages.iter().filter(|(path, _)| path.starts_with(&folder));
            for (path, bytes) in own.filter(|_| job.is_err()) {
                let text = String::from_utf8_lossy(bytes);
                let packet = path.ends_with(".html") && text.contains("class=\"sheet");
                if packet && !text.contains("bar earlier") && !text.contains("class=\"unread") {
                    return Err(format!("{path} stands for a job that is not read, and has no bar"));
                }
                if path.ends_with("packet.json") && !text.contains("not_read_again") {
                    return Err(format!("{path} of a job that is not read may be built"));
                }
            }
            if job.is_ok() && !pages.keys().any(|path| path.starts_with(&folder)) {
                return Err(format!("{} is read, and has no packet", file.key));
            }
        }
        for (path, bytes) in pages.iter().filter(|(path, _)| path.ends_with(".svg")) {
            usvg::Tree::from_data(bytes, &usvg::Options::default())
                .map_err(|why| format!("{path}: {why}"))?;
        }
        match (code, whole) {
            (0 | 2, true) | (2, false) => Ok(code == 0),
            _ => Err(format!("the code is {code}, and all was read is {whole}: {:?}", loaded.diagnostics)),
        }
    }
}

/// A lesson whose links to lessons that are not here lead to a clause.
fn alone(lesson: &str) -> String {
    let mut parts = lesson.split("](lesson:");
    let first = parts.next().unwrap_or("").to_owned();
    parts.fold(first, |text, part| {
        format!("{text}](clause:bend-total){}", part.split_once(')').map_or("", |(_, rest)| rest))
    })
}

fn put(path: &Path, bytes: &[u8]) {
    fs::create_dir_all(path.parent().expect("a folder")).expect("a folder");
    fs::write(path, bytes).expect("a file");
}

/// Publishes over a changed file for each seed.
pub fn run(seeds: Range<u64>, tally: &mut Tally) {
    super::keep_panics();
    let (company, words) = (Company::begin(), Words::of_the_tables());
    for (nth, seed) in seeds.enumerate() {
        let started = Instant::now();
        let mut dice = Dice::of(seed);
        let Some((path, bytes)) = dice.pick(&company.right) else { return };
        let changed = mutated(bytes, bytes, &words, &mut dice);
        put(path, &changed);
        let came = caught(|| company.sound(company.publish()));
        let name = path.file_name().map_or(String::new(), |name| name.to_string_lossy().into_owned());
        tally.add(seed, &format!("whole-{name}"), &came, &changed, started.elapsed());
        // A third of the files stay as they are for the next publish.
        if !dice.once_in(3) {
            put(path, bytes);
        }
        if nth % RIGHT_AFTER == RIGHT_AFTER - 1 {
            company.put_right();
            let came = caught(|| put_right_again(&company));
            tally.add(seed, "whole-again", &came, &[], started.elapsed());
        }
    }
    drop(std::panic::take_hook());
}

fn put_right_again(company: &Company) -> Result<bool, String> {
    let code = company.publish();
    if code != 0 {
        return Err(format!("all is right again, and the code is {code}"));
    }
    let now = company.pages();
    let other = |path: &&String| now.get(*path) != company.set.get(*path);
    let odd: Vec<&String> = now.keys().chain(company.set.keys()).filter(other).take(4).collect();
    if odd.is_empty() { Ok(true) } else { Err(format!("the set is not what it was: {odd:?}")) }
}

fn caught(work: impl FnOnce() -> Result<bool, String>) -> Result<bool, String> {
    catch_unwind(AssertUnwindSafe(work)).unwrap_or_else(|_| Err(super::last_panic()))
}

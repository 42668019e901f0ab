//! `publish`: everything read, worked up, drawn and written as the set.
mod kept;
mod press;
mod sources;
mod stays;

#[cfg(test)]
mod floor;

pub use sources::{FOLDERS, Touched};

use super::read::{Company, company_alone, show_all_unread};
use super::terminal::{count, say, show};
use super::theme::theme;
use super::{FINE, UNREAD};
use crate::company::{Standard, UnreadJob, load_pictures};
use crate::site::teach::{School, Taught, lesson_id};
use crate::site::{
    Failed, JobSummary, Report, Set, Theme, Unread, UnreadRow, WriteError, Writer, fingerprint,
    forget_open_pages, lesson_page, own_time, pages,
};
use crate::text::{Diagnostic, Severity};
use kept::Kept;
use press::Press;
use sources::Sources;
use stays::Stays;
use std::path::{Path, PathBuf};
use std::time::{Instant, SystemTime};

/// Publishes the set of a company folder.
pub fn publish(root: &Path) -> u8 {
    let code = Office::open(root).publish().code;
    // A watch that was ended by hand leaves this; one that still runs writes it anew with the next save.
    forget_open_pages(&root.join("site"));
    code
}

/// A company folder at work. What was read of it stays at hand from one publish to the next, so that after
/// a save only what the save touched is read and made again.
pub struct Office {
    root: PathBuf,
    sources: Sources,
    read: Option<Read>,
    /// What the last run kept, and when that was written.
    kept: Option<(Kept, SystemTime)>,
}

/// What was read for every job alike.
struct Read {
    company: Company,
    theme: Theme,
    base: String,
    /// Rendered when the first page needs them.
    taught: Option<Taught>,
}

/// What a publish came to.
pub struct Outcome {
    pub code: u8,
    /// Whether a page was written or removed.
    pub changed: bool,
}

/// What a run came to.
struct Done {
    report: Report,
    jobs: usize,
    unread: usize,
    lessons: usize,
    /// Whether everything could be read.
    whole: bool,
}

impl Office {
    /// An office that has read nothing yet.
    pub fn open(root: &Path) -> Office {
        Office { root: root.into(), sources: Sources::read(root), read: None, kept: None }
    }

    /// Takes note of saves at these paths, and of what stands below them now.
    pub fn note(&mut self, paths: &[PathBuf]) -> Touched {
        let touched = self.sources.refresh(&self.root, paths);
        match (touched, &mut self.read) {
            (Touched::All, _) => self.read = None,
            (Touched::Jobs, Some(read)) => {
                read.company.loaded.list_jobs(&self.root);
                show(&read.company.loaded.listing);
            }
            _ => {}
        }
        touched
    }

    /// Publishes the set and says what was done.
    pub fn publish(&mut self) -> Outcome {
        let started = Instant::now();
        match self.run() {
            Ok(done) => Outcome {
                code: finish(&self.root, &done, started),
                changed: !(done.report.written.is_empty() && done.report.removed.is_empty()),
            },
            Err(Stop::Failed(why)) => {
                say(&format!("longsweep: {why}"));
                Outcome { code: UNREAD, changed: false }
            }
            Err(Stop::Unread(why)) => Outcome { code: UNREAD, changed: stand(&self.root, &why) },
        }
    }

    /// One run.
    fn run(&mut self) -> Result<Done, Stop> {
        let root = self.root.as_path();
        let read = match &mut self.read {
            Some(read) => read,
            none => none.insert(Read::of(root, &self.sources)?),
        };
        let writer = Writer::open(&root.join("site"))?;
        // Another run may have published since; then what it kept counts.
        let last = self.kept.take().filter(|(_, at)| writer.own_time(kept::NAME) == Some(*at));
        let before = match last {
            Some((kept, _)) if kept.base == read.base => kept,
            _ => Kept::read(writer.own(kept::NAME), &read.base),
        };
        let (done, now) = read.run(root, &self.sources, writer, &before)?;
        self.kept = now;
        Ok(done)
    }
}

/// Why a run came to nothing.
enum Stop {
    /// What every sheet is made from could not be read, which was said.
    Unread(String),
    /// The set could not be made or written.
    Failed(String),
}

impl From<WriteError> for Stop {
    fn from(error: WriteError) -> Stop {
        Stop::Failed(error.to_string())
    }
}

/// Lets the set that was made before stand under a bar, where nothing can be made anew; answers whether a
/// page was changed.
fn stand(root: &Path, why: &str) -> bool {
    match stays::whole_set(root, why) {
        Ok(Some(changed)) => {
            say("longsweep: the set that was made before stands, under a bar on every sheet");
            changed
        }
        Ok(None) => false,
        Err(error) => {
            say(&format!("longsweep: {error}"));
            false
        }
    }
}

impl Read {
    /// Reads what every job rests on.
    fn of(root: &Path, sources: &Sources) -> Result<Read, Stop> {
        let company = company_alone(root).ok_or_else(|| {
            Stop::Unread("content/company.yaml or content/catalog, which cannot be read".into())
        })?;
        let said = |why: String| {
            say(&format!("longsweep: {why}"));
            Stop::Unread(why)
        };
        let at = &company.firm.theme_at;
        let theme = theme(root, &company.firm.theme, at).map_err(said)?;
        if in_force(&company).is_none() {
            return Err(said("no standard could be read".into()));
        }
        Ok(Read { company, theme, base: sources.base(), taught: None })
    }

    /// Publishes what was read, with every job; answers what is kept for the next run.
    fn run(
        &mut self,
        root: &Path,
        sources: &Sources,
        writer: Writer,
        before: &Kept,
    ) -> Result<(Done, Option<(Kept, SystemTime)>), Stop> {
        let company = &self.company;
        let standard = self.in_force()?;
        let prints = sources.jobs();
        let press =
            Press { root, company, standard, theme: &self.theme, writer: &writer, before, prints: &prints };
        let jobs = press.jobs().map_err(Stop::Failed)?;
        let mut now = Kept { base: self.base.clone(), ..Kept::default() };
        let mut failed = Vec::new();
        for (file, job) in company.loaded.job_files.iter().zip(jobs) {
            match job {
                Ok(job) => drop(now.jobs.insert(file.key.clone(), job)),
                Err(unread) => failed.push(unread),
            }
        }
        show(&of_the_theme(&failed));
        show_all_unread(&failed.iter().collect::<Vec<_>>());
        let stays = Stays::new(&writer);
        let unread = unread(&failed, &stays)?;
        let drawn = now.jobs.values().all(|job| !job.print.is_empty());
        let whole = company.whole() && unread.is_empty() && drawn && !anything_lost(company, &writer);
        now.set = set_print(&now, &unread);
        let mut errors = !whole;
        let stands = before.whole && whole && before.set == now.set;
        if stands && before.set_files.iter().all(|path| writer.stands(path)) {
            (now.set_files, now.whole) = (before.set_files.clone(), true);
        } else {
            let (faults, failed) = self.set(root, &writer, &mut now, &unread)?;
            stays.unread_sources(&self.company.loaded, &unread_lessons(&faults, &self.company, &now))?;
            failed.iter().try_for_each(|page| stays.failed(page))?;
            now.whole = whole && faults.is_empty();
            errors |= faults.iter().any(|fault| fault.severity == Severity::Error);
        }
        let lost = &self.company.loaded.lost;
        let report = writer.finish(|path| held(lost, path), Some((kept::NAME, now.bytes())))?;
        let done = Done {
            report,
            jobs: now.jobs.len(),
            unread: unread.len(),
            lessons: self.company.loaded.lessons.len(),
            whole: !errors,
        };
        let kept = own_time(&root.join("site"), kept::NAME).map(|at| (now, at));
        Ok((done, kept))
    }

    /// Writes the pages about the whole set; answers what is wrong with lessons and theme, and which pages
    /// could not be laid out.
    fn set(
        &mut self,
        root: &Path,
        writer: &Writer,
        now: &mut Kept,
        unread: &[Unread],
    ) -> Result<(Vec<Diagnostic>, Vec<Failed>), Stop> {
        let standard = self.in_force()?.clone();
        let (company, standard) = (&self.company, &standard);
        let mut faults = Vec::new();
        let taught = self.taught.take().unwrap_or_else(|| {
            let pictures = load_pictures(root, &mut faults);
            let school = School {
                firm: &company.firm,
                catalog: &company.catalog,
                standard,
                lessons: company.loaded.lessons.iter().map(|(file, _)| lesson_id(file)).collect(),
                pictures: &pictures,
            };
            let (taught, found) = school.teach(&company.loaded.lessons, &company.loaded.words);
            faults.extend(found);
            taught
        });
        let summaries: Vec<&JobSummary> = now.jobs.values().map(|job| &job.summary).collect();
        let set = Set {
            firm: &company.firm,
            catalog: &company.catalog,
            standards: &company.loaded.standards,
            jobs: &summaries,
            unread,
            lessons: &taught.lessons,
            words: &taught.words,
            bar: &set_bar(company, standard),
        };
        // A lesson that was taught with a fault is taught anew, so that it is told at each run.
        let sound = faults.is_empty();
        let made = pages(&set, &self.theme);
        faults.extend(made.faults());
        for file in made.files {
            now.set_files.push(file.path.clone());
            match writer.put(file) {
                Err(WriteError::Twice(path)) => faults.push(two_at(&path)),
                other => other?,
            }
        }
        show(&faults);
        self.taught = sound.then_some(taught);
        Ok((faults, made.failed))
    }
}

impl Read {
    fn in_force(&self) -> Result<&Standard, Stop> {
        in_force(&self.company).ok_or_else(|| Stop::Unread("no standard could be read".into()))
    }
}

/// What is wrong with the theme, each place once, however many jobs it stopped.
fn of_the_theme(failed: &[UnreadJob]) -> Vec<Diagnostic> {
    let all =
        failed.iter().flat_map(|job| &job.diagnostics).filter(|fault| fault.file.starts_with("themes/"));
    let mut told: Vec<Diagnostic> = Vec::new();
    for fault in all {
        if !told.iter().any(|known| known.place() == fault.place()) {
            told.push(fault.clone());
        }
    }
    told
}

/// The last resort where two sheets come out at one place.
fn two_at(path: &str) -> Diagnostic {
    let message = "two sheets would stand here; the first does";
    Diagnostic::of_file(&format!("site/{path}"), message, Some("give one of the two another name"))
}

/// Jobs that could not be read, for their pages; the last packet of each stands.
fn unread(failed: &[UnreadJob], stays: &Stays) -> Result<Vec<Unread>, WriteError> {
    let mut unread = Vec::new();
    for job in failed {
        stays.packet(&job.key, &stays::why(&job.diagnostics))?;
        let diagnostics: Vec<String> = job.diagnostics.iter().map(|d| d.render_plain()).collect();
        let row = |fault: &Diagnostic| match job.elsewhere {
            true => UnreadRow { line: fault.place(), ..UnreadRow::from(fault) },
            false => UnreadRow::from(fault),
        };
        let rows = job.diagnostics.iter().map(row).collect();
        unread.push(Unread {
            key: job.key.clone(),
            diagnostics: diagnostics.join("\n"),
            rows,
            packet_stands: stays.has_cover(&job.key),
        });
    }
    Ok(unread)
}

/// Pages of lessons that could not be read at all, with what is wrong.
fn unread_lessons(faults: &[Diagnostic], company: &Company, now: &Kept) -> Vec<(String, String)> {
    let all = faults.iter().chain(&company.loaded.diagnostics);
    let of_lessons = all.filter(|fault| fault.severity == Severity::Error && fault.file.ends_with(".md"));
    let page = |fault: &Diagnostic| (lesson_page(&lesson_id(&fault.file)), fault.place());
    let mut pages: Vec<(String, String)> = of_lessons.map(page).collect();
    pages.dedup_by(|a, b| a.0 == b.0);
    pages.retain(|(page, _)| !now.set_files.contains(page));
    pages
}

/// What stands over the sheets of the set itself where what they rest on could not be read whole.
fn set_bar(company: &Company, standard: &Standard) -> String {
    let rests = |fault: &&Diagnostic| {
        fault.severity == Severity::Error
            && ["content/company", "content/catalog", "content/standard"]
                .iter()
                .any(|at| fault.file.starts_with(at))
    };
    let faults: Vec<Diagnostic> = company.loaded.diagnostics.iter().filter(rests).cloned().collect();
    if faults.is_empty() {
        return String::new();
    }
    let mut words = format!("NOT WHOLE: {} could not be read, and is left out", stays::why(&faults));
    if standard.revision != company.firm.standard {
        words.push_str(&format!(
            ". This sheet goes by {}; the standard in force is {}",
            standard.revision, company.firm.standard
        ));
    }
    words
}

/// Fingerprint of what the pages about the whole set are made from, beside the base.
fn set_print(now: &Kept, unread: &[Unread]) -> String {
    let jobs = now.jobs.iter().map(|(key, job)| format!("{key} {}\n", job.print));
    let unread = unread.iter().map(|job| format!("{} {}\n", job.key, job.diagnostics));
    fingerprint(jobs.chain(unread).collect::<String>().as_bytes())
}

/// Tells which source folders are away although pages were made from them before.
fn anything_lost(company: &Company, writer: &Writer) -> bool {
    let missed = |folder: &&&str| writer.wrote(|path| held(&[**folder], path));
    let lost: Vec<&str> = company.loaded.lost.iter().filter(missed).copied().collect();
    for folder in &lost {
        say(&format!(
            "longsweep: {folder}: this folder is missing or cannot be read; what was made from it stands. \
             Is its disk or share there? If it is gone for good, make an empty one."
        ));
    }
    !lost.is_empty()
}

/// Whether a page stays because the folder it was made from could not be read this time.
fn held(lost: &[&str], path: &str) -> bool {
    // Of jobs there are lists by year too, beside their pages.
    let first = match path.split('/').next() {
        Some("job-list") => Some("jobs"),
        first => first,
    };
    lost.iter().any(|folder| folder.rsplit('/').next() == first)
}

fn in_force(company: &Company) -> Option<&Standard> {
    let named = company.loaded.standards.iter().find(|s| s.revision == company.firm.standard);
    named.or(company.loaded.standards.last())
}

/// Says what was done, and where to open it.
fn finish(root: &Path, done: &Done, started: Instant) -> u8 {
    let report = &done.report;
    for left in &report.left {
        say(&format!("longsweep: site/{} was left alone: {}", left.path, left.why));
    }
    for (path, aside) in &report.aside {
        say(&format!(
            "longsweep: site/{path} was changed by hand; the changed page now stands at site/{aside}"
        ));
    }
    if report.healed {
        say("longsweep: the record of the set could not be read and was made anew from the pages");
    }
    let missing = report.left.iter().any(|left| left.missing);
    let made = format!(
        "{} written, {} unchanged, {} removed",
        count(report.written.len(), "file"),
        report.unchanged,
        report.removed.len()
    );
    let unread = match done.unread {
        0 => String::new(),
        n => format!(", {} left unread", count(n, "job")),
    };
    say(&format!(
        "{} and {} published{unread}: {made}, in {:.1} s",
        count(done.jobs, "job"),
        count(done.lessons, "lesson"),
        started.elapsed().as_secs_f64()
    ));
    say(&format!("open {}", root.join("site").join("index.html").display()));
    if done.whole && !missing { FINE } else { UNREAD }
}

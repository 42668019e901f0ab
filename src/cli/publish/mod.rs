//! `publish`: everything read, worked up, drawn and written as the set.
mod kept;

use super::read::{Company, company_alone};
use super::terminal::{count, say, show};
use super::theme::theme;
use super::{FINE, UNREAD};
use crate::company::{JobFile, load_job, load_pictures};
use crate::draw::png;
use crate::material::list::to_csv;
use crate::packet::pictures::pictures;
use crate::packet::worked::{Worked, Working};
use crate::packet::workings::workings;
use crate::site::teach::{School, lesson_id};
use crate::site::{
    JobEntry, JobSummary, Report, Set, Theme, Unread, Writer, fingerprint, packet_files, pages,
};
use crate::text::Severity;
use crate::work::{Work, record};
use indicatif::{ProgressBar, ProgressStyle};
use kept::{Kept, KeptJob};
use rayon::prelude::*;
use std::path::Path;
use std::time::Instant;

/// Dots per millimetre of the PNG beside each drawing: 8 is about 203 dpi, a site printer's.
const PNG_PER_MM: f64 = 8.0;

/// Publishes the set of a company folder.
pub fn publish(root: &Path) -> u8 {
    let started = Instant::now();
    match run(root) {
        Ok(Some(done)) => finish(root, &done, started),
        Ok(None) => UNREAD,
        Err(why) => {
            say(&format!("longsweep: {why}"));
            UNREAD
        }
    }
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

/// One run; `None` where there is no company to work with, which was said.
fn run(root: &Path) -> Result<Option<Done>, String> {
    let Some(company) = company_alone(root) else { return Ok(None) };
    let theme = theme(root, &company.firm.theme)?;
    let standard = in_force(&company).ok_or("no standard could be read")?;
    let writer = Writer::open(&root.join("site")).map_err(|error| error.to_string())?;
    let base = kept::base(root);
    let before = Kept::read(writer.own(kept::NAME), &base);
    let press = Press { root, company: &company, standard, theme: &theme, writer: &writer, before: &before };
    let jobs = press.jobs()?;
    let mut now = Kept { base, ..Kept::default() };
    let mut unread = Vec::new();
    for (file, job) in company.loaded.job_files.iter().zip(jobs) {
        match job {
            Ok(job) => drop(now.jobs.insert(file.key.clone(), job)),
            Err(told) => unread.push(told),
        }
    }
    let drawn = now.jobs.values().all(|job| !job.print.is_empty());
    let whole = company.whole() && unread.is_empty() && drawn && !anything_lost(&company, &writer);
    now.set = set_print(&now, &unread);
    let lessons = company.loaded.lessons.len();
    let mut errors = !whole;
    let stands = before.whole && whole && before.set == now.set;
    if stands && before.set_files.iter().all(|path| writer.stands(path)) {
        (now.set_files, now.whole) = (before.set_files.clone(), true);
    } else {
        let mut faults = Vec::new();
        let pictures = load_pictures(root, &mut faults);
        let school = School {
            firm: &company.firm,
            catalog: &company.catalog,
            standard,
            lessons: company.loaded.lessons.iter().map(|(file, _)| lesson_id(file)).collect(),
            pictures: &pictures,
        };
        let (lessons, found) = school.teach(&company.loaded.lessons);
        faults.extend(found);
        show(&faults);
        let summaries: Vec<JobSummary> = now.jobs.values().map(|job| job.summary.clone()).collect();
        let set = Set {
            firm: &company.firm,
            catalog: &company.catalog,
            standards: &company.loaded.standards,
            jobs: &summaries,
            unread: &unread,
            lessons: &lessons,
        };
        for file in pages(&set, &theme).map_err(|error| error.to_string())? {
            writer.put(&file).map_err(|error| error.to_string())?;
            now.set_files.push(file.path);
        }
        now.whole = whole && faults.is_empty();
        errors |= faults.iter().any(|fault| fault.severity == Severity::Error);
    }
    let done = (now.jobs.len(), unread.len(), !errors);
    let report = writer
        .finish(|path| held(&company.loaded.lost, path), Some((kept::NAME, now.bytes())))
        .map_err(|error| error.to_string())?;
    Ok(Some(Done { report, jobs: done.0, unread: done.1, lessons, whole: done.2 }))
}

/// Fingerprint of what the pages about the whole set are made from, beside the base.
fn set_print(now: &Kept, unread: &[Unread]) -> String {
    let jobs = now.jobs.iter().map(|(key, job)| format!("{key} {}\n", job.print));
    let unread = unread.iter().map(|job| format!("{} {}\n", job.key, job.diagnostics));
    fingerprint(jobs.chain(unread).collect::<String>().as_bytes())
}

/// What every job is published with.
struct Press<'a> {
    root: &'a Path,
    company: &'a Company,
    /// The revision in force.
    standard: &'a crate::company::Standard,
    theme: &'a Theme,
    writer: &'a Writer,
    before: &'a Kept,
}

impl Press<'_> {
    /// Publishes every job, on all cores, with a bar on a terminal; each is let go before the next is read.
    fn jobs(&self) -> Result<Vec<Result<KeptJob, Unread>>, String> {
        let files = &self.company.loaded.job_files;
        let bar = ProgressBar::new(files.len() as u64);
        bar.set_style(
            ProgressStyle::with_template("{msg} {wide_bar} {pos}/{len}")
                .unwrap_or_else(|_| ProgressStyle::default_bar()),
        );
        bar.set_message("drawing");
        let jobs = files
            .par_iter()
            .map(|file| {
                let job = self.job(file);
                bar.inc(1);
                job.map_err(|why| format!("job {}: {why}", file.key))
            })
            .collect();
        bar.finish_and_clear();
        jobs
    }

    /// One job: kept where neither its file nor its pages have changed, else made anew.
    fn job(&self, file: &JobFile) -> Result<Result<KeptJob, Unread>, String> {
        let print = kept::job_print(self.root, &file.file).unwrap_or_default();
        if let Some(job) = self.before.jobs.get(&file.key)
            && job.print == print
            && job.files.iter().all(|path| self.writer.stands(path))
        {
            return Ok(Ok(job.clone()));
        }
        let company = self.company;
        let job = match load_job(self.root, file, &company.loaded) {
            Ok(job) => job,
            Err(unread) => return Ok(Err(told(&unread))),
        };
        show(&job.warnings);
        let standard = company.standard(&job).ok_or_else(|| format!("no standard `{}`", job.standard))?;
        let work = Work::up(&job, standard, &company.catalog, company.firm.say());
        let workings: Vec<Vec<Working>> = (0..job.inlets.len()).map(|i| workings(&work, i)).collect();
        let worked = Worked { firm: &company.firm, work: &work, workings: &workings };
        let (entry, undrawn) = entry(&worked);
        undrawn.iter().for_each(|why| say(&format!("longsweep: job {}: {why}", file.key)));
        // A job that is not drawn whole is made anew the next time.
        let print = if undrawn.is_empty() { print } else { String::new() };
        let mut files = Vec::new();
        for made in packet_files(self.theme, &entry).map_err(|error| error.to_string())? {
            self.writer.put(&made).map_err(|error| error.to_string())?;
            files.push(made.path);
        }
        Ok(Ok(KeptJob { print, files, summary: JobSummary::of(&worked, self.standard) }))
    }
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
    let made_from = |folder: &&str| folder.rsplit('/').next() == path.split('/').next();
    lost.iter().any(made_from)
}

fn in_force(company: &Company) -> Option<&crate::company::Standard> {
    let named = company.loaded.standards.iter().find(|s| s.revision == company.firm.standard);
    named.or(company.loaded.standards.last())
}

/// A job that could not be read, for its page; shown on the terminal too.
fn told(job: &crate::company::UnreadJob) -> Unread {
    show(&job.diagnostics);
    let diagnostics: Vec<String> = job.diagnostics.iter().map(|d| d.render_plain()).collect();
    Unread { key: job.key.clone(), diagnostics: diagnostics.join("\n") }
}

/// A job with its drawings, and what of them could not be made.
fn entry<'a>(worked: &Worked<'a>) -> (JobEntry<'a>, Vec<String>) {
    let pictures = pictures(worked);
    let (mut beside, mut faults) = (Vec::new(), pictures.faults.clone());
    for (inlet, drawn) in worked.work.job.inlets.iter().zip(&pictures.inlets).filter(|_| worked.firm.pictures)
    {
        match png(&drawn.elevation, PNG_PER_MM) {
            Ok(bytes) => beside.push((format!("{}-elevation.png", inlet.id), bytes)),
            Err(why) => faults.push(format!("{}-elevation.png is not made: {why}", inlet.id)),
        }
    }
    beside.push(("packet.json".into(), format!("{:#}\n", record(worked.work)).into_bytes()));
    beside.push(("takeoff.csv".into(), to_csv(&worked.work.items).into_bytes()));
    (JobEntry { worked: *worked, pictures, beside }, faults)
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

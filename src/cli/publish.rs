//! `publish`: everything read, worked up, drawn and written as the set.
use super::read::{Company, company};
use super::terminal::{count, say, show};
use super::theme::theme;
use super::{FINE, UNREAD};
use crate::draw::{DrawError, check, png};
use crate::material::list::to_csv;
use crate::packet::pictures::pictures;
use crate::packet::worked::{Worked, Working};
use crate::packet::workings::workings;
use crate::site::teach::{School, lesson_id};
use crate::site::{JobEntry, Report, Set, SiteFile, Unread, pages, write};
use crate::work::{Work, record};
use indicatif::{ProgressBar, ProgressStyle};
use rayon::prelude::*;
use std::path::Path;
use std::time::Instant;

/// Dots per millimetre of the PNG beside each drawing: 8 is about 203 dpi, a site printer's.
const PNG_PER_MM: f64 = 8.0;

/// Publishes the set of a company folder.
pub fn publish(root: &Path) -> u8 {
    let started = Instant::now();
    let Some(company) = company(root) else {
        return UNREAD;
    };
    let theme = match theme(root, &company.firm.theme) {
        Ok(theme) => theme,
        Err(why) => return failed(&why),
    };
    let Some(standard) = in_force(&company) else {
        return failed("no standard could be read");
    };
    let school = School {
        firm: &company.firm,
        catalog: &company.catalog,
        standard,
        lessons: company.loaded.lessons.iter().map(|(file, _)| lesson_id(file)).collect(),
    };
    let (lessons, faults) = school.teach(&company.loaded.lessons);
    show(&faults);
    let works = company.work_up(&company.loaded.jobs.iter().collect::<Vec<_>>());
    let read: Vec<&Work> = works.iter().filter_map(|work| work.as_ref().ok()).collect();
    let unread: Vec<Unread> =
        works.iter().filter_map(|work| work.as_ref().err()).map(|job| told(job)).collect();
    let workings: Vec<Vec<Vec<Working>>> =
        read.iter().map(|work| (0..work.job.inlets.len()).map(|i| workings(work, i)).collect()).collect();
    let worked: Vec<Worked> = read
        .iter()
        .zip(&workings)
        .map(|(work, workings)| Worked { firm: &company.firm, work, workings })
        .collect();
    let jobs = match drawn(&worked) {
        Ok(jobs) => jobs,
        Err(why) => return failed(&why),
    };
    let set = Set {
        firm: &company.firm,
        catalog: &company.catalog,
        standards: &company.loaded.standards,
        jobs: &jobs,
        unread: &unread,
        lessons: &lessons,
    };
    let files: Vec<SiteFile> = match pages(&set, &theme) {
        Ok(files) => files,
        Err(error) => return failed(&error.to_string()),
    };
    match write(&root.join("site"), &files, |path| held(&company.loaded.lost, path)) {
        Ok(report) => finish(root, &report, &set, company.whole() && faults.is_empty(), started),
        Err(error) => failed(&error.to_string()),
    }
}

/// Whether a page stays because the folder it was made from could not be read this time.
fn held(lost: &[&str], path: &str) -> bool {
    let made_from = |folder: &&str| folder.rsplit('/').next() == path.split('/').next();
    lost.iter().any(made_from)
}

fn failed(why: &str) -> u8 {
    say(&format!("longsweep: {why}"));
    UNREAD
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

/// Draws every job, on all cores, with a bar on a terminal.
fn drawn<'a>(worked: &[Worked<'a>]) -> Result<Vec<JobEntry<'a>>, String> {
    let bar = ProgressBar::new(worked.len() as u64);
    bar.set_style(
        ProgressStyle::with_template("{msg} {wide_bar} {pos}/{len}")
            .unwrap_or_else(|_| ProgressStyle::default_bar()),
    );
    bar.set_message("drawing");
    let jobs = worked
        .par_iter()
        .map(|worked| {
            let entry = entry(worked).map_err(|error| format!("job {}: {error}", worked.work.job.key));
            bar.inc(1);
            entry
        })
        .collect();
    bar.finish_and_clear();
    jobs
}

fn entry<'a>(worked: &Worked<'a>) -> Result<JobEntry<'a>, DrawError> {
    let pictures = pictures(worked.work);
    let mut beside = Vec::new();
    for (inlet, drawn) in worked.work.job.inlets.iter().zip(&pictures.inlets) {
        for svg in drawn.all() {
            check(svg)?;
        }
        beside.push((format!("{}-elevation.png", inlet.id), png(&drawn.elevation, PNG_PER_MM)?));
    }
    for svg in [&pictures.key_plan, &pictures.key_isometric, &pictures.cutting].into_iter().flatten() {
        check(svg)?;
    }
    beside.push(("packet.json".into(), format!("{:#}\n", record(worked.work)).into_bytes()));
    beside.push(("takeoff.csv".into(), to_csv(&worked.work.items).into_bytes()));
    Ok(JobEntry { worked: *worked, pictures, beside })
}

/// Says what was done, and where to open it.
fn finish(root: &Path, report: &Report, set: &Set, whole: bool, started: Instant) -> u8 {
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
    let unread = match set.unread.len() {
        0 => String::new(),
        n => format!(", {} left unread", count(n, "job")),
    };
    say(&format!(
        "{} and {} published{unread}: {made}, in {:.1} s",
        count(set.jobs.len(), "job"),
        count(set.lessons.len(), "lesson"),
        started.elapsed().as_secs_f64()
    ));
    say(&format!("open {}", root.join("site").join("index.html").display()));
    if whole && set.unread.is_empty() && !missing { FINE } else { UNREAD }
}

//! Jobs through the press: each worked up, drawn, written, and let go before the next.

use super::kept::{Kept, KeptJob};
use crate::cli::read::Company;
use crate::cli::terminal::{say, show};
use crate::company::{JobFile, Standard, UnreadJob, load_job};
use crate::draw::png;
use crate::material::list::to_csv;
use crate::packet::pictures::pictures;
use crate::packet::tape::Tapes;
use crate::packet::worked::{Worked, Working};
use crate::packet::workings::workings;
use crate::site::{JobEntry, JobSummary, Theme, Writer, packet_files};
use crate::work::{file as record_file, record};
use indicatif::{ProgressBar, ProgressStyle};
use rayon::prelude::*;
use std::collections::BTreeMap;
use std::path::Path;
use std::sync::Arc;

/// Dots per millimetre of the PNG beside each drawing: 8 is about 203 dpi, a site printer's.
const PNG_PER_MM: f64 = 8.0;

/// What every job is published with.
pub(super) struct Press<'a> {
    pub(super) root: &'a Path,
    pub(super) company: &'a Company,
    /// The revision in force.
    pub(super) standard: &'a Standard,
    pub(super) theme: &'a Theme,
    pub(super) writer: &'a Writer,
    pub(super) before: &'a Kept,
    /// Fingerprints of jobs by their file.
    pub(super) prints: &'a BTreeMap<&'a str, String>,
}

impl Press<'_> {
    /// Publishes every job, on all cores, with a bar on a terminal: what has changed nothing is kept, all
    /// else is made anew, and let go before the next is read.
    pub(super) fn jobs(&self) -> Result<Vec<Result<Arc<KeptJob>, UnreadJob>>, String> {
        let files = &self.company.loaded.job_files;
        let saved: Vec<bool> = files.iter().map(|file| self.read_before(file).is_none()).collect();
        let bar = ProgressBar::new(saved.iter().filter(|saved| **saved).count() as u64);
        bar.set_style(
            ProgressStyle::with_template("{msg} {wide_bar} {pos}/{len}")
                .unwrap_or_else(|_| ProgressStyle::default_bar()),
        );
        bar.set_message("drawing");
        let made = |file: &JobFile| {
            let job = self.job(file);
            bar.inc(1);
            job.map_err(|why| format!("{}: {why}", file.file))
        };
        // What was saved comes first, before the pages of all others are looked at: somebody waits for it.
        let first: Vec<Option<Result<_, String>>> =
            files.par_iter().zip(saved).map(|(file, saved)| saved.then(|| made(file))).collect();
        self.writer.settle().map_err(|error| error.to_string())?;
        let job = |(file, first): (&JobFile, Option<Result<_, String>>)| {
            first.unwrap_or_else(|| match self.kept(file) {
                Some(kept) => Ok(Ok(Arc::clone(kept))),
                None => {
                    bar.inc_length(1);
                    made(file)
                }
            })
        };
        let jobs = files.par_iter().zip(first).map(job).collect();
        bar.finish_and_clear();
        jobs
    }

    /// A job whose file has not changed since it was made.
    fn read_before(&self, file: &JobFile) -> Option<&Arc<KeptJob>> {
        let job = self.before.jobs.get(&file.key)?;
        (self.prints.get(file.file.as_str()) == Some(&job.print)).then_some(job)
    }

    /// A job of which neither its file nor its pages have changed.
    fn kept(&self, file: &JobFile) -> Option<&Arc<KeptJob>> {
        self.read_before(file).filter(|job| job.files.iter().all(|path| self.writer.stands(path)))
    }

    /// One job, made anew.
    fn job(&self, file: &JobFile) -> Result<Result<Arc<KeptJob>, UnreadJob>, String> {
        let print = self.prints.get(file.file.as_str()).cloned().unwrap_or_default();
        let company = self.company;
        let job = match load_job(self.root, file, &company.loaded) {
            Ok(job) => job,
            Err(unread) => return Ok(Err(unread)),
        };
        show(&job.warnings);
        let standard = company.standard(&job).ok_or_else(|| format!("no standard `{}`", job.standard))?;
        let work = match company.worked(&job, standard) {
            Ok(work) => work,
            Err(unread) => return Ok(Err(unread.into_owned())),
        };
        let workings: Vec<Vec<Working>> = (0..job.inlets.len()).map(|i| workings(&work, i)).collect();
        let tapes = Tapes::default();
        let worked = Worked { firm: &company.firm, work: &work, workings: &workings, tapes: &tapes };
        let (entry, undrawn) = entry(&worked);
        undrawn.iter().for_each(|why| say(&format!("longsweep: {}: {why}", file.file)));
        // A job that is not drawn whole is made anew the next time.
        let print = if undrawn.is_empty() { print } else { String::new() };
        let mut files = Vec::new();
        let made = match packet_files(self.theme, entry) {
            Ok(made) => made,
            // Its last packet stands, and the other jobs go on.
            Err(error) => {
                let (key, diagnostics) = (file.key.clone(), vec![*error.0]);
                return Ok(Err(UnreadJob { key, diagnostics, elsewhere: true }));
            }
        };
        for made in made {
            files.push(made.path.clone());
            self.writer.put(made).map_err(|error| error.to_string())?;
        }
        Ok(Ok(Arc::new(KeptJob { print, files, summary: JobSummary::of(&worked, self.standard) })))
    }
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
    beside.push(("packet.json".into(), record_file(&record(worked.work))));
    beside.push(("takeoff.csv".into(), to_csv(&worked.work.items).into_bytes()));
    (JobEntry { worked: *worked, pictures, beside }, faults)
}

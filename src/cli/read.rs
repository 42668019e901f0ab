//! Reading a company folder for a command, and naming what could not be found.
use super::terminal::{count, say, show};
use crate::company::{Catalog, Firm, Job, Loaded, Standard, UnreadJob, load, load_company, load_named};
use crate::standard::kinds;
use crate::text::{Severity, nearest};
use crate::work::Work;
use rayon::prelude::*;
use std::borrow::Cow;
use std::path::Path;

/// A company folder of which all that jobs need could be read.
pub struct Company {
    pub firm: Firm,
    pub catalog: Catalog,
    pub loaded: Loaded,
}

/// Reads a folder, jobs and all; `None`, with the faults shown, where there is no firm or no catalog to
/// work with.
pub fn company(root: &Path) -> Option<Company> {
    fit(load(root, &kinds()))
}

/// Reads a folder and of its jobs only those of these names.
pub fn company_with(root: &Path, names: &[&str]) -> Option<Company> {
    let keys: Vec<&str> = names.iter().copied().map(named).collect();
    fit(load_named(root, &kinds(), &keys))
}

/// Reads a folder but for its jobs, which are only listed.
pub fn company_alone(root: &Path) -> Option<Company> {
    fit(load_company(root, &kinds()))
}

fn fit(loaded: Loaded) -> Option<Company> {
    show(&loaded.diagnostics);
    show(&loaded.listing);
    match (loaded.firm.clone(), loaded.catalog.clone()) {
        (Some(firm), Some(catalog)) => Some(Company { firm, catalog, loaded }),
        _ => {
            say("longsweep: without a company file and a catalog nothing can be worked up");
            None
        }
    }
}

impl Company {
    /// Whether everything outside the jobs was read.
    pub fn whole(&self) -> bool {
        let mut faults = self.loaded.diagnostics.iter().chain(&self.loaded.listing);
        faults.all(|fault| fault.severity == Severity::Warning)
    }

    /// The standard of a job.
    pub fn standard(&self, job: &Job) -> Option<&Standard> {
        self.loaded.standards.iter().find(|standard| standard.revision == job.standard)
    }

    /// Works up the jobs of these keys, in order, on all cores. `None` entries could not be read.
    pub fn work_up<'a>(
        &'a self,
        jobs: &[&'a Result<Job, UnreadJob>],
    ) -> Vec<Result<Work<'a>, Cow<'a, UnreadJob>>> {
        jobs.par_iter()
            .filter_map(|job| match job {
                Ok(job) => Some(self.worked(job, self.standard(job)?)),
                Err(unread) => Some(Err(Cow::Borrowed(unread))),
            })
            .collect()
    }

    /// A job worked up; in error where it sets aside or clears what does not stand.
    pub fn worked<'a>(
        &'a self,
        job: &'a Job,
        standard: &'a Standard,
    ) -> Result<Work<'a>, Cow<'a, UnreadJob>> {
        let work = Work::up(job, standard, &self.catalog, self.firm.say());
        match work.findings.idle.is_empty() {
            true => Ok(work),
            false => Err(Cow::Owned(UnreadJob {
                key: job.key.clone(),
                diagnostics: work.findings.idle.clone(),
                elsewhere: false,
            })),
        }
    }

    /// The job of a key; says which is nearest where there is none.
    pub fn job(&self, name: &str) -> Option<&Result<Job, UnreadJob>> {
        let wanted = named(name);
        let found = self.loaded.jobs.iter().find(|job| key(job) == wanted);
        if found.is_none() {
            say(&format!("longsweep: {}", self.no_job(name)));
        }
        found
    }

    /// Why a name is no job's, with what may have been meant.
    fn no_job(&self, name: &str) -> String {
        let keys = || self.loaded.job_files.iter().map(|file| file.key.as_str());
        let folder = named(name).trim_end_matches('/');
        let inside: Vec<&str> = match folder {
            "" | "." | "jobs" => keys().collect(),
            folder => keys().filter(|key| key.starts_with(&format!("{folder}/"))).collect(),
        };
        if !inside.is_empty() {
            return format!("`{name}` is a folder; name a job of it: {}", few(&inside));
        }
        let nearest = nearest(named(name), keys());
        let hint = nearest.map(|known| format!("; the nearest name is `{known}`")).unwrap_or_default();
        format!("there is no job `{name}`{hint}")
    }
}

/// The key that is meant by a name on the command line, which may be the job's file.
fn named(name: &str) -> &str {
    let name = name.trim_start_matches("./").trim_start_matches("jobs/");
    name.trim_end_matches(".yaml").trim_end_matches(".yml")
}

/// Tells why a job is unread, unless that was told with what it rests on.
pub fn show_unread(job: &UnreadJob) {
    match job.diagnostics.first() {
        Some(first) if job.elsewhere => {
            say(&format!("longsweep: job {} is unread: it rests on {}, told above", job.key, first.place()));
        }
        _ => show(&job.diagnostics),
    }
}

/// The same for several jobs: what they rest on is named once.
pub fn show_all_unread(jobs: &[&UnreadJob]) {
    let mut resting: Vec<(String, Vec<&str>)> = Vec::new();
    for job in jobs {
        match job.diagnostics.first().filter(|_| job.elsewhere) {
            Some(first) => match resting.iter_mut().find(|(place, _)| *place == first.place()) {
                Some((_, keys)) => keys.push(&job.key),
                None => resting.push((first.place(), vec![&job.key])),
            },
            None => {
                show(&job.diagnostics);
                let errors = count(job.diagnostics.len(), "error");
                say(&format!("longsweep: job {} is unread, with {errors}", job.key));
            }
        }
    }
    for (place, keys) in resting {
        let are = if keys.len() == 1 { "rests on it and is" } else { "rest on it and are" };
        say(&format!("longsweep: {place}: {} {are} unread: {}", count(keys.len(), "job"), few(&keys)));
    }
}

/// The first names of a long list.
fn few(names: &[&str]) -> String {
    const SHOWN: usize = 12;
    match names.len() {
        n if n > SHOWN => format!("{} and {} more", names[..SHOWN].join(", "), n - SHOWN),
        _ => names.join(", "),
    }
}

/// A job's key, read or not.
pub fn key(job: &Result<Job, UnreadJob>) -> &str {
    match job {
        Ok(job) => &job.key,
        Err(unread) => &unread.key,
    }
}

//! Reads a company folder: each file by its reader, what it rests on first, and a fault only where it counts.
use super::catalog::Catalog;
use super::disk::{JOBS, LESSONS, Walked, files, kept, read_text, walk};
use super::firm::Firm;
use super::job::Job;
use super::listing::{JobFile, check_key, job_alone, job_files, plans_beside};
use super::read::keys::{self, Takes};
use super::read::{
    ClauseKind, JOB_ENDINGS, cut_words, read_catalog, read_firm, read_job, read_standards, read_words,
    settle_terms,
};
use super::rests::{FaultyPart, FaultyStandard, Rests, named_faults, standard_faults, turned_faults};
use super::rules::Standard;
use super::words::FirmWord;
use crate::text::{Diagnostic, Severity, Source, Value, read_tree};
use std::path::Path;

const FIRM: &str = "content/company.yaml";
const CATALOG: &str = "content/catalog";
const STANDARD: &str = "content/standard";
const WORDS: &str = "content/words.yaml";

/// What a company folder holds, as far as it could be read.
#[derive(Debug, Clone)]
pub struct Loaded {
    /// `None` where `content/company.yaml` could not be read.
    pub firm: Option<Firm>,
    /// Every part that could be read; `None` without a tube.
    pub catalog: Option<Catalog>,
    /// Those that could be read, by the day from which they hold, then by revision.
    pub standards: Vec<Standard>,
    /// Every job file, sorted by key.
    pub job_files: Vec<JobFile>,
    /// Path from the company folder, and text, of every house plan that stands in a file of its own.
    pub plans: Vec<(String, String)>,
    /// Sorted by key; a job with faults stands in its place. Empty where only the company was read.
    pub jobs: Vec<Result<Job, UnreadJob>>,
    /// Path from the company folder, and text, sorted by path.
    pub lessons: Vec<(String, String)>,
    /// The firm's own words, empty where it has no list of them.
    pub words: Vec<FirmWord>,
    /// What was wrong outside the jobs.
    pub diagnostics: Vec<Diagnostic>,
    /// What was wrong with the names of job files and with plans; read anew by [`Loaded::list_jobs`].
    pub listing: Vec<Diagnostic>,
    /// Of these, what was wrong with the firm's own file; every job rests on it.
    pub firm_faults: Vec<Diagnostic>,
    /// Revisions that could not be read.
    pub faulty_standards: Vec<FaultyStandard>,
    /// Source folders that are missing or could not be read whole. What was made from them stands: nobody
    /// knows that its source is gone.
    pub lost: Vec<&'static str>,
}

/// A job that could not be read.
#[derive(Debug, Clone)]
pub struct UnreadJob {
    pub key: String,
    /// Never empty.
    pub diagnostics: Vec<Diagnostic>,
    /// Whether the job's own file is not to blame: what is wrong lies in what it rests on, and is told
    /// once for all jobs that do.
    pub elsewhere: bool,
}

/// Reads everything under `root`; a bad file stops itself and never the others.
///
/// `kinds` are the clauses that the program can measure, which this floor does not know itself.
pub fn load(root: &Path, kinds: &[ClauseKind]) -> Loaded {
    let mut loaded = load_company(root, kinds);
    loaded.jobs = loaded.job_files.iter().map(|file| load_job(root, file, &loaded)).collect();
    loaded
}

/// Reads all but the jobs, of which it only lists the files.
pub fn load_company(root: &Path, kinds: &[ClauseKind]) -> Loaded {
    let mut loaded = load_content(root, kinds);
    loaded.list_jobs(root);
    loaded
}

/// Reads a company and, of its jobs, only those of these keys, however many there are beside them. Where one
/// of the keys is no job's, all files are listed, so that the nearest name can be told.
pub fn load_named(root: &Path, kinds: &[ClauseKind], keys: &[&str]) -> Loaded {
    let mut loaded = load_content(root, kinds);
    let alone: Option<Vec<JobFile>> = keys.iter().map(|key| job_alone(root, key)).collect();
    match alone {
        Some(files) => {
            loaded.job_files = files;
            loaded.plans = loaded.job_files.iter().flat_map(|job| plans_beside(root, &job.file)).collect();
        }
        None => loaded.list_jobs(root),
    }
    let named = loaded.job_files.iter().filter(|file| keys.contains(&file.key.as_str()));
    loaded.jobs = named.map(|file| load_job(root, file, &loaded)).collect();
    loaded
}

/// Reads what every job rests on.
fn load_content(root: &Path, kinds: &[ClauseKind]) -> Loaded {
    let mut found = Vec::new();
    let (mut standards, faulty_standards) = standards(root, kinds, &mut found);
    let (firm, firm_faults) = firm(root, &standards, &faulty_standards, &mut found);
    let catalog = catalog(root, &mut found);
    let lessons = texts(root, LESSONS, &["md"], None, &mut found);
    let words = words(root, &mut found);
    // A term that has no meaning is told, and stops no job: nothing is judged by it.
    found.extend(standards.iter_mut().flat_map(|standard| settle_terms(standard, words.as_deref())));
    Loaded {
        words: words.unwrap_or_default(),
        firm,
        catalog,
        standards,
        job_files: Vec::new(),
        plans: Vec::new(),
        jobs: Vec::new(),
        lessons,
        diagnostics: found,
        listing: Vec::new(),
        firm_faults,
        faulty_standards,
        lost: Vec::new(),
    }
}

impl Loaded {
    /// Lists the jobs and reads their plans anew; all else stays as it was read.
    pub fn list_jobs(&mut self, root: &Path) {
        self.listing.clear();
        let jobs = walk(root, JOBS, &mut self.listing);
        self.lost = lost(root, &jobs);
        (self.job_files, self.plans) = job_files(root, jobs, &mut self.listing);
    }
}

/// Reads one job of a company; not at all where what it rests on has a fault.
pub fn load_job(root: &Path, file: &JobFile, company: &Loaded) -> Result<Job, UnreadJob> {
    let unread = |elsewhere| move |diagnostics| UnreadJob { key: file.key.clone(), diagnostics, elsewhere };
    let text = read_text(root, &file.file).map_err(unread(false))?;
    check_key(&file.file, &file.key).map_err(unread(false))?;
    let (firm, catalog) = ground(&file.file, &text, company).map_err(unread(true))?;
    let job = read_job(&file.file, &text, catalog, firm, &company.standards, &company.plans)
        .map_err(unread(false))?;
    match turned_faults(&job, &catalog.faulty) {
        faults if faults.is_empty() => Ok(job),
        faults => Err(unread(true)(faults)),
    }
}

/// The firm and the catalog, where all that a job rests on by its text is without fault.
fn ground<'c>(
    file: &str,
    text: &str,
    company: &'c Loaded,
) -> Result<(&'c Firm, &'c Catalog), Vec<Diagnostic>> {
    let missing = |what: &str| {
        let message = format!("the job cannot be read without {what}");
        vec![Diagnostic::of_file(file, message, Some("mend that first"))]
    };
    if !company.firm_faults.is_empty() {
        return Err(company.firm_faults.clone());
    }
    let firm = company.firm.as_ref().ok_or_else(|| missing(FIRM))?;
    let catalog = company.catalog.as_ref().ok_or_else(|| missing(CATALOG))?;
    if catalog.faulty.is_empty() && company.faulty_standards.is_empty() {
        return Ok((firm, catalog));
    }
    // What is wrong with the job's own file is told when it is read.
    let Ok(job) = read_tree(&Source::new(file, text)) else { return Ok((firm, catalog)) };
    let revision = match job.get("standard").map(|node| &node.value) {
        Some(Value::Text(revision)) => revision.trim(),
        _ => firm.standard.as_str(),
    };
    let mut faults = named_faults(&job, firm, &catalog.faulty);
    faults.extend(standard_faults(revision, &company.faulty_standards));
    if faults.is_empty() { Ok((firm, catalog)) } else { Err(faults) }
}

/// The source folders that are not there or cannot be walked; the jobs have been.
fn lost(root: &Path, jobs: &Walked) -> Vec<&'static str> {
    let unreadable = |folder: &&str| match *folder {
        JOBS => !jobs.whole,
        folder => !walk(root, folder, &mut Vec::new()).whole,
    };
    [STANDARD, LESSONS, JOBS].into_iter().filter(unreadable).collect()
}

fn firm(
    root: &Path,
    standards: &[Standard],
    faulty: &[FaultyStandard],
    found: &mut Vec<Diagnostic>,
) -> (Option<Firm>, Vec<Diagnostic>) {
    if !root.join(FIRM).is_file() {
        let help = Some("run the program in a company folder, or write this file");
        found.push(Diagnostic::of_file(FIRM, "the company's file is missing", help));
        return (None, Vec::new());
    }
    // A revision with a fault is told where it stands, and is no fault of the firm's file.
    let revisions: Vec<&str> = standards
        .iter()
        .map(|standard| standard.revision.as_str())
        .chain(faulty.iter().flat_map(|faulty| &faulty.names).map(String::as_str))
        .collect();
    let (firm, faults) = match read_text(root, FIRM) {
        Ok(text) => {
            found.extend(cut_words(FIRM, 0, &text, &Takes::Thing(&keys::FIRM)));
            read_firm(FIRM, &text, &revisions)
        }
        Err(faults) => (None, faults),
    };
    found.extend(faults.clone());
    // A warning, as of a company that has no name yet, stops nothing that rests on the firm.
    (firm, faults.into_iter().filter(|fault| fault.severity == Severity::Error).collect())
}

/// The list of words, which a firm may do without; none where it has faults.
fn words(root: &Path, found: &mut Vec<Diagnostic>) -> Option<Vec<FirmWord>> {
    if !root.join(WORDS).is_file() {
        return Some(Vec::new());
    }
    let text = kept(read_text(root, WORDS), found)?;
    const EACH: Takes = Takes::Thing(&keys::WORD);
    found.extend(cut_words(WORDS, 0, &text, &Takes::List(&EACH)));
    kept(read_words(WORDS, &text), found)
}

fn catalog(root: &Path, found: &mut Vec<Diagnostic>) -> Option<Catalog> {
    let before = found.len();
    let files = texts(root, CATALOG, &JOB_ENDINGS, Some(&keys::CATALOG), found);
    if files.is_empty() {
        if found.len() == before {
            let help = Some("write the firm's parts into files of this folder");
            found.push(Diagnostic::of_file(CATALOG, "the catalog is missing", help));
        }
        return None;
    }
    let files: Vec<(&str, &str)> = files.iter().map(|(file, text)| (file.as_str(), text.as_str())).collect();
    let (mut catalog, faults) = read_catalog(&files);
    let unread: Vec<Diagnostic> =
        found[before..].iter().filter(|fault| fault.severity == Severity::Error).cloned().collect();
    if let Some(catalog) = catalog.as_mut().filter(|_| !unread.is_empty()) {
        catalog.faulty.push(FaultyPart { rests: Rests::All, faults: unread });
    }
    found.extend(faults);
    catalog
}

fn standards(
    root: &Path,
    kinds: &[ClauseKind],
    found: &mut Vec<Diagnostic>,
) -> (Vec<Standard>, Vec<FaultyStandard>) {
    let before = found.len();
    let files = texts(root, STANDARD, &JOB_ENDINGS, Some(&keys::STANDARD), found);
    let listed: Vec<(&str, &str)> = files.iter().map(|(file, text)| (file.as_str(), text.as_str())).collect();
    let (standards, faults) = read_standards(&listed, kinds);
    found.extend(faults);
    let mut faulty: Vec<FaultyStandard> = Vec::new();
    for fault in found[before..].iter().filter(|fault| fault.severity == Severity::Error) {
        let text = listed.iter().find(|(file, _)| *file == fault.file).map_or("", |(_, text)| text);
        let names = revision_names(&fault.file, text);
        match faulty.iter_mut().find(|one| one.names == names) {
            Some(one) => one.faults.push(fault.clone()),
            None => faulty.push(FaultyStandard { names, faults: vec![fault.clone()] }),
        }
    }
    (standards, faulty)
}

/// What a revision with a fault may be called: the name of its file, and its revision where that can be told.
fn revision_names(file: &str, text: &str) -> Vec<String> {
    let name = file.rsplit('/').next().unwrap_or(file);
    let mut names = vec![name.rsplit_once('.').map_or(name, |(stem, _)| stem).to_owned()];
    let tree = read_tree(&Source::new(file, text)).ok();
    if let Some(Value::Text(revision)) =
        tree.as_ref().and_then(|tree| tree.get("revision")).map(|node| &node.value)
    {
        names.push(revision.trim().to_owned());
        names.dedup();
    }
    names
}

/// Files of a folder with their text; those that are no text are told and left out. Of what such a file holds
/// a person's words are told that a `#` may have cut.
fn texts(
    root: &Path,
    folder: &str,
    endings: &[&str],
    thing: Option<&'static keys::Thing>,
    found: &mut Vec<Diagnostic>,
) -> Vec<(String, String)> {
    let files = files(root, folder, endings, found);
    let mut texts = Vec::new();
    for file in files {
        let Some(text) = kept(read_text(root, &file), found) else { continue };
        if let Some(thing) = thing {
            found.extend(cut_words(&file, 0, &text, &Takes::Thing(thing)));
        }
        texts.push((file, text));
    }
    texts
}

//! The sheets of a packet in order: their numbers, titles, and the pages they stand on.
//!
//! Sheets of the job as a whole are `J-0.n`, those of its first inlet `J-1.n`, and so on; the order of
//! the numbers is the order of the sheets. All sheets of an inlet stand on one page; one page,
//! `packet.html`, holds every sheet of the job for printing.
use super::place::{Place, slug};
use super::sheet::{Cell, Link, TitleBlock};
use super::worked::Worked;
use crate::company::Job;

/// What a sheet of a packet shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    Cover,
    Takeoff,
    Lines,
    Owner,
    Drawing(usize),
    Cut(usize),
    Check(usize),
    Figures(usize),
}

/// A sheet of a packet before it is filled.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    pub kind: Kind,
    /// `J-3.2`.
    pub number: String,
    pub title: String,
    /// File name of its page in the job's folder.
    pub file: String,
}

/// The sheets of a job.
#[derive(Debug, Clone)]
pub struct Outline {
    /// The job's folder under `site/`, `jobs/gull`.
    pub folder: String,
    pub entries: Vec<Entry>,
}

/// File names of pages that are not an inlet's.
const TAKEN: [&str; 5] = ["index", "takeoff", "lines", "owner", "packet"];

impl Outline {
    /// The sheets of a job.
    pub fn of(job: &Job) -> Outline {
        let mut entries = vec![
            entry(Kind::Cover, 0, 1, "Job cover", "index"),
            entry(Kind::Takeoff, 0, 2, "Takeoff and cutting plan", "takeoff"),
            entry(Kind::Lines, 0, 3, "Key plan and the lines beyond the stops", "lines"),
            entry(Kind::Owner, 0, 4, "For the homeowner", "owner"),
        ];
        for (index, (inlet, file)) in job.inlets.iter().zip(inlet_files(job)).enumerate() {
            let group = index + 1;
            let mut add = |kind, nth, what: &str| {
                entries.push(entry(kind, group, nth, &format!("{}: {what}", inlet.name), &file));
            };
            add(Kind::Drawing(index), 1, "the raceway");
            add(Kind::Cut(index), 2, "measure, cut, joint");
            add(Kind::Check(index), 3, "checks and readings");
            add(Kind::Figures(index), 4, "figures and workings");
        }
        Outline { folder: job_folder(&job.key), entries }
    }

    /// Path of a sheet's page under `site/`.
    pub fn page(&self, entry: &Entry) -> String {
        format!("{}/{}", self.folder, entry.file)
    }

    /// Link from here to a sheet of this packet.
    pub fn link(&self, here: &Place, entry: &Entry) -> String {
        let page = if here.whole_packet { here.path().to_string() } else { self.page(entry) };
        // The first sheet of a page is reached by the page alone.
        let first = self.entries.iter().find(|e| e.file == entry.file);
        let top = !here.whole_packet && page != here.path() && first == Some(entry);
        here.to(&page, if top { "" } else { &entry.number })
    }

    /// Link to the first sheet of an inlet.
    pub fn inlet_link(&self, here: &Place, inlet: usize) -> String {
        let entry = self.entries.iter().find(|e| e.kind == Kind::Drawing(inlet));
        entry.map_or_else(String::new, |entry| self.link(here, entry))
    }

    /// File names of the pages, each once, in order.
    pub fn files(&self) -> Vec<&str> {
        let mut files: Vec<&str> = Vec::new();
        for entry in &self.entries {
            if !files.contains(&entry.file.as_str()) {
                files.push(&entry.file);
            }
        }
        files
    }
}

/// The job's folder under `site/`.
pub fn job_folder(key: &str) -> String {
    format!("jobs/{key}")
}

/// Title block of a sheet of a packet.
pub fn title_block(worked: &Worked, outline: &Outline, entry: &Entry, here: &Place) -> TitleBlock {
    let place = outline.entries.iter().position(|e| e == entry).unwrap_or_default();
    let link = |entry: &Entry| Link { href: outline.link(here, entry), text: entry.number.clone() };
    let before = place.checked_sub(1).and_then(|i| outline.entries.get(i));
    TitleBlock {
        firm: worked.firm.name.clone(),
        cells: cells(worked, entry.kind),
        nth: place + 1,
        of: outline.entries.len(),
        stamp: stamp(worked, entry.kind),
        previous: before.map(link),
        next: outline.entries.get(place + 1).map(link),
        index: Link { href: outline.link(here, &outline.entries[0]), text: "Sheet index".into() },
    }
}

/// The inlet a sheet is about.
pub fn inlet_of(kind: Kind) -> Option<usize> {
    match kind {
        Kind::Drawing(i) | Kind::Cut(i) | Kind::Check(i) | Kind::Figures(i) => Some(i),
        Kind::Cover | Kind::Takeoff | Kind::Lines | Kind::Owner => None,
    }
}

/// The named fields: what the sheet is of.
fn cells(worked: &Worked, kind: Kind) -> Vec<Cell> {
    let job = worked.work.job;
    let mut cells = vec![Cell::new("Job", job.title.clone())];
    if !job.address.is_empty() {
        cells.push(Cell::new("Place", job.address.clone()));
    }
    if let Some(inlet) = inlet_of(kind).and_then(|i| job.inlets.get(i)) {
        cells.push(Cell::new("Inlet", inlet.name.clone()));
        cells.push(Cell::new("Hose", inlet.hose.name.clone()));
    }
    cells.push(Cell::new("Standard", job.standard.clone()));
    cells.push(Cell::new("Date", job.date.to_string()));
    cells
}

/// The stamp: the inlet's verdict on its sheets, the job's on the others; the owner's sheet has none.
fn stamp(worked: &Worked, kind: Kind) -> Option<super::sheet::Stamp> {
    match (kind, inlet_of(kind)) {
        (Kind::Owner, _) => None,
        (_, Some(inlet)) => Some(worked.work.findings.inlet_verdict(inlet).into()),
        (_, None) => Some(worked.work.findings.verdict().into()),
    }
}

/// One entry.
fn entry(kind: Kind, group: usize, nth: usize, title: &str, file: &str) -> Entry {
    Entry { kind, number: format!("J-{group}.{nth}"), title: title.into(), file: format!("{file}.html") }
}

/// An id as a file name: itself, unless it would lead elsewhere.
pub fn file_name(id: &str) -> String {
    let plain = !id.is_empty() && !id.starts_with('.') && !id.contains(['/', '\\', ':']);
    if plain { id.to_string() } else { slug(id) }
}

/// File names of the inlets' pages without ending: their ids, kept apart from each other and from the
/// job's own pages.
fn inlet_files(job: &Job) -> Vec<String> {
    let mut taken: Vec<String> = TAKEN.iter().map(|name| name.to_string()).collect();
    let mut files = Vec::new();
    for inlet in &job.inlets {
        let plain = file_name(&inlet.id);
        let mut name = plain.clone();
        let mut nth = 2;
        // Folders of some systems do not tell capitals from small letters.
        while taken.contains(&name.to_lowercase()) {
            name = format!("{plain}-{nth}");
            nth += 1;
        }
        taken.push(name.to_lowercase());
        files.push(name);
    }
    files
}

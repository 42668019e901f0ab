//! Where the sheets of a packet stand: its folder, the pages in it, and the places on them.
//!
//! Pages have plain names (`load.html`); an inlet's two sheets stand on one page, named for the inlet. One
//! page, `packet.html`, holds every sheet for printing; `office.html` holds what does not go on the truck.
use super::here::Here;
use crate::company::Job;
use crate::text::slug;

/// What a sheet of a packet shows, in the order in which they stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    Cover,
    Load,
    Layout,
    /// What the hoses come to, where the job has a plan.
    Reach,
    Trunk,
    /// The route of an inlet, sheet A.
    Route(usize),
    /// The cut list of an inlet, sheet B.
    Cuts(usize),
    Check,
    Owner,
    /// Not on the truck, and not counted among the sheets.
    Office,
}

/// The pages of a packet.
#[derive(Debug, Clone)]
pub struct Outline {
    /// The job's folder under `site/`, `jobs/gull`.
    pub folder: String,
    /// File name of each inlet's page, without ending.
    inlets: Vec<String>,
}

/// File names of pages that are not an inlet's.
const TAKEN: [&str; 9] = ["index", "load", "layout", "reach", "trunk", "check", "owner", "packet", "office"];

impl Outline {
    /// The pages of a job.
    pub fn of(job: &Job) -> Outline {
        Outline { folder: job_folder(&job.key), inlets: inlet_files(job) }
    }

    /// Path under `site/` of the page of a sheet.
    pub fn page(&self, kind: Kind) -> String {
        format!("{}/{}.html", self.folder, self.file(kind))
    }

    /// Path under `site/` of the page that holds them all.
    pub fn whole(&self) -> String {
        format!("{}/packet.html", self.folder)
    }

    /// Here of a sheet on its page; the first of a kind, where a kind takes several.
    pub fn anchor(&self, kind: Kind) -> String {
        match kind {
            Kind::Cover => "cover".into(),
            Kind::Route(_) => format!("{}-route", slug(self.file(kind))),
            Kind::Cuts(_) => format!("{}-cuts", slug(self.file(kind))),
            _ => self.file(kind).into(),
        }
    }

    /// Link from here to a sheet of this packet.
    pub fn link(&self, here: &Here, kind: Kind) -> String {
        let page = if here.whole_packet { self.whole() } else { self.page(kind) };
        here.to(&page, &self.anchor(kind))
    }

    /// Link to the first sheet of an inlet.
    pub fn inlet_link(&self, here: &Here, inlet: usize) -> String {
        self.link(here, Kind::Route(inlet))
    }

    /// File name of a sheet's page, without ending.
    fn file(&self, kind: Kind) -> &str {
        match kind {
            Kind::Cover => "index",
            Kind::Load => "load",
            Kind::Layout => "layout",
            Kind::Reach => "reach",
            Kind::Trunk => "trunk",
            Kind::Route(i) | Kind::Cuts(i) => self.inlets.get(i).map_or("index", String::as_str),
            Kind::Check => "check",
            Kind::Owner => "owner",
            Kind::Office => "office",
        }
    }
}

/// The job's folder under `site/`.
pub fn job_folder(key: &str) -> String {
    format!("jobs/{key}")
}

/// The inlet a sheet is about.
pub fn inlet_of(kind: Kind) -> Option<usize> {
    match kind {
        Kind::Route(i) | Kind::Cuts(i) => Some(i),
        _ => None,
    }
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

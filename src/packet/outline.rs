//! Where the sheets of a packet stand: all of them on one page of the job's folder, each at a place of its own.
//!
//! Beside that page stand `office.html` with what does not go on the truck, and `owner.html` with the owner's
//! sheet alone, to be sent.
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

/// Where the sheets of a packet stand.
#[derive(Debug, Clone)]
pub struct Outline {
    /// The job's folder under `site/`, `jobs/gull`.
    pub folder: String,
    /// How the places of each inlet's sheets begin.
    inlets: Vec<String>,
}

impl Outline {
    /// The places of a job's sheets.
    pub fn of(job: &Job) -> Outline {
        Outline { folder: job_folder(&job.key), inlets: inlet_places(job) }
    }

    /// Path under `site/` of the page of a sheet.
    pub fn page(&self, kind: Kind) -> String {
        match kind {
            Kind::Office => format!("{}/office.html", self.folder),
            _ => format!("{}/index.html", self.folder),
        }
    }

    /// Path under `site/` of the page that holds the owner's sheet alone.
    pub fn owner_page(&self) -> String {
        format!("{}/owner.html", self.folder)
    }

    /// Here of a sheet on its page; the first of a kind, where a kind takes several.
    pub fn anchor(&self, kind: Kind) -> String {
        let inlet = |i: usize| self.inlets.get(i).map_or("", String::as_str);
        match kind {
            Kind::Cover => "cover".into(),
            Kind::Load => "load".into(),
            Kind::Layout => "layout".into(),
            Kind::Reach => "reach".into(),
            Kind::Trunk => "trunk".into(),
            Kind::Route(i) => format!("{}-route", inlet(i)),
            Kind::Cuts(i) => format!("{}-cuts", inlet(i)),
            Kind::Check => "check".into(),
            Kind::Owner => "owner".into(),
            Kind::Office => "office".into(),
        }
    }

    /// Link from here to a sheet of this packet.
    pub fn link(&self, here: &Here, kind: Kind) -> String {
        here.to(&self.page(kind), &self.anchor(kind))
    }

    /// Link to the first sheet of an inlet.
    pub fn inlet_link(&self, here: &Here, inlet: usize) -> String {
        self.link(here, Kind::Route(inlet))
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

/// How the places of the inlets' sheets begin: their ids, kept apart from each other.
fn inlet_places(job: &Job) -> Vec<String> {
    let mut places: Vec<String> = Vec::new();
    for inlet in &job.inlets {
        let plain = slug(&inlet.id);
        let mut place = plain.clone();
        let mut nth = 2;
        while places.contains(&place) {
            place = format!("{plain}-{nth}");
            nth += 1;
        }
        places.push(place);
    }
    places
}

//! The firm itself: `content/company.yaml`.
use crate::measure::{Lengths, Say};
use crate::text::Place;

/// Paper the firm prints on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Paper {
    /// 215.9 × 279.4 mm.
    Letter,
    /// 210 × 297 mm.
    A4,
}

impl Paper {
    /// Width and height of the sheet, in mm.
    pub fn size_mm(self) -> (f64, f64) {
        match self {
            Paper::Letter => (215.9, 279.4),
            Paper::A4 => (210.0, 297.0),
        }
    }
}

/// The firm whose folder this is.
#[derive(Debug, Clone)]
pub struct Firm {
    /// Name as it stands in the title block.
    pub name: String,
    /// Where to reach it, as lines of text.
    pub contact: Vec<String>,
    /// Paper it prints on.
    pub paper: Paper,
    /// Units of length it works in.
    pub lengths: Lengths,
    /// Folder under `themes/`.
    pub theme: String,
    /// Where it is named.
    pub theme_at: Place,
    /// Revision of the standard in force.
    pub standard: String,
    /// Names of those who lead a crew, in the order written.
    pub crew_leads: Vec<String>,
    /// The number that crew and owner call; `None` where the firm gives none.
    pub telephone: Option<String>,
    /// What goes on the truck beyond what a job takes.
    pub spares: Vec<Spare>,
    /// Whether a picture (PNG) of each elevation stands beside its drawing.
    pub pictures: bool,
}

/// Parts taken along beyond what the drawings ask for.
#[derive(Debug, Clone, PartialEq)]
pub struct Spare {
    pub of: SpareOf,
    pub per: SparePer,
    pub count: u32,
}

/// Which parts a spare is of.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum SpareOf {
    /// One part of the catalog, by its id.
    Part(String),
    /// Every part of that kind that the job uses: `bend`, `coupling`, `stop`, `junction`, `cap`,
    /// `reducer` or `stick`.
    Kind(&'static str),
}

/// How a spare is counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SparePer {
    Job,
    Inlet,
    Trunk,
    /// For each ten, begun or full, that the job uses.
    Ten,
}

impl Firm {
    /// The firm's way of saying numbers.
    pub fn say(&self) -> Say {
        Say { lengths: self.lengths }
    }
}

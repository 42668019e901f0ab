//! What the sheets are made from: a job worked up, the firm it is for, its workings and its drawings.
use super::reach::ReachSheet;
use super::tape::Tapes;
use crate::company::{Firm, Inlet};
use crate::figures::InletFigures;
use crate::remedy::Offers;
use crate::route::{Line, Raceway};
use crate::standard::Finding;
use crate::takeoff::TubeCut;
use crate::work::Work;

/// A job with all that was worked out for it.
#[derive(Debug, Clone, Copy)]
pub struct Worked<'a> {
    pub firm: &'a Firm,
    pub work: &'a Work<'a>,
    /// How the figures were worked out, one list per inlet; may be shorter than the inlets.
    pub workings: &'a [Vec<Working>],
    /// How far the tape may differ for each tube.
    pub tapes: &'a Tapes,
}

/// An inlet with what belongs to it, looked up once.
#[derive(Debug, Clone, Copy)]
pub struct InletPart<'a> {
    /// Place in the job, from 0.
    pub index: usize,
    pub inlet: &'a Inlet,
    /// Its line, from valve to where it joins.
    pub line: &'a Line,
    /// What the hose has to do with of that line.
    pub raceway: &'a Raceway,
    pub findings: &'a [Finding],
    pub offers: &'a [Offers],
    /// Of the whole line.
    pub cuts: &'a [TubeCut],
    pub figures: &'a InletFigures,
}

impl<'a> Worked<'a> {
    /// The inlets, each of which a job worked up has laid and reckoned.
    pub fn inlets(&self) -> impl Iterator<Item = InletPart<'a>> + use<'a> {
        let work = self.work;
        let laid = work.job.inlets.iter().zip(&work.lines.lines).zip(&work.figures.inlets);
        laid.enumerate().filter_map(move |(index, ((inlet, line), figures))| {
            Some(InletPart {
                index,
                inlet,
                line,
                raceway: line.raceway.as_ref()?,
                findings: slice_at(&work.findings.inlets, index),
                offers: slice_at(&work.offers, index),
                cuts: slice_at(&work.cuts.lines, index),
                figures,
            })
        })
    }

    /// The name people know a line by: an inlet's name for its id, anything else as it is.
    pub fn owner_name(&self, owner: &str) -> String {
        let inlet = self.work.job.inlets.iter().find(|inlet| inlet.id == owner);
        inlet.map_or_else(|| owner.to_string(), |inlet| inlet.name.clone())
    }
}

/// The list at a place, empty where there is none.
pub fn slice_at<T>(lists: &[Vec<T>], index: usize) -> &[T] {
    lists.get(index).map(Vec::as_slice).unwrap_or_default()
}

/// How a figure was worked out.
#[derive(Debug, Clone, PartialEq)]
pub struct Working {
    pub name: String,
    pub result_words: String,
    /// The formula, MathML made by this program.
    pub mathml: &'static str,
    /// The formula with the numbers put in.
    pub with_numbers: String,
    pub source: String,
}

/// Drawings of an inlet, SVG made by this program.
#[derive(Debug, Clone, Default)]
pub struct Pictures {
    pub elevation: String,
    pub plan: String,
    pub isometric: Option<String>,
    pub travel: Option<String>,
    /// One joint cut open, with this inlet's socket depth.
    pub joint: Option<String>,
    /// The rough-in box or frame in the wall; `None` where the catalog gives no size.
    pub valve_box: Option<String>,
}

/// Drawings of a job.
#[derive(Debug, Clone, Default)]
pub struct JobPictures {
    /// One entry per inlet.
    pub inlets: Vec<Pictures>,
    /// What is set out, from above.
    pub layout: Option<String>,
    pub key_isometric: Option<String>,
    pub cutting: Option<String>,
    /// What the valves reach, with its drawings, where the job has a plan.
    pub reach: Option<ReachSheet>,
    /// What could not be drawn, and why; a frame that says so stands in its place.
    pub faults: Vec<String>,
    /// One entry per trunk.
    pub trunks: Vec<Pictures>,
}

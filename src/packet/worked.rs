//! What the sheets are made from: a job with everything about it worked out.
//!
//! Nothing here is computed; each field is the result of a stage above. A `Worked` cannot hold a
//! route without its findings or a tube without its cut: lists run in the job's order, one entry per
//! inlet, onward path or trunk.
use crate::company::{Catalog, Firm, Inlet, Job, Standard};
use crate::measure::Say;
use crate::route::{JobRoutes, Route};
use crate::standard::{Finding, Findings};

/// A job with all that was worked out for it.
#[derive(Debug, Clone, Copy)]
pub struct Worked<'a> {
    pub firm: &'a Firm,
    pub catalog: &'a Catalog,
    /// The revision that judged it.
    pub standard: &'a Standard,
    pub job: &'a Job,
    pub routes: &'a JobRoutes,
    pub findings: &'a Findings,
    pub cuts: &'a Cuts,
    pub figures: &'a JobFigures,
}

/// An inlet with what belongs to it, looked up once.
#[derive(Debug, Clone, Copy)]
pub struct InletPart<'a> {
    /// Place in the job, from 0.
    pub index: usize,
    pub inlet: &'a Inlet,
    pub route: &'a Route,
    pub findings: &'a [Finding],
    pub cuts: &'a [TubeCut],
    pub onward_cuts: &'a [TubeCut],
}

impl<'a> Worked<'a> {
    /// The firm's way of saying numbers.
    pub fn say(&self) -> Say {
        self.firm.say()
    }

    /// The inlets that have a route, which is all of them in a job that was read whole.
    pub fn inlets(&self) -> impl Iterator<Item = InletPart<'a>> + use<'a> {
        let whole = *self;
        self.job
            .inlets
            .iter()
            .zip(&self.routes.raceways)
            .enumerate()
            .map(move |(index, (inlet, route))| InletPart {
                index,
                inlet,
                route,
                findings: slice_at(&whole.findings.inlets, index),
                cuts: slice_at(&whole.cuts.inlets, index),
                onward_cuts: slice_at(&whole.cuts.onward, index),
            })
    }
}

/// The list at a place, empty where there is none.
fn slice_at<T>(lists: &[Vec<T>], index: usize) -> &[T] {
    lists.get(index).map(Vec::as_slice).unwrap_or_default()
}

/// What is cut, and from which sticks.
#[derive(Debug, Clone, Default)]
pub struct Cuts {
    /// Tubes of each raceway, valve to stop.
    pub inlets: Vec<Vec<TubeCut>>,
    /// Tubes of each inlet's onward path; empty where it has none.
    pub onward: Vec<Vec<TubeCut>>,
    /// Tubes of each trunk.
    pub trunks: Vec<Vec<TubeCut>>,
    pub sticks: Vec<StickCut>,
    /// No plan needs fewer sticks than this.
    pub lower_bound: usize,
    /// Whether the plan is proven to be the least.
    pub proven: bool,
    pub items: Vec<Item>,
}

/// A tube as it is cut.
#[derive(Debug, Clone, PartialEq)]
pub struct TubeCut {
    pub mark: String,
    /// Length between the two fittings' stops.
    pub clear_m: f64,
    /// One piece, or several joined by couplings.
    pub pieces: Vec<Piece>,
    /// Why it cannot be cut, a sentence; `None` where it can.
    pub problem: Option<String>,
}

/// A piece of tube.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// `A2`, or `A2a` where the tube is in several pieces.
    pub mark: String,
    pub length_m: f64,
}

/// One stick and what is cut from it.
#[derive(Debug, Clone, PartialEq)]
pub struct StickCut {
    pub pieces: Vec<StickPiece>,
    pub offcut_m: f64,
}

/// A piece in a stick.
#[derive(Debug, Clone, PartialEq)]
pub struct StickPiece {
    pub mark: String,
    /// The inlet or trunk it is for.
    pub owner: String,
    pub length_m: f64,
}

/// A line of the material list.
#[derive(Debug, Clone, PartialEq)]
pub struct Item {
    pub part: String,
    pub kind: String,
    pub count: f64,
    /// `sticks`, `ft`; empty for plain pieces.
    pub unit: String,
    pub note: String,
}

/// Figures of a job.
#[derive(Debug, Clone, Default)]
pub struct JobFigures {
    pub inlets: Vec<InletFigures>,
}

/// Figures of an inlet; `None` where the data for them is wanting.
#[derive(Debug, Clone, Default)]
pub struct InletFigures {
    pub effort: Option<Effort>,
    pub air: Option<Air>,
    pub passage: Vec<Passage>,
    pub workings: Vec<Working>,
    /// Suction at the valve with nothing flowing.
    pub sealed_suction_pa: Option<f64>,
}

/// What it takes to draw the hose in and to pull it out.
#[derive(Debug, Clone, PartialEq)]
pub struct Effort {
    pub draw_in_n: f64,
    /// What the suction gives; `None` where not known.
    pub available_n: Option<f64>,
    pub pull_out_n: f64,
    /// Draw-in force against length drawn in.
    pub curve: Vec<(f64, f64)>,
}

/// The air at this inlet.
#[derive(Debug, Clone, PartialEq)]
pub struct Air {
    pub flow_m3_s: f64,
    pub velocity_m_s: f64,
    pub suction_at_valve_pa: f64,
    pub suction_at_unit_pa: f64,
    pub air_power_w: f64,
}

/// The longest stiff object that gets past a place.
#[derive(Debug, Clone, PartialEq)]
pub struct Passage {
    pub place: String,
    pub longest_m: f64,
}

/// How a figure was worked out.
#[derive(Debug, Clone, PartialEq)]
pub struct Working {
    pub name: String,
    pub result_words: String,
    /// The formula, MathML made by this program.
    pub mathml: String,
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
    pub effort: Option<String>,
}

/// Drawings of a job.
#[derive(Debug, Clone, Default)]
pub struct JobPictures {
    /// One entry per inlet.
    pub inlets: Vec<Pictures>,
    pub key_plan: Option<String>,
    pub cutting: Option<String>,
}

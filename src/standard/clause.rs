//! What a computed clause is.
use super::finding::{Quantity, Spot};
use crate::company::{Catalog, Inlet, Job};
use crate::figures::InletFigures;
use crate::measure::{Kind, Say};
use crate::route::{Closure, JobRoutes, Route, TrunkRoute};

/// A computed clause: its name, what it measures, the figure that the firm sets, and the check.
pub struct Clause {
    /// The id in standards, waivers, pages and JSON.
    pub id: &'static str,
    /// Heading where the firm gives none.
    pub title: &'static str,
    /// How it is measured, for its page: what is taken, against what, an example, the usual remedy. Markdown.
    pub measures: &'static str,
    /// The figure that the firm's standard sets; `None` where there is nothing to set.
    pub parameter: Option<Parameter>,
    /// What the measured number is.
    pub quantity: Quantity,
    pub check: Check,
}

/// The figure of a clause: its key in the standard, and what holds where the firm leaves it out.
#[derive(Debug, Clone, Copy)]
pub struct Parameter {
    pub key: &'static str,
    /// In the SI unit of its kind.
    pub default: Option<f64>,
    /// How it is written.
    pub kind: Kind,
}

/// A check of an inlet, or of the job as a whole.
pub enum Check {
    Inlet(fn(&Ask) -> Vec<Outcome>),
    Job(fn(&Ask) -> Vec<Outcome>),
}

/// All that a check may look at. For a check of the job as a whole, `inlet`, `route` and `closure` are
/// those of its first inlet and are not to be read.
pub struct Ask<'a> {
    pub say: Say,
    pub catalog: &'a Catalog,
    pub job: &'a Job,
    pub inlet: &'a Inlet,
    /// Place of the inlet in the job.
    pub index: usize,
    /// The inlet's raceway.
    pub route: &'a Route,
    /// How the inlet's line closes, where both ends have places.
    pub closure: Option<&'a Closure>,
    pub trunks: &'a [TrunkRoute],
    pub routes: &'a JobRoutes,
    pub figures: &'a InletFigures,
    /// The firm's figure, or the clause's own default.
    pub limit: Option<f64>,
}

/// What one check says.
#[derive(Debug, Clone)]
pub enum Outcome {
    Judged(Measured),
    /// Could not be judged; the reason, a sentence.
    NotChecked(String),
}

/// A measure taken.
#[derive(Debug, Clone)]
pub struct Measured {
    pub broken: bool,
    pub measured: Option<f64>,
    /// What it was held against, in the unit of the clause's quantity.
    pub limit: Option<f64>,
    pub bends: Vec<usize>,
    pub spots: Vec<Spot>,
    pub note: String,
    pub remedy: Option<String>,
}

impl Measured {
    /// A measure that meets its limit.
    pub fn met(measured: Option<f64>, limit: Option<f64>, note: String) -> Outcome {
        Outcome::Judged(Measured {
            broken: false,
            measured,
            limit,
            bends: vec![],
            spots: vec![],
            note,
            remedy: None,
        })
    }

    /// A measure that breaks its limit, at the bends and spots named.
    pub fn broken(
        measured: Option<f64>,
        limit: Option<f64>,
        spots: Vec<Spot>,
        note: String,
        remedy: String,
    ) -> Outcome {
        let bends =
            spots.iter().filter_map(|spot| if let Spot::Bend(n) = spot { Some(*n) } else { None }).collect();
        Outcome::Judged(Measured { broken: true, measured, limit, bends, spots, note, remedy: Some(remedy) })
    }
}

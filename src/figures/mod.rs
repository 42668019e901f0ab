//! The formulas of [`crate::reckon`] applied to a job: from routes and catalog parts to its figures.
//!
//! A figure that cannot be had says why, in a sentence; it is never guessed. Nothing here judges.
mod air;
mod changed;
mod clash;
mod elements;
mod framing;
mod hose;
mod joists;
mod missing;
mod passage;
mod readings;
mod silence;
mod way;
mod wire;

pub use air::AirFigures;
pub use changed::{Changed, Planned};
pub use clash::{Centrelines, Clash, clashes};
pub use framing::CrossingFigure;
pub use hose::{Draw, HoseFigures};
pub use joists::{legs_on_level, met_m, unlisted_m};
pub use missing::Missing;
pub use passage::{PassageFigure, catches_first};
pub use readings::{Call, LEFT_OUT_M, Reading, ReadingKind, Required, readings};
pub use silence::{Silence, silences};
pub use way::{Stretch, way};
pub use wire::{SLACK, TAIL_M, WireFigures};

use crate::company::{Catalog, Job};
use crate::route::{JobLines, Line};

/// All figures of a job.
#[derive(Debug, Clone)]
pub struct JobFigures {
    /// In the job's order.
    pub inlets: Vec<InletFigures>,
    /// In the order of the laid lines.
    pub lines: Vec<LineFigures>,
    /// Lines nearer to each other than tube and fittings allow.
    pub clashes: Vec<Clash>,
}

/// The figures of a line, whosever it is.
#[derive(Debug, Clone, Default)]
pub struct LineFigures {
    pub crossings: Vec<CrossingFigure>,
}

/// The figures of an inlet.
#[derive(Debug, Clone)]
pub struct InletFigures {
    pub hose: Result<HoseFigures, Missing>,
    /// Suction at the valve with its hose covered, Pa below the room.
    pub sealed_pa: Result<f64, Missing>,
    pub air: Result<AirFigures, Missing>,
    /// From the valve to the unit, in the order of the way.
    pub passage: Result<Vec<PassageFigure>, Missing>,
    pub wire: Result<WireFigures, Missing>,
}

/// Reckons every inlet and every line of a job.
pub fn reckon_job(job: &Job, lines: &JobLines, catalog: &Catalog) -> JobFigures {
    JobFigures {
        inlets: (0..job.inlets.len()).map(|i| reckon_inlet(job, i, lines, catalog)).collect(),
        lines: lines.lines.iter().map(reckon_line).collect(),
        clashes: clashes(&lines.lines, catalog),
    }
}

/// Reckons one line.
pub fn reckon_line(line: &Line) -> LineFigures {
    LineFigures { crossings: framing::crossings(line) }
}

/// Reckons one inlet, which the job must have.
pub fn reckon_inlet(job: &Job, i: usize, lines: &JobLines, catalog: &Catalog) -> InletFigures {
    let air = air::air(job, i, lines, catalog);
    InletFigures {
        hose: hose::hose(job, i, lines, catalog, &air),
        sealed_pa: air::sealed_pa(job, i),
        air,
        passage: passage::passage(job, i, lines, catalog),
        wire: wire::wire(i, lines, catalog),
    }
}

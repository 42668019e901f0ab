//! The formulas of [`crate::reckon`] applied to a job: from routes and catalog parts to its figures.
//!
//! A figure that cannot be had says why, in a sentence; it is never guessed. Nothing here judges.
mod effort;
mod elements;
mod passage;

pub use effort::EffortFigures;
pub use passage::{PassageFigure, Place};

use crate::company::{Catalog, Job};
use crate::route::JobRoutes;

/// Why a figure could not be had: a sentence for the packet.
pub type Missing = String;

/// All figures of a job.
#[derive(Debug, Clone)]
pub struct JobFigures {
    /// In the job's order.
    pub inlets: Vec<InletFigures>,
}

/// The figures of an inlet.
#[derive(Debug, Clone)]
pub struct InletFigures {
    pub effort: Result<EffortFigures, Missing>,
    /// From the valve to the unit, in the order of the way.
    pub passage: Result<Vec<PassageFigure>, Missing>,
}

/// Reckons every inlet of a job.
pub fn reckon_job(job: &Job, routes: &JobRoutes, catalog: &Catalog) -> JobFigures {
    let inlets = job
        .inlets
        .iter()
        .zip(&routes.raceways)
        .enumerate()
        .map(|(i, (inlet, raceway))| InletFigures {
            effort: effort::effort(inlet, raceway),
            passage: passage::passage(job, i, routes, catalog),
        })
        .collect();
    JobFigures { inlets }
}

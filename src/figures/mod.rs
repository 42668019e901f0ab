//! The formulas of [`crate::reckon`] applied to a job: from routes and catalog parts to its figures.
//!
//! A figure that cannot be had says why, in a sentence; it is never guessed. Nothing here judges.
mod air;
mod effort;
mod elements;
mod framing;
mod passage;
mod way;
mod wire;

pub use air::AirFigures;
pub use effort::EffortFigures;
pub use framing::CrossingFigure;
pub use passage::{PassageFigure, Place};
pub use way::{Stretch, way};
pub use wire::{SLACK, TAIL_M, WireFigures};

use crate::company::{Catalog, Job};
use crate::reckon::effort::available_force;
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
    /// Suction at the valve with its hose covered, Pa below the room.
    pub sealed_pa: Result<f64, Missing>,
    /// What that suction draws at the hose with, newtons.
    pub available_n: Result<f64, Missing>,
    pub air: Result<AirFigures, Missing>,
    /// From the valve to the unit, in the order of the way.
    pub passage: Result<Vec<PassageFigure>, Missing>,
    /// Of the raceway, valve to stop.
    pub crossings: Vec<CrossingFigure>,
    /// Of the onward path.
    pub onward_crossings: Vec<CrossingFigure>,
    pub wire: Result<WireFigures, Missing>,
}

/// Reckons every inlet of a job.
pub fn reckon_job(job: &Job, routes: &JobRoutes, catalog: &Catalog) -> JobFigures {
    JobFigures { inlets: (0..job.inlets.len()).map(|i| reckon_inlet(job, i, routes, catalog)).collect() }
}

/// Reckons one inlet, which the job must have.
pub fn reckon_inlet(job: &Job, i: usize, routes: &JobRoutes, catalog: &Catalog) -> InletFigures {
    let (inlet, raceway) = (&job.inlets[i], &routes.raceways[i]);
    let sealed_pa = air::sealed_pa(job, i);
    let available_n = sealed_pa
        .clone()
        .and_then(|pa| available_force(pa, inlet.hose.outside_m).map_err(|error| error.to_string()));
    let onward = routes.onward.get(i).and_then(Option::as_ref);
    InletFigures {
        effort: effort::effort(inlet, raceway),
        sealed_pa,
        available_n,
        air: air::air(job, i, routes, catalog),
        passage: passage::passage(job, i, routes, catalog),
        crossings: framing::crossings(raceway),
        onward_crossings: onward.map(|onward| framing::crossings(&onward.route)).unwrap_or_default(),
        wire: wire::wire(job, i, routes, catalog),
    }
}

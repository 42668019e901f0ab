//! What might mend which clause. None of it is trusted: every candidate is proven before it is offered.
mod bends;
mod framing;
mod hoses;
mod junctions;
mod level;
mod room;

use super::change::Change;
use super::shape::{Joint, Shape};
use crate::company::{Catalog, Hose, LineSpec, Reach};
use crate::measure::Say;
use crate::route::{Line, Tube};
use crate::standard::{Finding, Mend};
use crate::takeoff::TubeCut;
use glam::DVec3;

/// What candidates are made from: a line, and what is wrong with it.
pub struct Case<'a> {
    /// The hose that lies in it; `None` for a trunk.
    pub hose: Option<&'a Hose>,
    /// The line as the job writes it.
    pub spec: &'a LineSpec,
    /// Its steps taken apart.
    pub shape: Shape,
    /// The line as it is laid.
    pub line: &'a Line,
    /// Its tubes in pieces.
    pub cuts: &'a [TubeCut],
    pub catalog: &'a Catalog,
    pub finding: &'a Finding,
    pub say: Say,
}

impl Case<'_> {
    /// The same line in another shape.
    pub fn change(&self, shape: &Shape, words: String, size: f64) -> Change {
        let line = LineSpec { steps: shape.steps(), ..self.spec.clone() };
        Change { hose: None, line, words, size }
    }

    /// Heading of a straight.
    pub fn heading(&self, straight: usize) -> DVec3 {
        self.line.legs.get(self.shape.leg(straight)).map_or(DVec3::ZERO, |leg| leg.heading)
    }

    /// The straight that a tube lies on.
    pub fn straight_of(&self, tube: &Tube) -> usize {
        let beyond = self.line.raceway.is_some() && self.line.reach_of(tube) == Reach::Air;
        tube.leg + usize::from(beyond)
    }

    /// `R3`; of the leg that the stop stands in, `R3 beyond the stop` for what follows it.
    pub fn called(&self, straight: usize) -> String {
        let after_stop = straight.checked_sub(1).and_then(|before| self.shape.joints.get(before));
        let beyond = if matches!(after_stop, Some(Joint::Stop)) { " beyond the stop" } else { "" };
        format!("R{}{beyond}", self.shape.leg(straight) + 1)
    }
}

/// Candidate changes of the kinds that a clause names, in no order.
pub fn candidates(case: &Case, mends: &[Mend]) -> Vec<Change> {
    mends.iter().flat_map(|mend| made(case, *mend)).collect()
}

fn made(case: &Case, mend: Mend) -> Vec<Change> {
    match mend {
        Mend::LongerPath => room::longer_path(case),
        Mend::OtherHose => hoses::others(case),
        Mend::LongerTubesBetweenBends => room::longer_tubes(case, room::Short::BetweenBends),
        Mend::LongerTubes => room::longer_tubes(case, room::Short::Any),
        Mend::NoStub => room::without_stubs(case),
        Mend::ClosingRun => room::closing_runs(case),
        Mend::LesserAngles => bends::skew_legs(case),
        Mend::EarlierStop => bends::earlier_stops(case),
        Mend::OwnSweep => bends::own_sweeps(case),
        Mend::StockedAngle => bends::stocked_offsets(case),
        Mend::FlatDip => level::flat(case),
        Mend::BetterBore => framing::bores(case),
        Mend::GentlerJunction => junctions::wyes(case),
    }
}

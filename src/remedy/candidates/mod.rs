//! What might mend which clause. None of it is trusted: every candidate is proven before it is offered.
mod bends;
mod framing;
mod hoses;
mod junctions;
mod level;
mod room;

use super::change::Change;
use super::shape::Shape;
use crate::company::{Catalog, Inlet, LineSpec};
use crate::measure::Say;
use crate::route::{Closure, Line, Raceway};
use crate::standard::{Finding, Mend};

/// What candidates are made from.
pub struct Case<'a> {
    pub inlet: &'a Inlet,
    /// The inlet's line as the job writes it.
    pub spec: &'a LineSpec,
    /// Its line as far as the stop, and beyond it.
    pub raceway: Line,
    pub onward: Option<Line>,
    pub part: &'a Raceway,
    pub closure: Option<&'a Closure>,
    pub catalog: &'a Catalog,
    pub finding: &'a Finding,
    pub say: Say,
}

impl Case<'_> {
    /// The steps before the stop.
    pub fn before(&self) -> Shape {
        Shape::of(self.spec.at_stop().0)
    }

    /// The steps beyond the stop; `None` where the line ends there.
    pub fn beyond(&self) -> Option<Shape> {
        self.spec.into.as_ref().map(|_| Shape::of(self.spec.at_stop().1))
    }

    /// The line with other steps before the stop.
    pub fn line_with(&self, before: &Shape) -> LineSpec {
        self.spec.with_steps(before.steps(), self.spec.at_stop().1.to_vec())
    }

    /// The same line with another hose.
    pub fn with_inlet(&self, inlet: Inlet, words: String, size: f64) -> Change {
        Change { inlet, line: self.spec.clone(), words, size }
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

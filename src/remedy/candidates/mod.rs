//! What might mend which clause. None of it is trusted: every candidate is proven before it is offered.
mod bends;
mod framing;
mod hoses;
mod junctions;
mod level;
mod room;

use super::change::Change;
use crate::company::{Catalog, Inlet};
use crate::measure::Say;
use crate::route::{Closure, Route};
use crate::standard::{Finding, Mend};

/// What candidates are made from.
pub struct Case<'a> {
    pub inlet: &'a Inlet,
    pub raceway: &'a Route,
    pub onward: Option<&'a Route>,
    pub closure: Option<&'a Closure>,
    pub catalog: &'a Catalog,
    pub finding: &'a Finding,
    pub say: Say,
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

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
use crate::standard::Finding;

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

/// Candidate changes for a broken clause, in no order.
pub fn candidates(case: &Case) -> Vec<Change> {
    match case.finding.clause.as_str() {
        "hose-room" => [room::longer_path(case), hoses::others(case)].concat(),
        "bend-spacing" | "fitting-room" => room::longer_tubes(case),
        "misclosure" => room::closing_runs(case),
        "bend-total" | "pull-out" => [bends::skew_legs(case), bends::earlier_stops(case)].concat(),
        "draw-in" => [bends::skew_legs(case), bends::earlier_stops(case), hoses::others(case)].concat(),
        "bend-fitting" | "bend-radius" => [bends::own_sweeps(case), bends::stocked_offsets(case)].concat(),
        "one-level" | "no-dip" => level::flat(case),
        "bores" => framing::bores(case),
        "passage" | "wye-junctions" => junctions::wyes(case),
        "suction-at-valve" | "air-velocity" => [hoses::others(case), junctions::wyes(case)].concat(),
        _ => Vec::new(),
    }
}

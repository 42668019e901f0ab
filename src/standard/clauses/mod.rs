//! The ordered list of computed clauses; one file each. To add one: write its file, name it here.
mod bend_fitting;
mod bend_radius;
mod bend_spacing;
mod bend_total;
mod fitting_room;
mod hose_room;
mod misclosure;
mod no_dip;
mod one_level;

use super::clause::Clause;

/// Every computed clause, in the order a route is thought through: room, level, bends, closing.
pub static CLAUSES: &[&Clause] = &[
    &hose_room::CLAUSE,
    &one_level::CLAUSE,
    &no_dip::CLAUSE,
    &misclosure::CLAUSE,
    &bend_total::CLAUSE,
    &bend_fitting::CLAUSE,
    &bend_radius::CLAUSE,
    &bend_spacing::CLAUSE,
    &fitting_room::CLAUSE,
];

/// The clause of that id.
pub fn clause(id: &str) -> Option<&'static Clause> {
    CLAUSES.iter().copied().find(|clause| clause.id == id)
}

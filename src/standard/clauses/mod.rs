//! The ordered list of computed clauses; one file each. To add one: write its file, name it here.
#[macro_use]
mod shown;

mod air_velocity;
mod bay_width;
mod bend_fitting;
mod bend_radius;
mod bend_spacing;
mod bend_total;
mod bore_size;
mod bores;
mod circuit;
mod clash;
mod cut_tubes;
mod draw_in;
mod fitting_room;
mod framing_clear;
mod hose_room;
mod misclosure;
mod no_dip;
mod one_level;
mod open_ends;
mod passage;
mod plan_route;
mod pull_out;
mod stubs;
mod suction_at_valve;
mod wall_depth;
mod wire_drop;
mod wye_junctions;

use super::clause::Clause;
use crate::company::{ClauseKind, ClauseText, Computed, Forced, Rule, Standard, Waiver};
use crate::figures::Required;
use std::sync::LazyLock;

pub use hose_room::hose_allowance;

/// What a standard asks of draw-in and pull-out, for the readings taken at the end; nothing where it has no such
/// clause.
pub fn required(standard: &Standard) -> Required {
    let asked = |clause: &Clause| match standard.clause(clause.id).map(|known| &known.rule) {
        Some(Rule::Computed(rule)) => {
            rule.value.or(clause.parameter().and_then(|parameter| parameter.default))
        }
        _ => None,
    };
    Required { reserve: asked(&draw_in::CLAUSE), pull_n: asked(&pull_out::CLAUSE) }
}

/// Every computed clause, in the order a route is thought through: room, level, closing,
/// bends, fittings and tubes; then the hose's motion, air, passage, framing, wire and circuit.
pub static CLAUSES: &[&Clause] = &[
    &hose_room::CLAUSE,
    &one_level::CLAUSE,
    &no_dip::CLAUSE,
    &misclosure::CLAUSE,
    &plan_route::CLAUSE,
    &bend_total::CLAUSE,
    &bend_fitting::CLAUSE,
    &bend_radius::CLAUSE,
    &bend_spacing::CLAUSE,
    &fitting_room::CLAUSE,
    &cut_tubes::CLAUSE,
    &stubs::CLAUSE,
    &clash::CLAUSE,
    &open_ends::CLAUSE,
    &draw_in::CLAUSE,
    &pull_out::CLAUSE,
    &air_velocity::CLAUSE,
    &suction_at_valve::CLAUSE,
    &passage::CLAUSE,
    &wye_junctions::CLAUSE,
    &bores::CLAUSE,
    &bore_size::CLAUSE,
    &framing_clear::CLAUSE,
    &wall_depth::CLAUSE,
    &bay_width::CLAUSE,
    &wire_drop::CLAUSE,
    &circuit::CLAUSE,
];

/// What no revision can leave out and no waiver sets aside: where one of these is broken a job cannot be built as
/// drawn, or somebody may be hurt, whatever the firm's clauses say.
static NEVER_LEFT_OUT: [&Clause; 7] = [
    &hose_room::CLAUSE,
    &fitting_room::CLAUSE,
    &cut_tubes::CLAUSE,
    &clash::CLAUSE,
    &open_ends::CLAUSE,
    &bores::CLAUSE,
    &bore_size::CLAUSE,
];

/// Those in the program's own words, each a *must* that no page numbers. What a firm would set holds by its default, or
/// with nothing on top: a hose then wants its own length.
static IN_OUR_WORDS: LazyLock<Vec<ClauseText>> = LazyLock::new(|| {
    let limit = |clause: &Clause| clause.parameter().map(|parameter| parameter.default.unwrap_or(0.0));
    let text = |clause: &&Clause| ClauseText {
        number: String::new(),
        id: clause.id.into(),
        title: clause.title.into(),
        level: Forced::Must,
        text: String::new(),
        because: String::new(),
        source: String::new(),
        waivable: false,
        rule: Rule::Computed(Computed { on: clause.on(), value: limit(clause), fails_at: None }),
    };
    NEVER_LEFT_OUT.iter().map(text).collect()
});

/// Whether a job is held to a clause whatever its standard says.
pub fn never_let_go(id: &str) -> bool {
    NEVER_LEFT_OUT.iter().any(|clause| clause.id == id)
}

/// The clauses in the program's own words that a job is held to beside its standard: those that the standard has left
/// out or only says should be, told by `true`, and those that these waivers set aside.
pub fn held_to(standard: &Standard, waivers: &[Waiver]) -> impl Iterator<Item = (&'static ClauseText, bool)> {
    IN_OUR_WORDS.iter().filter_map(|text| {
        let let_go = standard.clause(&text.id).is_none_or(|own| own.level == Forced::Should);
        let waived = || waivers.iter().any(|waiver| waiver.clause == text.id);
        (let_go || waived()).then_some((text, let_go))
    })
}

/// The figure that a standard sets for a clause; `None` where it has no such clause or no figure in it.
fn set(standard: &Standard, clause: &Clause) -> Option<f64> {
    match &standard.clause(clause.id)?.rule {
        Rule::Computed(rule) => rule.value,
        Rule::ByEye(_) => None,
    }
}

/// Least tube between two bends of a raceway, metres.
pub fn least_between_bends(standard: &Standard) -> Option<f64> {
    set(standard, &bend_spacing::CLAUSE)
}

/// How far a raceway may stray from one level, metres.
pub fn level_tolerance(standard: &Standard) -> Option<f64> {
    set(standard, &one_level::CLAUSE)
}

/// How far a line may arrive from where it should, metres.
pub fn misclosure_tolerance(standard: &Standard) -> Option<f64> {
    set(standard, &misclosure::CLAUSE)
}

/// The clause of that id.
pub fn clause(id: &str) -> Option<&'static Clause> {
    CLAUSES.iter().copied().find(|clause| clause.id == id)
}

/// The clauses as reading a standard wants them.
pub fn kinds() -> Vec<ClauseKind> {
    let kind = |clause: &&'static Clause| ClauseKind {
        id: clause.id,
        parameter: clause.parameter().map(|parameter| (parameter.key, parameter.kind)),
        default: clause.parameter().and_then(|parameter| parameter.default),
        bound: clause.bound,
        on: clause.on(),
        waivable: clause.waivable,
        title: clause.title,
    };
    CLAUSES.iter().map(kind).collect()
}

//! By-eye clauses: what only a person can tell becomes a line to tick.
//!
//! A firm adds its own without programming: the clause states the words, how often, when, and for which
//! valves. This module only picks the lines that concern a valve at a phase.
use crate::company::{ByEye, ClauseText, Per, Phase, Rule, Standard, Valve};

/// The lines to tick once per `per` at a phase; those for certain valves only where `valve` is such a one.
/// Lines per job concern no valve: `valve` is `None`, and lines that name a duty are left out.
pub fn lines<'a>(
    standard: &'a Standard,
    per: Per,
    when: Phase,
    valve: Option<&Valve>,
) -> Vec<(&'a ClauseText, &'a ByEye)> {
    by_eye(standard)
        .filter(|(_, line)| line.per == per && line.when == when && concerns(line, valve))
        .collect()
}

/// The lines to tick at every joint, in the standard's order.
pub fn lines_per_joint<'a>(
    standard: &'a Standard,
    valve: Option<&Valve>,
) -> Vec<(&'a ClauseText, &'a ByEye)> {
    by_eye(standard).filter(|(_, line)| line.per == Per::Joint && concerns(line, valve)).collect()
}

fn by_eye(standard: &Standard) -> impl Iterator<Item = (&ClauseText, &ByEye)> {
    standard.clauses().filter_map(|clause| match &clause.rule {
        Rule::ByEye(line) => Some((clause, line)),
        Rule::Computed(_) => None,
    })
}

/// Whether a line concerns a valve: every duty that it names is done so by this valve.
fn concerns(line: &ByEye, valve: Option<&Valve>) -> bool {
    let bare =
        line.seal.is_none() && line.grips.is_none() && line.switch.is_none() && line.rough_in.is_none();
    let Some(valve) = valve else { return bare };
    line.seal.is_none_or(|duty| duty == valve.seal)
        && line.grips.is_none_or(|duty| duty == valve.grips)
        && line.switch.is_none_or(|duty| duty == valve.switch)
        && line.rough_in.is_none_or(|set| set == valve.rough_in)
}

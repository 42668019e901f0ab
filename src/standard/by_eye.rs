//! By-eye clauses: what only a person can tell becomes a line to tick.
//!
//! A firm adds its own without programming: the clause states the words, how often, when, and for which
//! valves. This module only picks the lines that concern a valve at a phase.
use crate::company::{ByEye, ClauseText, Per, Phase, Rule, Standard, Valve};

/// The lines to tick once for each inlet at a phase; those for certain valves only where `valve` is such a one.
pub fn lines<'a>(standard: &'a Standard, when: Phase, valve: &Valve) -> Vec<(&'a ClauseText, &'a ByEye)> {
    let wanted = |line: &ByEye| line.per == Per::Inlet && line.when == when && concerns(line, Some(valve));
    by_eye(standard).filter(|(_, line)| wanted(line)).collect()
}

/// The lines to tick once for the job at a phase; those for certain valves only where one of `valves` is such a one.
pub fn lines_of_job<'a>(
    standard: &'a Standard,
    when: Phase,
    valves: &[&Valve],
) -> Vec<(&'a ClauseText, &'a ByEye)> {
    let one = |line: &ByEye| concerns(line, None) || valves.iter().any(|valve| concerns(line, Some(valve)));
    by_eye(standard).filter(|(_, line)| line.per == Per::Job && line.when == when && one(line)).collect()
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

//! What a search found, in words.
use super::{Against, Proposals};
use crate::company::{Into, LineSpec, Step};
use crate::measure::Say;
use crate::standard::{Finding, Verdict};

/// `135 degrees reach at most 36 ft 2-3/4 in; 44 ft are needed`, one for each bend total that cannot do; then
/// the first that can. All hold on the grid of lanes only.
pub fn bound_words(found: &Proposals, say: &Say) -> Vec<String> {
    let mut words = Vec::new();
    for (degrees, reach_m) in &found.bounds {
        if *reach_m + 1e-6 < found.need_m {
            let (reach, need) = (say.length_down(*reach_m), say.length(found.need_m));
            words.push(format!("{degrees:.0} degrees reach at most {reach}; {need} are needed"));
        } else {
            words.push(format!("{degrees:.0} degrees may do"));
            break;
        }
    }
    words
}

/// `down 2 ft 10 in; west 16 ft; stop; west 3 ft; …`, and what a line joins; `trunks` are the ids of the job's trunks.
pub fn line_words(line: &LineSpec, say: &Say, trunks: &[&str]) -> String {
    let mut words: Vec<String> = Vec::new();
    let mut heading = line.leaves.words.clone();
    let mut at = line.leaves.vector;
    for step in &line.steps {
        match step {
            Step::Run(run) => words.push(format!("{heading} {}", say.length(run.length_m))),
            Step::Turn(turn) => {
                if let Some(after) = turn.heading_after(at) {
                    at = after;
                    heading = crate::measure::heading_words(after);
                }
            }
            Step::Stop => words.push("stop".into()),
        }
    }
    let name = |trunk: &usize| trunks.get(*trunk).copied().unwrap_or("main").to_owned();
    match &line.into {
        Some(Into::Trunk { trunk, at_m: Some(at_m), .. }) => {
            words.push(format!("by a wye into trunk {} at {}", name(trunk), say.length(*at_m)));
        }
        Some(Into::Trunk { trunk, .. }) => words.push(format!("by a wye into trunk {}", name(trunk))),
        Some(Into::Start { trunk }) => words.push(format!("on as trunk {}", name(trunk))),
        Some(Into::Unit) | None => {}
    }
    words.join("; ")
}

/// Titles of the clauses that were not checked, each once.
pub fn unchecked_words<'f>(findings: impl Iterator<Item = &'f Finding>) -> Vec<&'f str> {
    let mut titles: Vec<&str> = Vec::new();
    for finding in findings.filter(|finding| finding.verdict == Verdict::NotChecked) {
        if !titles.contains(&finding.title.as_str()) {
            titles.push(&finding.title);
        }
    }
    titles
}

/// What stood in the way of the routes that are not offered: what is broken, then what must be known first.
pub fn against_words(against: &Against) -> Vec<String> {
    let routes = |count: usize| if count == 1 { "1 route".to_owned() } else { format!("{count} routes") };
    let mut words: Vec<String> = against
        .broken
        .iter()
        .map(|(title, count)| format!("{title}: broken in {}", routes(*count)))
        .collect();
    if against.held > 0 {
        let are = if against.held == 1 { "is" } else { "are" };
        words.push(format!(
            "{} {are} on hold and not offered, though nothing is broken:",
            routes(against.held)
        ));
    }
    let waits = against.waits.iter();
    words
        .extend(waits.map(|(title, clears, count)| format!("{title}: hold in {}; {clears}", routes(*count))));
    words
}

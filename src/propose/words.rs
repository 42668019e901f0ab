//! What a search found, in words.
use super::{Proposal, Proposals};
use crate::company::Step;
use crate::measure::Say;

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

/// `down 2 ft 10 in; west 16 ft; south 11 ft to the stop; on 3 ft; …`
pub fn route_words(proposal: &Proposal, say: &Say) -> String {
    let mut words: Vec<String> = Vec::new();
    let mut heading = proposal.spec.leaves.words.clone();
    let mut at = proposal.spec.leaves.vector;
    for step in &proposal.spec.steps {
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
    words.join("; ")
}

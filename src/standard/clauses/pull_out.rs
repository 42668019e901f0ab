//! `pull-out`: a person can draw the hose out by hand.
use crate::measure::Kind;
use crate::standard::{Ask, Check, Clause, Measured, Outcome, Parameter, Quantity, Spot};

pub static CLAUSE: Clause = Clause {
    id: "pull-out",
    title: "Pull-out",
    measures: "\
The force at the valve that pulls the hose out is reckoned along the raceway's own straights and arcs, from the free \
end at the tail to the valve, for every length that lies in it, with the hose's friction `out`. The greatest is held \
against the limit; a force equal to it passes.

**Example.** A 40 ft hose through 270 degrees of sweep wants 3 to 5 lbf.

**Remedy.** Fewer degrees; a socked hose is easier to pull out and a little harder to draw in.

**Source.** The pulling formulas of conduit work; the limit is the firm's own.",
    parameter: Some(Parameter { key: "limit", default: None, kind: Kind::Force }),
    quantity: Quantity::Force,
    check: Check::Inlet(check),
};

fn check(ask: &Ask) -> Vec<Outcome> {
    let Some(limit) = ask.limit else {
        return vec![Outcome::NotChecked("the standard sets no limit".into())];
    };
    let effort = match &ask.figures.effort {
        Ok(effort) => &effort.pull_out,
        Err(why) => return vec![Outcome::NotChecked(why.clone())],
    };
    let note = format!("{} at the worst; {} allowed", ask.say.force(effort.worst_n), ask.say.force(limit));
    if effort.worst_n <= limit {
        return vec![Measured::met(Some(effort.worst_n), Some(limit), note)];
    }
    let remedy = "take out degrees of bend between valve and stop, or use a shorter hose".to_owned();
    vec![Measured::broken(Some(effort.worst_n), Some(limit), vec![Spot::Whole], note, remedy)]
}

//! `pull-out`: a person can draw the hose out by hand.
use crate::measure::{Bound, Kind};
use crate::standard::{AskInlet, Check, Clause, Limit, Mend, Need, Outcome, Parameter, Quantity, Spot};

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
    bound: Bound::AtMost,
    limit: Limit::Set(Parameter { key: "limit", default: None, kind: Kind::Force }),
    quantity: Quantity::Force,
    needs: &[Need::Hose, Need::HoseFriction],
    mends: &[Mend::LesserAngles, Mend::EarlierStop],
    waivable: true,
    check: Check::Inlet(check),
};

fn check(ask: &AskInlet) -> Vec<Outcome> {
    let limit = ask.limit;
    let effort = match &ask.figures.effort {
        Ok(effort) => &effort.pull_out,
        Err(why) => return vec![Outcome::unreckoned(why)],
    };
    let note = format!("{} at the worst; {} allowed", ask.say.force(effort.worst_n), ask.say.force(limit));
    if ask.keeps(effort.worst_n) {
        return vec![Outcome::met(effort.worst_n, limit, note)];
    }
    let remedy = "take out degrees of bend between valve and stop, or use a shorter hose".to_owned();
    vec![Outcome::broken(effort.worst_n, limit, vec![Spot::Whole], note, remedy)]
}

//! `pull-out`: a person can draw the hose out by hand.
use super::draw_in::{wanting, with_assumed};
use crate::figures::HoseFigures;
use crate::measure::{Bound, Kind};
use crate::standard::{
    AskFigures, AskKept, Check, Clause, Limit, Mend, Need, Outcome, Parameter, Quantity, Spot,
};

pub static CLAUSE: Clause = Clause {
    id: "pull-out",
    title: "Pull-out",
    measures: "\
The force at the valve that pulls the hose out is reckoned along the true route, from the free tail to the valve, for \
every length that lies in it, with the hose's friction `out`: weight on the slopes, friction on the straights, and each \
bend on top of what comes before it. Where the valve's door is the switch, the unit runs while the hose is drawn out; \
the air inside then stands below the room by what the open handle and the hose take, and that suction pulls against the \
hand where the leak past the hose spends it. Both are reckoned, and the larger is held against the limit; a force equal \
to it passes.

**Example.** A 40 ft socked hose through 270 degrees of sweep, from below, wants some 5 lbf with the unit at rest, and about \
twice that with it running.

**Remedy.** Fewer degrees; a socked hose is easier to pull out and a little harder to draw in; a valve whose switch \
leaves the unit off while the hose is drawn out.

**Source.** The balance of the draw-in clause, walked the other way; the limit is the firm's own.",
    bound: Bound::AtMost,
    limit: Limit::Set(Parameter { key: "limit", default: None, kind: Kind::Force }),
    quantity: Quantity::Force,
    needs: &[Need::Hose, Need::HoseFriction],
    mends: &[Mend::LesserAngles, Mend::EarlierStop, Mend::OtherHose],
    waivable: true,
    pictured: None,
    check: Check::Figures(check, kept),
};

/// The hose surely comes out with a force that is allowed, or surely does not.
fn kept(ask: &AskKept) -> Option<bool> {
    ask.change.keeps_pull(|force_n| ask.bound.keeps(force_n, ask.limit))
}

fn check(ask: &AskFigures) -> Vec<Outcome> {
    let hose = match &ask.figures.hose {
        Ok(hose) => hose,
        Err(why) => return vec![Outcome::unreckoned(&why.words(&ask.say))],
    };
    let (limit, (least_n, most_n)) = (ask.limit, hose.pulls_n());
    let (force, allowed) = ask.beside(Kind::Force, most_n);
    let when =
        if most_n > hose.pull_at_rest.force_n { " with the unit running" } else { " with the unit at rest" };
    let note = with_assumed(format!("{force} at the worst{when}; {allowed} allowed"), hose);
    if !ask.keeps(least_n) {
        let remedy = "take out degrees of bend between valve and stop, or use a shorter hose".to_owned();
        return vec![Outcome::broken(least_n, limit, vec![Spot::Whole], note, remedy)];
    }
    vec![match &hose.pull_running {
        Err(why) => Outcome::open(
            at_rest_only(ask, hose, &why.words(&ask.say)),
            "give what the air wants, so that it can be told".into(),
        ),
        Ok(_) if ask.keeps(most_n) => Outcome::met(most_n, limit, note),
        Ok(_) => Outcome::open(note, wanting(ask, hose)),
    }]
}

fn at_rest_only(ask: &AskFigures, hose: &HoseFigures, why: &str) -> String {
    format!(
        "{} with the unit at rest; the door leaves it running, and then it is not known: {why}",
        ask.say.force(hose.pull_at_rest.force_n)
    )
}

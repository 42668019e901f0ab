//! `one-level`: after the riser, the raceway stays in one horizontal plane.
use crate::measure::{Bound, Kind};
use crate::standard::{
    AskInlet, Check, Clause, Limit, Mend, Outcome, Parameter, Pictured, Quantity, Seen, Spot,
};

pub static CLAUSE: Clause = Clause {
    id: "one-level",
    title: "One level",
    measures: "\
The riser is made of the leading legs that are steeper than 45 degrees. After it, the height of every work point is \
compared with the height at which the riser ends; the greatest departure, up or down, is held against the tolerance. \
A departure equal to the tolerance passes. A raceway without a riser is held to the height of its start.

**Example.** A raceway that leaves the valve downward 2 ft 10 in and then dips 6 in under a joist departs by 6 in, \
and breaks a tolerance of 1 in.

**Remedy.** Carry the raceway on at the height of the riser's end, or end the riser where the rest can stay level.

**Source.** Common practice, no source. Changes of level cost bends, and a sock bunches where the hose is lifted.",
    bound: Bound::AtMost,
    limit: Limit::Set(Parameter { key: "tolerance", default: None, kind: Kind::Length }),
    quantity: Quantity::Length,
    needs: &[],
    mends: &[Mend::FlatDip],
    waivable: true,
    pictured: Some(Pictured {
        seen: Seen::Raceway,
        right: "\
leaves: up
path: [{run: 6 ft}, {turn: 90 east}, {run: 14 ft}, {turn: 90 north}, {run: 12 ft}]
",
        wrong: "\
leaves: up
path: [{run: 6 ft}, {turn: 90 east}, {run: 12 ft}, {turn: 45 up}, {run: 3 ft}, {turn: 45 east}, {run: 12 ft}]
",
    }),
    check: Check::Inlet(check),
};

fn check(ask: &AskInlet) -> Vec<Outcome> {
    let limit = ask.limit;
    let deviation = ask.raceway.level_deviation_m;
    let (far, allowed) = ask.beside(Kind::Length, deviation);
    if ask.keeps(deviation) {
        let note = format!("level within {far} after the riser; {allowed} allowed");
        return vec![Outcome::met(deviation, limit, note)];
    }
    let spots = strays(ask);
    let leg =
        spots.iter().find_map(|spot| if let Spot::Leg(i) = spot { Some(i + 1) } else { None }).unwrap_or(1);
    let note = format!("off level by {far} after the riser; {allowed} allowed (first on leg {leg})");
    let remedy = format!(
        "bring the raceway back by {} to the height at which the riser ends",
        ask.say.length_up(deviation - limit)
    );
    vec![Outcome::broken(deviation, limit, spots, note, remedy)]
}

/// The legs that end off the level.
fn strays(ask: &AskInlet) -> Vec<Spot> {
    let riser = ask.raceway.riser_legs;
    let level = if riser == 0 { ask.route.start.z } else { ask.route.legs[riser - 1].to.z };
    let off = |leg: &crate::route::Leg| !ask.keeps((leg.to.z - level).abs());
    ask.route
        .legs
        .iter()
        .enumerate()
        .skip(riser)
        .filter(|(_, leg)| off(leg))
        .map(|(i, _)| Spot::Leg(i))
        .collect()
}

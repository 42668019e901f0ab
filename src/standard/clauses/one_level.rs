//! `one-level`: after the riser, the raceway stays in one horizontal plane.
use crate::measure::Kind;
use crate::standard::{Ask, Check, Clause, Measured, Outcome, Parameter, Quantity, Spot};

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
    parameter: Some(Parameter { key: "tolerance", default: None, kind: Kind::Length }),
    quantity: Quantity::Length,
    check: Check::Inlet(check),
};

/// Heights are sums of written lengths and of sines; their rounding is far below this.
const ROUNDING_M: f64 = 1e-7;

fn check(ask: &Ask) -> Vec<Outcome> {
    let Some(limit) = ask.limit else {
        return vec![Outcome::NotChecked("the standard sets no tolerance".into())];
    };
    let deviation = ask.route.level_deviation_m;
    let (far, allowed) = (ask.say.length(deviation), ask.say.length(limit));
    if deviation <= limit + ROUNDING_M {
        let note = format!("after the riser the raceway strays {far} from one level; {allowed} allowed");
        return vec![Measured::met(Some(deviation), Some(limit), note)];
    }
    let spots = strays(ask, limit);
    let leg =
        spots.iter().find_map(|spot| if let Spot::Leg(i) = spot { Some(i + 1) } else { None }).unwrap_or(1);
    let note = format!(
        "after the riser the raceway strays {far} from one level; {allowed} allowed (first on leg {leg})"
    );
    let remedy = format!(
        "bring the raceway back by {} to the height at which the riser ends",
        ask.say.length_up(deviation - limit)
    );
    vec![Measured::broken(Some(deviation), Some(limit), spots, note, remedy)]
}

/// The legs that end off the level.
fn strays(ask: &Ask, limit_m: f64) -> Vec<Spot> {
    let riser = ask.route.riser_legs;
    let level = if riser == 0 { ask.route.start.z } else { ask.route.legs[riser - 1].to.z };
    let off = |leg: &crate::route::Leg| (leg.to.z - level).abs() > limit_m + ROUNDING_M;
    ask.route
        .legs
        .iter()
        .enumerate()
        .skip(riser)
        .filter(|(_, leg)| off(leg))
        .map(|(i, _)| Spot::Leg(i))
        .collect()
}

//! `misclosure`: the line arrives where it should.
use crate::measure::{Bound, Kind};
use crate::standard::{
    AskLine, Check, Clause, Limit, Mend, Need, Outcome, Parameter, Pictured, Quantity, Seen, Spot,
};
use glam::DVec3;

pub static CLAUSE: Clause = Clause {
    id: "misclosure",
    title: "Misclosure",
    measures: "\
Where places are given at both ends of a line (the inlet, and the unit or the trunk that it joins), the line is \
followed from the one and must arrive at the other, as a surveyor closes a traverse. The distance between where it \
arrives and where it should is the misclosure, held against the tolerance; a misclosure equal to it passes. A trunk \
with a place at both ends is closed in the same way. Without places at both ends there is nothing to check. A standard \
may set a second limit, `fails-at`, past which it is no caution any more.

**Example.** A line that arrives 3 in east of the trunk's wye with a tolerance of 1 in: a run was measured wrong, or \
a turn written the wrong way.

**Remedy.** Measure again; the miss is said by compass, so that the run at fault shows.

**Source.** Closing a traverse is the surveyor's check on his own arithmetic; the tolerance is the firm's.",
    bound: Bound::AtMost,
    limit: Limit::Set(Parameter { key: "tolerance", default: None, kind: Kind::Length }),
    quantity: Quantity::Length,
    needs: &[Need::Places],
    mends: &[Mend::ClosingRun],
    waivable: true,
    pictured: Some(Pictured {
        seen: Seen::Above,
        right: beside_a_trunk!("east: 16 ft, north: 6 ft, up: 1 ft", "raceway: {leaves: down, path: [{run: 3 ft}, {turn: 90 west}, {run: 6 ft}]}", "onward: {path: [{run: 1 ft}, {turn: 45 south}, {run: 8 ft 5-13/16 in}], into: {trunk: main, at: 9 ft, with: WYE}}"),
        wrong: beside_a_trunk!("east: 16 ft, north: 6 ft, up: 1 ft", "raceway: {leaves: down, path: [{run: 3 ft}, {turn: 90 west}, {run: 6 ft}]}", "onward: {path: [{run: 1 ft}, {turn: 45 south}, {run: 6 ft}], into: {trunk: main, at: 9 ft, with: WYE}}"),
    }),
    check: Check::Line(check),
};

fn check(ask: &AskLine) -> Vec<Outcome> {
    let Some(closure) = &ask.line.closure else {
        return vec![Outcome::open(
            "the line has a place at one end or none".into(),
            "add `at:` at both ends to check this".into(),
        )];
    };
    let miss = closure.misclosure_m();
    let (far, allowed) = ask.beside(Kind::Length, miss);
    if ask.keeps(miss) {
        let note = format!("meets {}, off by {far}; {allowed} allowed", closure.place);
        return vec![Outcome::met(miss, ask.limit, note)];
    }
    let note = format!("misses {} by {far}; {allowed} allowed", closure.place);
    let remedy = format!(
        "measure the runs again: the line arrives {} of where it should",
        by_compass(ask, closure.miss)
    );
    vec![Outcome::broken(miss, ask.limit, vec![Spot::End], note, remedy)]
}

/// A miss by compass: `3 in east and 1 in too high`.
fn by_compass(ask: &AskLine, miss: DVec3) -> String {
    let seen = ask.say.step_m() / 2.0;
    let part = |value: f64, plus: &str, minus: &str| {
        (value.abs() >= seen)
            .then(|| format!("{} {}", ask.say.length(value.abs()), if value > 0.0 { plus } else { minus }))
    };
    [part(miss.x, "east", "west"), part(miss.y, "north", "south"), part(miss.z, "above", "below")]
        .into_iter()
        .flatten()
        .collect::<Vec<_>>()
        .join(", ")
}

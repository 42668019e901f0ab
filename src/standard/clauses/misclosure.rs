//! `misclosure`: the line arrives where it should.
use crate::figures::way;
use crate::measure::{Bound, Kind};
use crate::route::Closure;
use crate::standard::{AskInlet, Check, Clause, Limit, Mend, Need, Outcome, Parameter, Quantity, Spot};
use glam::DVec3;

pub static CLAUSE: Clause = Clause {
    id: "misclosure",
    title: "Misclosure",
    measures: "\
Where places are given at both ends of a line (the inlet, and the unit or the trunk that it joins), the line is \
followed from the one and must arrive at the other, as a surveyor closes a traverse. The distance between where it \
arrives and where it should is the misclosure, held against the tolerance; a misclosure equal to it passes. A trunk \
with a place at both ends is closed in the same way, and its miss counts for every inlet whose line ends in it. \
Without places at both ends there is nothing to check.

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
    check: Check::Inlet(check),
};

fn check(ask: &AskInlet) -> Vec<Outcome> {
    let limit = ask.limit;
    let through = way(ask.index, ask.lines).unwrap_or_default().into_iter().map(|stretch| stretch.line);
    let closures: Vec<(String, &Closure)> =
        through.filter_map(|line| Some((line.called(), line.closure.as_ref()?))).collect();
    let Some((name, worst)) =
        closures.iter().max_by(|a, b| a.1.misclosure_m().total_cmp(&b.1.misclosure_m()))
    else {
        return vec![Outcome::open(
            "the line has a place at one end or none".into(),
            "add `at:` at both ends to check this".into(),
        )];
    };
    let miss = worst.misclosure_m();
    let (far, allowed) = (ask.say.length(miss), ask.say.length(limit));
    if ask.keeps(miss) {
        let note = format!("{name} arrives within {far} of {}; {allowed} allowed", worst.place);
        return vec![Outcome::met(miss, limit, note)];
    }
    let note = format!("{name} arrives {far} away from {}; {allowed} allowed", worst.place);
    let remedy =
        format!("measure the runs again: {name} arrives {} of where it should", by_compass(ask, worst.miss));
    vec![Outcome::broken(miss, limit, vec![Spot::End], note, remedy)]
}

/// A miss by compass: `3 in east and 1 in too high`.
fn by_compass(ask: &AskInlet, miss: DVec3) -> String {
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

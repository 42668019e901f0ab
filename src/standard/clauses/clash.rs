//! `clash`: no two pipes lie in one place.
use crate::figures::Clash;
use crate::measure::Bound;
use crate::standard::{AskLine, Check, Clause, Limit, Outcome, Pictured, Quantity, Seen, Spot};

pub static CLAUSE: Clause = Clause {
    id: "clash",
    title: "Clash",
    measures: "\
The centerline of every line, round its arcs, is held against that of every other line that has a place in the job, and \
against its own further legs: nowhere may two come nearer, center to center, than half the outside of each, a socket's \
where one stands there. About a junction, and about the unit, where pipes are near by nature, nothing is measured. Pipes \
that just touch pass.

**Example.** A branch that crosses the trunk 1 in above it, where the tube is 2 in thick, runs through it.

**Remedy.** Lay one of the two over or under the other by what is missing.

**Source.** Geometry: no source needed. A socket's wall is taken as thick as the tube's own.",
    bound: Bound::AtLeast,
    limit: Limit::ByCase,
    quantity: Quantity::Length,
    needs: &[],
    mends: &[],
    waivable: false,
    pictured: Some(Pictured {
        seen: Seen::Above,
        right: beside_a_trunk!("east: 10 ft, north: 4 ft, up: 1 ft", "raceway: {leaves: down, path: [{run: 3 ft}, {turn: 90 west}, {run: 10 ft}]}"),
        wrong: beside_a_trunk!("east: 10 ft, north: 4 ft, up: 1 ft", "raceway: {leaves: down, path: [{run: 3 ft}, {turn: 90 south}, {run: 8 ft}]}"),
    }),
    check: Check::Line(check),
};

fn check(ask: &AskLine) -> Vec<Outcome> {
    let here: Vec<Meeting> = ask.clashes.iter().filter_map(|clash| meeting(ask, clash)).collect();
    let Some(worst) = here.iter().max_by(|a, b| a.clash.missing_m().total_cmp(&b.clash.missing_m())) else {
        return vec![Outcome::met(None, ask.catalog.tube.outside_m, "runs into no other pipe".into())];
    };
    let told = |meeting: &Meeting| {
        let apart_m = meeting.clash.apart_m;
        let how = match apart_m < ask.say.step_m() / 2.0 {
            true => "runs straight through".to_owned(),
            false => format!("comes within {} of", ask.say.length(apart_m)),
        };
        format!(
            "at {} it {how} {} at {}; {} required, center to center",
            ask.say.length(meeting.station_m),
            meeting.other,
            ask.say.length(meeting.other_m),
            ask.say.length(meeting.clash.needs_m)
        )
    };
    let note = here.iter().map(told).collect::<Vec<_>>().join("; ");
    let remedy =
        format!("lay one of the two {} farther off there", ask.say.length_up(worst.clash.missing_m()));
    let spots = here.iter().map(|meeting| Spot::Station(meeting.station_m)).collect();
    vec![Outcome::broken(worst.clash.apart_m, worst.clash.needs_m, spots, note, remedy)]
}

/// A clash as seen from one of its lines.
struct Meeting<'a> {
    clash: &'a Clash,
    station_m: f64,
    /// What the other line is called.
    other: String,
    other_m: f64,
}

/// A clash that the line has a part in.
fn meeting<'a>(ask: &AskLine, clash: &'a Clash) -> Option<Meeting<'a>> {
    let ((one, two), (one_m, two_m)) = (clash.lines, clash.stations_m);
    let (station_m, other, other_m) = match ask.index {
        index if index == one => (one_m, two, two_m),
        index if index == two => (two_m, one, one_m),
        _ => return None,
    };
    let other = match ask.lines.lines.get(other) {
        Some(line) if other != ask.index => line.called(),
        _ => "itself".to_owned(),
    };
    Some(Meeting { clash, station_m, other, other_m })
}

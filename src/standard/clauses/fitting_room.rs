//! `fitting-room`: fittings do not collide.
use crate::figures::{Stretch, way};
use crate::measure::Bound;
use crate::route::{End, Tube};
use crate::standard::{AskInlet, Check, Clause, Limit, Mend, Outcome, Quantity, Spot};

pub static CLAUSE: Clause = Clause {
    id: "fitting-room",
    title: "Fitting room",
    measures: "\
The tube of each leg is the leg less the laying lengths of the fittings at its ends. Where that is less than \
nothing the fittings collide. The smallest is held against nought; the clause says how much room is missing. The onward \
path and the trunks on the way to the unit, with their junctions, are held to it too.

**Example.** Two sweeps with a laying length of 8 in, on a leg of 1 ft 2 in: 2 in are missing.

**Remedy.** Lengthen the leg by what is missing, and by the shortest tube that the firm builds in.

**Source.** Arithmetic of the parts: no source needed. Wide sweeps take several times the room of short ells.",
    bound: Bound::AtLeast,
    limit: Limit::Is(0.0),
    quantity: Quantity::Length,
    needs: &[],
    mends: &[Mend::LongerTubes],
    waivable: true,
    check: Check::Inlet(check),
};

fn check(ask: &AskInlet) -> Vec<Outcome> {
    let tubes = &ask.route.tubes;
    let Some(shortest) = tubes.iter().map(|tube| tube.clear_m).min_by(f64::total_cmp) else {
        return vec![Outcome::no_subject("the raceway has no tube")];
    };
    let collide: Vec<&Tube> = tubes.iter().filter(|tube| !ask.keeps(tube.clear_m)).collect();
    let beyond = beyond(ask);
    let Some(tube) = collide.first().copied().or(beyond.first().map(|(_, tube)| *tube)) else {
        let note = format!("every fitting has its room; the shortest tube is {}", ask.say.length(shortest));
        return vec![Outcome::met(shortest, 0.0, note)];
    };
    let mut each: Vec<String> = collide.iter().map(|tube| told(ask, tube, "")).collect();
    each.extend(beyond.iter().map(|(line, tube)| told(ask, tube, &format!(" of {line}"))));
    let line = if collide.is_empty() { format!(" of {}", beyond[0].0) } else { String::new() };
    let remedy = format!(
        "make leg {}{line} {} longer, which leaves the shortest tube of {} between them",
        tube.leg + 1,
        ask.say.length_up(ask.catalog.tube.shortest_m - tube.clear_m),
        ask.say.length(ask.catalog.tube.shortest_m)
    );
    let mut spots: Vec<Spot> = collide.iter().flat_map(|tube| spots(tube)).collect();
    spots.extend((!beyond.is_empty()).then_some(Spot::End));
    let least = beyond.iter().map(|(_, tube)| tube.clear_m).fold(shortest, f64::min);
    vec![Outcome::broken(least, 0.0, spots, each.join("; "), remedy)]
}

/// The tubes without room on the way from the stop to the unit, with the names of their lines.
fn beyond<'a>(ask: &AskInlet<'a>) -> Vec<(String, &'a Tube)> {
    let way = way(ask.job, ask.index, ask.routes);
    let of = |stretch: Stretch<'a>| {
        let ahead = move |tube: &&Tube| {
            let leg = &stretch.route.legs[tube.leg];
            leg.station_m + leg.length_m >= stretch.from_m
        };
        let tubes = stretch.route.tubes.iter().filter(|tube| !ask.keeps(tube.clear_m)).filter(ahead);
        tubes.map(move |tube| (stretch.name.clone(), tube)).collect::<Vec<_>>()
    };
    way.into_iter().flat_map(of).collect()
}

fn told(ask: &AskInlet, tube: &Tube, line: &str) -> String {
    let missing = ask.say.length_up(-tube.clear_m);
    format!("{} and {}{line} collide: {missing} of room is missing", end(tube.from), end(tube.to))
}

fn end(end: End) -> String {
    match end {
        End::Bend(n) => format!("B{n}"),
        End::Valve => "the valve".into(),
        End::Stop => "the stop".into(),
        End::Far => "the far end".into(),
        End::Start => "the open end".into(),
        End::Joining(_) => "a junction".into(),
    }
}

fn spots(tube: &Tube) -> Vec<Spot> {
    let bends = [tube.from, tube.to]
        .into_iter()
        .filter_map(|end| if let End::Bend(n) = end { Some(Spot::Bend(n)) } else { None });
    std::iter::once(Spot::Leg(tube.leg)).chain(bends).collect()
}

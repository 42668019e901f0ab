//! `fitting-room`: fittings do not collide.
use crate::figures::{Stretch, way};
use crate::measure::Bound;
use crate::route::{End, Line, Tube};
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
    let Some(shortest) = ask.route.tubes.iter().map(|tube| tube.clear_m).min_by(f64::total_cmp) else {
        return vec![Outcome::no_subject("the raceway has no tube")];
    };
    let collide = colliding(ask);
    let Some((line, tube)) = collide.first() else {
        let note = format!("every fitting has its room; the shortest tube is {}", ask.say.length(shortest));
        return vec![Outcome::met(shortest, 0.0, note)];
    };
    let each: Vec<String> = collide.iter().map(|(line, tube)| told(ask, line, tube)).collect();
    let remedy = format!(
        "make leg {}{} {} longer, which leaves the shortest tube of {} between them",
        tube.leg + 1,
        of_line(ask, line),
        ask.say.length_up(ask.catalog.tube.shortest_m - tube.clear_m),
        ask.say.length(ask.catalog.tube.shortest_m)
    );
    let at = |(line, tube): &(&Line, &Tube)| if own(ask, line) { spots(tube) } else { vec![Spot::End] };
    let least = collide.iter().map(|(_, tube)| tube.clear_m).fold(shortest, f64::min);
    vec![Outcome::broken(least, 0.0, collide.iter().flat_map(at).collect(), each.join("; "), remedy)]
}

/// The tubes without room on the way from the valve to the unit, with their lines.
fn colliding<'a>(ask: &AskInlet<'a>) -> Vec<(&'a Line, &'a Tube)> {
    let alone = || vec![Stretch { index: ask.index, line: ask.line, from_m: 0.0, by: None }];
    let way = way(ask.index, ask.lines).unwrap_or_else(|_| alone());
    let of = |stretch: Stretch<'a>| {
        let ahead = move |tube: &&Tube| {
            let leg = &stretch.line.legs[tube.leg];
            leg.station_m + leg.length_m >= stretch.from_m
        };
        let tubes = stretch.line.tubes.iter().filter(|tube| !ask.keeps(tube.clear_m)).filter(ahead);
        tubes.map(move |tube| (stretch.line, tube)).collect::<Vec<_>>()
    };
    way.into_iter().flat_map(of).collect()
}

fn own(ask: &AskInlet, line: &Line) -> bool {
    line.owner == ask.line.owner
}

/// ` of trunk main`; nothing for the inlet's own line.
fn of_line(ask: &AskInlet, line: &Line) -> String {
    if own(ask, line) { String::new() } else { format!(" of {}", line.called()) }
}

fn told(ask: &AskInlet, line: &Line, tube: &Tube) -> String {
    let missing = ask.say.length_up(-tube.clear_m);
    let of = of_line(ask, line);
    format!("{} and {}{of} collide: {missing} of room is missing", end(tube.from), end(tube.to))
}

fn end(end: End) -> String {
    match end {
        End::Bend(n) => format!("B{n}"),
        End::Valve => "the valve".into(),
        End::Stop => "the stop".into(),
        End::Unit => "the unit".into(),
        End::Branch | End::Junction(_) => "a junction".into(),
        End::Cap | End::Open => "the open end".into(),
        End::From | End::Onto => "the coupling".into(),
    }
}

fn spots(tube: &Tube) -> Vec<Spot> {
    let bends = [tube.from, tube.to]
        .into_iter()
        .filter_map(|end| if let End::Bend(n) = end { Some(Spot::Bend(n)) } else { None });
    std::iter::once(Spot::Leg(tube.leg)).chain(bends).collect()
}

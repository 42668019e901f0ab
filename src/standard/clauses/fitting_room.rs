//! `fitting-room`: fittings do not collide.
use crate::measure::Bound;
use crate::route::{End, Tube};
use crate::standard::{AskLine, Check, Clause, Limit, Mend, Outcome, Pictured, Quantity, Seen, Spot};

pub static CLAUSE: Clause = Clause {
    id: "fitting-room",
    title: "Fitting room",
    measures: "\
The tube of each leg is the leg less the laying lengths of the fittings at its ends. Where that is less than \
nothing the fittings collide. The smallest may not be less than zero; the clause says how much room is missing. Every line \
is held to it, from valve to junction, and every trunk; a junction set into a bend is a collision too.

**Example.** Two sweeps with a laying length of 8 in, on a leg of 1 ft 2 in: 2 in are missing.

**Remedy.** Lengthen the leg by what is missing, and by the shortest tube that the firm builds in.

**Source.** Arithmetic of the parts: no source needed. Wide sweeps take several times the room of short ells.",
    bound: Bound::AtLeast,
    limit: Limit::Is(0.0),
    quantity: Quantity::Length,
    needs: &[],
    mends: &[Mend::LongerTubes],
    waivable: false,
    pictured: Some(Pictured {
        seen: Seen::Raceway,
        right: "\
leaves: down
path: [{run: 3 ft}, {turn: 90 east}, {run: 3 ft}, {turn: 90 north}, {run: 8 ft}]
",
        wrong: "\
leaves: down
path: [{run: 3 ft}, {turn: 90 east}, {run: 13 in}, {turn: 90 north}, {run: 8 ft}]
",
    }),
    check: Check::Line(check),
};

fn check(ask: &AskLine) -> Vec<Outcome> {
    let tubes = &ask.line.tubes;
    let Some(shortest) = tubes.iter().map(|tube| tube.clear_m).min_by(f64::total_cmp) else {
        return vec![Outcome::no_subject("the line has no tube")];
    };
    let collide: Vec<&Tube> = tubes.iter().filter(|tube| !ask.keeps(tube.clear_m)).collect();
    let Some(tube) = collide.first() else {
        let note = format!("every fitting has its room; the shortest tube is {}", ask.say.length(shortest));
        return vec![Outcome::met(shortest, 0.0, note)];
    };
    let told = |tube: &&Tube| {
        let missing = ask.say.length_up(-tube.clear_m);
        format!("{} and {} run into each other by {missing}", end(tube.from), end(tube.to))
    };
    let note = collide.iter().map(told).collect::<Vec<_>>().join("; ");
    let remedy = format!(
        "make R{} {} longer, which leaves the shortest tube of {} between them",
        tube.leg + 1,
        ask.say.length_up(ask.catalog.tube.shortest_m - tube.clear_m),
        ask.say.length(ask.catalog.tube.shortest_m)
    );
    vec![Outcome::broken(shortest, 0.0, collide.iter().flat_map(|tube| spots(tube)).collect(), note, remedy)]
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

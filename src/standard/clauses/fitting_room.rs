//! `fitting-room`: fittings do not collide.
use crate::route::{End, Tube};
use crate::standard::{Ask, Check, Clause, Measured, Outcome, Quantity, Spot};

pub static CLAUSE: Clause = Clause {
    id: "fitting-room",
    title: "Fitting room",
    measures: "\
The tube of each leg is the leg less the centre-to-stop figures of the fittings at its ends. Where that is less than \
nothing the fittings collide. The smallest is held against nought; the clause says how much room is missing.

**Example.** Two sweeps with a centre-to-stop of 8 in, on a leg of 1 ft 2 in: 2 in are missing.

**Remedy.** Lengthen the leg by what is missing, and by the shortest tube that the firm builds in.

**Source.** Arithmetic of the parts: no source needed. Wide sweeps take several times the room of short ells.",
    parameter: None,
    quantity: Quantity::Length,
    check: Check::Inlet(check),
};

/// Sums of written lengths; a tube of nothing between fittings that just meet passes.
const ROUNDING_M: f64 = 1e-9;

fn check(ask: &Ask) -> Vec<Outcome> {
    let tubes = &ask.route.tubes;
    let Some(shortest) = tubes.iter().map(|tube| tube.clear_m).min_by(f64::total_cmp) else {
        return vec![Outcome::NotChecked("the raceway has no tube".into())];
    };
    let collide: Vec<&Tube> = tubes.iter().filter(|tube| tube.clear_m < -ROUNDING_M).collect();
    if collide.is_empty() {
        let note = format!("every fitting has its room; the shortest tube is {}", ask.say.length(shortest));
        return vec![Measured::met(Some(shortest), Some(0.0), note)];
    }
    let note = collide
        .iter()
        .map(|tube| {
            format!(
                "{} and {} collide: {} of room is missing",
                end(tube.from),
                end(tube.to),
                ask.say.length_up(-tube.clear_m)
            )
        })
        .collect::<Vec<_>>()
        .join("; ");
    let tube = collide[0];
    let remedy = format!(
        "make leg {} {} longer, which leaves the shortest tube of {} between them",
        tube.leg + 1,
        ask.say.length_up(ask.catalog.tube.shortest_m - tube.clear_m),
        ask.say.length(ask.catalog.tube.shortest_m)
    );
    let spots = collide.iter().flat_map(|tube| spots(tube)).collect();
    vec![Measured::broken(Some(shortest), Some(0.0), spots, note, remedy)]
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

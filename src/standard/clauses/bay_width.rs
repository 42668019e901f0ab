//! `bay-width`: box and riser fit between the studs.
use crate::measure::Bound;
use crate::standard::{AskInlet, Check, Clause, Limit, Outcome, Quantity, Spot};

pub static CLAUSE: Clause = Clause {
    id: "bay-width",
    title: "Width of the bay",
    measures: "\
Where the inlet gives the clear width between the studs beside its valve (`bay`), two things are held against it: the \
width of the valve's box, and what the riser spreads sideways in the wall, from the outside of the tube on one side to \
the outside on the other, its sweeps included. The wider of the two decides; a width equal to the bay's passes.

**Example.** A riser that steps 14 in sideways by a pair of 45s takes 16 in with its tube 2 in thick, and the bay \
between studs at 16 in on centres is 14-1/2 in.

**Remedy.** A straight riser, a valve in a wider bay, or a stud headed off by the builder.

**Source.** Geometry; clear widths by PS 20.",
    bound: Bound::AtMost,
    limit: Limit::ByCase,
    quantity: Quantity::Length,
    needs: &[],
    mends: &[],
    waivable: true,
    check: Check::Inlet(check),
};

fn check(ask: &AskInlet) -> Vec<Outcome> {
    let Some(bay_m) = ask.inlet.bay_m else {
        return vec![Outcome::no_subject("the job does not give the bay that the valve stands in")];
    };
    let box_m = ask.inlet.valve.box_m.map_or(0.0, |(wide_m, _)| wide_m);
    let riser_m = spread_m(ask) + ask.catalog.tube.outside_m;
    let (what, wide_m) = if box_m > riser_m { ("the box", box_m) } else { ("the riser", riser_m) };
    let (wide, bay) = (ask.say.length(wide_m), ask.say.length(bay_m));
    if ask.keeps_to(wide_m, bay_m) {
        return vec![Outcome::met(wide_m, bay_m, format!("{what} takes {wide} of a bay of {bay}"))];
    }
    let note = format!("{what} takes {wide}, and the bay is {bay} wide");
    let remedy = format!("find a bay {} wide, or have the builder head one off", ask.say.length_up(wide_m));
    vec![Outcome::broken(wide_m, bay_m, vec![Spot::Station(0.0)], note, remedy)]
}

/// How far the riser's work points lie apart in plan. Its arcs lie within them.
fn spread_m(ask: &AskInlet) -> f64 {
    let riser = ask.line.legs.iter().take(ask.raceway.riser_legs);
    let points: Vec<_> =
        std::iter::once(ask.line.start).chain(riser.map(|leg| leg.to)).map(|p| p.truncate()).collect();
    let pairs = points.iter().flat_map(|a| points.iter().map(move |b| a.distance(*b)));
    pairs.fold(0.0, f64::max)
}

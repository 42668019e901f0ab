//! `bay-width`: box, riser and bends fit between the studs.
use crate::company::Member;
use crate::measure::{Bound, Kind};
use crate::route::{Bend, Crossed, Leg};
use crate::standard::{AskInlet, Check, Clause, Limit, Outcome, Pictured, Quantity, Seen, Spot};
use glam::DVec3;

pub static CLAUSE: Clause = Clause {
    id: "bay-width",
    title: "Width of the bay",
    measures: "\
Where the inlet gives the clear width between the studs beside its valve (`bay`), three things are held against it: the \
width of the valve's box; what the riser spreads sideways in the wall, from the outside of the tube on one side to the \
outside on the other; and every bend in the bay, from mouth to mouth, its sockets and the tube's thickness included. \
The line is in the bay until it goes through the first plate of its riser, or the stud beside the valve; where the job \
names neither, the bend at the riser's end is taken to lie outside. The widest decides; a width equal to the bay's \
passes.

**Example.** A riser that steps 14 in sideways by a pair of 45s takes 16 in with its tube 2 in thick, and the bay \
between studs at 16 in on center is 14-1/2 in. A 7 in sweep from the riser into a stud bay reaches 8 in to its socket bottom, 1-1/8 in more \
to its mouth and 1 in back over the tube: 10-1/8 in.

**Remedy.** A straight riser, a valve in a wider bay, or a stud headed off by the builder.

**Source.** Geometry; clear widths by PS 20.",
    bound: Bound::AtMost,
    limit: Limit::ByCase,
    quantity: Quantity::Length,
    needs: &[],
    mends: &[],
    waivable: true,
    pictured: Some(Pictured {
        seen: Seen::Valve,
        right: in_a_wall!("bay: 14-1/2 in"),
        wrong: in_a_wall!("bay: 5-1/2 in"),
    }),
    check: Check::Inlet(check),
};

fn check(ask: &AskInlet) -> Vec<Outcome> {
    let Some(bay_m) = ask.inlet.bay_m else {
        return vec![Outcome::no_subject("the job does not give the bay that the valve stands in")];
    };
    let Some(widest) = things(ask, bay_m).into_iter().max_by(|a, b| a.wide_m.total_cmp(&b.wide_m)) else {
        return Vec::new();
    };
    let Thing { what, wide_m, spot } = widest;
    let (wide, bay) = ask.beside_of(Kind::Length, wide_m, bay_m);
    if ask.keeps_to(wide_m, bay_m) {
        return vec![Outcome::met(wide_m, bay_m, format!("{what} takes {wide} of a bay of {bay}"))];
    }
    let note = format!("{what} takes {wide}, and the bay is {bay} wide");
    let remedy = format!("find a bay {} wide, or have the builder head one off", ask.say.length_up(wide_m));
    vec![Outcome::broken(wide_m, bay_m, vec![spot], note, remedy)]
}

/// Something that stands in the bay, and how much of its width it takes.
struct Thing {
    what: String,
    wide_m: f64,
    spot: Spot,
}

/// The box, the riser as far as it stays in the wall, and every bend there.
fn things(ask: &AskInlet, bay_m: f64) -> Vec<Thing> {
    let valve = Spot::Station(0.0);
    let boxed =
        ask.inlet.valve.box_m.map(|(wide_m, _)| Thing { what: "the box".into(), wide_m, spot: valve });
    let wide_m = spread_m(ask, leaves_m(ask, bay_m)) + ask.catalog.tube.outside_m;
    let riser = Thing { what: "the riser".into(), wide_m, spot: valve };
    let sweep = |bend: &Bend| Thing {
        what: format!("the bend {} with its sockets", ask.line.bend_mark(bend.n)),
        wide_m: sweep_m(bend, ask.catalog.tube.outside_m),
        spot: Spot::Bend(bend.n),
    };
    boxed.into_iter().chain([riser]).chain(bends(ask, bay_m).map(sweep)).collect()
}

/// Where the line goes out of the bay: through the first plate of its riser, or through a stud on its riser or on
/// the leg after it, no farther along that leg than the bay is wide. `None` where the job names neither.
fn leaves_m(ask: &AskInlet, bay_m: f64) -> Option<f64> {
    let after = ask.raceway.riser_legs;
    let out = |crossed: &&Crossed| match crossed.crossing.member {
        Member::TopPlate | Member::BottomPlate => crossed.leg < after,
        Member::Stud => crossed.leg < after || (crossed.leg == after && crossed.at_m <= bay_m),
        _ => false,
    };
    ask.line.crossings.iter().find(out).map(|crossed| crossed.station_m)
}

/// The bends in the bay: those before the line goes out of it; where the job does not tell where, those between
/// two legs of the riser, for the bend at its foot may lie under the floor.
fn bends<'a>(ask: &'a AskInlet, bay_m: f64) -> impl Iterator<Item = &'a Bend> {
    let (out_m, riser_legs) = (leaves_m(ask, bay_m), ask.raceway.riser_legs);
    ask.line.bends.iter().filter(move |bend| match out_m {
        Some(out_m) => bend.at_centre_m < out_m,
        None => bend.n < riser_legs,
    })
}

/// How far the riser's work points lie apart in plan, as far as it stays in the bay. Its arcs lie within them.
fn spread_m(ask: &AskInlet, out_m: Option<f64>) -> f64 {
    let riser = ask.line.legs.iter().take(ask.raceway.riser_legs);
    let inside = riser.filter(|leg| out_m.is_none_or(|out_m| leg.station_m < out_m));
    let end = |leg: &Leg| match out_m {
        Some(out_m) => leg.from + leg.heading * (out_m - leg.station_m).min(leg.length_m),
        None => leg.to,
    };
    let points: Vec<_> =
        std::iter::once(ask.line.start).chain(inside.map(end)).map(|p| p.truncate()).collect();
    let pairs = points.iter().flat_map(|a| points.iter().map(move |b| a.distance(*b)));
    pairs.fold(0.0, f64::max)
}

/// What a bend takes sideways, from mouth to mouth with its tubes' thickness: in plan, square to the plumb line.
fn sweep_m(bend: &Bend, outside_m: f64) -> f64 {
    let socket_m = bend.fitting.as_ref().and_then(|fitting| fitting.socket_m).unwrap_or(0.0);
    let reach_m = bend.laying_length_m.max(bend.tangent_m) + socket_m;
    let across = ((bend.heading_in + bend.heading_out) * reach_m).truncate();
    let Some(side) = across.try_normalize() else { return outside_m };
    // A tube that runs along the width adds nothing to it at its end, one that stands square to it half its
    // outside.
    let half_m = |heading: DVec3| {
        let along = heading.truncate().dot(side);
        outside_m / 2.0 * (1.0 - along * along).max(0.0).sqrt()
    };
    across.length() + half_m(bend.heading_in) + half_m(bend.heading_out)
}

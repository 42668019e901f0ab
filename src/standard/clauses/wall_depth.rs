//! `wall-depth`: the valve's box or frame fits the depth of its wall.
use crate::measure::{Bound, Kind};
use crate::standard::{AskInlet, Check, Clause, Limit, Outcome, Pictured, Quantity, Seen, Spot};

pub static CLAUSE: Clause = Clause {
    id: "wall-depth",
    title: "Depth of the wall",
    measures: "\
The depth that the valve's box or frame takes, from the catalog, is held against the clear depth of its wall: `wall` of \
the inlet, else the width of the plate that its riser is bored through, for studs are as wide as their plate. A depth \
equal to the wall's passes.

**Example.** A box 4 in deep in a wall of 2x4, which is 3-1/2 in between the two boards.

**Remedy.** A shallower valve, a deeper wall, or the valve moved to one.

**Source.** Arithmetic of the parts; dressed widths by PS 20.",
    bound: Bound::AtMost,
    limit: Limit::ByCase,
    quantity: Quantity::Length,
    needs: &[],
    mends: &[],
    waivable: true,
    pictured: Some(Pictured {
        seen: Seen::Valve,
        right: in_a_wall!("wall: 3-1/2 in"),
        wrong: in_a_wall!("wall: 2-1/2 in"),
    }),
    check: Check::Inlet(check),
};

fn check(ask: &AskInlet) -> Vec<Outcome> {
    let Some(wall_m) = ask.inlet.wall_m.or(ask.line.plate_m()) else {
        return vec![Outcome::open(
            "the job does not say how deep the wall is".into(),
            "fill in `wall:` of this inlet, or the plate that its riser is bored through".into(),
        )];
    };
    let depth_m = ask.inlet.valve.depth_m;
    let (depth, wall) = ask.beside_of(Kind::Length, depth_m, wall_m);
    if ask.keeps_to(depth_m, wall_m) {
        return vec![Outcome::met(depth_m, wall_m, format!("{depth} of valve in {wall} of wall"))];
    }
    let note = format!("the valve takes {depth}, and the wall is {wall} deep");
    let remedy = format!(
        "use a valve no more than {} deep, or fur the wall out by {}",
        ask.say.length_down(wall_m),
        ask.say.length_up(depth_m - wall_m)
    );
    vec![Outcome::broken(depth_m, wall_m, vec![Spot::Station(0.0)], note, remedy)]
}

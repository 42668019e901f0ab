//! `no-dip`: the raceway never rises after falling, nor falls after rising.
use crate::measure::Bound;
use crate::route::SLIGHT_MOVE_M;
use crate::standard::{AskInlet, Check, Clause, Limit, Mend, Outcome, Pictured, Quantity, Seen, Spot};

pub static CLAUSE: Clause = Clause {
    id: "no-dip",
    title: "No dip",
    measures: "\
Followed from the valve, the raceway may go up or go down, but not both: each change from rising to falling, or from \
falling to rising, is a reversal, and there must be none. Moves of less than half an inch from the last high or low \
point do not count.

**Example.** Down in the wall, level, down 6 in under a beam by a pair of 22-1/2s, and up again: one reversal.

**Remedy.** Go round the beam on one level, or move the level of the whole raceway below it.

**Source.** Common practice, no source. A dip under a joist is to be avoided and is sometimes unavoidable: then it \
wants a waiver with a written reason.",
    bound: Bound::AtMost,
    limit: Limit::Is(0.0),
    quantity: Quantity::Count,
    needs: &[],
    mends: &[Mend::FlatDip],
    waivable: true,
    pictured: Some(Pictured {
        seen: Seen::Raceway,
        right: "\
leaves: up
path: [{run: 6 ft}, {turn: 90 east}, {run: 20 ft}]
",
        wrong: "\
leaves: down
path: [{run: 3 ft}, {turn: 90 east}, {run: 9 ft}, {turn: 22.5 down}, {run: 3 ft}, {turn: 22.5 east}, {run: 5 ft}, {turn: 22.5 up}, {run: 3 ft}, {turn: 22.5 east}, {run: 6 ft}]
",
    }),
    check: Check::Inlet(check),
};

fn check(ask: &AskInlet) -> Vec<Outcome> {
    let found = ask.raceway.reversals;
    if ask.keeps(found as f64) {
        let note = "the raceway never rises after falling, nor falls after rising".to_owned();
        return vec![Outcome::met(0.0, 0.0, note)];
    }
    let spots = turning_legs(ask);
    let times = if found == 1 { "once".to_owned() } else { format!("{found} times") };
    let note = format!("the raceway turns {times} from rising to falling or back; never allowed");
    let height = ask.say.length(ask.raceway.level_deviation_m);
    let remedy = format!(
        "go round on one level, or lay the whole raceway at the lowest height of the dip, {height} from the riser's end"
    );
    vec![Outcome::broken(found as f64, 0.0, spots, note, remedy)]
}

/// The legs on which the line turns from rising to falling or back.
fn turning_legs(ask: &AskInlet) -> Vec<Spot> {
    let mut way = 0.0;
    let mut spots = Vec::new();
    for (i, leg) in ask.route.legs.iter().enumerate() {
        let move_m = leg.to.z - leg.from.z;
        if move_m.abs() < SLIGHT_MOVE_M {
            continue;
        }
        if way * move_m < 0.0 {
            spots.push(Spot::Leg(i));
        }
        way = move_m;
    }
    if spots.is_empty() { vec![Spot::Whole] } else { spots }
}

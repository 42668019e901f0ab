//! `bend-total`: the degrees of bend between valve and stop.
use crate::measure::{Bound, Kind};
use crate::standard::{
    AskInlet, Check, Clause, Limit, Mend, Outcome, Parameter, Pictured, Quantity, Seen, Spot,
};

pub static CLAUSE: Clause = Clause {
    id: "bend-total",
    title: "Bend total",
    measures: "\
Every bend between the valve and the stop counts with the angle that it turns the tube by; the sum is held \
against the limit. A sum equal to the limit passes.

**Why a sum, and not a count.** Where the hose is pulled tight, every degree turned adds its share of drag, whichever \
bend it is in, so two bends of 45 degrees cost what one of 90 costs. How much a raceway bears is reckoned by the clause \
on drawing in; this one is the firm's limit by likeness to conduit, and no figure of the program sets it.

**Example.** Four bends of 90 degrees are 360 degrees and pass a limit of 360; one more of 45 makes 405 and breaks it.

**Remedy.** Leave out a bend, or turn by less: a leg laid on the diagonal between two 45s often replaces two 90s.

**Source.** NFPA 70 (National Electrical Code), 358.26 and 352.26, allow at most the equivalent of four quarter \
bends, 360 degrees in all, between pull points of electrical conduit. That raceways for hose follow the same \
figure is common practice.",
    bound: Bound::AtMost,
    limit: Limit::Set(Parameter { key: "limit", default: None, kind: Kind::Angle }),
    quantity: Quantity::Angle,
    needs: &[],
    mends: &[Mend::LesserAngles, Mend::EarlierStop],
    waivable: true,
    pictured: Some(Pictured {
        seen: Seen::Raceway,
        right: "\
leaves: up
path: [{run: 6 ft 6 in}, {turn: 90 east}, {run: 21 ft}, {turn: 45 north}, {run: 19 ft}]
",
        wrong: "\
leaves: up
path: [{run: 6 ft 6 in}, {turn: 90 east}, {run: 9 ft}, {turn: 90 north}, {run: 8 ft}, {turn: 90 east}, {run: 10 ft}, {turn: 90 north}, {run: 8 ft}, {turn: 45 east}, {run: 7 ft}]
",
    }),
    check: Check::Inlet(check),
};

fn check(ask: &AskInlet) -> Vec<Outcome> {
    let limit = ask.limit;
    let total = ask.raceway.bend_total_deg;
    let (told, allowed) = ask.beside(Kind::Angle, total);
    if ask.keeps(total) {
        let count = ask.route.bends.len();
        let bends = if count == 1 { "1 bend".to_owned() } else { format!("{count} bends") };
        let note = format!("{told} in {bends}; {allowed} allowed");
        return vec![Outcome::met(total, limit, note)];
    }
    let over = ask.route.bends.iter().filter(|bend| !ask.keeps(bend.so_far_deg));
    let spots: Vec<Spot> = over.map(|bend| Spot::Bend(bend.n)).collect();
    let first =
        spots.iter().find_map(|spot| if let Spot::Bend(n) = spot { Some(*n) } else { None }).unwrap_or(0);
    let note = format!("{told} of bend; {allowed} allowed, and B{first} goes past it");
    let remedy = format!(
        "take out {} of bend between valve and stop: leave out a bend, or lay a leg on the diagonal between two 45s in place of two 90s",
        ask.say.angle(total - limit)
    );
    vec![Outcome::broken(total, limit, spots, note, remedy)]
}

//! `bend-radius`: every bend of a raceway is a wide sweep.
use crate::measure::{Bound, Kind};
use crate::route::Bend;
use crate::standard::{
    AskInlet, Check, Clause, Limit, Mend, Outcome, Parameter, Pictured, Quantity, Seen, Spot,
};

pub static CLAUSE: Clause = Clause {
    id: "bend-radius",
    title: "Bend radius",
    measures: "\
The centerline radius of every bend between valve and stop is taken from the catalog; the smallest is held against \
the least radius. A radius equal to it passes. A bend without a fitting has no radius and is left to *bend fitting*.

**Example.** A short ell of 2 in radius in a raceway, where the least is 6 in.

**Remedy.** Fit the wide sweep of the same angle, and give it its room.

**Source.** Common practice, no source: the hose must slide through, and a long stiff object that gets past a wide \
turn lodges at the first tight one.",
    bound: Bound::AtLeast,
    limit: Limit::Set(Parameter { key: "least", default: None, kind: Kind::Length }),
    quantity: Quantity::Length,
    needs: &[],
    mends: &[Mend::OwnSweep, Mend::StockedAngle],
    waivable: true,
    pictured: Some(Pictured {
        seen: Seen::Raceway,
        right: "\
leaves: down
path: [{run: 3 ft}, {turn: 90 east}, {run: 4 ft}]
",
        wrong: "\
leaves: down
path: [{run: 3 ft}, {turn: 90 east, with: short-90}, {run: 4 ft}]
",
    }),
    check: Check::Inlet(check),
};

fn check(ask: &AskInlet) -> Vec<Outcome> {
    let least = ask.limit;
    let known: Vec<&Bend> = ask.route.bends.iter().filter(|bend| bend.fitting.is_some()).collect();
    let Some(tightest) = known.iter().map(|bend| bend.radius_m).min_by(f64::total_cmp) else {
        return vec![match ask.route.bends.len() {
            0 => Outcome::met(None, least, "no bends".into()),
            _ => Outcome::open(
                "no bend has a fitting, so that no radius is known".into(),
                "fix the bends that have no fitting first".into(),
            ),
        }];
    };
    let (told, words) = ask.beside(Kind::Length, tightest);
    let tight: Vec<&Bend> = known.into_iter().filter(|bend| !ask.keeps(bend.radius_m)).collect();
    if tight.is_empty() {
        let note = format!("the tightest bend has a radius of {told}; {words} or more required");
        return vec![Outcome::met(tightest, least, note)];
    }
    let each: Vec<String> = tight
        .iter()
        .map(|bend| format!("B{} has a radius of {}", bend.n, ask.beside(Kind::Length, bend.radius_m).0))
        .collect();
    let note = format!("{}; {words} or more required", each.join(", "));
    let remedy = format!("fit a sweep of {words} radius or more at {}", numbers(&tight));
    let spots = tight.iter().map(|bend| Spot::Bend(bend.n)).collect();
    vec![Outcome::broken(tightest, least, spots, note, remedy)]
}

fn numbers(bends: &[&Bend]) -> String {
    bends.iter().map(|bend| format!("B{}", bend.n)).collect::<Vec<_>>().join(", ")
}

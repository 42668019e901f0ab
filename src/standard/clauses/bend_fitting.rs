//! `bend-fitting`: the catalog has a raceway bend of every angle turned.
use crate::company::Purpose;
use crate::measure::Bound;
use crate::route::Bend;
use crate::standard::{AskInlet, Check, Clause, Limit, Mend, Outcome, Pictured, Quantity, Seen, Spot};

pub static CLAUSE: Clause = Clause {
    id: "bend-fitting",
    title: "Bend fitting",
    measures: "\
For every turn the catalog is asked for a bend of that angle made for raceways (`for: raceway` or `either`), unless \
the job names one with `with:`. A turn breaks the clause where there is none, where the fitting named has another \
angle, or where it is made for trunks. The number found is the count of turns without a proper fitting.

**Example.** A turn of 30 degrees, where the firm stocks 90, 45 and 22-1/2.

**Remedy.** Turn by an angle that is stocked, or make the turn of two: 45 is two of 22-1/2.

**Source.** Common practice, no source: wide sweeps of 90, 45 or 22-1/2 degrees; tube is never bent warm on site, \
and a short fitting stops the hose.",
    bound: Bound::AtMost,
    limit: Limit::Is(0.0),
    quantity: Quantity::Count,
    needs: &[],
    mends: &[Mend::OwnSweep, Mend::StockedAngle],
    waivable: true,
    pictured: Some(Pictured {
        seen: Seen::Raceway,
        right: "\
leaves: down
path: [{run: 3 ft}, {turn: 90 east}, {run: 12 ft}, {turn: 45 north}, {run: 10 ft}]
",
        wrong: "\
leaves: down
path: [{run: 3 ft}, {turn: 90 east}, {run: 12 ft}, {turn: 30 north}, {run: 10 ft}]
",
    }),
    check: Check::Inlet(check),
};

/// Angles closer than this are the same.
const SAME_DEG: f64 = 1e-6;

fn check(ask: &AskInlet) -> Vec<Outcome> {
    let wrong: Vec<(&Bend, String)> =
        ask.route.bends.iter().filter_map(|bend| Some((bend, fault(ask, bend)?))).collect();
    if wrong.is_empty() {
        let note = match ask.route.bends.len() {
            0 => "no bends".to_owned(),
            1 => "the one bend has a raceway fitting of its angle".to_owned(),
            n => format!("all {n} bends have a raceway fitting of their angle"),
        };
        return vec![Outcome::met(0.0, 0.0, note)];
    }
    let spots = wrong.iter().map(|(bend, _)| Spot::Bend(bend.n)).collect();
    let note =
        wrong.iter().map(|(bend, fault)| format!("B{} {fault}", bend.n)).collect::<Vec<_>>().join("; ");
    let remedy = remedy(ask, wrong[0].0);
    vec![Outcome::broken(wrong.len() as f64, 0.0, spots, note, remedy)]
}

/// What is wrong with a bend's fitting, if anything.
fn fault(ask: &AskInlet, bend: &Bend) -> Option<String> {
    let angle = ask.say.angle(bend.angle_deg);
    let Some(fitting) = &bend.fitting else {
        return Some(format!("turns {angle}, and the catalog has no raceway bend of that angle"));
    };
    let made_deg = fitting.bend().map(|figures| figures.angle_deg).unwrap_or_default();
    if (made_deg - bend.angle_deg).abs() > SAME_DEG {
        return Some(format!("turns {angle}, and {} is made for {}", fitting.id, ask.say.angle(made_deg)));
    }
    if fitting.purpose == Purpose::Trunk {
        return Some(format!("uses {}, which is made for trunks", fitting.id));
    }
    None
}

fn remedy(ask: &AskInlet, bend: &Bend) -> String {
    let mut stocked: Vec<f64> = ask
        .catalog
        .fittings
        .iter()
        .filter(|fitting| fitting.purpose.suits_raceway())
        .filter_map(|fitting| fitting.bend().map(|figures| figures.angle_deg))
        .collect();
    stocked.sort_by(f64::total_cmp);
    stocked.dedup_by(|a, b| (*a - *b).abs() < SAME_DEG);
    if stocked.iter().any(|angle| (angle - bend.angle_deg).abs() < SAME_DEG) {
        return format!(
            "leave out `with:` at B{}, so that the raceway bend of {} is used",
            bend.n,
            ask.say.angle(bend.angle_deg)
        );
    }
    let angles: Vec<String> = stocked.iter().map(|angle| ask.say.angle(*angle)).collect();
    match angles.as_slice() {
        [] => "list a raceway bend in the catalog".to_owned(),
        [one] => format!("turn B{} by {one}, the only raceway bend in the catalog", bend.n),
        [rest @ .., last] => format!("turn B{} by {} or {last}", bend.n, rest.join(", ")),
    }
}

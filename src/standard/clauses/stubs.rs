//! `stubs`: no tube is coupled for the sake of a few inches.
use crate::measure::{Bound, Kind};
use crate::route::Tube;
use crate::standard::{
    AskLine, Check, Clause, Limit, Mend, Outcome, Parameter, Pictured, Quantity, Seen, Spot,
};
use crate::takeoff::stubs;

pub static CLAUSE: Clause = Clause {
    id: "stubs",
    title: "Stubs",
    measures: "\
Of every tube longer than a stick the rest over its whole sticks is taken, with the gaps of its couplings; the shortest \
rest is held against the least. A rest equal to it passes, and so does a tube that comes to whole sticks.

**Example.** A tube of 8 ft 3 in from sticks of 8 ft: a coupling, two joints and 3 in of tube, which a leg made 3 in \
shorter would save.

**Remedy.** Shorten the leg by the rest, and take it up on a parallel leg.

**Source.** Common practice, no source: every joint is a place where a hose may catch and air may leak.",
    bound: Bound::AtLeast,
    limit: Limit::Set(Parameter { key: "least", default: Some(0.1524), kind: Kind::Length }),
    quantity: Quantity::Length,
    needs: &[],
    mends: &[Mend::NoStub],
    waivable: true,
    pictured: Some(Pictured {
        seen: Seen::Raceway,
        right: "\
leaves: down
path: [{run: 3 ft}, {turn: 90 east}, {run: 10 ft}]
",
        wrong: "\
leaves: down
path: [{run: 3 ft}, {turn: 90 east}, {run: 8 ft 11 in}]
",
    }),
    check: Check::Line(check),
};

fn check(ask: &AskLine) -> Vec<Outcome> {
    let rests = stubs(ask.line, ask.line_cuts(), ask.catalog.tube.stick_m, f64::INFINITY);
    let Some(least) = rests.iter().map(|rest| rest.over_m).min_by(f64::total_cmp) else {
        return vec![Outcome::met(None, ask.limit, "no tube goes beyond whole sticks".into())];
    };
    let short: Vec<(&Tube, f64)> = rests
        .iter()
        .filter(|rest| !ask.keeps(rest.over_m))
        .filter_map(|rest| Some((ask.line.tubes.get(rest.tube)?, rest.over_m)))
        .collect();
    let (over, wanted) = ask.beside(Kind::Length, least);
    let Some((tube, over_m)) = short.first() else {
        let note = format!("the shortest piece over whole sticks is {over}; {wanted} or more required");
        return vec![Outcome::met(least, ask.limit, note)];
    };
    let told = |(tube, over_m): &(&Tube, f64)| {
        format!("{} is {} over whole sticks", tube.mark, ask.beside(Kind::Length, *over_m).0)
    };
    let note =
        format!("{}; {wanted} or more required", short.iter().map(told).collect::<Vec<_>>().join(", "));
    let remedy =
        format!("make R{} {} shorter, which saves a coupling", tube.leg + 1, ask.say.length_up(*over_m));
    let spots = short.iter().map(|(tube, _)| Spot::Leg(tube.leg)).collect();
    vec![Outcome::broken(least, ask.limit, spots, note, remedy)]
}

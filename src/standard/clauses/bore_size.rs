//! `bore-size`: every hole takes the tube.
use crate::measure::{Bound, Kind};
use crate::route::Crossed;
use crate::standard::{AskLine, Check, Clause, Limit, Mend, Outcome, Pictured, Quantity, Seen, Spot};

pub static CLAUSE: Clause = Clause {
    id: "bore-size",
    title: "Bore size",
    measures: "\
Every hole that the job gives is held against the outside diameter of the tube and the clearance that the firm bores \
over it (`clearance` of the tube in the catalog, nothing where it is silent). The smallest decides; a hole equal to that \
passes.

**Example.** A hole of 1-7/8 in for a tube 2 in outside.

**Remedy.** Bore as large as the tube and its clearance, where the code lets the member be bored so wide.

**Source.** Arithmetic of the parts: no source needed.",
    bound: Bound::AtLeast,
    limit: Limit::ByCase,
    quantity: Quantity::Length,
    needs: &[],
    mends: &[Mend::BetterBore],
    waivable: false,
    pictured: Some(Pictured {
        seen: Seen::Raceway,
        right: "\
leaves: down
path:
  - run: 3 ft
  - turn: 90 east
  - run: 7 ft
    crosses: [{at: 4 ft, member: joist, size: 2x10, hole: 2-1/8 in}]
",
        wrong: "\
leaves: down
path:
  - run: 3 ft
  - turn: 90 east
  - run: 7 ft
    crosses: [{at: 4 ft, member: joist, size: 2x10, hole: 1-7/8 in}]
",
    }),
    check: Check::Line(check),
};

fn check(ask: &AskLine) -> Vec<Outcome> {
    let tube = &ask.catalog.tube;
    let need_m = tube.outside_m + tube.clearance_m.unwrap_or(0.0);
    let given = |crossed: &'_ Crossed| crossed.crossing.hole_m;
    let Some(least) = ask.line.crossings.iter().filter_map(given).min_by(f64::total_cmp) else {
        return vec![Outcome::no_subject("the job gives no hole")];
    };
    let small = |crossed: &&Crossed| given(crossed).is_some_and(|hole_m| !ask.keeps_to(hole_m, need_m));
    let small: Vec<&Crossed> = ask.line.crossings.iter().filter(small).collect();
    let (hole, need) = ask.beside_of(Kind::Length, least, need_m);
    if small.is_empty() {
        let note = format!("the smallest hole is {hole}; {need} or more required");
        return vec![Outcome::met(least, need_m, note)];
    }
    let marks: Vec<&str> = small.iter().map(|crossed| crossed.mark.as_str()).collect();
    let note =
        format!("{}: the hole is {hole}, and the tube with its clearance takes {need}", marks.join(", "));
    let spots = small.iter().map(|crossed| Spot::Station(crossed.station_m)).collect();
    let remedy = format!("bore {} there", ask.say.length_up(need_m));
    vec![Outcome::broken(least, need_m, spots, note, remedy)]
}

//! `wye-junctions`: lines join by wyes, not by tight tees.
use crate::figures::way;
use crate::measure::Bound;
use crate::standard::{AskInlet, Check, Clause, Limit, Mend, Need, Outcome, Quantity, Spot};

pub static CLAUSE: Clause = Clause {
    id: "wye-junctions",
    title: "Wye junctions",
    measures: "\
Every junction on the way from the stop to the unit is taken with its branch angle from the catalog; the count of \
those sharper than 45 degrees must be nought.

**Example.** A branch that joins the trunk by a tee of 90 degrees.

**Remedy.** A wye with a 45 on its branch; it needs the room of the 45 more.

**Source.** Common practice, no source: what gets through the raceway's wide turns lodges in a tight tee.",
    bound: Bound::AtMost,
    limit: Limit::Is(0.0),
    quantity: Quantity::Count,
    needs: &[Need::WayToUnit],
    mends: &[Mend::GentlerJunction],
    waivable: false,
    check: Check::Inlet(check),
};

/// The branch of a wye; a sharper one is a tee.
const WYE_DEG: f64 = 45.0;

fn check(ask: &AskInlet) -> Vec<Outcome> {
    let way = match way(ask.index, ask.lines) {
        Ok(way) => way,
        Err(why) => return vec![Outcome::unreckoned(&why)],
    };
    let junctions: Vec<_> = way.iter().filter_map(|stretch| Some((stretch, stretch.by?))).collect();
    let tight: Vec<String> = junctions
        .iter()
        .filter(|(_, fitting)| {
            fitting.junction().is_some_and(|branch| !ask.bound.keeps(branch.branch_deg, WYE_DEG))
        })
        .map(|(stretch, fitting)| format!("{} into {}", fitting.name, stretch.line.called()))
        .collect();
    if tight.is_empty() {
        let note = match junctions.len() {
            0 => "the line runs straight into the unit".to_owned(),
            1 => "the one junction is a wye".to_owned(),
            n => format!("all {n} junctions are wyes"),
        };
        return vec![Outcome::met(0.0, 0.0, note)];
    }
    let note = format!("{}: sharper than a wye", tight.join(", "));
    let remedy = "join by a wye with a 45 on its branch".to_owned();
    vec![Outcome::broken(tight.len() as f64, 0.0, vec![Spot::End], note, remedy)]
}

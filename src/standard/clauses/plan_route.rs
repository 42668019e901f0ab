//! `plan-route`: a line keeps to the house plan and to what its level lets pass.
use crate::company::FloorPlan;
use crate::figures::{legs_on_level, met_m, unlisted_m};
use crate::measure::{Bound, INCH_M};
use crate::plan::{Hang, Joists, Sheet, footprint, inside_m, outside_m};
use crate::route::Leg;
use crate::standard::{AskLine, Check, Clause, Limit, Outcome, Quantity, Spot};

pub static CLAUSE: Clause = Clause {
    id: "plan-route",
    title: "Route on the plan",
    measures: "\
Where a job has a house plan with a raceway level, every level leg of a line that lies within 6 in of that level is \
followed over the plan. It keeps inside the house, its outer walls included; it runs through no place marked no-go; \
and where it meets a joist, a crossing is listed within 3 in of the joist's middle, unless the plan lets nothing be \
bored, which breaks the clause in any case. What is measured is the length that lies outside or in a no-go place, or \
the number of joists without a crossing, each with a finding of its own; nothing is the limit. A job without a plan, \
or a line without a place, has nothing to check.

**Example.** A leg of 12 ft north through a duct marked 16 in wide lies 1 ft 6 in in it, the tube's own width counted.

**Remedy.** Move the leg; list the joist's crossing as the plan has it.

**Source.** The plan is the firm's own drawing of the house; common practice, no published source.",
    bound: Bound::AtMost,
    limit: Limit::Is(0.0),
    quantity: Quantity::Length,
    needs: &[],
    mends: &[],
    waivable: true,
    pictured: None,
    check: Check::Line(check),
};

/// Half an inch outside is a matter of the tape.
const TAPE_M: f64 = 0.5 * INCH_M;
/// No more joists of one leg are named.
const MOST: usize = 3;

fn check(ask: &AskLine) -> Vec<Outcome> {
    let Some((plan, level)) = ask.job.plan.as_deref().and_then(|p| Some((p, p.plan.level.as_ref()?))) else {
        return vec![Outcome::no_subject("the job has no house plan with a raceway level")];
    };
    if ask.line.anchor == crate::route::Anchor::None {
        return vec![Outcome::no_subject("the line has no place on the plan")];
    }
    let house = Sheet::new(footprint(&plan.plan, &plan.placed, floor_of(plan, level.up_m)), &[]);
    let mut found = Vec::new();
    let mut followed = 0;
    for (number, leg) in legs_on_level(ask.line, level.up_m) {
        followed += 1;
        let (a, b) = (leg.from.truncate(), leg.to.truncate());
        let out_m = outside_m(&house, a, b);
        if out_m > TAPE_M {
            let note = format!("leg {} lies {} outside the plan", number + 1, ask.say.length(out_m));
            found.push(broken(out_m, leg, note, "move the leg inside the house, or mend the plan".into()));
        }
        for no_go in &level.no_go {
            let in_m = inside_m(&no_go.place, ask.catalog.tube.outside_m / 2.0, a, b);
            if in_m > TAPE_M {
                let note =
                    format!("leg {} runs {} through the {}", number + 1, ask.say.length(in_m), no_go.what);
                let remedy = format!("lead the leg round the {}", no_go.what);
                found.push(broken(in_m, leg, note, remedy));
            }
        }
        if let Hang::Between(joists) = &level.hang {
            found.extend(unlisted(ask, number, leg, joists));
        }
    }
    if found.is_empty() {
        if followed == 0 {
            return vec![Outcome::no_subject("the line has no leg on the plan's level")];
        }
        return vec![Outcome::met(0.0, 0.0, "keeps to the plan".into())];
    }
    found
}

fn broken(measured_m: f64, leg: &Leg, note: String, remedy: String) -> Outcome {
    Outcome::broken(measured_m, 0.0, vec![Spot::Station(leg.station_m + leg.length_m / 2.0)], note, remedy)
}

/// Joists that a leg meets without a listed crossing; all that it meets, where none may be bored.
fn unlisted(ask: &AskLine, number: usize, leg: &Leg, joists: &Joists) -> Vec<Outcome> {
    let one = |at_m: &f64| {
        let at = ask.say.length(*at_m);
        let (note, remedy) = if joists.bore {
            let size = &joists.size;
            (
                format!("leg {} meets a joist at {at}, and no crossing is listed there", number + 1),
                format!("list it, with its hole: {{at: {at}, member: joist, size: {size}, hole: …}}"),
            )
        } else {
            (
                format!("leg {} meets a joist at {at}, and the plan lets none be bored", number + 1),
                "run the leg along the joists, or below them".into(),
            )
        };
        Outcome::broken(joists.thick_m, 0.0, vec![Spot::Station(leg.station_m + at_m)], note, remedy)
    };
    let missing = if joists.bore { unlisted_m(joists, ask.line, number, leg) } else { met_m(joists, leg) };
    missing.iter().take(MOST).map(one).collect()
}

/// The floor nearest to the level in height.
fn floor_of(plan: &FloorPlan, up_m: f64) -> usize {
    let off = |m: &f64| (m - up_m).abs();
    let floors = plan.placed.floors_m.iter().enumerate();
    floors.min_by(|a, b| off(a.1).total_cmp(&off(b.1))).map_or(0, |(floor, _)| floor)
}

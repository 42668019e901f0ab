//! `air-velocity`: the air is fast enough to carry the dust to the unit.
use crate::measure::{Bound, Kind};
use crate::standard::{AskInlet, Check, Clause, Limit, Mend, Need, Outcome, Parameter, Quantity, Spot};

pub static CLAUSE: Clause = Clause {
    id: "air-velocity",
    title: "Air velocity",
    measures: "\
The flow is solved from the hose's nozzle through hose, raceway, stop, onward path and trunks against the unit's \
curve, the hose fully out and the other valves leaking. The slowest air in any tube is held against the least; a \
velocity equal to it passes.

**Method.** Darcy-Weisbach with Colebrook's friction, tubes by the isothermal equation (the air thins on its way), \
bends by Rennels, junctions by the branch entry table of industrial ventilation.

**Example.** In tube of 1.87 in bore, 3000 ft/min are 57 cfm.

**Remedy.** A shorter or wider hose, wyes in place of tees, a stronger unit, valves that seal.

**Source.** Transport velocities of the industrial ventilation manual: very fine light dust 2500 to 3000 ft/min, dry \
dusts and powders 3000 to 4000.",
    bound: Bound::AtLeast,
    limit: Limit::Set(Parameter { key: "least", default: None, kind: Kind::Speed }),
    quantity: Quantity::Speed,
    needs: &[Need::WayToUnit, Need::HoseAirFriction],
    mends: &[Mend::OtherHose, Mend::GentlerJunction],
    waivable: true,
    check: Check::Inlet(check),
};

fn check(ask: &AskInlet) -> Vec<Outcome> {
    let least = ask.limit;
    let air = match &ask.figures.air {
        Ok(air) => air,
        Err(why) => return vec![Outcome::unreckoned(why)],
    };
    let Some(slowest) = air.slowest_tube_m_s() else {
        return vec![Outcome::no_subject("the line has no tube")];
    };
    let note = format!(
        "{} in the slowest tube ({} through the hose); {} or more required",
        ask.say.speed(slowest),
        ask.say.flow(air.hose_out.flow_m3_s),
        ask.say.speed(least)
    );
    if ask.keeps(slowest) {
        return vec![Outcome::met(slowest, least, note)];
    }
    let remedy = "use a shorter hose, wyes in place of tees, or a unit with more suction".to_owned();
    vec![Outcome::broken(slowest, least, vec![Spot::Whole], note, remedy)]
}

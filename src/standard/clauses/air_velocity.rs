//! `air-velocity`: the air is fast enough to carry the dust to the unit.
use crate::measure::{Bound, Kind};
use crate::reckon::air::dust::left_behind;
use crate::standard::{
    AskFigures, AskKept, Check, Clause, Limit, Mend, Need, Outcome, Parameter, Quantity, Spot,
};

pub static CLAUSE: Clause = Clause {
    id: "air-velocity",
    title: "Air velocity",
    measures: "\
The flow is solved from the hose's nozzle through hose, raceway, stop, onward path and trunks against the unit's \
curve, the hose fully out and the other valves leaking. The slowest air in any tube is held against the least; a \
velocity equal to it passes.

**Method.** Darcy-Weisbach with Colebrook's friction, tubes by the isothermal equation (the air thins on its way), \
bends by Rennels, junctions by the branch entry table of industrial ventilation.

**Which dust stays behind.** The finding says it, by the bands of industrial ventilation: very fine, light dust wants \
2,500 ft/min, dry dust and powder 3,000, average dust 3,500, heavy grit such as sand 4,000. Meeting a low limit says \
nothing of the bands above it.

**Example.** In tube of 1.87 in bore, 2,500 ft/min are 48 cfm, 3,000 are 57, 3,500 are 67 and 4,000 are 76.

**Remedy.** A shorter or wider hose, wyes in place of tees, a stronger unit, valves that seal.

**Source.** ACGIH, Industrial Ventilation, 2009, transport velocities, as quoted in handbooks. They are for the ducts of \
works; that they serve for tube of 2 in is common practice.",
    bound: Bound::AtLeast,
    limit: Limit::Set(Parameter { key: "least", default: None, kind: Kind::Speed }),
    quantity: Quantity::Speed,
    needs: &[Need::WayToUnit, Need::HoseAirFriction],
    mends: &[Mend::OtherHose, Mend::GentlerJunction],
    waivable: true,
    pictured: None,
    check: Check::Figures(check, kept),
};

/// The slowest air is surely fast enough.
fn kept(ask: &AskKept) -> Option<bool> {
    let kept = ask.change.is_no_longer()
        || ask.change.slowest_tube_m_s().is_some_and(|least| ask.bound.keeps(least, ask.limit));
    kept.then_some(true)
}

fn check(ask: &AskFigures) -> Vec<Outcome> {
    let least = ask.limit;
    let air = match &ask.figures.air {
        Ok(air) => air,
        Err(why) => return vec![Outcome::unreckoned(&why.words(&ask.say))],
    };
    let Some(slowest) = air.slowest_tube_m_s() else {
        return vec![Outcome::no_subject("the line has no tube")];
    };
    let (speed, required) = ask.beside(Kind::Speed, slowest);
    let note = format!(
        "{speed} in the slowest tube ({} through the hose); {required} or more required; {}",
        ask.say.flow(air.hose_out.flow_m3_s),
        stays(slowest)
    );
    if ask.keeps(slowest) {
        return vec![Outcome::met(slowest, least, note)];
    }
    let remedy = "use a shorter hose, wyes in place of tees, or a unit with more suction".to_owned();
    vec![Outcome::broken(slowest, least, vec![Spot::Whole], note, remedy)]
}

/// Which dust stays behind at a speed.
fn stays(v_m_s: f64) -> String {
    match left_behind(v_m_s) {
        [] => "every dust is carried along, heavy grit too".into(),
        [only] => format!("{} stays behind", only.words),
        [lightest, ..] => format!("{} and whatever is heavier stay behind", lightest.words),
    }
}

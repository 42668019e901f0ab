//! `suction-at-valve`: enough suction is left at the valve while air flows.
use crate::measure::{Bound, Kind};
use crate::standard::{
    AskFigures, AskKept, Check, Clause, Limit, Mend, Need, Outcome, Parameter, Quantity, Spot,
};

pub static CLAUSE: Clause = Clause {
    id: "suction-at-valve",
    title: "Suction at the valve",
    measures: "\
The same solved flow as for *air velocity*: the suction (total pressure below the room's) where the hose ends and the \
raceway's tube begins, hose fully out, air flowing. It is held against the least; a suction equal to it passes. The \
sealed suction, with the hose's end covered, is printed beside the blank for its reading.

**Example.** With 130 inH2O sealed and a 40 ft hose, most of the loss is in the hose, and 60 to 70 inH2O stand at \
the valve.

**Remedy.** A shorter way to the unit, wyes in place of tees, valves that seal, a stronger unit.

**Source.** The firm's own limit; the reckoning as for *air velocity*.",
    bound: Bound::AtLeast,
    limit: Limit::Set(Parameter { key: "least", default: None, kind: Kind::Pressure }),
    quantity: Quantity::Pressure,
    needs: &[Need::WayToUnit, Need::HoseAirFriction],
    mends: &[Mend::OtherHose, Mend::GentlerJunction],
    waivable: true,
    pictured: None,
    check: Check::Figures(check, kept),
};

/// There is surely as much as required.
fn kept(ask: &AskKept) -> Option<bool> {
    let kept = ask.change.is_no_longer()
        || ask.change.suction_at_valve_pa().is_some_and(|least| ask.bound.keeps(least, ask.limit));
    kept.then_some(true)
}

fn check(ask: &AskFigures) -> Vec<Outcome> {
    let least = ask.limit;
    let air = match &ask.figures.air {
        Ok(air) => &air.hose_out,
        Err(why) => return vec![Outcome::unreckoned(&why.words(&ask.say))],
    };
    let has = air.suction_at_valve_pa;
    let (suction, required) = ask.beside(Kind::Pressure, has);
    let note = format!(
        "{suction} at the valve with air flowing ({} at the unit); {required} or more required",
        ask.say.pressure(air.suction_at_unit_pa)
    );
    if ask.keeps(has) {
        return vec![Outcome::met(has, least, note)];
    }
    let remedy =
        "shorten the way to the unit, join by wyes in place of tees, or fit a unit with more suction"
            .to_owned();
    vec![Outcome::broken(has, least, vec![Spot::Whole], note, remedy)]
}

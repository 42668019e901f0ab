//! `circuit`: the unit's branch circuit carries it.
use crate::measure::{Bound, Kind};
use crate::standard::{Ask, Check, Clause, Limit, Need, Outcome, Parameter, Quantity, Spot};

pub static CLAUSE: Clause = Clause {
    id: "circuit",
    title: "Circuit",
    measures: "\
The amperes on the unit's nameplate over the rating of its breaker, both from the catalog, are held against the limit; \
a share equal to it passes. It is a check of figures, not of wiring: the circuit is the work of a licensed electrician.

**Example.** 14 A on a 20 A circuit are 70 %. Cord and plug may take 80 % (16 A); a unit fastened in place on a circuit \
that feeds others may take 50 % (10 A).

**Remedy.** A circuit of its own with the next breaker and its wire, by a licensed electrician.

**Source.** NFPA 70, 210.23(A)(1) and (2) (numbered otherwise since 2023). The local code decides.",
    bound: Bound::AtMost,
    limit: Limit::Set(Parameter { key: "limit", default: None, kind: Kind::Ratio }),
    quantity: Quantity::Ratio,
    needs: &[Need::UnitAmps],
    mends: &[],
    waivable: false,
    check: Check::Job(check),
};

fn check(ask: &Ask) -> Vec<Outcome> {
    let limit = ask.limit;
    let unit = &ask.job.unit.model;
    let (Some(amps), Some(breaker)) = (unit.amps, unit.breaker_amps) else {
        return Vec::new();
    };
    let share = amps / breaker;
    let note = format!(
        "unit {} draws {amps} A on a {breaker} A breaker, {:.0} %; {:.0} % allowed; a licensed electrician connects it",
        unit.name,
        share * 100.0,
        limit * 100.0
    );
    if ask.keeps(share) {
        return vec![Outcome::met(share, limit, note)];
    }
    let remedy = format!(
        "have a licensed electrician lay a circuit of its own, of {:.0} A or more",
        (amps / limit / 5.0).ceil() * 5.0
    );
    vec![Outcome::broken(share, limit, vec![Spot::Whole], note, remedy)]
}

//! `circuit`: the unit's branch circuit carries it.
use crate::measure::{Bound, Kind};
use crate::standard::{Ask, Check, Clause, Limit, Need, Outcome, Parameter, Quantity, Spot};

pub static CLAUSE: Clause = Clause {
    id: "circuit",
    title: "Circuit",
    measures: "\
The amperes on the unit's nameplate over the rating of its breaker, both from the catalog, are held against the least \
of the firm's limit and the code's share; a share equal to it passes. The code's share depends on the circuit, which \
the job tells by `own-circuit`: the whole rating where the circuit feeds the unit alone; 50 % where it also feeds others \
and the unit is fastened in place, on cord and plug or not; 80 % where it also feeds others and the unit is on cord and \
plug and not fastened (`fastened: no` in the catalog). It is a check of figures, not of wiring: the circuit is the work \
of a licensed electrician.

**Example.** 14 A on a 20 A circuit of its own are 70 %. On a 20 A circuit that also feeds others a unit on its bracket \
may take 10 A, and one that stands loose 16 A.

**Remedy.** A circuit of its own with the next breaker and its wire, by a licensed electrician.

**Source.** NFPA 70, 210.23(A)(1) and 210.23(A)(2), numbered 210.23(B) since 2023; 422.15 is the section for central vacuum \
outlet assemblies; breaker ratings by 240.6(A) (from memory). The local code decides.",
    bound: Bound::AtMost,
    limit: Limit::Set(Parameter { key: "limit", default: None, kind: Kind::Ratio }),
    quantity: Quantity::Ratio,
    needs: &[Need::UnitAmps, Need::OwnCircuit],
    mends: &[],
    waivable: false,
    pictured: None,
    check: Check::Job(check),
};

fn check(ask: &Ask) -> Vec<Outcome> {
    let unit = &ask.job.unit.model;
    let (Some(amps), Some(breaker), Some(own)) = (unit.amps, unit.breaker_amps, ask.job.unit.own_circuit)
    else {
        return Vec::new();
    };
    let share = amps / breaker;
    let limit = ask.limit.min(code_share(own, unit.fastened));
    let circuit = if own { "on a circuit of its own" } else { "on a circuit that also feeds others" };
    let note = format!(
        "the unit ({}) draws {amps} A on a {breaker} A breaker, {circuit}: {:.0} %; {:.0} % allowed; a licensed electrician connects it",
        unit.name,
        share * 100.0,
        limit * 100.0
    );
    if ask.keeps_to(share, limit) {
        return vec![Outcome::met(share, limit, note)];
    }
    let remedy = match own_breaker(ask, amps) {
        Some(rating) => {
            format!("have a licensed electrician run a circuit of its own, on a {rating:.0} A breaker")
        }
        None => "have a licensed electrician lay out a circuit of its own".to_owned(),
    };
    vec![Outcome::broken(share, limit, vec![Spot::Whole], note, remedy)]
}

/// The share of its rating that a branch circuit may give to the unit.
fn code_share(own: bool, fastened: bool) -> f64 {
    match (own, fastened) {
        (true, _) => 1.0,
        (false, true) => 0.5,
        (false, false) => 0.8,
    }
}

/// The least common breaker that would carry the unit on a circuit of its own within the firm's limit.
fn own_breaker(ask: &Ask, amps: f64) -> Option<f64> {
    const RATINGS_A: [f64; 8] = [15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0];
    RATINGS_A.into_iter().find(|rating| ask.keeps_to(amps / rating, ask.limit.min(code_share(true, true))))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn published_shares_of_a_branch_circuit() {
        // NFPA 70, 210.23(A): 15 A gives 12 A loose, 7.5 A fastened; 20 A gives 16 and 10.
        for (rating, loose, fastened) in [(15.0, 12.0, 7.5), (20.0, 16.0, 10.0)] {
            assert_eq!(code_share(false, false) * rating, loose);
            assert_eq!(code_share(false, true) * rating, fastened);
            assert_eq!(code_share(true, true) * rating, rating);
        }
    }

    #[test]
    fn published_question_of_a_13_a_unit_on_a_shared_20_a_circuit() {
        // A trade journal's answer: not allowed, for 13 A is more than half of 20 A.
        assert!(!Bound::AtMost.keeps(13.0 / 20.0, code_share(false, true)));
    }
}

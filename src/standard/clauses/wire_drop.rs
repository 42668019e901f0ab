//! `wire-drop`: the control wire delivers its voltage.
use crate::measure::{Bound, Kind};
use crate::standard::{AskFigures, AskKept, Check, Clause, Limit, Need, Outcome, Parameter, Quantity, Spot};

pub static CLAUSE: Clause = Clause {
    id: "wire-drop",
    title: "Wire drop",
    measures: "\
The control wire is taken along raceway, onward path and trunk to the unit, a tenth more than the pipe and half a \
meter at each end; its resistance is that of NFPA 70, chapter 9, table 8 at 75 °C, or reckoned from the gauge where \
the table is silent. `2 L r I` over the supply's voltage is held against the limit; a share equal to it passes.

**Example.** Printed worked case: 100 ft of No. 16 stranded at 4 A drop 4.0 V, a sixth of 24 V.

**Remedy.** The next thicker gauge, which halves the drop in three steps.

**Source.** NFPA 70, chapter 9, table 8. A Class 2 source (listed and marked, at most 30 V and 100 VA) keeps its \
wires out of raceways with power conductors and 2 in away from them.",
    bound: Bound::AtMost,
    limit: Limit::Set(Parameter { key: "limit", default: None, kind: Kind::Ratio }),
    quantity: Quantity::Ratio,
    needs: &[Need::ControlWire, Need::WayToUnit],
    mends: &[],
    waivable: false,
    pictured: None,
    check: Check::Figures(check, kept),
};

/// The wire is as long as the pipe and its slack.
fn kept(ask: &AskKept) -> Option<bool> {
    ask.change.wire_drop_share().filter(|share| ask.bound.keeps(*share, ask.limit)).map(|_| true)
}

fn check(ask: &AskFigures) -> Vec<Outcome> {
    let limit = ask.limit;
    let wire = match &ask.figures.wire {
        Ok(wire) => wire,
        Err(why) => return vec![Outcome::unreckoned(&why.words(&ask.say))],
    };
    let (share, allowed) = ask.beside(Kind::Ratio, wire.drop_share);
    let note = format!(
        "{} of wire drop {:.2} V, {share} of the supply; {allowed} allowed",
        ask.say.length(wire.length_m),
        wire.drop_v
    );
    if ask.keeps(wire.drop_share) {
        return vec![Outcome::met(wire.drop_share, limit, note)];
    }
    let gauge = ask.catalog.wire.as_ref().map_or(18, |wire| wire.gauge_awg);
    // Three gauge numbers halve the resistance, near enough to say which gauge to ask for.
    let steps = (3.0 * (wire.drop_share / limit).log2()).ceil().max(1.0) as i32;
    let remedy = format!("use {} AWG or thicker in place of {gauge} AWG", even_gauge(gauge - steps));
    vec![Outcome::broken(wire.drop_share, limit, vec![Spot::Whole], note, remedy)]
}

/// Wire is sold in even gauges.
fn even_gauge(gauge: i32) -> i32 {
    gauge - gauge.rem_euclid(2)
}

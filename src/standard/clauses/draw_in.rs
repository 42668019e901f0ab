//! `draw-in`: suction draws the hose in with something to spare.
use crate::measure::{Bound, Kind};
use crate::standard::{AskInlet, Check, Clause, Limit, Mend, Need, Outcome, Parameter, Quantity, Spot};

pub static CLAUSE: Clause = Clause {
    id: "draw-in",
    title: "Draw-in",
    measures: "\
The force needed to draw the hose in is reckoned along the raceway's own straights and arcs, from the valve to where \
the hose's tail lies, at every length drawn in from nothing to the whole hose: the part still outside drags over the \
floor, straights add `W L (mu cos a + sin a)` going up and `W L (mu cos a - sin a)` going down, and each bend makes \
`T cosh(mu th) + sinh(mu th) sqrt(T^2 + (W R)^2)` of the tension. The greatest of these is compared with what \
suction gives: the suction at the valve with the hose's end covered (the unit's, less what the other valves leak), on \
the outside area of the hose. Available over needed is the *reserve*; a reserve equal to the limit passes.

**Example.** With the demonstration's figures a 40 ft socked hose wants about 7 lbf at 360 degrees of bend, and 11 are \
to be had: 1.56 times. At 450 degrees it wants about 10: 1.11 times, and that is gone in the third winter. So the old \
limit of four quarter bends comes out of the figures.

**Remedy.** Fewer degrees, a bare hose in place of a socked one, a shorter hose.

**Source.** The pulling formulas of electrical and telecommunications conduit; exact for level bends. Friction of a \
sock on tube is not published: the catalog's figure should be the firm's own measurement.",
    bound: Bound::AtLeast,
    limit: Limit::Set(Parameter { key: "reserve", default: Some(1.25), kind: Kind::Plain }),
    quantity: Quantity::Ratio,
    needs: &[Need::Hose, Need::HoseFriction],
    mends: &[Mend::LesserAngles, Mend::EarlierStop, Mend::OtherHose],
    waivable: true,
    check: Check::Inlet(check),
};

fn check(ask: &AskInlet) -> Vec<Outcome> {
    let limit = ask.limit;
    let (effort, available_n) = match (&ask.figures.effort, &ask.figures.available_n) {
        (Ok(effort), Ok(available_n)) => (effort, *available_n),
        (Err(why), _) | (_, Err(why)) => return vec![Outcome::unreckoned(why)],
    };
    let need_n = effort.draw_in.worst_n;
    let reserve = if need_n > 0.0 { available_n / need_n } else { f64::INFINITY };
    let (need, has) = (ask.say.force(need_n), ask.say.force(available_n));
    let at = ask.say.length(effort.draw_in.worst_inserted_m);
    let note = format!(
        "suction gives {has}, {reserve:.2} x the need of {need} (worst with {at} drawn in); {limit:.2} x required"
    );
    if ask.keeps(reserve) {
        return vec![Outcome::met(reserve, limit, note)];
    }
    let remedy = format!(
        "bring the effort down to {}: fewer degrees of bend, a bare hose, or a shorter one",
        ask.say.force(available_n / limit)
    );
    vec![Outcome::broken(reserve, limit, vec![Spot::Whole], note, remedy)]
}

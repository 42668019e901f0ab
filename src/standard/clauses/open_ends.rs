//! `open-ends`: every line starts and ends in something.
use crate::measure::Bound;
use crate::route::End;
use crate::standard::{AskLine, Check, Clause, Limit, Outcome, Pictured, Quantity, Seen, Spot};

pub static CLAUSE: Clause = Clause {
    id: "open-ends",
    title: "Open ends",
    measures: "\
Both ends of every line are looked at: its start seats in a valve, in a cap, or goes on from another line; its end goes \
into the unit, a junction, or on as a trunk. No end may stand open. A catalog that lists a \
cap (`kind: cap`) closes the far ends of its trunks with it. A line whose way on from the stop is not written yet cannot \
be judged.

**Example.** A trunk that begins beyond its last wye, with nothing on its end: the unit draws in the crawl space.

**Remedy.** List a cap in the catalog and fit it, or let the farthest inlet's line go on as the trunk (`at: start`).

**Source.** Common practice, no source: one open end takes the suction of every inlet.",
    bound: Bound::AtMost,
    limit: Limit::Is(0.0),
    quantity: Quantity::Count,
    needs: &[],
    mends: &[],
    waivable: false,
    pictured: Some(Pictured {
        seen: Seen::Uncapped,
        right: joining_a_trunk!("{run: 3 ft}, {turn: 90 west}, {run: 2 ft}, {turn: 45 down}, {run: 2 ft}", "WYE"),
        wrong: joining_a_trunk!("{run: 3 ft}, {turn: 90 west}, {run: 2 ft}, {turn: 45 down}, {run: 2 ft}", "WYE"),
    }),
    check: Check::Line(check),
};

fn check(ask: &AskLine) -> Vec<Outcome> {
    if ask.line.head == End::Open {
        let note = "the start of the trunk stands open".to_owned();
        let remedy = "list a cap in the catalog and fit it, or join the farthest inlet with `at: start`";
        return vec![Outcome::broken(1.0, 0.0, vec![Spot::Station(0.0)], note, remedy.into())];
    }
    if ask.spec.into.is_none() {
        let note = "the job does not say what the line goes into beyond the stop".to_owned();
        return vec![Outcome::open(note, "fill in `onward:` of this inlet".into()).at(vec![Spot::End])];
    }
    vec![Outcome::met(0.0, 0.0, "no end stands open".into())]
}

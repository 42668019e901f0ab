//! `wye-junctions`: a line joins by a wye, with the flow, from above or from the side.
use crate::measure::Bound;
use crate::route::{Entry, Joining};
use crate::standard::{AskLine, Check, Clause, Limit, Mend, Outcome, Pictured, Quantity, Seen, Spot};

pub static CLAUSE: Clause = Clause {
    id: "wye-junctions",
    title: "Wye junctions",
    measures: "\
Where a line comes into another by the branch of a junction, three things are looked at: that the fitting is a wye, its \
branch at 45 degrees or less; that it points with the flow, so that the branch's air turns into the run by its own \
angle, for by less no line can enter it; and that on a run that lies level or sloping the branch enters from above or from the side, never from \
below. Nothing of it may be wrong. How a branch stands follows from the headings of the two lines, so \
that it is known without places.

**Example.** A branch that joins the trunk by a tee of 90 degrees; a wye set backwards, so that the air doubles back by \
135; a wye hung under a level trunk, into which the trunk's dust falls while the branch is idle.

**Remedy.** A wye with a 45 on its branch; it needs the room of the 45 more. Bring the branch in over the trunk or from \
its side.

**Source.** Common practice, no source: what gets through the raceway's wide turns lodges in a tight tee, and a branch \
that hangs below its trunk fills with dust.",
    bound: Bound::AtMost,
    limit: Limit::Is(0.0),
    quantity: Quantity::Count,
    needs: &[],
    mends: &[Mend::GentlerJunction],
    waivable: false,
    pictured: Some(Pictured {
        seen: Seen::Trunk,
        right: joining_a_trunk!("{run: 3 ft}, {turn: 90 west}, {run: 2 ft}, {turn: 45 down}, {run: 2 ft}", "WYE"),
        wrong: joining_a_trunk!("{run: 3 ft}, {turn: 90 west}, {run: 2 ft}, {turn: 45 up}, {run: 2 ft}", "WYE"),
    }),
    check: Check::Line(check),
};

/// The branch of a wye; a sharper one is a tee.
const WYE_DEG: f64 = 45.0;
/// A branch this little below the side, in degrees, is from the side: a spirit level's error on a short fitting.
const SIDE_DEG: f64 = -1.0;
/// A line may meet the run by this much more or less than the branch's own angle: headings written by rounded
/// lengths.
const FLOW_DEG: f64 = 1.0;

fn check(ask: &AskLine) -> Vec<Outcome> {
    let Some(joining) = own_joining(ask) else {
        let note = if ask.line.joins.is_some() {
            "the line goes on as a trunk, with no junction"
        } else if ask.spec.into.is_some() {
            "the line runs straight into the unit"
        } else {
            return vec![Outcome::no_subject("the line joins nothing")];
        };
        return vec![Outcome::met(0.0, 0.0, note.into())];
    };
    let faults = faults(ask, joining);
    let at = format!("{} into {}", joining.fitting.name, into_words(ask));
    if faults.is_empty() {
        return vec![Outcome::met(0.0, 0.0, format!("{at}, with the flow"))];
    }
    let note = format!("{at}: {}", faults.iter().map(|fault| fault.0.clone()).collect::<Vec<_>>().join("; "));
    let remedy = faults.iter().map(|fault| fault.1).collect::<Vec<_>>().join("; ");
    vec![Outcome::broken(faults.len() as f64, 0.0, vec![Spot::End], note, remedy)]
}

/// The junction by which the line comes into another.
fn own_joining<'a>(ask: &AskLine<'a>) -> Option<&'a Joining> {
    let other = ask.lines.lines.get(ask.line.joins.as_ref()?.line)?;
    other.junctions().map(|(_, _, joining)| joining).find(|joining| joining.line == ask.index)
}

fn into_words(ask: &AskLine) -> String {
    let other = ask.line.joins.as_ref().and_then(|joins| ask.lines.lines.get(joins.line));
    other.map(|line| line.called()).unwrap_or_default()
}

/// What is wrong with a junction, and what to do about each.
fn faults(ask: &AskLine, joining: &Joining) -> Vec<(String, &'static str)> {
    let branch_deg = joining.fitting.junction().map_or(0.0, |branch| branch.branch_deg);
    let Entry { turn_deg, rise_deg, .. } = joining.entry;
    let mut faults = Vec::new();
    if !ask.keeps_to(branch_deg, WYE_DEG) {
        faults.push(("sharper than a wye".to_owned(), "join by a wye with a 45 on its branch"));
    }
    if !ask.keeps_to(turn_deg, branch_deg + FLOW_DEG) {
        let note =
            format!("it points against the flow, and the air must turn by {}", ask.say.angle(turn_deg));
        faults.push((note, "point the wye downstream, and turn the line that way before it joins"));
    }
    if turn_deg < branch_deg - FLOW_DEG {
        let [meets, made] = [turn_deg, branch_deg].map(|deg| ask.say.angle(deg));
        let note = format!("the line meets its run at {meets}, and the branch is made for {made}");
        faults.push((note, "turn the line to the branch's own angle before it joins"));
    }
    if rise_deg < SIDE_DEG {
        faults.push((
            "the branch enters from below".to_owned(),
            "bring the branch in from above the trunk, or from its side",
        ));
    }
    faults
}

//! `framing-clear`: no socket and no fitting stands inside a member.
use crate::measure::Bound;
use crate::route::End;
use crate::standard::{AskLine, Check, Clause, Limit, Outcome, Pictured, Quantity, Seen, Spot};
use crate::takeoff::{BodyOf, InMember, bodies, in_members};

pub static CLAUSE: Clause = Clause {
    id: "framing-clear",
    title: "Sockets clear of framing",
    measures: "\
Every socket, coupling and fitting body on a line is held against every member that the line is bored through, the \
member taken at its true thickness: a doubled one twice, masonry at its whole depth. No body may lie inside a \
member; a socket that just meets the wood passes.

**Example.** A stud 1-1/2 in thick, bored 6 in past the work point of a sweep of 8 in: the bore would have to take the \
sweep itself.

**Remedy.** Move the bend or the bore along by what is missing.

**Source.** Arithmetic of the parts; thickness of lumber by PS 20.",
    bound: Bound::AtMost,
    limit: Limit::Is(0.0),
    quantity: Quantity::Length,
    needs: &[],
    mends: &[],
    waivable: true,
    pictured: Some(Pictured {
        seen: Seen::Raceway,
        right: "\
leaves: down
path:
  - run: 3 ft
    crosses: none
  - turn: 90 east
  - run: 7 ft
    crosses: [{at: 3 ft, member: joist, size: 2x10, hole: 2-1/8 in}]
",
        wrong: "\
leaves: down
path:
  - run: 3 ft
    crosses: none
  - turn: 90 east
  - run: 7 ft
    crosses: [{at: 8 in, member: joist, size: 2x10, hole: 2-1/8 in}]
",
    }),
    check: Check::Line(check),
};

fn check(ask: &AskLine) -> Vec<Outcome> {
    if ask.line.crossings.is_empty() {
        return vec![Outcome::no_subject("the line is bored through nothing")];
    }
    let inside: Vec<InMember> = in_members(ask.line, &bodies(ask.line, ask.line_cuts(), ask.catalog))
        .into_iter()
        .filter(|body| !ask.keeps(body.by_m))
        .collect();
    let Some(worst) = inside.iter().max_by(|a, b| a.by_m.total_cmp(&b.by_m)) else {
        return vec![Outcome::met(0.0, 0.0, "bare tube from face to face at every bore".into())];
    };
    let told = |body: &InMember| {
        let by = ask.say.length_up(body.by_m);
        match ask.line.crossings.get(body.crossing) {
            Some(crossed) => format!("{}: {} stands {by} inside the member", crossed.mark, what(body)),
            None => format!("{} stands {by} inside a member", what(body)),
        }
    };
    let note = inside.iter().map(told).collect::<Vec<_>>().join("; ");
    let spot = |body: &InMember| {
        ask.line.crossings.get(body.crossing).map_or(Spot::Whole, |crossed| Spot::Station(crossed.station_m))
    };
    let remedy = format!("move the bore or the fitting {} along", ask.say.length_up(worst.move_m));
    vec![Outcome::broken(worst.by_m, 0.0, inside.iter().map(spot).collect(), note, remedy)]
}

/// What stands in the member.
fn what(body: &InMember) -> String {
    match body.body.of {
        BodyOf::Coupling(..) => "a coupling".into(),
        BodyOf::Fitting(End::Bend(n)) => format!("B{n}"),
        BodyOf::Fitting(End::Stop) => "the stop".into(),
        BodyOf::Fitting(End::Junction(_) | End::Branch) => "a junction".into(),
        BodyOf::Fitting(_) => "a fitting".into(),
    }
}

//! `cut-tubes`: every tube can be cut and coupled.
use crate::measure::Bound;
use crate::route::{Tube, Unmeasured};
use crate::standard::{AskLine, Check, Clause, Limit, Mend, Outcome, Pictured, Quantity, Seen, Spot};
use crate::takeoff::TubeCut;

pub static CLAUSE: Clause = Clause {
    id: "cut-tubes",
    title: "Tubes that can be cut",
    measures: "\
Every tube between two fittings is tried against the stick: it must be as long as the shortest piece that the firm \
builds in, and where it is longer than a stick its couplings must find places clear of every member that it is bored \
through, by the member's true thickness. No tube may be one that cannot be cut. Where fittings collide \
there is no tube; that is for *fitting room*.

**On hold.** A tube beside a fitting of which the catalog does not say how far a tube seats from its work point, and beside \
a bend that no fitting makes: how long it is nobody can tell.

**Example.** Two sweeps with 2 in between their sockets, where the shortest tube is 4 in.

**Remedy.** Lengthen the leg to the shortest tube, or move a bore so that a coupling finds a bay.

**Source.** Arithmetic of the parts: no source needed. The shortest tube is the firm's own figure.",
    bound: Bound::AtMost,
    limit: Limit::Is(0.0),
    quantity: Quantity::Count,
    needs: &[],
    mends: &[Mend::LongerTubes],
    waivable: false,
    pictured: Some(Pictured {
        seen: Seen::Raceway,
        right: "\
leaves: down
path: [{run: 3 ft}, {turn: 90 east}, {run: 3 ft}, {turn: 90 north}, {run: 6 ft}]
",
        wrong: "\
leaves: down
path: [{run: 3 ft}, {turn: 90 east}, {run: 18 in}, {turn: 90 north}, {run: 6 ft}]
",
    }),
    check: Check::Line(check),
};

fn check(ask: &AskLine) -> Vec<Outcome> {
    let tubes = ask.line.tubes.iter().zip(ask.line_cuts());
    let faults: Vec<(&Tube, &TubeCut)> = tubes.filter(|tube| uncut(ask, tube)).collect();
    let unmeasured = unmeasured(ask);
    let Some((tube, _)) = faults.first() else {
        return match unmeasured.is_empty() {
            true => vec![Outcome::met(0.0, 0.0, "every tube can be cut".into())],
            false => unmeasured,
        };
    };
    let note = faults.iter().map(|(tube, _)| told(ask, tube)).collect::<Vec<_>>().join("; ");
    let spots = faults.iter().map(|(tube, _)| Spot::Leg(tube.leg)).collect();
    let remedy = match too_short_by_m(ask, tube) {
        Some(by_m) => format!("make R{} {} longer", tube.leg + 1, ask.say.length_up(by_m)),
        None => format!("move a bore on R{}, so that two members leave a bay for a coupling", tube.leg + 1),
    };
    let broken = Outcome::broken(faults.len() as f64, 0.0, spots, note, remedy);
    std::iter::once(broken).chain(unmeasured).collect()
}

/// What waits for a figure of a fitting, once for each that is wanted, with the tubes that wait for it.
fn unmeasured(ask: &AskLine) -> Vec<Outcome> {
    let mut wanted: Vec<(Unmeasured, Vec<&Tube>)> = Vec::new();
    for tube in &ask.line.tubes {
        let Some(missing) = ask.line.unmeasured(tube, ask.catalog, &ask.say) else { continue };
        match wanted.iter_mut().find(|(known, _)| *known == missing) {
            Some((_, tubes)) => tubes.push(tube),
            None => wanted.push((missing, vec![tube])),
        }
    }
    let outcome = |(missing, tubes): (Unmeasured, Vec<&Tube>)| {
        let marks: Vec<&str> = tubes.iter().map(|tube| tube.mark.as_str()).collect();
        let first = tubes.first().map(|tube| tube.mark.clone()).unwrap_or_default();
        let note = format!("the length of {} is not known: {}", marks.join(", "), missing.why);
        let spots = tubes.iter().map(|tube| Spot::Leg(tube.leg)).collect();
        Outcome::open(note, missing.wanted).at(spots).marked(first)
    };
    wanted.into_iter().map(outcome).collect()
}

/// Whether a tube is there, of a length that is known, and cannot be cut.
fn uncut(ask: &AskLine, (tube, cut): &(&Tube, &TubeCut)) -> bool {
    !Bound::AtMost.keeps(tube.clear_m, 0.0)
        && cut.problem.is_some()
        && ask.line.unmeasured(tube, ask.catalog, &ask.say).is_none()
}

fn too_short_by_m(ask: &AskLine, tube: &Tube) -> Option<f64> {
    let shortest_m = ask.catalog.tube.shortest_m;
    (!Bound::AtLeast.keeps(tube.clear_m, shortest_m)).then_some(shortest_m - tube.clear_m)
}

fn told(ask: &AskLine, tube: &Tube) -> String {
    let (mark, long) = (&tube.mark, ask.say.length(tube.clear_m));
    match too_short_by_m(ask, tube) {
        Some(_) => {
            let shortest = ask.say.length(ask.catalog.tube.shortest_m);
            format!("{mark} is {long} long; the shortest tube is {shortest}")
        }
        None => format!("{mark}, {long} long, has no place clear of framing for a coupling"),
    }
}

//! `bend-spacing`: straight tube between bends.
use crate::measure::{Bound, Kind};
use crate::route::{End, Tube};
use crate::standard::{
    AskLine, Check, Clause, Limit, Mend, Outcome, Parameter, Pictured, Quantity, Seen, Spot,
};

pub static CLAUSE: Clause = Clause {
    id: "bend-spacing",
    title: "Bend spacing",
    measures: "\
The tube between two bends of a line is its leg less the laying length of both: the length that is cut. The \
shortest is held against the least. A tube equal to it passes.

**Example.** Two sweeps with a laying length of 8 in, 1 ft 7 in apart: 3 in of tube, where 4 in are wanted.

**Remedy.** Move one of the bends on by what is missing.

**Source.** Common practice, no source: a hose that is bent one way and at once the other rubs on both, and a short \
tube gives the saw and the cement nothing to hold on to.",
    bound: Bound::AtLeast,
    limit: Limit::Set(Parameter { key: "least", default: None, kind: Kind::Length }),
    quantity: Quantity::Length,
    needs: &[],
    mends: &[Mend::LongerTubesBetweenBends],
    waivable: true,
    pictured: Some(Pictured {
        seen: Seen::Raceway,
        right: "\
leaves: down
path: [{run: 3 ft}, {turn: 90 east}, {run: 3 ft}, {turn: 90 north}, {run: 8 ft}]
",
        wrong: "\
leaves: down
path: [{run: 3 ft}, {turn: 90 east}, {run: 17 in}, {turn: 90 north}, {run: 8 ft}]
",
    }),
    check: Check::Line(check),
};

fn check(ask: &AskLine) -> Vec<Outcome> {
    let least = ask.limit;
    let between: Vec<(usize, &Tube)> =
        ask.line.tubes.iter().filter_map(|tube| Some((first_bend(tube)?, tube))).collect();
    let Some(shortest) = between.iter().map(|(_, tube)| tube.clear_m).min_by(f64::total_cmp) else {
        return vec![Outcome::met(None, least, "no two bends follow each other".into())];
    };
    let (told, words) = ask.beside(Kind::Length, shortest);
    let close: Vec<&(usize, &Tube)> = between.iter().filter(|(_, tube)| !ask.keeps(tube.clear_m)).collect();
    if close.is_empty() {
        let note = format!("the shortest tube between bends is {told}; {words} or more required");
        return vec![Outcome::met(shortest, least, note)];
    }
    let each = |(n, tube): &&(usize, &Tube)| match tube.clear_m < 0.0 {
        true => format!("no room for tube between B{n} and B{}", n + 1),
        false => format!("{} of tube between B{n} and B{}", ask.beside(Kind::Length, tube.clear_m).0, n + 1),
    };
    let note = format!("{}; {words} or more required", close.iter().map(each).collect::<Vec<_>>().join(", "));
    let moves: Vec<String> = close
        .iter()
        .map(|(n, tube)| format!("move B{} {} on", n + 1, ask.say.length_up(least - tube.clear_m)))
        .collect();
    let spots = close.iter().flat_map(|(n, _)| [Spot::Bend(*n), Spot::Bend(n + 1)]).collect();
    vec![Outcome::broken(shortest, least, dedup(spots), note, moves.join(", "))]
}

/// The bend before a tube that lies between two bends.
fn first_bend(tube: &Tube) -> Option<usize> {
    match (tube.from, tube.to) {
        (End::Bend(n), End::Bend(_)) => Some(n),
        _ => None,
    }
}

fn dedup(mut spots: Vec<Spot>) -> Vec<Spot> {
    spots.dedup();
    spots
}

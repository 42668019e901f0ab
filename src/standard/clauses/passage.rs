//! `passage`: nothing that the handle lets in can lodge on the way.
use crate::figures::{PassageFigure, catches_first};
use crate::measure::{Bound, Kind, Units};
use crate::standard::{
    AskFigures, AskKept, Check, Clause, Limit, Mend, Need, Outcome, Pictured, Quantity, Seen, Spot,
};

pub static CLAUSE: Clause = Clause {
    id: "passage",
    title: "Passage",
    measures: "\
For every turn from the valve to the unit the longest rigid rod is reckoned that gets round it, as thick as the \
handle's throat lets in: with bore `D`, centerline radius `R`, rod `d`, `2 sqrt((D - d)(2R + d))` for a full turn, \
and more for a slight one. The shortest of them is held against the longest rigid object that the handle lets in. A \
length equal to it passes. A junction without a radius counts as a sharp corner.

**Example.** A pencil, 0.3 in thick, gets round a sweep of 7 in at 9-1/2 in of length and round a short ell of 2 in at \
5-1/2: what the raceway lets through, the first tight turn catches.

**Remedy.** A wye with a 45 on its branch in place of a tight tee, longer ells beyond the stop, or a handle with a \
tighter throat.

**Source.** Plane geometry, checked by a search in three dimensions. That the two halves of the piping have their \
tight turns in the opposite order is common practice. Two bends closer together than the rod is long are not covered.",
    bound: Bound::AtLeast,
    limit: Limit::ByCase,
    quantity: Quantity::Length,
    needs: &[Need::WayToUnit, Need::Handle],
    mends: &[Mend::GentlerJunction],
    waivable: true,
    pictured: Some(Pictured {
        seen: Seen::TrunkAbove,
        right: joining_a_trunk!("{run: 3 ft}, {turn: 45 west}, {run: 2 ft}", "WYE"),
        wrong: joining_a_trunk!("{run: 6 ft}", "TEE"),
    }),
    check: Check::Figures(check, kept),
};

/// What gets round a turn hangs on the turn alone, and every turn is the same.
fn kept(_: &AskKept) -> Option<bool> {
    Some(true)
}

fn check(ask: &AskFigures) -> Vec<Outcome> {
    let longest_in = ask.inlet.hose.handle_passes_m.unwrap_or(f64::NAN);
    let places = match &ask.figures.passage {
        Ok(places) => places,
        Err(why) => return vec![Outcome::unreckoned(&why.words(&ask.say))],
    };
    let Some(tightest) = places.iter().min_by(|a, b| a.longest_m.total_cmp(&b.longest_m)) else {
        return vec![Outcome::met(None, longest_in, "no turn on the way".into())];
    };
    let caught: Vec<&PassageFigure> =
        places.iter().filter(|p| !ask.keeps_to(p.longest_m, longest_in)).collect();
    let first = catches_first(places, ask.inlet.hose.handle_passes_m).and_then(|at| places.get(at));
    let Some(first) = first.filter(|_| !caught.is_empty()) else {
        let (passes, handle) = told(ask, tightest.longest_m, longest_in);
        let note = format!(
            "the handle stops what is longer than {handle}; the tightest place, {}, passes {passes}",
            tightest.words
        );
        return vec![Outcome::met(tightest.longest_m, longest_in, note)];
    };
    let (passes, handle) = told(ask, first.longest_m, longest_in);
    let note = format!(
        "the handle lets in {handle}, and {} passes only {passes}: it catches there first",
        first.words
    );
    let spots = caught.iter().map(|place| spot(ask, place)).collect();
    let remedy = match first.bend {
        None => "join by a wye with a 45 on its branch".to_owned(),
        _ => format!("fit a wider turn at {}, or a handle with a tighter throat", first.words),
    };
    vec![Outcome::broken(tightest.longest_m, longest_in, spots, note, remedy)]
}

/// What a place passes, never more than it does, and what the handle lets in, never less; with six figures where
/// those would tell another verdict.
fn told(ask: &AskFigures, passes_m: f64, handle_m: f64) -> (String, String) {
    let say = ask.say;
    let passes = say.rounded(Kind::Length, Bound::AtMost, passes_m);
    let handle = say.rounded(Kind::Length, Bound::AtLeast, handle_m);
    match ask.keeps_to(passes, handle) == ask.keeps_to(passes_m, handle_m) {
        true => (say.length(passes), say.length(handle)),
        false => (say.figure(passes_m, "m"), say.figure(handle_m, "m")),
    }
}

fn spot(ask: &AskFigures, place: &PassageFigure) -> Spot {
    match place.bend {
        Some(n) if place.line == ask.index => Spot::Bend(n),
        _ => Spot::End,
    }
}

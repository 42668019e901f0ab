//! `passage`: nothing that the handle lets in can lodge on the way.
use crate::figures::{PassageFigure, Place};
use crate::standard::{Ask, Check, Clause, Measured, Outcome, Quantity, Spot};

pub static CLAUSE: Clause = Clause {
    id: "passage",
    title: "Passage",
    measures: "\
For every turn from the valve to the unit the longest rigid rod is reckoned that gets round it, as thick as the \
handle's throat lets in: with bore `D`, centreline radius `R`, rod `d`, `2 sqrt((D - d)(2R + d))` for a full turn, \
and more for a slight one. The shortest of them is held against the longest stiff object that the handle lets in. A \
length equal to it passes. A junction without a radius counts as a sharp corner.

**Example.** A pencil-thick rod gets round a sweep of 6 in at 9-1/2 in of length and round a short ell of 2 in at 6: \
what the raceway lets through, the first tight turn catches.

**Remedy.** A wye with a 45 on its branch in place of a tight tee, longer ells beyond the stop, or a handle with a \
tighter throat.

**Source.** Plane geometry, checked by a search in three dimensions. That the two halves of the piping have their \
tight turns in the opposite order is common practice. Two bends closer together than the rod is long are not covered.",
    parameter: None,
    quantity: Quantity::Length,
    check: Check::Inlet(check),
};

/// Lengths of geometry; rounding only.
const ROUNDING_M: f64 = 1e-9;

fn check(ask: &Ask) -> Vec<Outcome> {
    let Some(longest_in) = ask.inlet.hose.handle_passes_m else {
        return vec![Outcome::NotChecked(format!(
            "the catalog does not say what the handle of hose {} lets in",
            ask.inlet.hose.id
        ))];
    };
    let places = match &ask.figures.passage {
        Ok(places) => places,
        Err(why) => return vec![Outcome::NotChecked(why.clone())],
    };
    let Some(tightest) = places.iter().min_by(|a, b| a.longest_m.total_cmp(&b.longest_m)) else {
        return vec![Measured::met(None, Some(longest_in), "no turn on the way".into())];
    };
    let (handle, passes) = (ask.say.length(longest_in), ask.say.length(tightest.longest_m));
    let caught: Vec<&PassageFigure> =
        places.iter().filter(|p| p.longest_m < longest_in - ROUNDING_M).collect();
    let Some(first) = caught.first() else {
        let note = format!(
            "the handle stops what is longer than {handle}; the tightest place, {}, passes {passes}",
            tightest.words
        );
        return vec![Measured::met(Some(tightest.longest_m), Some(longest_in), note)];
    };
    let note = format!(
        "the handle lets in {handle}, and {} passes only {}: it catches there first",
        first.words,
        ask.say.length(first.longest_m)
    );
    let spots = caught.iter().map(|place| spot(place.place)).collect();
    let remedy = match first.place {
        Place::Junction(_) => "join by a wye with a 45 on its branch".to_owned(),
        _ => format!("fit a wider turn at {}, or a handle with a tighter throat", first.words),
    };
    vec![Measured::broken(Some(tightest.longest_m), Some(longest_in), spots, note, remedy)]
}

fn spot(place: Place) -> Spot {
    match place {
        Place::Raceway(n) => Spot::Bend(n),
        _ => Spot::End,
    }
}

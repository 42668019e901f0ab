//! Bores moved to the middle, made no larger than the tube needs, studs doubled.
use super::Case;
use crate::company::{Crossing, Member};
use crate::remedy::change::{Change, OTHER_FITTING};

/// What a bore is larger than its tube, at the least, so that the tube goes through without force
/// (common practice, no source).
const PLAY_M: f64 = 0.0015875;

/// Each change made on every crossing of the line that it can be made on.
pub fn bores(case: &Case) -> Vec<Change> {
    let least_m = case.catalog.tube.outside_m + PLAY_M;
    let smaller = format!("bore no more than {}, the tube and its play", case.say.length_up(least_m));
    let each = [
        changed(case, "bore in the middle of the member", 0.05, centred),
        changed(case, &smaller, 0.1, |crossing| smallest(crossing, least_m)),
        changed(case, "double the studs that are bored", OTHER_FITTING, doubled),
    ];
    let mut found: Vec<Change> = each.into_iter().flatten().collect();
    let both = format!("{smaller}, and in the middle of the member");
    // Not `||`: both changes are to be made.
    found.extend(changed(case, &both, 0.15, |crossing| smallest(crossing, least_m) | centred(crossing)));
    found
}

fn changed(case: &Case, words: &str, size: f64, change: impl Fn(&mut Crossing) -> bool) -> Option<Change> {
    let mut shape = case.shape.clone();
    let crossings = shape.straights.iter_mut().flatten().flat_map(|run| &mut run.crossings);
    let count = crossings.map(change).filter(|changed| *changed).count();
    (count > 0).then(|| case.change(&shape, words.to_owned(), size))
}

fn centred(crossing: &mut Crossing) -> bool {
    crossing.from_edge_m.take().is_some()
}

fn smallest(crossing: &mut Crossing, least_m: f64) -> bool {
    let larger = crossing.hole_m.is_some_and(|hole_m| hole_m > least_m);
    if larger {
        crossing.hole_m = Some(least_m);
    }
    larger
}

fn doubled(crossing: &mut Crossing) -> bool {
    let single = crossing.member == Member::Stud && !crossing.doubled;
    crossing.doubled |= single;
    single
}

//! Longer and shorter runs.
use super::Case;
use crate::remedy::change::Change;
use crate::route::{End, Tube};
use crate::takeoff::stubs;
use glam::DVec3;

/// Headings whose cosine is this near to one are the same direction: a tenth of a second of arc.
const PARALLEL: f64 = 1.0 - 1e-13;

/// Ways to a longer hose path: the stop moved on along its line, one leg longer, or two opposite legs.
pub fn longer_path(case: &Case) -> Vec<Change> {
    let (Some(has_m), Some(wants_m), Some(stop)) =
        (case.finding.measured, case.finding.limit, case.shape.stop())
    else {
        return Vec::new();
    };
    let by_m = case.say.step_up(wants_m - has_m);
    let mut changes: Vec<Change> = stop_moved(case, stop, by_m).into_iter().collect();
    for i in 0..=stop {
        changes.extend(case.shape.stretch(i, by_m).map(|shape| {
            let words = format!("make {} {} longer", case.called(i), case.say.length(by_m));
            // The last leg is the one that is cut last and has nothing after it to move.
            case.change(&shape, words, by_m * if i == stop { 1.0 } else { 1.5 })
        }));
        let half_m = case.say.step_up(by_m / 2.0);
        for j in (i + 1..=stop).filter(|j| opposite(case.heading(i), case.heading(*j))) {
            let both = case.shape.stretch(i, half_m).and_then(|shape| shape.stretch(j, half_m));
            changes.extend(both.map(|shape| {
                let length = case.say.length(half_m);
                let words = format!("make {} and {} each {length} longer", case.called(i), case.called(j));
                case.change(&shape, words, by_m * 1.2)
            }));
        }
    }
    changes
}

/// The raceway longer and the onward run, which goes on along the same line, shorter by as much.
fn stop_moved(case: &Case, stop: usize, by_m: f64) -> Option<Change> {
    case.spec.into.as_ref()?;
    let shape = case.shape.stretch(stop, by_m)?.stretch(stop + 1, -by_m)?;
    let words = format!(
        "move the stop {} on along its line, so that the onward run is as much shorter",
        case.say.length(by_m)
    );
    Some(case.change(&shape, words, by_m * 0.5))
}

/// Which tubes are to be longer, and how long.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Short {
    /// Those between two bends, as long as the finding's limit.
    BetweenBends,
    /// All, as long as the shortest tube that the firm builds in.
    Any,
}

/// Ways to longer tubes on the straights that are too short: all of them, or one with a parallel straight that
/// takes it up.
pub fn longer_tubes(case: &Case, which: Short) -> Vec<Change> {
    let least_m = match which {
        Short::BetweenBends => case.finding.limit.unwrap_or(0.0),
        Short::Any => case.catalog.tube.shortest_m,
    };
    let short = case.line.tubes.iter().filter(|tube| {
        let between = matches!((tube.from, tube.to), (End::Bend(_), End::Bend(_)));
        tube.clear_m < least_m - 1e-9 && (between || which == Short::Any)
    });
    let by_m = |tube: &Tube| case.say.step_up(least_m - tube.clear_m);
    otherwise(case, &short.map(|tube| (case.straight_of(tube), by_m(tube))).collect::<Vec<_>>())
}

/// Straights so much shorter that their tubes come to whole sticks.
pub fn without_stubs(case: &Case) -> Vec<Change> {
    let least_m = case.finding.limit.unwrap_or(0.0);
    let rests = stubs(case.line, case.cuts, case.catalog.tube.stick_m, least_m);
    let shorter = rests.iter().filter_map(|rest| {
        Some((case.straight_of(case.line.tubes.get(rest.tube)?), -case.say.step_up(rest.over_m)))
    });
    otherwise(case, &shorter.collect::<Vec<_>>())
}

/// Straights changed by a length each: all of them at once, and each by itself with a parallel one that takes it
/// up.
fn otherwise(case: &Case, wanted: &[(usize, f64)]) -> Vec<Change> {
    let all = all_changed(case, wanted).into_iter();
    all.chain(wanted.iter().flat_map(|(straight, by_m)| taken_up(case, *straight, *by_m))).collect()
}

fn all_changed(case: &Case, wanted: &[(usize, f64)]) -> Option<Change> {
    let (first, others) = wanted.split_first()?;
    let mut shape = case.shape.stretch(first.0, first.1)?;
    for (straight, by_m) in others {
        shape = shape.stretch(*straight, *by_m)?;
    }
    let each: Vec<String> = wanted.iter().map(|(straight, by_m)| told(case, *straight, *by_m)).collect();
    let size = wanted.iter().map(|(_, by_m)| by_m.abs()).sum();
    Some(case.change(&shape, format!("make {}", each.join(" and ")), size))
}

/// One straight changed by a length, and a parallel one the other way (same heading) or likewise (opposite), so
/// that the end stays.
fn taken_up(case: &Case, straight: usize, by_m: f64) -> Vec<Change> {
    let heading = case.heading(straight);
    let others = (0..case.shape.straights.len()).filter(|other| *other != straight);
    others
        .filter_map(|other| {
            let by_other_m = match case.heading(other) {
                along if same(heading, along) => -by_m,
                along if opposite(heading, along) => by_m,
                _ => return None,
            };
            let shape = case.shape.stretch(straight, by_m)?.stretch(other, by_other_m)?;
            let (one, two) = (told(case, straight, by_m), told(case, other, by_other_m));
            let words = format!("make {one} and {two}, so that the end stays where it is");
            Some(case.change(&shape, words, by_m.abs() * 1.1))
        })
        .collect()
}

/// `R3 2 in shorter`
fn told(case: &Case, straight: usize, by_m: f64) -> String {
    let how = if by_m < 0.0 { "shorter" } else { "longer" };
    format!("{} {} {how}", case.called(straight), case.say.length(by_m.abs()))
}

/// Straights along the miss: the run that, measured wrong by that much, would explain it.
pub fn closing_runs(case: &Case) -> Vec<Change> {
    let Some(closure) = &case.line.closure else {
        return Vec::new();
    };
    let closed = |straight: usize| {
        let along_m = -closure.miss.dot(case.heading(straight));
        let shape = case.shape.stretch(straight, along_m)?;
        let how = if along_m > 0.0 { "longer" } else { "shorter" };
        let (run, length) = (case.called(straight), case.say.length(along_m.abs()));
        let words = format!("measure {run} again: made {length} {how} the line closes");
        Some(case.change(&shape, words, along_m.abs()))
    };
    (0..case.shape.straights.len()).filter_map(closed).collect()
}

/// Whether two headings are the same.
pub fn same(a: DVec3, b: DVec3) -> bool {
    a.dot(b) >= PARALLEL
}

fn opposite(a: DVec3, b: DVec3) -> bool {
    a.dot(b) <= -PARALLEL
}

//! Longer and shorter runs.
use super::Case;
use crate::remedy::change::Change;
use crate::remedy::shape::Shape;
use crate::route::End;
use crate::standard::Spot;
use glam::DVec3;

/// Headings whose cosine is this near to one are the same direction: a tenth of a second of arc.
const PARALLEL: f64 = 1.0 - 1e-13;

/// Ways to a longer hose path: the stop moved on along its line, one leg longer, or two opposite legs.
pub fn longer_path(case: &Case) -> Vec<Change> {
    let (Some(has_m), Some(wants_m)) = (case.finding.measured, case.finding.limit) else {
        return Vec::new();
    };
    let by_m = case.say.step_up(wants_m - has_m);
    let mut changes: Vec<Change> = stop_moved(case, by_m).into_iter().collect();
    let shape = case.before();
    let legs = &case.raceway.legs;
    for (i, leg) in legs.iter().enumerate() {
        changes.extend(shape.stretch(i, by_m).map(|shape| {
            let words = format!("make R{} {} longer", i + 1, case.say.length(by_m));
            // The last leg is the one that is cut last and has nothing after it to move.
            with_raceway(case, &shape, words, by_m * if i + 1 == legs.len() { 1.0 } else { 1.5 })
        }));
        let half_m = case.say.step_up(by_m / 2.0);
        for (j, _) in
            legs.iter().enumerate().skip(i + 1).filter(|(_, other)| opposite(leg.heading, other.heading))
        {
            changes.extend(shape.stretch(i, half_m).and_then(|shape| shape.stretch(j, half_m)).map(
                |shape| {
                    let words =
                        format!("make R{} and R{} each {} longer", i + 1, j + 1, case.say.length(half_m));
                    with_raceway(case, &shape, words, by_m * 1.2)
                },
            ));
        }
    }
    changes
}

/// The raceway longer and the onward run, which goes on along the same line, shorter by as much.
pub fn stop_moved(case: &Case, by_m: f64) -> Option<Change> {
    let shape = case.before().stretch(case.raceway.legs.len().checked_sub(1)?, by_m)?;
    let rest = case.beyond()?.stretch(0, -by_m)?;
    let line = case.spec.with_steps(shape.steps(), rest.steps());
    let words = format!(
        "move the stop {} on along its line, so that the onward run is as much shorter",
        case.say.length(by_m)
    );
    Some(Change { inlet: case.inlet.clone(), line, words, size: by_m * 0.5 })
}

/// Which tubes are to be longer, and how long.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Short {
    /// Those between two bends, as long as the finding's limit.
    BetweenBends,
    /// All, as long as the shortest tube that the firm builds in.
    Any,
}

/// Ways to a longer tube on the legs that are too short: the leg alone, or with a parallel leg that takes it up.
pub fn longer_tubes(case: &Case, which: Short) -> Vec<Change> {
    let least_m = match which {
        Short::BetweenBends => case.finding.limit.unwrap_or(0.0),
        Short::Any => case.catalog.tube.shortest_m,
    };
    let short = case.raceway.tubes.iter().filter(|tube| {
        let between = matches!((tube.from, tube.to), (End::Bend(_), End::Bend(_)));
        tube.clear_m < least_m - 1e-9 && (between || which == Short::Any)
    });
    let wanted: Vec<(usize, f64)> =
        short.map(|tube| (tube.leg, case.say.step_up(least_m - tube.clear_m))).collect();
    let mut changes = Vec::new();
    if let Some(all) = stretched_all(case, &wanted) {
        changes.push(all);
    }
    if let [(leg, by_m)] = wanted[..] {
        changes.extend(taken_up(case, leg, by_m));
    }
    changes
}

fn stretched_all(case: &Case, wanted: &[(usize, f64)]) -> Option<Change> {
    if wanted.is_empty() {
        return None;
    }
    let mut shape = case.before();
    for (leg, by_m) in wanted {
        shape = shape.stretch(*leg, *by_m)?;
    }
    let each: Vec<String> =
        wanted.iter().map(|(leg, by_m)| format!("R{} {} longer", leg + 1, case.say.length(*by_m))).collect();
    let size = wanted.iter().map(|(_, by_m)| by_m).sum();
    Some(with_raceway(case, &shape, format!("make {}", each.join(" and ")), size))
}

/// A leg so much shorter that its tube comes to whole sticks: alone, or taken up by a parallel leg.
pub fn without_stubs(case: &Case) -> Vec<Change> {
    let Some(over_m) = case.finding.measured else {
        return Vec::new();
    };
    let by_m = case.say.step_up(over_m);
    let leg = |spot: &Spot| if let Spot::Leg(leg) = spot { Some(*leg) } else { None };
    let legs = case.finding.spots.iter().filter_map(leg).filter(|leg| *leg < case.raceway.legs.len());
    let mut changes = Vec::new();
    for leg in legs {
        changes.extend(case.before().stretch(leg, -by_m).map(|shape| {
            let words = format!("make R{} {} shorter", leg + 1, case.say.length(by_m));
            with_raceway(case, &shape, words, by_m)
        }));
        changes.extend(taken_up(case, leg, -by_m));
    }
    changes
}

/// One leg changed by a length, and a parallel one the other way (same heading) or likewise (opposite), so that
/// the end stays.
fn taken_up(case: &Case, leg: usize, by_m: f64) -> Vec<Change> {
    let heading = case.raceway.legs[leg].heading;
    let shape = case.before();
    let others = case.raceway.legs.iter().enumerate().filter(|(i, _)| *i != leg);
    others
        .filter_map(|(i, other)| {
            let sign = if same(heading, other.heading) {
                -1.0
            } else if opposite(heading, other.heading) {
                1.0
            } else {
                return None;
            };
            let shape = shape.stretch(leg, by_m)?.stretch(i, sign * by_m)?;
            let how = |by_m: f64| if by_m < 0.0 { "shorter" } else { "longer" };
            let length = case.say.length(by_m.abs());
            let words = format!(
                "make R{} {length} {} and R{} {length} {}, so that the end stays where it is",
                leg + 1,
                how(by_m),
                i + 1,
                how(sign * by_m)
            );
            Some(with_raceway(case, &shape, words, by_m.abs() * 1.1))
        })
        .collect()
}

/// Legs along the miss: the run that, measured wrong by that much, would explain it.
pub fn closing_runs(case: &Case) -> Vec<Change> {
    let Some(closure) = case.closure else {
        return Vec::new();
    };
    let shape = case.before();
    let mut changes = Vec::new();
    for (i, leg) in case.raceway.legs.iter().enumerate() {
        let along_m = -closure.miss.dot(leg.heading);
        changes.extend(shape.stretch(i, along_m).map(|shape| {
            with_raceway(
                case,
                &shape,
                stretched_words(case, &format!("leg {}", i + 1), along_m),
                along_m.abs(),
            )
        }));
    }
    let (Some(shape), Some(route)) = (case.beyond(), &case.onward) else {
        return changes;
    };
    for (i, leg) in route.legs.iter().enumerate() {
        let along_m = -closure.miss.dot(leg.heading);
        changes.extend(shape.stretch(i, along_m).map(|shape| {
            let line = case.spec.with_steps(case.spec.at_stop().0.to_vec(), shape.steps());
            let words = stretched_words(case, &format!("onward leg {}", i + 1), along_m);
            Change { inlet: case.inlet.clone(), line, words, size: along_m.abs() }
        }));
    }
    changes
}

fn stretched_words(case: &Case, leg: &str, along_m: f64) -> String {
    let how = if along_m > 0.0 { "longer" } else { "shorter" };
    format!("measure {leg} again: made {} {how} the line closes", case.say.length(along_m.abs()))
}

/// The inlet with another raceway.
pub fn with_raceway(case: &Case, shape: &Shape, words: String, size: f64) -> Change {
    Change { inlet: case.inlet.clone(), line: case.line_with(shape), words, size }
}

/// Whether two headings are the same.
pub fn same(a: DVec3, b: DVec3) -> bool {
    a.dot(b) >= PARALLEL
}

fn opposite(a: DVec3, b: DVec3) -> bool {
    a.dot(b) <= -PARALLEL
}

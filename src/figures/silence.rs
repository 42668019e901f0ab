//! Where a job does not say what its line is bored through.
use crate::company::{Level, LineSpec, Run, Step};
use crate::route::{Anchor, Leg, Line};
use crate::text::Place;

/// A stretch that nobody has said anything about, though something must be there.
#[derive(Debug, Clone, PartialEq)]
pub struct Silence {
    /// Index of the leg.
    pub leg: usize,
    /// The level that it passes; `None` where the riser as a whole is silent.
    pub level: Option<String>,
    /// Where the run is written.
    pub place: Place,
}

/// How far from a level a member still belongs to it, up or down: a joist of 12 in with plate, subfloor
/// and ceiling (common practice, no source).
const FLOOR_M: f64 = 0.4;

/// The riser, where none of its runs says anything, `crosses: none` included; and every leg that passes a
/// level without a crossing near it.
///
/// A leg passes a level when its ends lie on either side of it; a line without a place in the job's frame
/// passes none. A level is told once.
pub fn silences(spec: &LineSpec, line: &Line, levels: &[Level]) -> Vec<Silence> {
    let runs = runs_by_leg(&spec.steps);
    let riser_legs = line.raceway.as_ref().map_or(0, |raceway| raceway.riser_legs);
    let mut riser = runs.iter().take(riser_legs).flatten().peekable();
    let mut found = Vec::new();
    if let Some(first) = riser.peek().copied()
        && !riser.any(|run| run.looked_at)
    {
        found.push(Silence { leg: 0, level: None, place: first.place.clone() });
    }
    for level in levels.iter().filter(|_| line.anchor != Anchor::None) {
        let silent = line
            .legs
            .iter()
            .enumerate()
            .position(|(i, leg)| passes(leg, level) && !crossed_at(line, i, level));
        if let Some(leg) = silent {
            let place = runs.get(leg).and_then(|runs| runs.first()).map(|run| run.place.clone());
            found.push(Silence { leg, level: Some(level.name.clone()), place: place.unwrap_or_default() });
        }
    }
    found
}

/// The runs of each leg; the stop does not divide one.
fn runs_by_leg(steps: &[Step]) -> Vec<Vec<&Run>> {
    let mut legs: Vec<Vec<&Run>> = vec![Vec::new()];
    for step in steps {
        match step {
            Step::Run(run) => legs.last_mut().into_iter().for_each(|leg| leg.push(run)),
            Step::Turn(_) => legs.push(Vec::new()),
            Step::Stop => {}
        }
    }
    legs
}

fn passes(leg: &Leg, level: &Level) -> bool {
    (leg.from.z - level.up_m) * (leg.to.z - level.up_m) < 0.0
}

fn crossed_at(line: &Line, leg: usize, level: &Level) -> bool {
    let Some(laid) = line.legs.get(leg) else { return false };
    let height = |at_m: f64| laid.from.z + laid.heading.z * at_m;
    let mut crossings = line.crossings.iter().filter(|crossed| crossed.leg == leg);
    crossings.any(|crossed| (height(crossed.at_m) - level.up_m).abs() <= FLOOR_M)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::route::lay;
    use crate::route::testing::{catalog, spec};
    use glam::DVec3;

    fn found(spec: &LineSpec, levels: &[Level]) -> Vec<Silence> {
        let mut line = lay(spec, DVec3::ZERO, &catalog());
        line.anchor = Anchor::Start;
        silences(spec, &line, levels)
    }

    fn level(name: &str, up_m: f64) -> Level {
        Level { name: name.into(), up_m, place: Place::default() }
    }

    #[test]
    fn a_riser_is_silent_until_one_of_its_runs_says_something() {
        let mut spec = spec("down", "1 run; 90 west; 9 run");
        assert_eq!(found(&spec, &[])[0].level, None);
        if let Step::Run(run) = &mut spec.steps[0] {
            run.looked_at = true;
        }
        assert_eq!(found(&spec, &[]), []);
    }

    #[test]
    fn a_line_without_a_riser_may_be_silent() {
        assert_eq!(found(&spec("west", "9 run"), &[level("floor", 0.0)]), []);
    }

    #[test]
    fn a_level_is_passed_between_its_two_sides_only() {
        let levels = [level("above", 0.0), level("between", -0.5), level("at the end", -1.0)];
        let found = found(&spec("down", "1 run; 90 west; 9 run"), &levels);
        let names: Vec<_> = found.iter().filter_map(|silence| silence.level.as_deref()).collect();
        assert_eq!(names, ["between"]);
    }
}

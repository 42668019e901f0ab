//! A dip laid flat.
use super::Case;
use super::room::same;
use crate::company::Run;
use crate::remedy::change::Change;
use crate::remedy::shape::{Shape, run};
use crate::route::Leg;
use crate::text::Place;

/// Slopes under this (a thousandth of a degree) are level.
const LEVEL: f64 = 1.7e-5;

/// Every dip after the riser laid flat: the legs from where the line leaves the level to where it is level
/// again on the same heading become one.
pub fn flat(case: &Case) -> Vec<Change> {
    let (Some(part), Some(stop)) = (&case.line.raceway, case.shape.stop()) else {
        return Vec::new();
    };
    // Before the stop a straight is a leg.
    let legs = &case.line.to_stop().legs;
    let (mut flat, mut plain) = (Shape { straights: vec![], joints: vec![] }, true);
    let mut i = 0;
    while i < legs.len() {
        let end = if i < part.riser_legs { i } else { level_again(legs, i) };
        let merged =
            if end == i { case.shape.straights[i].clone() } else { laid_flat(legs, &case.shape, i, end) };
        plain &= end == i;
        flat.straights.push(merged);
        flat.joints.extend(case.shape.joints.get(end).cloned());
        i = end + 1;
    }
    let gone = (stop + 1).saturating_sub(flat.joints.len());
    if plain || flat.straights.len() != flat.joints.len() {
        return Vec::new();
    }
    flat.straights.extend(case.shape.straights.iter().skip(stop + 1).cloned());
    flat.joints.extend(case.shape.joints.iter().skip(stop + 1).cloned());
    let words = format!("lay the dip flat: go on level at the riser's height, without its {gone} bends");
    vec![case.change(&flat, words, part.level_deviation_m)]
}

/// The last leg of a dip that starts from level leg `i` and comes back to its heading; `i` itself where
/// there is no dip.
fn level_again(legs: &[Leg], i: usize) -> usize {
    let level = |leg: &Leg| leg.heading.z.abs() < LEVEL;
    if !level(&legs[i]) || legs.get(i + 1).is_none_or(level) {
        return i;
    }
    let height = legs[i].to.z;
    let back = (i + 2..legs.len()).rev().find(|j| {
        level(&legs[*j]) && same(legs[*j].heading, legs[i].heading) && (legs[*j].to.z - height).abs() < 1e-6
    });
    back.unwrap_or(i)
}

/// The runs of legs `from..=to` as one run of their plan length, with what the level ones are bored through.
fn laid_flat(legs: &[Leg], shape: &Shape, from: usize, to: usize) -> Vec<Run> {
    let mut crossings = Vec::new();
    let mut plan_m = 0.0;
    for (leg, runs) in legs[from..=to].iter().zip(&shape.straights[from..=to]) {
        let flat = (1.0 - leg.heading.z * leg.heading.z).max(0.0).sqrt();
        for old in runs {
            crossings.extend(old.crossings.iter().cloned().map(|mut crossing| {
                crossing.at_m = plan_m + crossing.at_m * flat;
                crossing
            }));
            plan_m += old.length_m * flat;
        }
    }
    let place = shape.straights[from].first().map_or(Place::default(), |run| run.place.clone());
    let mut merged = run(plan_m, place);
    merged.crossings = crossings;
    vec![merged]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::route::testing::route;

    #[test]
    fn recovers_the_end_of_a_dip() {
        let dip = route(
            "down",
            "1 run; 90 west; 3 run; 22.5 down; 0.8 run; 22.5 up; 1 run; 22.5 up; 0.8 run; 22.5 down; 2 run",
        );
        assert_eq!(level_again(&dip.legs, 1), 5);
        let level = route("down", "1 run; 90 west; 3 run; 90 south; 2 run");
        assert_eq!(level_again(&level.legs, 1), 1);
    }
}

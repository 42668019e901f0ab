//! A path as straights and what stands between them, so that one straight can be changed.
use crate::company::{Run, Step, Turn};
use crate::text::Place;

/// A path taken apart: `straights` holds one entry more than `joints`.
///
/// A leg is one straight, but for the leg that the stop stands in: its two sides are cut and changed each by
/// itself, so that it is two.
#[derive(Debug, Clone)]
pub struct Shape {
    pub straights: Vec<Vec<Run>>,
    pub joints: Vec<Joint>,
}

/// What stands between two straights.
#[derive(Debug, Clone)]
pub enum Joint {
    Turn(Box<Turn>),
    Stop,
}

/// No straight is shortened below this: a tube of the shortest kind and two sockets must remain.
const LEAST_LEG_M: f64 = 0.15;

impl Shape {
    /// Takes steps apart.
    pub fn of(steps: &[Step]) -> Shape {
        let mut shape = Shape { straights: vec![Vec::new()], joints: Vec::new() };
        for step in steps {
            let joint = match step {
                Step::Run(run) => {
                    if let Some(straight) = shape.straights.last_mut() {
                        straight.push(run.clone());
                    }
                    continue;
                }
                Step::Turn(turn) => Joint::Turn(Box::new(turn.clone())),
                Step::Stop => Joint::Stop,
            };
            shape.joints.push(joint);
            shape.straights.push(Vec::new());
        }
        shape
    }

    /// Puts them together again.
    pub fn steps(&self) -> Vec<Step> {
        let mut steps = Vec::new();
        for (i, straight) in self.straights.iter().enumerate() {
            steps.extend(straight.iter().cloned().map(Step::Run));
            steps.extend(self.joints.get(i).map(|joint| match joint {
                Joint::Turn(turn) => Step::Turn(Turn::clone(turn)),
                Joint::Stop => Step::Stop,
            }));
        }
        steps
    }

    /// Length of a straight.
    pub fn length_m(&self, straight: usize) -> f64 {
        self.straights.get(straight).map_or(0.0, |runs| runs.iter().map(|run| run.length_m).sum())
    }

    /// The joint that is the stop.
    pub fn stop(&self) -> Option<usize> {
        self.joints.iter().position(|joint| matches!(joint, Joint::Stop))
    }

    /// The joint that is bend number `n`.
    pub fn bend(&self, n: usize) -> Option<usize> {
        let turns = self.joints.iter().enumerate().filter(|(_, joint)| matches!(joint, Joint::Turn(_)));
        turns.map(|(at, _)| at).nth(n.checked_sub(1)?)
    }

    /// Index of the leg that a straight is, or is a part of.
    pub fn leg(&self, straight: usize) -> usize {
        self.joints.iter().take(straight).filter(|joint| matches!(joint, Joint::Turn(_))).count()
    }

    /// The turn at a joint.
    pub fn turn_mut(&mut self, joint: usize) -> Option<&mut Turn> {
        match self.joints.get_mut(joint)? {
            Joint::Turn(turn) => Some(turn.as_mut()),
            Joint::Stop => None,
        }
    }

    /// Makes the last run of a straight longer, or shorter when `by_m` is negative. `None` where the run would
    /// be too short, or would lose what it is bored through.
    pub fn stretch(&self, straight: usize, by_m: f64) -> Option<Shape> {
        let mut changed = self.clone();
        let run = changed.straights.get_mut(straight)?.last_mut()?;
        run.length_m += by_m;
        let whole = run.length_m >= LEAST_LEG_M && run.crossings.iter().all(|c| c.at_m <= run.length_m);
        whole.then_some(changed)
    }

    /// The stop set before the turn at `joint`, so far from its work point; the straights beside the old stop
    /// become one. `None` where there is no stop, or no room for one.
    pub fn stop_before(&self, joint: usize, before_m: f64) -> Option<Shape> {
        let mut changed = self.stretch(joint, -before_m)?;
        let old = changed.stop().filter(|old| *old > joint)?;
        changed.joints.remove(old);
        let beyond = changed.straights.remove(old + 1);
        changed.straights[old].extend(beyond);
        changed.joints.insert(joint, Joint::Stop);
        changed.straights.insert(joint + 1, vec![run(before_m, Place::default())]);
        Some(changed)
    }
}

/// A plain run.
pub fn run(length_m: f64, place: Place) -> Run {
    Run { place, ..Run::plain(length_m) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::route::testing::spec;

    #[test]
    fn steps_survive_being_taken_apart() {
        let spec = spec("down", "1 run; 90 west; 3 run; 2 run");
        assert_eq!(Shape::of(&spec.steps).steps(), spec.steps);
    }

    #[test]
    fn the_stop_parts_a_leg_and_keeps_its_number() {
        let mut steps = spec("down", "1 run; 90 west; 3 run; 2 run").steps;
        steps.retain(|step| *step != Step::Stop);
        steps.insert(3, Step::Stop);
        let shape = Shape::of(&steps);
        assert_eq!((shape.straights.len(), shape.stop()), (3, Some(1)));
        assert_eq!([0, 1, 2].map(|straight| shape.leg(straight)), [0, 1, 1]);
        assert_eq!((shape.bend(1), shape.bend(2)), (Some(0), None));
        let earlier = shape.stop_before(0, 0.3).unwrap();
        assert_eq!(earlier.stop(), Some(0));
        assert_eq!([0, 1, 2].map(|straight| earlier.length_m(straight)), [0.7, 0.3, 5.0]);
    }
}

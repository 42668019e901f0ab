//! A path as legs and turns, so that one leg can be changed.
use crate::company::{Run, Step, Turn};
use crate::text::Place;

/// A path taken apart: `legs` holds one entry more than `turns`.
#[derive(Debug, Clone)]
pub struct Shape {
    pub legs: Vec<Vec<Run>>,
    pub turns: Vec<Turn>,
}

/// No leg is shortened below this: a tube of the shortest kind and two sockets must remain.
const LEAST_LEG_M: f64 = 0.15;

impl Shape {
    /// Takes steps apart.
    pub fn of(steps: &[Step]) -> Shape {
        let mut shape = Shape { legs: vec![Vec::new()], turns: Vec::new() };
        for step in steps {
            match step {
                Step::Run(run) => {
                    if let Some(leg) = shape.legs.last_mut() {
                        leg.push(run.clone());
                    }
                }
                Step::Turn(turn) => {
                    shape.turns.push(turn.clone());
                    shape.legs.push(Vec::new());
                }
                Step::Stop => {}
            }
        }
        shape
    }

    /// Puts them together again.
    pub fn steps(&self) -> Vec<Step> {
        let mut steps = Vec::new();
        for (i, leg) in self.legs.iter().enumerate() {
            steps.extend(leg.iter().cloned().map(Step::Run));
            steps.extend(self.turns.get(i).cloned().map(Step::Turn));
        }
        steps
    }

    /// Length of a leg.
    pub fn length_m(&self, leg: usize) -> f64 {
        self.legs.get(leg).map_or(0.0, |runs| runs.iter().map(|run| run.length_m).sum())
    }

    /// Makes the last run of a leg longer, or shorter when `by_m` is negative. `None` where the run would be
    /// too short, or would lose what it is bored through.
    pub fn stretch(&self, leg: usize, by_m: f64) -> Option<Shape> {
        let mut changed = self.clone();
        let run = changed.legs.get_mut(leg)?.last_mut()?;
        run.length_m += by_m;
        let whole = run.length_m >= LEAST_LEG_M && run.crossings.iter().all(|c| c.at_m <= run.length_m);
        whole.then_some(changed)
    }

    /// Ends the path before its turn number `turn` (from 0), giving back the steps cut off, which start with
    /// that turn.
    pub fn cut_before(&self, turn: usize) -> (Shape, Vec<Step>) {
        let kept = Shape { legs: self.legs[..=turn].to_vec(), turns: self.turns[..turn].to_vec() };
        let mut rest = Vec::new();
        for i in turn..self.turns.len() {
            rest.push(Step::Turn(self.turns[i].clone()));
            rest.extend(self.legs[i + 1].iter().cloned().map(Step::Run));
        }
        (kept, rest)
    }
}

/// A plain run.
pub fn run(length_m: f64, place: Place) -> Run {
    Run { place, ..Run::plain(length_m) }
}

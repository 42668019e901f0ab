//! Which of the possible splits to take, so that the job needs fewer sticks.

use crate::material::cutting::{CutError, Tried, cut, tried};
use crate::material::split::{TubeToSplit, alternatives};
use crate::material::stock::Stock;

/// So many whole plans are made by rule of thumb at most.
const MOST_TRIALS: usize = 1_500;

/// So many lengths of offcut are offered to a tube at most.
const MOST_RESTS: usize = 10;

/// So many splits of each of two tubes are tried together.
const PAIRED: usize = 8;

/// The given splits if they need no more sticks than any must or no better ones are found; else
/// others with as many pieces each, in the same order, that need fewer sticks.
pub(super) fn fewest_sticks(
    tubes: &[&TubeToSplit],
    splits: Vec<Vec<f64>>,
    least: usize,
    stock: &Stock,
    steps: u64,
) -> Result<Vec<Vec<f64>>, CutError> {
    let first = cut(&splits.concat(), stock, steps)?.sticks.len();
    if first <= least {
        return Ok(splits);
    }
    let tried = tried(&splits.concat(), stock);
    let mut choice = Choice {
        tubes,
        stock,
        least,
        splits: splits.clone(),
        tried,
        trials: 0,
    };
    choice.improve();
    let found = cut(&choice.splits.concat(), stock, steps)?.sticks.len();
    if found >= first {
        return Ok(splits);
    }
    choice.go_back_to(&splits, found);
    Ok(choice.splits)
}

/// Splits for every tube, and how well they cut by rule of thumb.
struct Choice<'a> {
    tubes: &'a [&'a TubeToSplit],
    stock: &'a Stock,
    least: usize,
    splits: Vec<Vec<f64>>,
    tried: Tried,
    trials: usize,
}

impl Choice<'_> {
    /// Changes one tube at a time while that helps, then two at a time.
    fn improve(&mut self) {
        while !self.is_over() && (self.pass_over_tubes() || self.pass_over_pairs()) {}
    }

    fn is_over(&self) -> bool {
        self.tried.sticks <= self.least || self.trials >= MOST_TRIALS
    }

    fn pass_over_tubes(&mut self) -> bool {
        let mut better = false;
        for t in self.coupled() {
            for split in self.offers(t) {
                better |= self.take_if_better(vec![(t, split)]);
            }
        }
        better
    }

    fn pass_over_pairs(&mut self) -> bool {
        let coupled = self.coupled();
        for (i, &t) in coupled.iter().enumerate() {
            let firsts = self.offers(t);
            for &u in &coupled[i + 1..] {
                let seconds = self.offers(u);
                for first in firsts.iter().take(PAIRED) {
                    for second in seconds.iter().take(PAIRED) {
                        if self.take_if_better(vec![(t, first.clone()), (u, second.clone())]) {
                            return true;
                        }
                    }
                }
                if self.is_over() {
                    return false;
                }
            }
        }
        false
    }

    fn coupled(&self) -> Vec<usize> {
        (0..self.splits.len())
            .filter(|t| self.splits[*t].len() > 1)
            .collect()
    }

    /// Splits of a tube other than its present one, those made to fit the present offcuts among them.
    fn offers(&self, t: usize) -> Vec<Vec<f64>> {
        let mut rests = self.tried.rests_m.clone();
        rests.truncate(MOST_RESTS);
        let mut offers = alternatives(self.tubes[t], self.stock, &rests).unwrap_or_default();
        offers.retain(|split| *split != self.splits[t]);
        offers
    }

    fn take_if_better(&mut self, changes: Vec<(usize, Vec<f64>)>) -> bool {
        if self.is_over() {
            return false;
        }
        self.trials += 1;
        let mut splits = self.splits.clone();
        changes.into_iter().for_each(|(t, split)| splits[t] = split);
        let tried = tried(&splits.concat(), self.stock);
        let better = tried.is_better_than(&self.tried);
        if better {
            (self.splits, self.tried) = (splits, tried);
        }
        better
    }

    /// Undoes every change that saves no stick.
    fn go_back_to(&mut self, splits: &[Vec<f64>], sticks: usize) {
        for (t, split) in splits.iter().enumerate() {
            let changed = std::mem::replace(&mut self.splits[t], split.clone());
            if changed != *split && tried(&self.splits.concat(), self.stock).sticks > sticks {
                self.splits[t] = changed;
            }
        }
    }
}

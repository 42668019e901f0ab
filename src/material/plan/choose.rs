//! Which of the possible splits to take, so that the job needs fewer sticks.

use crate::material::cutting::{CutError, Plan, Tried, cut, tried};
use crate::material::split::{TubeToSplit, alternatives};
use crate::material::stock::Stock;

/// Whole plans are tried until so many pieces have been placed in all: well over a thousand plans for a
/// usual job, and fewer for a large one, for which each takes longer.
const MOST_PLACED: usize = 100_000;

/// So many splits of each of two tubes are tried together.
const PAIRED: usize = 8;

/// The given splits if they need no more sticks than any must or no better ones are found; else
/// others with as many pieces each, in the same order, that need fewer sticks. With them the plan of
/// their pieces, one after the other.
pub(super) fn fewest_sticks(
    tubes: &[(&TubeToSplit, Stock)],
    splits: Vec<Vec<f64>>,
    least: usize,
    stock: &Stock,
    steps: u64,
) -> Result<(Vec<Vec<f64>>, Plan), CutError> {
    let plan = cut(&splits.concat(), stock, steps)?;
    let first = plan.sticks.len();
    if first <= least {
        return Ok((splits, plan));
    }
    let tried = tried(&splits.concat(), stock, first);
    let mut choice = Choice { tubes, stock, least, splits: splits.clone(), tried, placed: 0 };
    choice.improve();
    let found = cut(&choice.splits.concat(), stock, steps)?.sticks.len();
    if found >= first {
        return Ok((splits, plan));
    }
    choice.go_back_to(&splits, found);
    let plan = cut(&choice.splits.concat(), stock, steps)?;
    Ok((choice.splits, plan))
}

/// Splits for every tube, and how well they cut by rule of thumb.
struct Choice<'a> {
    tubes: &'a [(&'a TubeToSplit, Stock)],
    stock: &'a Stock,
    least: usize,
    splits: Vec<Vec<f64>>,
    tried: Tried,
    placed: usize,
}

impl Choice<'_> {
    /// Changes one tube at a time while that helps, then two at a time.
    fn improve(&mut self) {
        while !self.is_over() && (self.pass_over_tubes() || self.pass_over_pairs()) {}
    }

    fn is_over(&self) -> bool {
        self.tried.sticks.len() <= self.least || self.placed >= MOST_PLACED
    }

    fn pass_over_tubes(&mut self) -> bool {
        let mut better = false;
        for t in self.coupled() {
            if self.is_over() {
                break;
            }
            for split in self.offers(t) {
                better |= self.take_if_better(vec![(t, split)]);
            }
        }
        better
    }

    fn pass_over_pairs(&mut self) -> bool {
        let coupled = self.coupled();
        // Found when a tube's turn comes: in a large job the plans are used up long before the last.
        let mut offers: Vec<Option<Vec<Vec<f64>>>> = vec![None; coupled.len()];
        for (i, t) in coupled.iter().enumerate() {
            for (j, u) in coupled.iter().enumerate().skip(i + 1) {
                if self.is_over() {
                    return false;
                }
                let mut few = |n: usize, tube| offers[n].get_or_insert_with(|| self.first_few(tube)).clone();
                let (firsts, seconds) = (few(i, *t), few(j, *u));
                let both = firsts.iter().flat_map(|first| seconds.iter().map(move |second| (first, second)));
                for (first, second) in both {
                    if self.take_if_better(vec![(*t, first.clone()), (*u, second.clone())]) {
                        return true;
                    }
                }
            }
        }
        false
    }

    fn first_few(&self, t: usize) -> Vec<Vec<f64>> {
        self.offers(t).into_iter().take(PAIRED).collect()
    }

    fn coupled(&self) -> Vec<usize> {
        (0..self.splits.len()).filter(|t| self.splits[*t].len() > 1).collect()
    }

    /// Splits of a tube other than its present one.
    fn offers(&self, t: usize) -> Vec<Vec<f64>> {
        let (tube, own) = &self.tubes[t];
        let mut offers = alternatives(tube, own, &self.wanted_m(t)).unwrap_or_default();
        offers.retain(|split| *split != self.splits[t]);
        offers
    }

    /// Lengths that would be welcome as pieces of a tube: those that fill a stick on which it has a
    /// piece, as the stick is or with the piece of another tube beside it, so that what is left of two
    /// sticks comes together on one; and what is left of the other sticks.
    fn wanted_m(&self, t: usize) -> Vec<f64> {
        let first: usize = self.splits[..t].iter().map(Vec::len).sum();
        let own = first..first + self.splits[t].len();
        let sticks = &self.tried.sticks;
        let kerf_m = self.stock.kerf_m;
        let mut wanted = Vec::new();
        for stick in sticks {
            let used_m: f64 = stick.pieces.iter().map(|p| p.length_m + kerf_m).sum();
            let room_m = self.stock.stick_m + kerf_m - used_m;
            let own_here = stick.pieces.iter().find(|p| own.contains(&p.index));
            wanted.push(own_here.map_or(room_m - kerf_m, |p| p.length_m + room_m));
        }
        let others = sticks.iter().flat_map(|s| &s.pieces).filter(|p| !own.contains(&p.index));
        wanted.extend(others.map(|p| self.stock.stick_m - kerf_m - p.length_m));
        wanted.retain(|w| *w >= self.stock.shortest_m);
        wanted.sort_by(|a, b| b.total_cmp(a));
        wanted.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
        wanted
    }

    fn take_if_better(&mut self, changes: Vec<(usize, Vec<f64>)>) -> bool {
        if self.is_over() {
            return false;
        }
        self.placed += self.splits.iter().map(Vec::len).sum::<usize>();
        let mut splits = self.splits.clone();
        changes.into_iter().for_each(|(t, split)| splits[t] = split);
        let tried = tried(&splits.concat(), self.stock, self.tried.sticks.len() - 1);
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
            if changed != *split && tried(&self.splits.concat(), self.stock, sticks).sticks.len() > sticks {
                self.splits[t] = changed;
            }
        }
    }
}

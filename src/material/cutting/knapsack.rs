//! The most valuable pattern for one stick.

use super::packing::{Effort, Packing, Pattern};

/// The best pattern that was found, its value, and whether the search for a better one was finished.
/// The pattern is empty and the value the one to beat when none beats it.
#[derive(Debug, Clone)]
pub(super) struct Best {
    pub pattern: Pattern,
    pub value: i64,
    pub complete: bool,
}

/// Finds the pattern with the greatest sum of values, no type taken more often than it is demanded, if
/// that sum is over `to_beat`.
///
/// Depth first by falling value per length; a branch is left when filling all that is left of the
/// stick at the best rate still open would not beat the best found. Types without value are not taken.
pub(super) fn most_valuable(packing: &Packing, values: &[i64], to_beat: i64, effort: &mut Effort) -> Best {
    let mut order: Vec<usize> =
        (0..packing.types()).filter(|t| values[*t] > 0 && packing.demand[*t] > 0).collect();
    // value_a / size_a against value_b / size_b, in whole numbers; the longer first when equal.
    let rate = |t: usize, other: usize| i128::from(values[t]) * i128::from(packing.sizes[other]);
    order.sort_by(|&a, &b| rate(b, a).cmp(&rate(a, b)).then(a.cmp(&b)));
    let mut search = Search {
        packing,
        values,
        order,
        taken: vec![0; packing.types()],
        best: Best { pattern: vec![0; packing.types()], value: to_beat, complete: true },
        effort,
    };
    search.from(0, packing.capacity, 0);
    search.best
}

struct Search<'a> {
    packing: &'a Packing,
    values: &'a [i64],
    order: Vec<usize>,
    taken: Pattern,
    best: Best,
    effort: &'a mut Effort,
}

impl Search<'_> {
    /// Decides the types from the `k`th on, with `room` left and `value` gathered.
    fn from(&mut self, k: usize, room: i64, value: i64) {
        if value > self.best.value {
            self.best.value = value;
            self.best.pattern.clone_from(&self.taken);
        }
        // Types that do not fit are passed over without a step.
        let fits = |t: &usize| self.packing.sizes[*t] <= room;
        let Some(skip) = self.order[k..].iter().position(fits) else {
            return;
        };
        let k = k + skip;
        let t = self.order[k];
        let (size, worth) = (self.packing.sizes[t], self.values[t]);
        let most_more = i128::from(room) * i128::from(worth) / i128::from(size);
        if i128::from(value) + most_more <= i128::from(self.best.value) {
            return;
        }
        if !self.effort.step() {
            self.best.complete = false;
            return;
        }
        let most = (room / size).min(i64::from(self.packing.demand[t]));
        for count in (0..=most).rev() {
            self.taken[t] = count as u32;
            self.from(k + 1, room - count * size, value + count * worth);
            if !self.best.complete {
                break;
            }
        }
        self.taken[t] = 0;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn agrees_with_every_pattern_tried() {
        let packing =
            Packing { capacity: 23, sizes: vec![11, 7, 5, 4], demand: vec![2, 2, 1, 3], members: vec![] };
        for values in [[11, 7, 5, 4], [12, 7, 6, 3], [1, 9, 2, 5], [0, 0, 3, 0]] {
            let mut best = 0;
            for code in 0..(3 * 3 * 2 * 4) {
                let pattern = [code % 3, code / 3 % 3, code / 9 % 2, code / 18];
                let sum = |by: &[i64]| pattern.iter().zip(by).map(|(n, x)| n * x).sum::<i64>();
                if sum(&packing.sizes) <= 23 {
                    best = best.max(sum(&values));
                }
            }
            let found = most_valuable(&packing, &values, 0, &mut Effort::of(10_000));
            assert!(found.complete);
            assert_eq!(found.value, best, "{values:?}");
            let none = most_valuable(&packing, &values, best, &mut Effort::of(10_000));
            assert!(none.complete && none.pattern.iter().all(|n| *n == 0));
        }
    }
}

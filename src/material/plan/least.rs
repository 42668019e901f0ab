//! How few sticks a job could take if its couplings could lie anywhere.

use crate::material::cutting::{Units, ceil_div};
use crate::material::stock::Stock;

/// Thresholds tried at most; each gives a bound that holds, so fewer only make it weaker.
const MOST_THRESHOLDS: usize = 64;

/// Tubes of more pieces are counted by length alone, which needs no table of their pieces.
const MOST_PIECES_TABLED: usize = 40;

/// A bound over every division of each tube into as many pieces as it has here.
///
/// ```text
/// f_k(s) = C if s > C - k,  s if k <= s <= C - k,  0 if s < k        bound = ceil(sum f_k / C)
/// ```
///
/// with `C` the stick and `s` the pieces, kerf folded into both, and for each tube the least of
/// `sum f_k` over all divisions of its length. `k = 0` is the bound by length. No stick can hold more
/// than `C` of `f_k`, so the bound holds for every `k` up to `C / 2`, and the largest is taken.
///
/// Source of `f_k`: S. P. Fekete and J. Schepers, "New classes of fast lower bounds for bin packing
/// problems", Mathematical Programming 91 (2001) 11-31 (from memory).
pub(super) fn over_any_split(splits: &[Vec<f64>], stock: &Stock) -> usize {
    let units = Units::of(stock);
    let tubes: Vec<Tube> = splits.iter().map(|pieces| Tube::of(pieces, &units)).collect();
    let bound = |k: i64| {
        let total: i64 = tubes.iter().map(|tube| tube.least_worth(k, &units)).sum();
        ceil_div(total, units.capacity) as usize
    };
    thresholds(&tubes, &units).into_iter().map(bound).max().unwrap_or(0)
}

/// How long all pieces of a tube are together, and how many they are.
struct Tube {
    total: i64,
    pieces: i64,
}

impl Tube {
    fn of(pieces_m: &[f64], units: &Units) -> Self {
        let total = pieces_m.iter().map(|p| units.folded(*p)).sum();
        Self { total, pieces: pieces_m.len() as i64 }
    }

    /// The least of `sum f_k` over all divisions: `long` pieces over `C - k`, `short` ones under `k`,
    /// the others between.
    fn least_worth(&self, k: i64, units: &Units) -> i64 {
        if k == 0 || self.pieces as usize > MOST_PIECES_TABLED {
            return if k == 0 { self.total } else { 0 };
        }
        let c = units.capacity;
        let mut least = i64::MAX;
        for long in 0..=self.pieces {
            for short in 0..=(self.pieces - long) {
                let between = self.pieces - long - short;
                let from = long * (c - k + 1) + between * k + short;
                let to = long * c + between * (c - k) + short * (k - 1);
                if from <= self.total && self.total <= to {
                    let rest = self.total - long * c - short * (k - 1);
                    let worth = long * c + if between > 0 { rest.max(between * k) } else { 0 };
                    least = least.min(worth);
                }
            }
        }
        // No division can be missing, since the tube has one; by length is safe all the same.
        if least == i64::MAX { 0 } else { least }
    }
}

/// What is left of each tube after full sticks, and what that leaves of a stick.
fn thresholds(tubes: &[Tube], units: &Units) -> Vec<i64> {
    let c = units.capacity;
    let mut all: Vec<i64> = tubes
        .iter()
        .map(|tube| tube.total - (tube.pieces - 1) * c)
        .flat_map(|rest| [rest, rest / 2, c - rest, (c - rest) + 1, rest + 1, c / 2, c / 3])
        .filter(|k| *k > 0 && 2 * k <= c)
        .collect();
    all.sort_unstable();
    all.dedup();
    let every = all.len().div_ceil(MOST_THRESHOLDS).max(1);
    let mut chosen: Vec<i64> = all.into_iter().step_by(every).collect();
    chosen.push(0);
    chosen
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEN: Stock = Stock {
        stick_m: 10.0,
        kerf_m: 0.0,
        mark_m: 0.0,
        shortest_m: 1.0,
        coupling_gap_m: 0.0,
        coupling_socket_m: 0.0,
    };

    #[test]
    fn length_alone_bounds_tubes_that_divide_freely() {
        assert_eq!(over_any_split(&[vec![10.0, 2.0], vec![10.0, 2.0]], &TEN), 3);
        assert_eq!(over_any_split(&[], &TEN), 0);
    }

    #[test]
    fn tubes_of_two_long_pieces_need_a_stick_for_each() {
        // 16 of 10 is two pieces of 6 or more, however it is divided; by length, 48 would take 5.
        let splits = vec![vec![10.0, 6.0]; 3];
        assert_eq!(over_any_split(&splits, &TEN), 6);
    }
}

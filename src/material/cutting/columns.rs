//! Gilmore and Gomory's linear programme over cutting patterns, solved by column generation.
//!
//! Minimise `sum(x_j)` with `sum(x_j a_ij) = demand_i`, `x >= 0`, over all patterns `a_j`. Patterns
//! are made as they are wanted: given prices of the pieces (the duals), the most valuable pattern for
//! one stick is a knapsack problem, and a pattern worth more than one stick improves the solution.

use super::knapsack::{Best, most_valuable};
use super::packing::{Effort, Packing, Pattern};

/// The solution of the programme, or the best approach to it that the effort allowed.
#[derive(Debug, Clone)]
pub(super) struct Relaxed {
    /// A number of sticks that no plan can be under, safe from rounding (see [`safe_bound`]).
    pub bound: usize,
    /// Patterns with how often each is used, not whole as a rule.
    pub uses: Vec<(Pattern, f64)>,
}

/// Prices are turned into whole numbers in this unit, so that the bound rests on exact arithmetic.
const PRICE_UNIT: f64 = 1e9;

/// A pattern must be worth more than a stick and this to be taken in: enough to stand above the
/// rounding of the duals, too little to move the bound.
const NO_GAIN: i64 = PRICE_UNIT as i64 + 100;

/// Any pattern that gains will do to go on with, so the search for the best is cut short at first.
const FIRST_LOOK: u64 = 2_000;

/// Below this a pivot is taken for rounding.
const SMALL: f64 = 1e-9;

/// Solves the programme; nothing when the effort ran out before any bound was reached.
pub(super) fn relax(packing: &Packing, effort: &mut Effort) -> Option<Relaxed> {
    let mut master = Master::of(packing);
    let mut bound = None;
    // Degenerate steps could go in a circle; the count ends that, and the bound stays valid.
    for _ in 0..(60 * packing.types() + 200) {
        // Taking a pattern in touches every entry of the inverse, which a step for each row pays for.
        if !effort.steps(packing.types() as u64) {
            break;
        }
        let prices = master.prices();
        let best = improving(packing, &prices, effort);
        if best.complete {
            bound = bound.max(safe_bound(packing, &prices, &best));
        }
        if best.value <= NO_GAIN || !master.take_in(best.pattern) {
            break;
        }
    }
    let uses = master.basis.into_iter().zip(master.uses).collect();
    bound.map(|bound| Relaxed { bound, uses })
}

fn improving(packing: &Packing, prices: &[i64], effort: &mut Effort) -> Best {
    let mut look = effort.part(FIRST_LOOK);
    let best = most_valuable(packing, prices, NO_GAIN, &mut look);
    effort.give_back(look);
    if best.complete || best.value > NO_GAIN { best } else { most_valuable(packing, prices, NO_GAIN, effort) }
}

/// `ceil(sum(demand_i p_i) / V)` where no stick can hold pieces worth more than `V` at prices `p`.
///
/// It holds for any prices that are not negative, so that it does not matter how exactly the duals
/// were found. Source: A. A. Farley, "A note on bounding a class of linear programming problems",
/// Operations Research 38 (1990) 922-923 (from memory).
fn safe_bound(packing: &Packing, prices: &[i64], best: &Best) -> Option<usize> {
    let worth = packing.demand.iter().zip(prices).map(|(d, p)| i128::from(*d) * i128::from(*p)).sum::<i128>();
    let most = i128::from(best.value);
    (most > 0).then(|| ((worth + most - 1) / most) as usize)
}

/// The simplex table: one pattern in the basis for each type, the inverse of their matrix, and how
/// often each is used.
struct Master {
    basis: Vec<Pattern>,
    inverse: Vec<Vec<f64>>,
    uses: Vec<f64>,
}

impl Master {
    /// Starts with sticks of one type each.
    fn of(packing: &Packing) -> Self {
        let types = packing.types();
        let mut master = Self { basis: Vec::new(), inverse: Vec::new(), uses: Vec::new() };
        for t in 0..types {
            let count = (packing.capacity / packing.sizes[t]).min(i64::from(packing.demand[t])) as u32;
            let (mut pattern, mut row) = (vec![0; types], vec![0.0; types]);
            pattern[t] = count;
            row[t] = 1.0 / f64::from(count);
            master.basis.push(pattern);
            master.inverse.push(row);
            master.uses.push(f64::from(packing.demand[t]) / f64::from(count));
        }
        master
    }

    /// What one piece of each type is worth, a stick being worth one [`PRICE_UNIT`]; not negative.
    fn prices(&self) -> Vec<i64> {
        // Row by row, as the table lies in memory.
        let mut sums = vec![0.0; self.basis.len()];
        for row in &self.inverse {
            sums.iter_mut().zip(row).for_each(|(sum, a): (&mut f64, _)| *sum += a);
        }
        sums.into_iter().map(|price| (price.max(0.0) * PRICE_UNIT).floor() as i64).collect()
    }

    /// Brings a pattern into the basis for one that leaves it; false when none can leave, which only
    /// rounding brings about.
    fn take_in(&mut self, pattern: Pattern) -> bool {
        // A stick takes a few of many types.
        let on_it: Vec<(usize, f64)> =
            pattern.iter().enumerate().filter(|(_, n)| **n > 0).map(|(t, n)| (t, f64::from(*n))).collect();
        let dot = |row: &Vec<f64>| on_it.iter().map(|(t, n)| row[*t] * n).sum();
        let column: Vec<f64> = self.inverse.iter().map(dot).collect();
        let ratio = |i: &usize| self.uses[*i].max(0.0) / column[*i];
        let can_leave = (0..column.len()).filter(|i| column[*i] > SMALL);
        let leaves =
            can_leave.min_by(|a, b| ratio(a).total_cmp(&ratio(b)).then(column[*b].total_cmp(&column[*a])));
        let Some(leaves) = leaves else { return false };
        self.pivot(leaves, &column);
        self.basis[leaves] = pattern;
        true
    }

    fn pivot(&mut self, at: usize, column: &[f64]) {
        let row: Vec<f64> = self.inverse[at].iter().map(|a| a / column[at]).collect();
        let used = self.uses[at].max(0.0) / column[at];
        for i in (0..column.len()).filter(|i| *i != at && column[*i] != 0.0) {
            self.uses[i] -= column[i] * used;
            self.inverse[i].iter_mut().zip(&row).for_each(|(a, r)| *a -= column[i] * r);
        }
        self.inverse[at] = row;
        self.uses[at] = used;
    }
}

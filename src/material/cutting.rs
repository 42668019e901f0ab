//! The cutting plan: the fewest sticks that a list of pieces can be cut from.
//!
//! The method, in the order it is tried: a first fit by falling length; lower bounds, the strongest
//! of them Gilmore and Gomory's linear programme over cutting patterns; that programme rounded to
//! whole sticks; and, while a gap is left, an exact search stick by stick. Effort is capped by a count
//! of steps and never by a clock, so the same pieces give the same plan on every machine.

mod bounds;
mod columns;
mod knapsack;
mod packing;
mod rounding;
mod search;

use crate::measure::{self, Si};
use std::fmt;

use super::stock::{Stock, StockError};
pub(super) use bounds::ceil_div;
pub(super) use packing::Units;
use packing::{Effort, Packing, Pattern, units};

/// The steps that suit a job: a few seconds at worst, and seldom more than a few thousand are used.
pub const STEPS: u64 = 2_000_000;

/// More pieces than this in one list is taken for a slip.
pub const MOST_PIECES_IN_LIST: usize = 100_000;

/// One piece of the list that was given, by its place in it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PieceRef {
    pub index: usize,
    pub length_m: f64,
}

/// What one stick is cut into, the longest piece first. There is at least one piece, and
/// `sum(pieces) + kerf (n - 1)` is not over the stick.
#[derive(Debug, Clone, PartialEq)]
pub struct StickPlan {
    pub pieces: Vec<PieceRef>,
    /// What is left after the kerfs; 0 when the last cut takes the rest.
    pub offcut_m: f64,
    /// Whether the offcut is long enough to be used again.
    pub kept: bool,
}

/// Every piece of a list on some stick, once.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// The sticks that start with the longest pieces come first.
    pub sticks: Vec<StickPlan>,
    /// No plan for these pieces has fewer sticks than this.
    pub lower_bound: usize,
    /// Whether the plan is known to have the fewest sticks: as many as the bound, which an exact
    /// search that came to its end has raised if need be.
    pub proven: bool,
}

/// Why a list of pieces cannot be cut.
#[derive(Debug, Clone, PartialEq)]
pub enum CutError {
    /// The stock itself makes no sense.
    Stock(StockError),
    /// A piece whose length is not a number above nothing.
    NotALength { index: usize, length_m: f64 },
    /// A piece longer than a stick.
    OverStick { index: usize, length_m: f64, stick_m: f64 },
    /// More than [`MOST_PIECES_IN_LIST`].
    TooMany { pieces: usize },
}

/// Cuts pieces of the given lengths from the fewest sticks.
///
/// ```text
/// on each stick:  sum(length) + kerf (n - 1) <= stick,  that is  sum(length + kerf) <= stick + kerf
/// ```
///
/// Arguments: `lengths_m`, each above 0 and not over the stick; `stock`, of which the stick, the kerf
/// and the shortest length that is kept are used; `steps`, the cap on effort, for which [`STEPS`] is a
/// good figure.
///
/// Result: a [`Plan`]. When the steps run out it is still a good plan, with `proven` false.
///
/// Errors: see [`CutError`].
///
/// Accuracy: lengths are taken to the nearest nanometre, and a stick is allowed a tenth of a
/// micrometre for that rounding.
///
/// ```
/// use longsweep::material::{STEPS, Stock, cut};
/// // A constraint-modelling tutorial's sample: width 10; 2 of 7, 2 of 5, 4 of 3; 4 is the optimum.
/// let stock = Stock {
///     stick_m: 10.0, kerf_m: 0.0, mark_m: 0.0, shortest_m: 1.0, coupling_gap_m: 0.0, coupling_socket_m: 0.0,
/// };
/// let plan = cut(&[7.0, 7.0, 5.0, 5.0, 3.0, 3.0, 3.0, 3.0], &stock, STEPS).unwrap();
/// assert_eq!(plan.sticks.len(), 4);
/// assert!(plan.proven);
/// ```
///
/// Source of the bound: P. C. Gilmore and R. E. Gomory, "A linear programming approach to the
/// cutting-stock problem", Operations Research 9 (1961) 849-859; of the search: S. Martello and
/// P. Toth, Knapsack Problems (1990), chapter 8 (both from memory).
pub fn cut(lengths_m: &[f64], stock: &Stock, steps: u64) -> Result<Plan, CutError> {
    check(lengths_m, stock)?;
    let packing = Packing::of(lengths_m, stock);
    let found = solve(&packing, &mut Effort::of(steps));
    let proven = found.sticks.len() == found.lower_bound;
    let sticks = told(&found.sticks, &packing, lengths_m, stock);
    Ok(Plan { sticks, lower_bound: found.lower_bound, proven })
}

/// How many sticks two quick rules of thumb need, the better of the two: first fit by falling length,
/// and filling each stick as full as can be. The plan of [`cut`] is never worse.
#[cfg(test)]
pub(crate) fn cut_by_rule(lengths_m: &[f64], stock: &Stock) -> Result<Plan, CutError> {
    check(lengths_m, stock)?;
    let packing = Packing::of(lengths_m, stock);
    let found = by_rule(&packing);
    let proven = found.sticks.len() == found.lower_bound;
    let sticks = told(&found.sticks, &packing, lengths_m, stock);
    Ok(Plan { sticks, lower_bound: found.lower_bound, proven })
}

/// How a list of pieces cuts with little effort: for comparing many lists quickly.
#[derive(Debug, Clone)]
pub(super) struct Tried {
    pub sticks: Vec<StickPlan>,
    /// The sum of the squares of what is left: few long rests are worth more than many short ones.
    squares: f64,
}

impl Tried {
    /// Fewer sticks, or as many with the rests more in one.
    pub fn is_better_than(&self, other: &Self) -> bool {
        // Squares that differ by less than this differ by rounding, which must not decide anything.
        let (ours, theirs) = (self.sticks.len(), other.sticks.len());
        ours < theirs || (ours == theirs && self.squares > other.squares + 1e-9)
    }
}

/// Steps of exact search that one such trial may take.
const TRIAL_STEPS: u64 = 5_000;

/// Tries a list that [`cut`] would take: by rule of thumb, and with a short search for `hoped` sticks
/// if the rule needs more.
pub(super) fn tried(lengths_m: &[f64], stock: &Stock, hoped: usize) -> Tried {
    let packing = Packing::of(lengths_m, stock);
    let mut found = by_rule(&packing);
    let worth_a_search = found.lower_bound <= hoped && hoped < found.sticks.len();
    let effort = &mut Effort::of(TRIAL_STEPS);
    if worth_a_search && let search::Outcome::Found(sticks) = search::within(&packing, hoped, effort) {
        found.keep_better(sticks);
    }
    let sticks = told(&found.sticks, &packing, lengths_m, stock);
    let squares = sticks.iter().map(|s| s.offcut_m * s.offcut_m).sum();
    Tried { sticks, squares }
}

struct Found {
    sticks: Vec<Pattern>,
    lower_bound: usize,
}

impl Found {
    fn keep_better(&mut self, sticks: Vec<Pattern>) {
        if sticks.len() < self.sticks.len() {
            self.sticks = sticks;
        }
    }
}

fn by_rule(packing: &Packing) -> Found {
    let lower_bound = bounds::first(packing).max(bounds::second(packing.capacity, &packing.counted()));
    let mut found = Found { sticks: rounding::first_fit(packing), lower_bound };
    if found.sticks.len() > lower_bound {
        found.keep_better(rounding::fullest_first(packing));
    }
    found
}

fn solve(packing: &Packing, effort: &mut Effort) -> Found {
    let mut found = by_rule(packing);
    if found.sticks.len() > found.lower_bound {
        // The programme may take half, so that the search is left the other half.
        let mut share = effort.half();
        if let Some(relaxed) = columns::relax(packing, &mut share) {
            found.lower_bound = found.lower_bound.max(relaxed.bound);
            if found.sticks.len() > found.lower_bound {
                found.keep_better(rounding::rounded(packing, relaxed, &mut share));
            }
        }
        effort.give_back(share);
    }
    while found.sticks.len() > found.lower_bound {
        match search::within(packing, found.lower_bound, effort) {
            search::Outcome::Found(sticks) => found.keep_better(sticks),
            search::Outcome::Impossible => found.lower_bound += 1,
            search::Outcome::GaveUp => break,
        }
    }
    found
}

fn check(lengths_m: &[f64], stock: &Stock) -> Result<(), CutError> {
    let stick_m = stock.checked().map_err(CutError::Stock)?.stick_m;
    if lengths_m.len() > MOST_PIECES_IN_LIST {
        return Err(CutError::TooMany { pieces: lengths_m.len() });
    }
    for (index, &length_m) in lengths_m.iter().enumerate() {
        if !length_m.is_finite() || units(length_m) < 1 {
            return Err(CutError::NotALength { index, length_m });
        }
        if units(length_m) > units(stick_m) + packing::SLACK {
            return Err(CutError::OverStick { index, length_m, stick_m });
        }
    }
    Ok(())
}

/// The patterns in terms of the pieces that were asked for.
fn told(sticks: &[Pattern], packing: &Packing, lengths_m: &[f64], stock: &Stock) -> Vec<StickPlan> {
    let mut sticks = sticks.to_vec();
    // Types run from long to short, so this puts the sticks with the longest pieces first.
    sticks.sort_by(|a, b| b.cmp(a));
    let mut waiting: Vec<_> = packing.members.iter().map(|indices| indices.iter().copied()).collect();
    let mut tell = |pattern: &Pattern| {
        let mut pieces = Vec::new();
        for (queue, &count) in waiting.iter_mut().zip(pattern) {
            pieces.extend(
                queue.take(count as usize).map(|index| PieceRef { index, length_m: lengths_m[index] }),
            );
        }
        let sawn_m = pieces.iter().map(|p| stock.sawn_m(p.length_m)).sum();
        let offcut_m = stock.offcut_m(sawn_m, pieces.len());
        StickPlan { pieces, offcut_m, kept: stock.keeps(offcut_m) }
    };
    sticks.iter().map(&mut tell).collect()
}

impl CutError {
    /// The sentence in the units of its reader.
    pub fn said(&self, units: &dyn measure::Units) -> String {
        match self {
            Self::Stock(error) => error.said(units),
            Self::NotALength { length_m, .. } => {
                format!("a piece of {} cannot be cut", units.figure(*length_m, "m"))
            }
            Self::OverStick { length_m, stick_m, .. } => format!(
                "a piece of {} is longer than the stick, {}",
                units.figure(*length_m, "m"),
                units.figure(*stick_m, "m")
            ),
            Self::TooMany { pieces } => {
                format!(
                    "a list of {pieces} pieces is over the {MOST_PIECES_IN_LIST} that are planned at once"
                )
            }
        }
    }
}

impl fmt::Display for CutError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.said(&Si))
    }
}

impl std::error::Error for CutError {}

#[cfg(test)]
mod tests;

//! Where a tube longer than a stick is coupled.
//!
//! Stations run from the valve: 0 where the tube seats in the fitting before it, `clear` where it
//! seats in the fitting after it. Piece `i` ends at station `x_i`, the next begins one coupling gap
//! further on, and the coupling covers `x_i - socket ..= x_i + gap + socket`.

use crate::measure::{Si, Units};
use std::collections::HashSet;
use std::fmt;

use super::spans::Spans;
use super::stock::{SAME_M, Stock, StockError};

/// A tube between two fittings, and the stretches of it that no coupling may cover.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct TubeToSplit {
    /// From seat to seat.
    pub clear_m: f64,
    /// Stretches `(from, to)` by station, such as where the tube passes through framing.
    pub keep_clear: Vec<(f64, f64)>,
}

/// Why a tube cannot be made of sticks.
#[derive(Debug, Clone, PartialEq)]
pub enum SplitError {
    /// The stock itself makes no sense.
    Stock(StockError),
    /// The tube's length is not a number above nothing.
    NotALength { clear_m: f64 },
    /// A stretch to be kept clear is not a number, or ends before it begins.
    KeepClear { from_m: f64, to_m: f64 },
    /// The whole tube is shorter than a piece may be.
    TooShort { clear_m: f64, shortest_m: f64 },
    /// More than [`MOST_PIECES`] would be needed, which must be a slip.
    TooLong { clear_m: f64, pieces: f64 },
    /// However many pieces are tried, no coupling can lie past `reached_m`.
    NoPlace { clear_m: f64, fewest: usize, most: usize, reached_m: f64 },
}

/// A tube of more pieces than this is refused rather than reckoned.
pub const MOST_PIECES: usize = 1000;

/// At most so many splits of one tube are offered.
pub const MOST_ALTERNATIVES: usize = 64;

/// So many partial splits are looked at in the search for those offered.
const MOST_TRIES: usize = 4000;

/// Divides a tube into the fewest pieces, full sticks first from the valve.
///
/// ```text
/// sum(pieces) + gap (n - 1) = clear        n smallest with n stick + gap (n - 1) >= clear
/// ```
///
/// Arguments: `tube.clear_m` from seat to seat, above 0; `stock` as [`Stock::checked`] takes it.
/// Every piece is at least `shortest`, and where there are several at least two sockets long, so that
/// a coupling meets neither the next coupling nor the fitting at the tube's end. No coupling covers
/// any part of a stretch to be kept clear; touching its edge is allowed. If the fewest pieces leave no
/// place for a coupling, one more is tried, and so on.
///
/// Result: the lengths in metres from valve to stop. Among splits of equally few pieces the one with
/// the most full sticks is taken, then the one that leaves the least too short to keep, then the one
/// with the longest pieces first.
///
/// Errors: see [`SplitError`]. Assumption: the sockets of the fittings at the tube's ends are as deep
/// as the coupling's.
///
/// ```
/// use longsweep::material::{Stock, TubeToSplit, split};
/// let stock = Stock {
///     stick_m: 2.4, kerf_m: 0.003, mark_m: 0.0, shortest_m: 0.1, coupling_gap_m: 0.004, coupling_socket_m: 0.03,
/// };
/// let tube = TubeToSplit { clear_m: 6.0, keep_clear: vec![] };
/// let pieces = split(&tube, &stock).unwrap();
/// // 2.4 + 0.004 + 2.4 + 0.004 + 1.192 = 6
/// assert_eq!(pieces.len(), 3);
/// assert!((pieces[2] - 1.192).abs() < 1e-9);
/// ```
pub fn split(tube: &TubeToSplit, stock: &Stock) -> Result<Vec<f64>, SplitError> {
    let mut offered = alternatives(tube, stock, &[])?;
    Ok(offered.swap_remove(0))
}

/// A bounded choice of splits into equally few pieces, [`split`]'s own first.
///
/// `wanted_m` are lengths that would be welcome, such as what is left of sticks already in a cutting
/// plan; splits with a piece of such a length are offered where the framing lets them. Two splits with
/// the same lengths in another order count as one. The same input gives the same list in the same
/// order.
pub fn alternatives(
    tube: &TubeToSplit,
    stock: &Stock,
    wanted_m: &[f64],
) -> Result<Vec<Vec<f64>>, SplitError> {
    stock.checked().map_err(SplitError::Stock)?;
    check(tube, stock)?;
    if tube.clear_m <= stock.stick_m + SAME_M {
        return Ok(vec![vec![tube.clear_m]]);
    }
    let places = Places::fewest(tube, stock)?;
    let mut offered = Offers::new(&places, wanted_m).gathered();
    if offered.is_empty() {
        // Only rounding at the very edge of a place can bring this about.
        return Err(places.none());
    }
    offered.sort_by_key(|pieces| rank(pieces, stock));
    Ok(offered)
}

/// Where the couplings between such pieces lie, as stretches `(from, to)` by station.
pub fn couplings(pieces_m: &[f64], stock: &Stock) -> Vec<(f64, f64)> {
    let mut end_m = 0.0;
    let joined = &pieces_m[..pieces_m.len().saturating_sub(1)];
    let body = |piece_m: &f64| {
        end_m += piece_m;
        let from_m = end_m - stock.coupling_socket_m;
        end_m += stock.coupling_gap_m;
        (from_m, end_m + stock.coupling_socket_m)
    };
    joined.iter().map(body).collect()
}

fn check(tube: &TubeToSplit, stock: &Stock) -> Result<(), SplitError> {
    let clear_m = tube.clear_m;
    if !clear_m.is_finite() || clear_m <= SAME_M {
        return Err(SplitError::NotALength { clear_m });
    }
    let wrong = |(from_m, to_m): &&(f64, f64)| !(from_m.is_finite() && to_m.is_finite() && from_m <= to_m);
    if let Some(&(from_m, to_m)) = tube.keep_clear.iter().find(wrong) {
        return Err(SplitError::KeepClear { from_m, to_m });
    }
    if clear_m < stock.shortest_m - SAME_M {
        return Err(SplitError::TooShort { clear_m, shortest_m: stock.shortest_m });
    }
    let pieces = fewest_pieces(clear_m, stock);
    if pieces > MOST_PIECES as f64 {
        return Err(SplitError::TooLong { clear_m, pieces });
    }
    Ok(())
}

fn fewest_pieces(clear_m: f64, stock: &Stock) -> f64 {
    ((clear_m + stock.coupling_gap_m - SAME_M) / (stock.stick_m + stock.coupling_gap_m)).ceil()
}

/// Fewer full sticks, more thrown away: later.
fn rank(pieces_m: &[f64], stock: &Stock) -> (usize, i64) {
    let cut: Vec<f64> = pieces_m.iter().copied().filter(|p| *p < stock.stick_m - SAME_M).collect();
    let rests = cut.iter().map(|p| stock.offcut_m(*p, 1));
    let thrown_m: f64 = rests.filter(|rest| !stock.keeps(*rest)).sum();
    (cut.len(), (thrown_m / SAME_M).round() as i64)
}

/// For a number of pieces, the stations at which each but the last may end, such that the pieces
/// before and after can be placed too. There are at least two pieces, and no set is empty.
struct Places<'a> {
    clear_m: f64,
    stock: &'a Stock,
    least_m: f64,
    ends: Vec<Spans>,
}

impl<'a> Places<'a> {
    fn fewest(tube: &TubeToSplit, stock: &'a Stock) -> Result<Self, SplitError> {
        let clear_m = tube.clear_m;
        let least_m = stock.shortest_m.max(2.0 * stock.coupling_socket_m).max(SAME_M);
        let allowed = allowed(tube, stock, least_m);
        let fewest = fewest_pieces(clear_m, stock).max(2.0) as usize;
        let gap_m = stock.coupling_gap_m;
        let most = (((clear_m + gap_m) / (least_m + gap_m)) as usize).clamp(fewest, MOST_PIECES);
        let mut reached_m: f64 = 0.0;
        for n in fewest..=most {
            let mut places = Places { clear_m, stock, least_m, ends: Vec::new() };
            let furthest_m = places.reach(n, &allowed);
            if places.narrow(n) {
                return Ok(places);
            }
            reached_m = reached_m.max(furthest_m);
        }
        Err(SplitError::NoPlace { clear_m, fewest, most, reached_m })
    }

    fn none(&self) -> SplitError {
        let n = self.ends.len() + 1;
        let reached_m = self.ends.last().and_then(Spans::last).unwrap_or(0.0);
        SplitError::NoPlace { clear_m: self.clear_m, fewest: n, most: n, reached_m }
    }

    /// Fills `ends` as far as pieces can be laid from the valve; returns the furthest end.
    fn reach(&mut self, n: usize, allowed: &Spans) -> f64 {
        let mut from = Spans::one(0.0, 0.0);
        let mut furthest_m = 0.0;
        for _ in 1..n {
            let ends = from.shifted(self.least_m, self.stock.stick_m).meet(allowed);
            let Some(last) = ends.last() else { break };
            furthest_m = last;
            from = ends.shifted(self.stock.coupling_gap_m, self.stock.coupling_gap_m);
            self.ends.push(ends);
        }
        furthest_m
    }

    /// Keeps of `ends` what the rest of the tube can follow; false if that leaves nothing.
    fn narrow(&mut self, n: usize) -> bool {
        if self.ends.len() + 1 < n {
            return false;
        }
        let gap_m = self.stock.coupling_gap_m;
        let mut after = Spans::one(self.clear_m, self.clear_m);
        for ends in self.ends.iter_mut().rev() {
            let before = after.shifted(-gap_m - self.stock.stick_m, -gap_m - self.least_m);
            *ends = ends.meet(&before);
            after = ends.clone();
        }
        !after.is_empty()
    }

    /// Where piece `i` may end when it begins at `start_m`.
    fn window(&self, i: usize, start_m: f64) -> Spans {
        self.ends[i].meet(&Spans::one(start_m + self.least_m, start_m + self.stock.stick_m))
    }
}

/// The stations at which a piece may end for all that the framing and the tube's ends say.
fn allowed(tube: &TubeToSplit, stock: &Stock, least_m: f64) -> Spans {
    let (gap_m, socket_m) = (stock.coupling_gap_m, stock.coupling_socket_m);
    let all = Spans::one(least_m, tube.clear_m - gap_m - least_m);
    let keep = |spans: Spans, &(from_m, to_m): &(f64, f64)| {
        spans.without(from_m - gap_m - socket_m, to_m + socket_m)
    };
    tube.keep_clear.iter().fold(all, keep)
}

/// Gathers splits: first the one that takes the longest piece each time, then those that depart from
/// that once, then twice.
struct Offers<'a> {
    places: &'a Places<'a>,
    wanted_m: &'a [f64],
    seen: HashSet<Vec<i64>>,
    found: Vec<Vec<f64>>,
    tries: usize,
}

impl<'a> Offers<'a> {
    fn new(places: &'a Places<'a>, wanted_m: &'a [f64]) -> Self {
        Self { places, wanted_m, seen: HashSet::new(), found: Vec::new(), tries: 0 }
    }

    fn gathered(mut self) -> Vec<Vec<f64>> {
        for departures in 0..=2 {
            self.extend(&mut Vec::new(), 0.0, departures);
        }
        self.found
    }

    fn extend(&mut self, pieces: &mut Vec<f64>, start_m: f64, departures: usize) {
        let i = pieces.len();
        if self.found.len() >= MOST_ALTERNATIVES || (self.tries >= MOST_TRIES && !self.found.is_empty()) {
            return;
        }
        self.tries += 1;
        if i == self.places.ends.len() {
            if departures == 0 {
                pieces.push(self.places.clear_m - start_m);
                self.offer(pieces);
                pieces.pop();
            }
            return;
        }
        for (choice, length_m) in self.choices(i, start_m).into_iter().enumerate() {
            let left = if choice == 0 { Some(departures) } else { departures.checked_sub(1) };
            let Some(left) = left else { break };
            pieces.push(length_m);
            self.extend(pieces, start_m + length_m + self.places.stock.coupling_gap_m, left);
            pieces.pop();
        }
    }

    fn offer(&mut self, pieces: &[f64]) {
        let mut lengths: Vec<i64> = pieces.iter().map(|p| (p / SAME_M).round() as i64).collect();
        lengths.sort_unstable();
        if self.seen.insert(lengths) {
            self.found.push(pieces.to_vec());
        }
    }

    /// Lengths worth trying for piece `i`, the longest first.
    fn choices(&self, i: usize, start_m: f64) -> Vec<f64> {
        let stock = self.places.stock;
        let window = self.places.window(i, start_m);
        let after = self.places.ends.len() - i;
        let rest_m = self.places.clear_m - start_m - stock.coupling_gap_m * after as f64;
        let mut lengths: Vec<f64> =
            window.parts().iter().flat_map(|(a, b)| [a - start_m, b - start_m]).collect();
        let mut hopes = self.wanted_m.to_vec();
        // Where the last piece but one ends decides the last piece as well.
        hopes.extend(self.wanted_m.iter().filter(|_| after == 1).map(|w| rest_m - w));
        hopes.push(rest_m / (after + 1) as f64);
        hopes.push(stock.stick_m - stock.kerf_m - stock.shortest_m);
        let inside = |hope: &f64| {
            let end_m = start_m + hope;
            window.parts().iter().any(|(a, b)| *a <= end_m && end_m <= *b)
        };
        lengths.extend(hopes.into_iter().filter(inside));
        lengths.sort_by(|a, b| b.total_cmp(a));
        lengths.dedup_by(|a, b| (*a - *b).abs() <= SAME_M);
        // A full stick is said as such, free of the rounding of stations.
        lengths.iter_mut().filter(|l| (**l - stock.stick_m).abs() <= SAME_M).for_each(|l| *l = stock.stick_m);
        lengths
    }
}

impl SplitError {
    /// The sentence in the units of its reader.
    pub fn said(&self, units: &dyn Units) -> String {
        match self {
            Self::Stock(error) => error.said(units),
            Self::NotALength { clear_m } => {
                format!("a tube of {} between its fittings cannot be cut", units.figure(*clear_m, "m"))
            }
            Self::KeepClear { from_m, to_m } => format!(
                "the stretch kept clear from {} to {} does not run forward",
                units.figure(*from_m, "m"),
                units.figure(*to_m, "m")
            ),
            Self::TooShort { clear_m, shortest_m } => format!(
                "a tube of {} is shorter than the shortest piece that is cut, {}",
                units.figure(*clear_m, "m"),
                units.figure(*shortest_m, "m")
            ),
            Self::TooLong { clear_m, pieces } => format!(
                "a tube of {} would take {pieces} pieces, over the {MOST_PIECES} allowed",
                units.figure(*clear_m, "m")
            ),
            Self::NoPlace { clear_m, fewest, most, reached_m } => format!(
                "a tube of {} cannot be coupled: with {fewest} to {most} pieces no coupling keeps clear of the \
                 framing past {}",
                units.figure(*clear_m, "m"),
                units.figure(*reached_m, "m")
            ),
        }
    }
}

impl fmt::Display for SplitError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.said(&Si))
    }
}

impl std::error::Error for SplitError {}

#[cfg(test)]
mod tests;

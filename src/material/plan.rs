//! The cutting plan of a whole job: every tube in the fewest pieces, and all pieces from the fewest
//! sticks that a choice among such splits allows.

mod choose;
mod least;

use crate::measure::{Si, Units};
use std::collections::HashSet;
use std::fmt;

use super::cutting::CutError;
use super::split::{SplitError, TubeToSplit, couplings};
use super::stock::{Stock, StockError};

/// A tube of the job as it is asked for. Owner and mark together name it: inlet `hall`, tube `A2`.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct NamedTube {
    pub mark: String,
    pub owner: String,
    pub clear_m: f64,
    pub keep_clear: Vec<(f64, f64)>,
    /// Gap and socket of the coupling that it takes; `None` is the stock's own.
    pub coupling: Option<(f64, f64)>,
}

/// A piece of a tube: `A2` when the tube is whole, `A2a`, `A2b` ... from the valve when it is coupled.
#[derive(Debug, Clone, PartialEq)]
pub struct TubePiece {
    pub mark: String,
    pub length_m: f64,
    /// Station along the tube at which the piece begins.
    pub from_m: f64,
}

/// A tube divided. There is at least one piece, and one coupling fewer than pieces.
#[derive(Debug, Clone, PartialEq)]
pub struct SplitTube {
    pub owner: String,
    pub mark: String,
    pub clear_m: f64,
    pub pieces: Vec<TubePiece>,
    /// What each coupling covers, by station along the tube.
    pub couplings: Vec<(f64, f64)>,
}

/// A tube that cannot be made, and why; none of it is in the plan.
#[derive(Debug, Clone, PartialEq)]
pub struct Unsplit {
    pub owner: String,
    pub mark: String,
    pub error: SplitError,
}

/// A piece on a stick, by the names it carries on the drawing.
#[derive(Debug, Clone, PartialEq)]
pub struct CutPiece {
    pub owner: String,
    pub mark: String,
    pub length_m: f64,
}

/// A stick as it is cut, the longest piece first.
#[derive(Debug, Clone, PartialEq)]
pub struct CutStick {
    pub pieces: Vec<CutPiece>,
    pub offcut_m: f64,
    /// Whether the offcut is long enough to be used again.
    pub kept: bool,
}

/// Every piece of every tube that can be made, on some stick, once.
#[derive(Debug, Clone, PartialEq)]
pub struct CuttingPlan {
    /// In the order given.
    pub tubes: Vec<SplitTube>,
    pub unsplit: Vec<Unsplit>,
    pub sticks: Vec<CutStick>,
    /// No plan for these pieces has fewer sticks than this.
    pub lower_bound: usize,
    /// Whether the plan is known to have the fewest sticks for these pieces.
    pub proven: bool,
    /// No plan has fewer sticks than this, wherever the tubes are coupled, each in as few pieces. When
    /// `sticks` are as many, no other choice of couplings could save one.
    pub least_for_any_split: usize,
}

impl CuttingPlan {
    /// How good it is, in a few words: whether no couplings placed otherwise could save a stick, whether these
    /// pieces could take fewer, or that nobody knows.
    pub fn quality(&self) -> &'static str {
        match self.proven {
            true if self.sticks.len() == self.least_for_any_split => "fewest possible",
            true => "fewest for these pieces",
            false => "fewer may do; not proven",
        }
    }
}

/// Why a job has no plan at all.
#[derive(Debug, Clone, PartialEq)]
pub enum PlanError {
    /// The stock itself makes no sense.
    Stock(StockError),
    /// Two pieces would carry the same mark in the same place.
    MarkTwice { owner: String, mark: String },
    /// The pieces cannot be cut.
    Cut(CutError),
}

/// Plans a whole job.
///
/// Arguments: `tubes` with their marks, `stock` as [`Stock::checked`] takes it, `steps` as for
/// [`cut`](super::cut).
///
/// Result: first every tube is divided as [`split`](super::split) does it, and the pieces are cut from
/// the fewest sticks. If that is more sticks than any choice of couplings must take, other splits with
/// as few pieces are tried in a fixed order, a bounded number of times, and kept only where they save a
/// stick. A tube that cannot be divided is reported in `unsplit` and left out.
///
/// Errors: see [`PlanError`].
///
/// Accuracy: the sticks for the pieces are exact when `proven`; the choice of couplings is known to be
/// the best only when `sticks` are as many as `least_for_any_split`, otherwise it is a good one.
///
/// ```
/// use longsweep::material::{NamedTube, STEPS, Stock, plan};
/// let stock = Stock {
///     stick_m: 2.4, kerf_m: 0.003, mark_m: 0.0, shortest_m: 0.1, coupling_gap_m: 0.004, coupling_socket_m: 0.03,
/// };
/// let tube = |mark: &str, clear_m| NamedTube {
///     mark: mark.into(), owner: "hall".into(), clear_m, keep_clear: vec![], coupling: None,
/// };
/// let plan = plan(&[tube("A1", 0.9), tube("A2", 3.5)], &stock, STEPS).unwrap();
/// assert_eq!(plan.sticks.len(), 2); // 2.4, and 1.096 with 0.9
/// assert_eq!(plan.sticks[1].pieces[0].mark, "A2b");
/// ```
pub fn plan(tubes: &[NamedTube], stock: &Stock, steps: u64) -> Result<CuttingPlan, PlanError> {
    stock.checked().map_err(PlanError::Stock)?;
    let (mut asked, mut splits, mut unsplit) = (Vec::new(), Vec::new(), Vec::new());
    for tube in tubes {
        let bare = TubeToSplit { clear_m: tube.clear_m, keep_clear: tube.keep_clear.clone() };
        let own = stock.coupled_by(tube.coupling);
        match super::split(&bare, &own) {
            Ok(pieces) => {
                asked.push((tube, bare, own));
                splits.push(pieces);
            }
            Err(error) => unsplit.push(Unsplit { owner: tube.owner.clone(), mark: tube.mark.clone(), error }),
        }
    }
    let bare: Vec<(&TubeToSplit, Stock)> = asked.iter().map(|(_, bare, own)| (bare, *own)).collect();
    let least_for_any_split = least::over_any_split(&splits, stock);
    let (splits, cut) = choose::fewest_sticks(&bare, splits, least_for_any_split, stock, steps)?;
    let tubes: Vec<SplitTube> =
        asked.iter().zip(&splits).map(|((tube, _, own), s)| divided(tube, s, own)).collect();
    marks_differ(&tubes)?;
    let named: Vec<CutPiece> = tubes.iter().flat_map(cut_pieces).collect();
    let stick = |s: &super::StickPlan| CutStick {
        pieces: s.pieces.iter().map(|p| named[p.index].clone()).collect(),
        offcut_m: s.offcut_m,
        kept: s.kept,
    };
    let sticks = cut.sticks.iter().map(stick).collect();
    let (lower_bound, proven) = (cut.lower_bound, cut.proven);
    Ok(CuttingPlan { tubes, unsplit, sticks, lower_bound, proven, least_for_any_split })
}

/// The pieces of a tube of that mark, with a letter each where it is coupled, and where each begins.
pub fn pieces(mark: &str, lengths_m: &[f64], stock: &Stock) -> Vec<TubePiece> {
    let mut from_m = 0.0;
    let mut pieces = Vec::new();
    for (i, &length_m) in lengths_m.iter().enumerate() {
        let letter = if lengths_m.len() > 1 { letters(i) } else { String::new() };
        pieces.push(TubePiece { mark: format!("{mark}{letter}"), length_m, from_m });
        from_m += length_m + stock.coupling_gap_m;
    }
    pieces
}

fn divided(tube: &NamedTube, lengths_m: &[f64], stock: &Stock) -> SplitTube {
    SplitTube {
        owner: tube.owner.clone(),
        mark: tube.mark.clone(),
        clear_m: tube.clear_m,
        pieces: pieces(&tube.mark, lengths_m, stock),
        couplings: couplings(lengths_m, stock),
    }
}

/// `a` to `z`, then `aa`, `ab` and so on.
fn letters(mut i: usize) -> String {
    let mut reversed = Vec::new();
    loop {
        reversed.push(char::from(b'a' + (i % 26) as u8));
        if i < 26 {
            return reversed.iter().rev().collect();
        }
        i = i / 26 - 1;
    }
}

fn marks_differ(tubes: &[SplitTube]) -> Result<(), PlanError> {
    let mut seen = HashSet::new();
    let marks = tubes.iter().flat_map(|t| t.pieces.iter().map(|p| (&t.owner, &p.mark)));
    for (owner, mark) in marks {
        if !seen.insert((owner, mark)) {
            return Err(PlanError::MarkTwice { owner: owner.clone(), mark: mark.clone() });
        }
    }
    Ok(())
}

fn cut_pieces(tube: &SplitTube) -> impl Iterator<Item = CutPiece> + '_ {
    let named =
        |p: &TubePiece| CutPiece { owner: tube.owner.clone(), mark: p.mark.clone(), length_m: p.length_m };
    tube.pieces.iter().map(named)
}

impl From<CutError> for PlanError {
    fn from(error: CutError) -> Self {
        Self::Cut(error)
    }
}

impl PlanError {
    /// The sentence in the units of its reader.
    pub fn said(&self, units: &dyn Units) -> String {
        match self {
            Self::Stock(error) => error.said(units),
            Self::Cut(error) => error.said(units),
            Self::MarkTwice { owner, mark } => format!("two pieces of {owner} would both be marked {mark}"),
        }
    }
}

impl fmt::Display for PlanError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.said(&Si))
    }
}

impl std::error::Error for PlanError {}

#[cfg(test)]
mod tests;

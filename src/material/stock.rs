//! What the shop sells: the stick of tube and what cutting and joining it takes.

use crate::measure::{Si, Units};
use std::fmt;

/// One kind of tube as it is bought, and the coupling that joins its pieces; every length in metres.
///
/// After [`Stock::checked`] every field is finite, the stick is longer than nothing and not longer
/// than [`LONGEST_STICK_M`], and a shortest piece fits in a stick.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stock {
    /// Length of a full stick.
    pub stick_m: f64,
    /// Tube lost to the saw at each cut.
    pub kerf_m: f64,
    /// The finest that a piece is marked to, the division of the tape; 0 where lengths are taken as they are.
    pub mark_m: f64,
    /// The shortest piece that is worth cutting, and the shortest offcut that is kept.
    pub shortest_m: f64,
    /// Between the ends of two pieces in a coupling: the width of its centre stop.
    pub coupling_gap_m: f64,
    /// How deep a piece goes into a coupling, from the mouth to the centre stop.
    pub coupling_socket_m: f64,
}

/// Lengths are compared to this: far below any saw, far above the rounding of the arithmetic.
pub const SAME_M: f64 = 1e-9;

/// A longer stick is taken for a slip of the unit; the bound also keeps the whole-number
/// arithmetic of the cutting plan well inside 64 bits.
pub const LONGEST_STICK_M: f64 = 10_000.0;

/// Why a stock cannot be planned with.
#[derive(Debug, Clone, PartialEq)]
pub enum StockError {
    /// A length that is negative, infinite or not a number.
    NotALength { what: &'static str, value_m: f64 },
    /// The stick is zero or longer than [`LONGEST_STICK_M`].
    Stick { stick_m: f64 },
    /// No piece could be cut: the shortest piece is longer than the stick.
    ShortestOverStick { shortest_m: f64, stick_m: f64 },
}

impl Stock {
    /// The stock itself, once its figures have been found to make sense.
    pub fn checked(&self) -> Result<&Self, StockError> {
        let named = [
            ("stick", self.stick_m),
            ("kerf", self.kerf_m),
            ("finest mark", self.mark_m),
            ("shortest piece", self.shortest_m),
            ("coupling gap", self.coupling_gap_m),
            ("coupling socket", self.coupling_socket_m),
        ];
        if let Some(&(what, value_m)) = named.iter().find(|(_, v)| !v.is_finite() || *v < 0.0) {
            return Err(StockError::NotALength { what, value_m });
        }
        if self.stick_m <= SAME_M || self.stick_m > LONGEST_STICK_M {
            return Err(StockError::Stick { stick_m: self.stick_m });
        }
        if self.shortest_m > self.stick_m + SAME_M {
            let (shortest_m, stick_m) = (self.shortest_m, self.stick_m);
            return Err(StockError::ShortestOverStick { shortest_m, stick_m });
        }
        Ok(self)
    }

    /// The same stock with another coupling's gap and socket.
    pub fn coupled_by(&self, coupling: Option<(f64, f64)>) -> Stock {
        let (coupling_gap_m, coupling_socket_m) =
            coupling.unwrap_or((self.coupling_gap_m, self.coupling_socket_m));
        Stock { coupling_gap_m, coupling_socket_m, ..*self }
    }

    /// What a piece takes of a stick without the kerf: as it is marked where that is longer, for whoever cuts by the
    /// list cuts what is printed. A piece that would not fit a stick so is taken as it is.
    pub fn sawn_m(&self, length_m: f64) -> f64 {
        if self.mark_m <= 0.0 {
            return length_m;
        }
        let marked_m = (length_m / self.mark_m).round() * self.mark_m;
        if marked_m > length_m && marked_m <= self.stick_m { marked_m } else { length_m }
    }

    /// What is left of a stick after `count` pieces of `total_m` together are cut from it.
    ///
    /// ```text
    /// offcut = stick - total - count * kerf, and nothing when that is negative
    /// ```
    ///
    /// It is negative only when the last piece ends within one kerf of the stick's end, so that the
    /// saw takes the rest, or there is no last cut at all.
    pub fn offcut_m(&self, total_m: f64, count: usize) -> f64 {
        (self.stick_m - total_m - count as f64 * self.kerf_m).max(0.0)
    }

    /// Whether an offcut is long enough to be kept for another job.
    pub fn keeps(&self, offcut_m: f64) -> bool {
        offcut_m > SAME_M && offcut_m >= self.shortest_m - SAME_M
    }
}

impl StockError {
    /// The sentence in the units of its reader.
    pub fn said(&self, units: &dyn Units) -> String {
        match self {
            Self::NotALength { what, value_m } => {
                format!("the {what} is {}, which is not a length", units.figure(*value_m, "m"))
            }
            Self::Stick { stick_m } => format!(
                "a stick of {} is not between {} and {}",
                units.figure(*stick_m, "m"),
                units.figure(0.0, "m"),
                units.figure(LONGEST_STICK_M, "m")
            ),
            Self::ShortestOverStick { shortest_m, stick_m } => format!(
                "the shortest piece, {}, is longer than the stick, {}",
                units.figure(*shortest_m, "m"),
                units.figure(*stick_m, "m")
            ),
        }
    }
}

impl fmt::Display for StockError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.said(&Si))
    }
}

impl std::error::Error for StockError {}

#[cfg(test)]
mod tests {
    use super::*;

    const STOCK: Stock = Stock {
        stick_m: 2.4384,
        kerf_m: 0.003175,
        mark_m: 0.0,
        shortest_m: 0.1016,
        coupling_gap_m: 0.003175,
        coupling_socket_m: 0.028575,
    };

    #[test]
    fn zero_offcut_when_the_saw_takes_the_rest() {
        assert_eq!(STOCK.offcut_m(2.4384, 1), 0.0);
        assert_eq!(STOCK.offcut_m(2.4384 - 0.002, 1), 0.0);
        // 8 ft less 4 ft less one kerf of 1/8 in; exact to rounding.
        assert!((STOCK.offcut_m(1.2192, 1) - (1.2192 - 0.003175)).abs() < 1e-12);
    }

    #[test]
    fn stock_with_a_bad_figure_is_refused_by_name() {
        let bad = Stock { kerf_m: -0.1, ..STOCK };
        assert_eq!(bad.checked(), Err(StockError::NotALength { what: "kerf", value_m: -0.1 }));
        assert!(Stock { stick_m: f64::NAN, ..STOCK }.checked().is_err());
        assert!(Stock { stick_m: 0.0, ..STOCK }.checked().is_err());
        assert!(Stock { shortest_m: 3.0, ..STOCK }.checked().is_err());
        assert!(STOCK.checked().is_ok());
    }

    #[test]
    fn a_piece_takes_of_a_stick_what_it_is_marked_with() {
        let marked = Stock { mark_m: 0.001, ..STOCK };
        assert!((marked.sawn_m(1.2346) - 1.235).abs() < 1e-12);
        // Marked shorter it is still cut from as much, and a whole stick is no longer than itself.
        assert_eq!(marked.sawn_m(1.2344), 1.2344);
        assert_eq!(marked.sawn_m(2.4384), 2.4384);
        assert_eq!(marked.sawn_m(2.4379), 2.438);
        assert_eq!(Stock { mark_m: 0.001, stick_m: 2.4378, ..STOCK }.sawn_m(2.4377), 2.4377);
        assert_eq!(STOCK.sawn_m(1.2346), 1.2346);
    }

    #[test]
    fn nothing_is_not_an_offcut_even_when_any_length_is_kept() {
        let any = Stock { shortest_m: 0.0, ..STOCK };
        assert!(!any.keeps(0.0));
        assert!(any.keeps(0.001));
        assert!(!STOCK.keeps(0.1));
        assert!(STOCK.keeps(0.1016));
    }
}

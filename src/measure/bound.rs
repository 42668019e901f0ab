//! Which way a limit holds, and the one comparison of a measure with its limit.

/// Which side of a limit is allowed; a measure just at it is within it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bound {
    AtMost,
    AtLeast,
}

/// What a measure may lie past its limit by, as a share of the limit or of one unit, whichever is more:
/// a tenth of a micrometre of a length, a ten-millionth of a share. Sums of written figures and their
/// conversions to SI err by far less, and no tape, gauge or code reads so fine.
const SLACK: f64 = 1e-7;

impl Bound {
    /// Whether a measure keeps to a limit of the same unit. Not a number keeps to nothing.
    ///
    /// ```
    /// use longsweep::measure::Bound;
    /// assert!(Bound::AtMost.keeps(360.0, 360.0) && !Bound::AtMost.keeps(360.1, 360.0));
    /// assert!(Bound::AtLeast.keeps(0.1 + 0.2, 0.3) && !Bound::AtLeast.keeps(f64::NAN, 0.0));
    /// ```
    pub fn keeps(self, measured: f64, limit: f64) -> bool {
        let slack = SLACK * limit.abs().max(1.0);
        match self {
            Bound::AtMost => measured <= limit + slack,
            Bound::AtLeast => measured >= limit - slack,
        }
    }

    /// `at most` or `at least`.
    pub fn words(self) -> &'static str {
        match self {
            Bound::AtMost => "at most",
            Bound::AtLeast => "at least",
        }
    }

    /// Whether `limit` allows less than `other` does.
    pub fn tighter(self, limit: f64, other: f64) -> bool {
        match self {
            Bound::AtMost => limit < other,
            Bound::AtLeast => limit > other,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_hair_past_a_limit_is_past_it() {
        // A hundredth of a millimetre, a thousandth of a degree, a thousandth of a per cent.
        assert!(!Bound::AtMost.keeps(0.02541, 0.0254));
        assert!(!Bound::AtMost.keeps(360.001, 360.0));
        assert!(!Bound::AtLeast.keeps(1.24999, 1.25));
        assert!(Bound::AtMost.keeps(f64::NEG_INFINITY, 0.0) && !Bound::AtMost.keeps(f64::NAN, 0.0));
    }

    #[test]
    fn tighter_goes_by_the_bound() {
        assert!(Bound::AtMost.tighter(1.0, 2.0) && !Bound::AtLeast.tighter(1.0, 2.0));
        assert!(!Bound::AtMost.tighter(1.0, 1.0) && !Bound::AtLeast.tighter(1.0, 1.0));
    }
}

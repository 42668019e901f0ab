//! The one way in which a formula refuses an input.

use crate::measure::{Si, Units};
use std::fmt;

/// An input outside the range in which a formula is valid.
///
/// The sentence stands alone: it names the input, its value, the range and the unit.
///
/// ```
/// use longsweep::reckon::passage::through_bend;
/// let refused = through_bend(0.0475, 0.01, 1.57, 0.03).unwrap_err();
/// assert_eq!(refused.to_string(), "centerline radius is 0.01 m, outside 0.02375 m to 1000 m");
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OutOfRange {
    /// What the input is, as the trade says it.
    pub what: &'static str,
    /// What was given.
    pub value: f64,
    /// The least value allowed.
    pub low: f64,
    /// The greatest value allowed.
    pub high: f64,
    /// The unit of the three figures, empty for a ratio.
    pub unit: &'static str,
}

impl OutOfRange {
    /// The sentence in the units of its reader.
    pub fn said(&self, units: &dyn Units) -> String {
        let OutOfRange { what, value, low, high, unit } = *self;
        let (value, most) = (units.figure(value, unit), units.figure(high, unit));
        // The least number there is, as a limit, means that nought is not allowed.
        if low == f64::MIN_POSITIVE {
            return format!("{what} is {value}; it must be above 0 and at most {most}");
        }
        format!("{what} is {value}, outside {} to {most}", units.figure(low, unit))
    }
}

impl fmt::Display for OutOfRange {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.said(&Si))
    }
}

impl std::error::Error for OutOfRange {}

/// Gives the value back when it lies between `low` and `high`, both included; a NaN never does.
pub(crate) fn in_range(
    what: &'static str,
    value: f64,
    (low, high): (f64, f64),
    unit: &'static str,
) -> Result<f64, OutOfRange> {
    if value >= low && value <= high { Ok(value) } else { Err(OutOfRange { what, value, low, high, unit }) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::{Lengths, Say};

    #[test]
    fn recovers_a_value_on_either_limit() {
        assert_eq!(in_range("angle", 0.0, (0.0, 1.0), "rad"), Ok(0.0));
        assert_eq!(in_range("angle", 1.0, (0.0, 1.0), "rad"), Ok(1.0));
    }

    #[test]
    fn is_said_in_the_units_of_its_reader() {
        let refused = in_range("hole", 0.2286, (f64::MIN_POSITIVE, 0.1524), "m").unwrap_err();
        assert_eq!(refused.to_string(), "hole is 0.2286 m; it must be above 0 and at most 0.1524 m");
        let feet = Say { lengths: Lengths::FtIn };
        assert_eq!(refused.said(&feet), "hole is 9 in; it must be above 0 and at most 6 in");
        let far = in_range("length of tube", 1500.0, (0.0, 1000.0), "m").unwrap_err();
        assert_eq!(far.said(&feet), "length of tube is 4921.26 ft, outside 0 in to 3280.84 ft");
    }

    #[test]
    fn refuses_what_is_not_a_number() {
        assert!(in_range("angle", f64::NAN, (0.0, 1.0), "rad").is_err());
    }

    #[test]
    fn says_a_ratio_without_a_unit() {
        let refused = in_range("friction", 3.0, (0.0, 2.0), "").unwrap_err();
        assert_eq!(refused.to_string(), "friction is 3, outside 0 to 2");
    }
}

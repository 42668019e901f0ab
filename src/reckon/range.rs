//! The one way in which a formula refuses an input.

use std::fmt;

/// An input outside the range in which a formula is valid.
///
/// The sentence stands alone: it names the input, its value, the range and the unit.
///
/// ```
/// use longsweep::reckon::passage::through_bend;
/// let refused = through_bend(0.0475, 0.01, 1.57, 0.03).unwrap_err();
/// assert_eq!(refused.to_string(), "centreline radius is 0.01 m, outside 0.02375 to 1000 m");
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

impl fmt::Display for OutOfRange {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let OutOfRange { what, value, low, high, unit } = self;
        let gap = if unit.is_empty() { "" } else { " " };
        let (value, high) = (figure(*value), figure(*high));
        // The least number there is, as a limit, means that nought is not allowed.
        if *low == f64::MIN_POSITIVE {
            return write!(
                f,
                "{what} is {value}{gap}{unit}; it must be above 0 and at most {high}{gap}{unit}"
            );
        }
        let low = figure(*low);
        write!(f, "{what} is {value}{gap}{unit}, outside {low} to {high}{gap}{unit}")
    }
}

/// Six figures, without noughts that say nothing.
fn figure(value: f64) -> String {
    if value == 0.0 || !value.is_finite() {
        return value.to_string();
    }
    let places = (5.0 - value.abs().log10().floor()).clamp(0.0, 15.0) as usize;
    let text = format!("{value:.places$}");
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').into() } else { text }
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

    #[test]
    fn recovers_a_value_on_either_limit() {
        assert_eq!(in_range("angle", 0.0, (0.0, 1.0), "rad"), Ok(0.0));
        assert_eq!(in_range("angle", 1.0, (0.0, 1.0), "rad"), Ok(1.0));
    }

    #[test]
    fn says_no_more_figures_than_a_person_reads() {
        let said = |value, low, high| in_range("hole", value, (low, high), "m").unwrap_err().to_string();
        assert_eq!(
            said(0.2286, f64::MIN_POSITIVE, 0.1524),
            "hole is 0.2286 m; it must be above 0 and at most 0.1524 m"
        );
        assert_eq!(said(-0.17429999999999995, 0.0, 1000.0), "hole is -0.1743 m, outside 0 to 1000 m");
        assert_eq!(said(1_234_567.0, 1e-6, 1e5), "hole is 1234567 m, outside 0.000001 to 100000 m");
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

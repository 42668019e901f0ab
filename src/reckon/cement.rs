//! How long a cemented joint is left alone: two families of published times, and the longer of them.
use super::range::{OutOfRange, in_range};

/// A row of the older family, for joints of 1-1/2 to 3 in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Row {
    /// Temperature of tube and fitting, °F, from and up to.
    pub from_f: f64,
    pub to_f: f64,
    /// Minutes until the joint may be handled.
    pub initial_set_min: f64,
    /// Hours until it may be put to work.
    pub cure_h: f64,
    /// The newer family's initial set, minutes, for 1-1/2 to 2 in.
    pub newer_set_min: f64,
}

/// The times, warmest first.
///
/// Source: initial set of 30 min, 2 h, 6 h from a plastics maker's manual and cure of 2, 4, 16 h from another
/// copy of the same family; half as much again in damp air (over 60 % of its moisture), which one copy adds to
/// the set and another to the cure, so that both get it here. The newer family's set is from memory.
pub const TABLE: [Row; 3] = [
    Row { from_f: 60.0, to_f: 100.0, initial_set_min: 30.0, cure_h: 2.0, newer_set_min: 5.0 },
    Row { from_f: 40.0, to_f: 60.0, initial_set_min: 120.0, cure_h: 4.0, newer_set_min: 10.0 },
    Row { from_f: 0.0, to_f: 40.0, initial_set_min: 360.0, cure_h: 16.0, newer_set_min: 15.0 },
];

/// What damp air makes of every time.
pub const DAMP: f64 = 1.5;

/// How long one joint is left alone.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Times {
    pub initial_set_min: f64,
    pub cure_h: f64,
}

/// The longer of the two families at a temperature, for joints of 1-1/2 to 3 in.
///
/// Arguments: temperature of the joint `t_c` (°C, -17.78 to 37.78, that is 0 to 100 °F), and whether the air
/// is `damp`. A temperature between two rows takes the warmer one's. Errors: [`OutOfRange`]. Accuracy: guides,
/// not limits; the sheet of the cement in hand decides.
///
/// ```
/// use longsweep::reckon::cement::times;
/// // 50 °F and damp: 2 h and 4 h, half as much again.
/// let damp = times(10.0, true).unwrap();
/// assert_eq!((damp.initial_set_min, damp.cure_h), (180.0, 6.0));
/// ```
///
/// Source: [`TABLE`].
pub fn times(t_c: f64, damp: bool) -> Result<Times, OutOfRange> {
    in_range("temperature of the joint", t_c, (-160.0 / 9.0, 340.0 / 9.0), "°C")?;
    // 60 °F written in °C must not fall into the colder row by a last digit.
    let fahrenheit = 1.8 * t_c + 32.0 + 1e-9;
    let row = TABLE.iter().find(|row| fahrenheit >= row.from_f).unwrap_or(&TABLE[2]);
    let factor = if damp { DAMP } else { 1.0 };
    let set_min = row.initial_set_min.max(row.newer_set_min);
    Ok(Times { initial_set_min: factor * set_min, cure_h: factor * row.cure_h })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at_f(fahrenheit: f64, damp: bool) -> (f64, f64) {
        let times = times((fahrenheit - 32.0) / 1.8, damp).unwrap();
        (times.initial_set_min, times.cure_h)
    }

    /// A plastics manual's table for 1-1/2 to 3 in: set 30 min, 2 h, 6 h; cure 2, 4, 16 h; half more when damp.
    #[test]
    fn published_plastics_manual_set_and_cure() {
        assert_eq!(at_f(70.0, false), (30.0, 2.0));
        assert_eq!(at_f(50.0, false), (120.0, 4.0));
        assert_eq!(at_f(20.0, false), (360.0, 16.0));
        assert_eq!(at_f(20.0, true), (540.0, 24.0));
    }

    #[test]
    fn the_rows_meet_and_cover_the_range() {
        for pair in TABLE.windows(2) {
            assert_eq!(pair[0].from_f, pair[1].to_f);
        }
        assert_eq!(at_f(60.0, false), at_f(100.0, false));
        assert_eq!(at_f(40.0, false), (120.0, 4.0));
        assert_eq!(at_f(0.0, false), (360.0, 16.0));
        assert!(times(60.0, false).is_err() && times(-30.0, false).is_err());
    }

    #[test]
    fn the_longer_family_is_never_the_newer() {
        assert!(TABLE.iter().all(|row| row.initial_set_min > row.newer_set_min));
    }

    #[test]
    fn grows_with_cold_and_damp() {
        assert!(at_f(30.0, false) > at_f(50.0, false) && at_f(50.0, false) > at_f(70.0, false));
        assert!(at_f(70.0, true) > at_f(70.0, false));
    }
}

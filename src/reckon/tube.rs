//! Plastic tube in a house: its straps.

use super::range::{OutOfRange, in_range};
use crate::measure::FOOT_M;

/// Greatest distance between straps on level PVC pipe, 4 ft. Source: IRC table P2605.1 (a summary of the
/// 2024 edition); thin-wall vacuum tube is not in that table, so this is advice.
pub const LEVEL_STRAPS_M: f64 = 4.0 * FOOT_M;

/// Greatest distance between straps on plumb PVC pipe, 10 ft, with a guide at mid-storey for 2 in and
/// smaller (the footnote from memory). Source and standing as for [`LEVEL_STRAPS_M`].
pub const PLUMB_STRAPS_M: f64 = 10.0 * FOOT_M;

/// Straps for a run that is held at both ends already: the fewest that leave no gap above the spacing.
///
/// `ceil(L / s) - 1`. Arguments: length `l_m` (m, 0 to 1000), slope `rise_rad` (rad, within ±π/2); steeper
/// than 45 degrees counts as plumb. Errors: [`OutOfRange`].
///
/// ```
/// use longsweep::reckon::tube::straps;
/// assert_eq!(straps(16.0 * 0.3048, 0.0), Ok(3)); // at 4, 8 and 12 ft
/// ```
///
/// Source: [`LEVEL_STRAPS_M`], [`PLUMB_STRAPS_M`].
pub fn straps(l_m: f64, rise_rad: f64) -> Result<u32, OutOfRange> {
    let quarter = std::f64::consts::FRAC_PI_2 + 1e-9;
    in_range("length of tube", l_m, (0.0, 1000.0), "m")?;
    in_range("slope of a straight", rise_rad, (-quarter, quarter), "rad")?;
    let plumb = rise_rad.abs() > std::f64::consts::FRAC_PI_4;
    let spacing_m = if plumb { PLUMB_STRAPS_M } else { LEVEL_STRAPS_M };
    // A run of a whole number of spacings must not gain a strap by the last digit of its length.
    let gaps = (l_m / spacing_m - 1e-9).ceil().max(1.0);
    Ok(gaps as u32 - 1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reckon::check::FT;
    use std::f64::consts::FRAC_PI_2;

    /// Table P2605.1 of the International Residential Code, PVC: 4 ft level, 10 ft upright (from memory).
    #[test]
    fn published_irc_p2605_1_spacings() {
        let ft = 0.3048;
        assert_eq!(straps(4.0 * ft, 0.0).unwrap(), 0);
        assert_eq!(straps(4.01 * ft, 0.0).unwrap(), 1);
        assert_eq!(straps(40.0 * ft, 0.0).unwrap(), 9);
        assert_eq!(straps(10.0 * ft, std::f64::consts::FRAC_PI_2).unwrap(), 0);
    }

    #[test]
    fn a_short_tube_takes_none() {
        assert_eq!(straps(0.5, 0.0), Ok(0));
    }

    #[test]
    fn grows_with_length_and_eases_when_plumb() {
        assert_eq!(straps(4.0 * FT, 0.0), Ok(0));
        assert_eq!(straps(4.1 * FT, 0.0), Ok(1));
        assert_eq!(straps(20.0 * FT, -FRAC_PI_2), Ok(1));
    }
}

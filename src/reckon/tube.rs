//! Plastic tube in a house: growth with heat, and straps.

use super::range::{OutOfRange, in_range};
use crate::measure::{FOOT_M, INCH_M};

/// Growth of rigid PVC for each metre and kelvin, 3.38e-5 for each °F. Source: NFPA 70, table 352.44.
/// Other published figures lie between 3.0e-5 and 4.5e-5 for each °F.
pub const PVC_PER_K: f64 = 6.084e-5;

/// Movement from which the electrical code wants an expansion fitting in PVC conduit, 1/4 in. For vacuum
/// tube it is advice. Source: NFPA 70, 352.44.
pub const EXPANSION_FITTING_M: f64 = 0.25 * INCH_M;

/// Greatest distance between straps on level PVC pipe, 4 ft. Source: IRC table P2605.1 (a summary of the
/// 2024 edition); thin-wall vacuum tube is not in that table, so this is advice.
pub const LEVEL_STRAPS_M: f64 = 4.0 * FOOT_M;

/// Greatest distance between straps on plumb PVC pipe, 10 ft, with a guide at mid-storey for 2 in and
/// smaller (the footnote from memory). Source and standing as for [`LEVEL_STRAPS_M`].
pub const PLUMB_STRAPS_M: f64 = 10.0 * FOOT_M;

/// Change in length of PVC tube, `L alpha dT`.
///
/// Arguments: length `l_m` (m, 0 to 1000), change of temperature `dt_k` (K, -100 to 100). Result in
/// metres, with the sign of the change. Errors: [`OutOfRange`]. Assumption: the tube is free to move.
///
/// ```
/// use longsweep::reckon::tube::{pvc_growth_m, EXPANSION_FITTING_M};
/// // 20 ft and 60 °F: 0.487 in, more than the 1/4 in from which conduit wants a fitting.
/// let growth = pvc_growth_m(20.0 * 0.3048, 60.0 / 1.8).unwrap();
/// assert!((growth / 0.0254 - 0.48672).abs() < 1e-5 && growth > EXPANSION_FITTING_M);
/// ```
///
/// Source: [`PVC_PER_K`].
pub fn pvc_growth_m(l_m: f64, dt_k: f64) -> Result<f64, OutOfRange> {
    in_range("length of tube", l_m, (0.0, 1000.0), "m")?;
    in_range("change of temperature", dt_k, (-100.0, 100.0), "K")?;
    Ok(l_m * PVC_PER_K * dt_k)
}

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
    use crate::reckon::check::{FT, IN, within};
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
    fn published_expansion_table() {
        // NFPA 70 table 352.44 (2008): inches for 100 ft, two decimals; it prints 2.03 for 2.028, 1.01 for
        // 1.014 and 4.26 for 4.259.
        for (fahrenheit, inches) in [(100.0, 4.06), (50.0, 2.03), (25.0, 1.01), (105.0, 4.26)] {
            within(pvc_growth_m(100.0 * FT, fahrenheit / 1.8).unwrap() / IN, inches, 0.0051);
        }
        for (kelvin, mm) in [(25.0, 1.52), (100.0, 6.08)] {
            within(pvc_growth_m(1.0, kelvin).unwrap() * 1000.0, mm, 0.0051);
        }
    }

    #[test]
    fn agrees_with_20_ft_and_60_fahrenheit() {
        within(pvc_growth_m(20.0 * FT, 60.0 / 1.8).unwrap() / IN, 0.48672, 1e-5);
    }

    #[test]
    fn zero_change_moves_nothing() {
        assert_eq!(pvc_growth_m(10.0, 0.0), Ok(0.0));
        assert_eq!(straps(0.5, 0.0), Ok(0));
    }

    #[test]
    fn grows_with_length_and_eases_when_plumb() {
        assert_eq!(straps(4.0 * FT, 0.0), Ok(0));
        assert_eq!(straps(4.1 * FT, 0.0), Ok(1));
        assert_eq!(straps(20.0 * FT, -FRAC_PI_2), Ok(1));
    }
}

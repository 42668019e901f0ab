//! Sizes that lumber really has.
//!
//! Minimum dressed sizes by PS 20, read in an engineering reference's table of it.

/// How wet the lumber was when it was dressed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Moisture {
    Dry,
    Green,
}

use crate::measure::INCH_M as IN;

/// Nominal width, dry and green dressed width, all in inches.
const WIDTHS_IN: [(u32, f64, f64); 5] =
    [(4, 3.5, 3.5625), (6, 5.5, 5.625), (8, 7.25, 7.5), (10, 9.25, 9.5), (12, 11.25, 11.5)];

/// Dressed thickness of two-inch lumber, in metres: 1-1/2 in dry, 1-9/16 in green.
pub fn two_by_thickness_m(moisture: Moisture) -> f64 {
    match moisture {
        Moisture::Dry => 1.5 * IN,
        Moisture::Green => 1.5625 * IN,
    }
}

/// Dressed width of two-inch lumber of a nominal width in inches: 4, 6, 8, 10 or 12.
///
/// ```
/// use longsweep::reckon::bores::sizes::{dressed_width_m, Moisture};
/// assert_eq!(dressed_width_m(8, Moisture::Dry), Some(7.25 * 0.0254));
/// assert_eq!(dressed_width_m(5, Moisture::Dry), None);
/// ```
pub fn dressed_width_m(nominal_in: u32, moisture: Moisture) -> Option<f64> {
    let (_, dry, green) = WIDTHS_IN.into_iter().find(|row| row.0 == nominal_in)?;
    Some(IN * if moisture == Moisture::Dry { dry } else { green })
}

/// Dressed width by the trade's name, `2x4` to `2x12`, dry.
///
/// ```
/// use longsweep::reckon::bores::sizes::width_by_name_m;
/// assert_eq!(width_by_name_m("2x6"), Some(5.5 * 0.0254));
/// assert_eq!(width_by_name_m("4x6"), None);
/// ```
pub fn width_by_name_m(name: &str) -> Option<f64> {
    let (thickness, width) = name.split_once(['x', 'X'])?;
    if thickness.trim() != "2" {
        return None;
    }
    dressed_width_m(width.trim().parse().ok()?, Moisture::Dry)
}

/// The narrowest two-inch lumber, dry, of at least a width: its name's second number, if there is one.
///
/// ```
/// use longsweep::reckon::bores::sizes::narrowest_at_least;
/// // A 2-1/8 in hole at 60 % asks for 3.54 in, which a 2x4 has not.
/// assert_eq!(narrowest_at_least(2.125 / 0.6 * 0.0254), Some(6));
/// ```
pub fn narrowest_at_least(width_m: f64) -> Option<u32> {
    let wide = |row: &&(u32, f64, f64)| row.1 * IN >= width_m - 1e-9;
    WIDTHS_IN.iter().find(wide).map(|row| row.0)
}

//! Sizes that lumber really has.
//!
//! Minimum dressed dry sizes by PS 20, read in an engineering reference's table of it; thicknesses 1 and 4
//! and widths 3 and 14 are from memory.
use crate::measure::INCH_M;

/// Nominal thickness as written, and dressed dry thickness in inches.
const THICKNESS_IN: [(&str, f64); 3] = [("1", 0.75), ("2", 1.5), ("4", 3.5)];
/// Nominal width as written, and dressed dry width in inches.
const WIDTH_IN: [(&str, f64); 7] =
    [("3", 2.5), ("4", 3.5), ("6", 5.5), ("8", 7.25), ("10", 9.25), ("12", 11.25), ("14", 13.25)];

/// Dressed dry thickness and width of lumber by the trade's name, `1x3` to `4x14`, in metres; `None` for a
/// name that is none of these.
///
/// ```
/// use longsweep::reckon::bores::sizes::dressed_m;
/// assert_eq!(dressed_m("2x8"), Some((1.5 * 0.0254, 7.25 * 0.0254)));
/// assert_eq!(dressed_m("2 X 6"), Some((1.5 * 0.0254, 5.5 * 0.0254)));
/// assert_eq!(dressed_m("2x5"), None);
/// ```
pub fn dressed_m(name: &str) -> Option<(f64, f64)> {
    let (thick, wide) = name.split_once(['x', 'X', '×'])?;
    let inches = |table: &[(&str, f64)], nominal: &str| {
        table.iter().find(|(known, _)| *known == nominal.trim()).map(|(_, inches)| *inches)
    };
    Some((inches(&THICKNESS_IN, thick)? * INCH_M, inches(&WIDTH_IN, wide)? * INCH_M))
}

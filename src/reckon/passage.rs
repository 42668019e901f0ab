//! The longest rigid object that gets round a bend.
//!
//! In a retractable system the tight turns come after the stop, so what slips through the raceway can
//! lodge at the first tight turn down the line. The place that catches first is the bend with the
//! least [`through_bend`].
//!
//! **Caution.** One bend at a time: two bends with less straight tube between them than the object is
//! long (an S, a U, a dip) are not covered and may catch something shorter than either figure.

use super::range::{OutOfRange, in_range};
use std::f64::consts::PI;

/// Longest flat-ended rigid rod of diameter `rod_d_m` that passes one bend with straights both sides.
///
/// With `k = R - D/2 + d`, `Ro = R + D/2` and `th_c = 2 acos(k / Ro)`:
/// from `th_c` up `L = 2 sqrt((D - d)(2 R + d))`; below it `L = 2 (Ro - k cos(th/2)) / sin(th/2)`.
///
/// Arguments: bore `D` = `bore_m` (m, 0.005 to 10); radius of the centreline `R` = `radius_m` (m, D/2
/// to 1000); angle `th` = `angle_rad` (rad, 0.01 to π); rod `d` = `rod_d_m` (m, 0 to below D).
/// Result in metres. Errors: [`OutOfRange`].
///
/// Why: the inner side of the rod touches the inner wall midway and its outer corners the outer wall,
/// the arc or, at small angles, the tangent beyond it. The symmetric place is the tightest, and the
/// plane of the bend the binding one for every `d` below `D`.
///
/// Assumptions: round bore, no ovality, no ledge at the sockets, straights longer than the rod, a
/// single bend (see the [module](self)), a rigid rod; round ends allow more. A numeric search over
/// tilted rods in three dimensions found nothing longer, which is evidence and not a proof.
///
/// ```
/// use longsweep::reckon::passage::through_bend;
/// // The corridor corner: a thin ladder round a square corner of unit width, 2 sqrt 2.
/// let ladder = through_bend(1.0, 0.5, std::f64::consts::FRAC_PI_2, 0.0).unwrap();
/// assert!((ladder - 8f64.sqrt()).abs() < 1e-12);
/// ```
///
/// Source: plane geometry, derived for this program; the corridor corner is the textbook case.
pub fn through_bend(bore_m: f64, radius_m: f64, angle_rad: f64, rod_d_m: f64) -> Result<f64, OutOfRange> {
    let critical_rad = critical_angle(bore_m, radius_m, rod_d_m)?;
    in_range("angle of a bend", angle_rad, (0.01, PI + 1e-9), "rad")?;
    if angle_rad >= critical_rad {
        return Ok(2.0 * ((bore_m - rod_d_m) * (2.0 * radius_m + rod_d_m)).sqrt());
    }
    let (inner, outer) = walls(bore_m, radius_m, rod_d_m);
    let (sin, cos) = (angle_rad / 2.0).sin_cos();
    Ok(2.0 * (outer - inner * cos) / sin)
}

/// The angle from which a bend is no harder to pass the further it turns, `th_c = 2 acos(k / Ro)`.
///
/// Arguments, errors and source are those of [`through_bend`]; the result is in radians.
///
/// ```
/// use longsweep::reckon::passage::critical_angle;
/// assert!((critical_angle(1.87, 3.0, 1.25).unwrap().to_degrees() - 65.20271).abs() < 1e-5);
/// ```
pub fn critical_angle(bore_m: f64, radius_m: f64, rod_d_m: f64) -> Result<f64, OutOfRange> {
    // The range of the bore is wide so that the published unit cases can be put in as they stand.
    in_range("bore", bore_m, (0.005, 10.0), "m")?;
    in_range("centerline radius", radius_m, (bore_m / 2.0, 1000.0), "m")?;
    in_range("diameter of the object", rod_d_m, (0.0, bore_m * (1.0 - 1e-9)), "m")?;
    let (inner, outer) = walls(bore_m, radius_m, rod_d_m);
    Ok(2.0 * (inner / outer).acos())
}

/// Radii of the rod's outer side where its inner side touches, and of the outer wall.
fn walls(bore_m: f64, radius_m: f64, rod_d_m: f64) -> (f64, f64) {
    (radius_m - bore_m / 2.0 + rod_d_m, radius_m + bore_m / 2.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reckon::check::{IN, near, within};

    /// Bore 1.87 in, all lengths in inches, through the metric interface.
    fn longest_in(radius: f64, degrees: f64, rod: f64) -> f64 {
        through_bend(1.87 * IN, radius * IN, degrees.to_radians(), rod * IN).unwrap() / IN
    }

    #[test]
    fn agrees_with_a_search_over_tilted_rods() {
        // The search agreed with the closed form within 5e-5 in; the closed form is given to 8 decimals.
        let cases = [
            (2.0, 90.0, 0.0, 6.17143361),
            (2.0, 90.0, 1.25, 3.60832371),
            (3.0, 90.0, 0.0, 6.99986074),
            (3.0, 90.0, 1.25, 4.24028301),
            (6.0, 90.0, 0.0, 9.47417543),
            (6.0, 90.0, 1.25, 5.73236426),
            (9.0, 90.0, 1.25, 6.90941387),
            (3.0, 45.0, 1.25, 4.55906515),
            (6.0, 45.0, 1.25, 5.75253935),
            (9.0, 22.5, 1.25, 8.19092515),
            (3.0, 22.5, 1.25, 7.00902831),
        ];
        for (radius, degrees, rod, expected) in cases {
            within(longest_in(radius, degrees, rod), expected, 1e-8);
        }
    }

    #[test]
    fn agrees_with_computed_critical_angles() {
        let cases = [
            (2.0, 0.0, 137.44787),
            (2.0, 1.25, 75.86111),
            (3.0, 0.0, 116.69345),
            (3.0, 1.25, 65.20271),
            (6.0, 0.0, 86.16796),
            (6.0, 1.25, 48.82364),
            (9.0, 1.25, 40.69718),
        ];
        for (radius, rod, degrees) in cases {
            // Five decimals given.
            within(critical_angle(1.87, radius, rod).unwrap().to_degrees(), degrees, 6e-6);
        }
    }

    #[test]
    fn published_corridor_corner() {
        within(through_bend(1.0, 0.5, PI / 2.0, 0.0).unwrap(), 2.82842712, 1e-8);
    }

    #[test]
    fn agrees_with_the_thin_rod_form() {
        near(longest_in(6.0, 90.0, 0.0), 2.0 * (2.0f64 * 6.0 * 1.87).sqrt(), 1e-12);
    }

    #[test]
    fn agrees_with_itself_across_the_critical_angle() {
        let critical = critical_angle(1.87, 3.0, 1.25).unwrap();
        let below = through_bend(1.87, 3.0, critical - 1e-7, 1.25).unwrap();
        let above = through_bend(1.87, 3.0, critical + 1e-7, 1.25).unwrap();
        within(below, above, 1e-9);
    }

    #[test]
    fn grows_with_radius_and_thinness_and_a_gentler_turn() {
        assert!(longest_in(6.0, 90.0, 1.25) > longest_in(3.0, 90.0, 1.25));
        assert!(longest_in(3.0, 90.0, 1.0) > longest_in(3.0, 90.0, 1.25));
        assert!(longest_in(3.0, 22.5, 1.25) > longest_in(3.0, 45.0, 1.25));
    }

    #[test]
    fn refuses_what_does_not_fit_the_bore() {
        assert!(through_bend(0.0475, 0.1, 1.5, 0.0475).is_err());
        assert!(through_bend(0.0475, 0.02, 1.5, 0.03).is_err());
        assert!(through_bend(0.0475, 0.1, 0.0, 0.03).is_err());
    }
}

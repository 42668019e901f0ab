//! Losses at an entry, a widening, a bend and a junction, as a share K of the velocity pressure.
//!
//! Every loss here is one of total pressure: `K rho V²/2`, with the speed that the function names.

use crate::reckon::range::{OutOfRange, in_range};
use std::f64::consts::PI;

/// K of a sharp entry flush with a wall, on the speed inside. Source: Idelchik, diagram 3-1, as quoted
/// in a handbook supplement; a thin free edge loses up to 1.0.
pub const SHARP_ENTRY: f64 = 0.5;

/// K of a sudden widening by Borda and Carnot, `(1 - A1/A2)²`, on the speed before it.
///
/// Arguments: bore before `from_m` and after `to_m` (m, the second no smaller). Result without unit.
/// Errors: [`OutOfRange`]. Assumption: full, even flow before and after.
///
/// ```
/// use longsweep::reckon::air::fittings::expansion;
/// assert!((expansion(0.047498, 0.0762).unwrap() - 0.37387790).abs() < 1e-8);
/// ```
///
/// Source: Borda–Carnot; the value from fluids 1.3.1.
pub fn expansion(from_m: f64, to_m: f64) -> Result<f64, OutOfRange> {
    in_range("bore before a widening", from_m, (0.001, 1.0), "m")?;
    in_range("bore after a widening", to_m, (from_m, 10.0), "m")?;
    Ok((1.0 - (from_m / to_m).powi(2)).powi(2))
}

/// K of a throat (a short narrow place, as a stop fitting), on the speed in the tube around it.
///
/// Into the throat `0.5 (1 - b)`, out of it by Borda and Carnot `(1 - b)²`, both on the throat's speed, and
/// so by `1/b²` on the tube's, with `b = (throat/bore)²`.
///
/// Arguments: `bore_m` (m), `throat_m` (m, above a fifth of the bore to the bore). Result without unit.
/// Errors: [`OutOfRange`]. Assumption: sharp edges, the cautious side.
///
/// ```
/// use longsweep::reckon::air::fittings::throat;
/// assert_eq!(throat(0.05, 0.05).unwrap(), 0.0);
/// // b = 1/4: (0.5 * 0.75 + 0.5625) * 16 = 15
/// assert!((throat(0.05, 0.025).unwrap() - 15.0).abs() < 1e-12);
/// ```
///
/// Source: Borda–Carnot; the sharp contraction `0.5 (1 - b)` is the handbook form, from memory.
pub fn throat(bore_m: f64, throat_m: f64) -> Result<f64, OutOfRange> {
    in_range("bore", bore_m, (0.001, 1.0), "m")?;
    in_range("throat", throat_m, (0.2 * bore_m, bore_m), "m")?;
    let b = (throat_m / bore_m).powi(2);
    Ok((0.5 * (1.0 - b) + (1.0 - b).powi(2)) / (b * b))
}

/// K of a smooth round bend by Rennels, the friction along its arc included, on the mean speed.
///
/// `K = f a R/D + (0.10 + 2.4 f) sin(a/2) + 6.6 f (sqrt(sin(a/2)) + sin(a/2)) / (R/D)^(4 a/π)`.
/// The terms are surface friction, secondary flow and separation.
///
/// Arguments: Darcy friction `f` (above 0 to 1000, measured below 0.05); bore `d_m` (m, 0.001 to 1);
/// centreline radius `r_m` (m, D/2 to 100 D); angle `angle_rad` (rad, above 0 to π). Result without unit. Errors: [`OutOfRange`].
///
/// Accuracy: handbooks differ among themselves by 25 % for a sweep and by more than four times for a
/// tight bend of small angle, so this one is used for every bend and named wherever a figure is shown.
/// Based on smooth pipe with straight tube after it; close bends disturb each other.
///
/// ```
/// use longsweep::reckon::air::fittings::bend;
/// use longsweep::reckon::air::friction::colebrook;
/// // A sweep of 6 in radius in 1.87 in tube at Re 80 000.
/// let f = colebrook(8e4, 1.5e-6 / 0.047498).unwrap();
/// let k = bend(f, 0.047498, 0.1524, 90f64.to_radians()).unwrap();
/// assert!((k - 0.21761233).abs() < 1e-8);
/// ```
///
/// Source: Rennels and Hudson, Pipe Flow, 1st ed., 2012, as defined in fluids 1.3.1 (`bend_rounded`).
pub fn bend(f: f64, d_m: f64, r_m: f64, angle_rad: f64) -> Result<f64, OutOfRange> {
    in_range("friction factor", f, (f64::MIN_POSITIVE, 1000.0), "")?;
    in_range("bore", d_m, (0.001, 1.0), "m")?;
    in_range("centerline radius", r_m, (0.5 * d_m, 100.0 * d_m), "m")?;
    in_range("angle of a bend", angle_rad, (f64::MIN_POSITIVE, PI + 1e-9), "rad")?;
    let (ratio, half) = (r_m / d_m, (0.5 * angle_rad).sin());
    let separation = 6.6 * f * (half.sqrt() + half) / ratio.powf(4.0 * angle_rad / PI);
    Ok(f * angle_rad * ratio + (0.10 + 2.4 * f) * half + separation)
}

/// Angle of a branch in degrees against its K, on the speed in the branch.
pub const BRANCH_ENTRY: [(f64, f64); 6] =
    [(15.0, 0.09), (20.0, 0.12), (30.0, 0.18), (45.0, 0.28), (60.0, 0.44), (90.0, 1.00)];

/// K of air that joins a trunk through a branch, by [`BRANCH_ENTRY`], straight lines between its rows.
///
/// Argument: angle between branch and trunk `angle_rad` (rad, 15 to 90 degrees). Result without unit,
/// on the speed in the branch. Errors: [`OutOfRange`].
///
/// Assumptions: branch and trunk flow at about the same speed; what the trunk itself loses is left out.
///
/// ```
/// use longsweep::reckon::air::fittings::branch_entry;
/// assert!((branch_entry(45f64.to_radians()).unwrap() - 0.28).abs() < 1e-12);
/// ```
///
/// Source: branch entry table of the ACGIH industrial ventilation manual, **from memory**: the table
/// was not at hand, so it needs a paper copy before anything is decided by it alone.
pub fn branch_entry(angle_rad: f64) -> Result<f64, OutOfRange> {
    // A last digit over is let pass, since the angle comes from degrees.
    let degrees = (angle_rad.to_degrees() * 1e9).round() / 1e9;
    in_range("angle of a branch", degrees, (15.0, 90.0), "degrees")?;
    let between = |pair: &&[(f64, f64)]| degrees <= pair[1].0;
    let pair = BRANCH_ENTRY.windows(2).find(between).unwrap_or(&BRANCH_ENTRY[4..]);
    let ((a0, k0), (a1, k1)) = (pair[0], pair[1]);
    Ok(k0 + (k1 - k0) * (degrees - a0) / (a1 - a0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reckon::air::friction::colebrook;
    use crate::reckon::check::{IN, within};

    #[test]
    fn agrees_with_fluids_for_bends() {
        // fluids 1.3.1 bend_rounded, bore 0.047498 m, Re 8e4, roughness 1.5e-6 m; eight decimals given,
        // and its explicit friction factor differs from Colebrook in the ninth digit.
        let table = [
            (2.0, [0.30464542, 0.18912271, 0.11362539]),
            (3.0, [0.22630298, 0.15796012, 0.10344355]),
            (6.0, [0.21761233, 0.14276203, 0.09694635]),
            (9.0, [0.25502729, 0.15366050, 0.10073696]),
        ];
        let f = colebrook(8e4, 1.5e-6 / 0.047498).unwrap();
        for (radius_in, row) in table {
            for (degrees, expected) in [90f64, 45.0, 22.5].iter().zip(row) {
                within(bend(f, 0.047498, radius_in * IN, degrees.to_radians()).unwrap(), expected, 1e-8);
            }
        }
    }

    /// What lessons and clauses say of short bends, by fluids 1.3.1 at bore 0.047498 m, Re 8e4, roughness
    /// 1.5e-6 m: a short 45 of 2 in 0.18912271, a short 90 0.30464542, a 90 sweep of 7 in 0.22857279.
    #[test]
    fn agrees_with_fluids_on_two_45s_against_a_90_and_a_short_90_against_a_sweep() {
        let f = colebrook(8e4, 1.5e-6 / 0.047498).unwrap();
        let k =
            |radius_in: f64, degrees: f64| bend(f, 0.047498, radius_in * IN, degrees.to_radians()).unwrap();
        within(2.0 * k(2.0, 45.0) / k(2.0, 90.0), 2.0 * 0.18912271 / 0.30464542, 1e-7);
        within(2.0 * k(2.0, 45.0) / k(2.0, 90.0) - 1.0, 0.24, 0.005);
        within(k(7.0, 90.0), 0.22857279, 1e-8);
        within(k(2.0, 90.0) / k(7.0, 90.0) - 1.0, 0.33, 0.005);
    }

    #[test]
    fn published_fluids_example() {
        // bend_rounded(Di=4.020, rc=4.0*5, angle=30, Re=1E5); lengths scaled, the ratio being what counts.
        let f = colebrook(1e5, 0.0).unwrap();
        within(bend(f, 0.04020, 0.2, 30f64.to_radians()).unwrap(), 0.11519070808085191, 1e-9);
    }

    #[test]
    fn agrees_with_other_handbooks_within_their_spread() {
        // Miller, Ito and Crane for a 90 of R/D 3.2: 0.2216, 0.2121, 0.2411.
        let f = colebrook(8e4, 1.5e-6 / 0.047498).unwrap();
        let k = bend(f, 0.047498, 6.0 * IN, PI / 2.0).unwrap();
        assert!(k > 0.2121 * 0.9 && k < 0.2411 * 1.1);
    }

    #[test]
    fn recovers_the_rows_of_the_branch_table() {
        for (degrees, k) in BRANCH_ENTRY {
            within(branch_entry(degrees.to_radians()).unwrap(), k, 1e-9);
        }
        within(branch_entry(75f64.to_radians()).unwrap(), 0.72, 1e-9);
    }

    #[test]
    fn zero_loss_where_the_bore_does_not_change() {
        assert_eq!(expansion(0.05, 0.05), Ok(0.0));
    }

    #[test]
    fn grows_with_angle() {
        let k = |degrees: f64| bend(0.02, 0.0475, 0.18, degrees.to_radians()).unwrap();
        assert!(k(90.0) > k(45.0) && k(45.0) > k(22.5));
    }

    #[test]
    fn refuses_a_narrowing_and_an_angle_off_the_table() {
        assert!(expansion(0.05, 0.04).is_err());
        assert!(branch_entry(0.1).is_err());
        assert!(bend(0.02, 0.0475, 0.01, 1.0).is_err());
    }
}

//! Exact tension through bends in a vertical plane with one end level, to bound [`level_bend`].
//!
//! With `k = W R / (1 + mu²)`, `E = e^(mu th)`, `A = 2 mu sin th - (1 - mu²)(E - cos th)` and
//! `B = 2 mu E sin th + (1 - mu²)(1 - E cos th)`:
//!
//! | bend | pull | tension after |
//! |---|---|---|
//! | sag, curving up from level | level to slope, going up | `T E - k A` |
//! | sag | slope to level, going down | `T E - k B` |
//! | crest, curving down from level | slope to level, going up | `T E + k B` |
//! | crest | level to slope, going down | `T E + k A` |
//!
//! The forms for a sag hold while the line rides the inner wall, `T > W R cos phi` all the way.
//! Derived for this program; the tests integrate the equation of each by itself. They have the shape
//! of the forms in the cable-pulling guides of the electrical trade (from memory).
//!
//! For any `T` of `W R` or more the four lie within `2 W R e^(mu th)` of [`level_bend`], which the
//! tests show over the range of hoses and sweeps: a hose of 0.25 lb/ft in sweeps of 7 in departs from
//! it by less than half a pound for each bend, and by less than 0.3 lb at friction up to 0.32.
//!
//! [`level_bend`]: super::tension::level_bend

use crate::reckon::range::{OutOfRange, in_range};
use std::f64::consts::FRAC_PI_2;

/// Which way a bend in a vertical plane curves, and which way the pull goes through it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum VerticalBend {
    /// From level, curving up to a slope.
    SagGoingUp,
    /// Down a slope, curving to level.
    SagGoingDown,
    /// Up a slope, curving over to level.
    CrestGoingUp,
    /// From level, curving over and down to a slope.
    CrestGoingDown,
}

/// Tension after a bend in a vertical plane, one end of which is level.
///
/// Formulas and assumptions: see the [module](self). Arguments: tension before `t_n` (N; for a sag at
/// least `W R`, so that the line rides the inner wall), friction `mu` (0 to 2), weight `w_n_per_m`
/// (N/m), radius `r_m` (m), angle `th_rad` (above 0 to π/2). Result in N. Errors: [`OutOfRange`].
///
/// ```
/// use longsweep::reckon::effort::vertical::{vertical_bend, VerticalBend};
/// let up = vertical_bend(VerticalBend::SagGoingUp, 50.0, 0.3, 0.5, 0.75, 90f64.to_radians()).unwrap();
/// assert!((up - 80.393997).abs() < 1e-6);
/// ```
pub fn vertical_bend(
    bend: VerticalBend,
    t_n: f64,
    mu: f64,
    w_n_per_m: f64,
    r_m: f64,
    th_rad: f64,
) -> Result<f64, OutOfRange> {
    let wr = w_n_per_m * r_m;
    let sag = matches!(bend, VerticalBend::SagGoingUp | VerticalBend::SagGoingDown);
    in_range("tension before the bend", t_n, (if sag { wr } else { 0.0 }, 1e9), "N")?;
    in_range("friction of the hose", mu, (0.0, 2.0), "")?;
    in_range("angle of a bend", th_rad, (f64::MIN_POSITIVE, FRAC_PI_2 + 1e-9), "rad")?;
    let (sin, cos) = th_rad.sin_cos();
    let (k, e, one_less) = (wr / (1.0 + mu * mu), (mu * th_rad).exp(), 1.0 - mu * mu);
    let a = 2.0 * mu * sin - one_less * (e - cos);
    let b = 2.0 * mu * e * sin + one_less * (1.0 - e * cos);
    let weight = match bend {
        VerticalBend::SagGoingUp => -a,
        VerticalBend::SagGoingDown => -b,
        VerticalBend::CrestGoingUp => b,
        VerticalBend::CrestGoingDown => a,
    };
    Ok(t_n * e + k * weight)
}

//! Lock-up of a pushed hose that knows its stiffness.

use super::HoseError;
use super::balance::{Along, drawn_in};
use super::draw_in::{At, Setting};
use crate::reckon::range::{OutOfRange, in_range};

/// Push at which a line lying in a level tube begins to snake, `2 sqrt(EI w / r)`, N.
///
/// Arguments: bending stiffness `ei_n_m2` (N m², above 0 to 1000), weight `w_n_per_m` (N/m, 0 to 100), radial
/// clearance `r_m` between line and tube (m, above 0 to 0.1). Errors: [`OutOfRange`]. Validity: straight level
/// tube, frictionless; a bend holds a line better, an upright tube worse. It warns and does not judge.
///
/// ```
/// use longsweep::reckon::hose::lock_up_n;
/// // 0.5 N m², 3.65 N/m in a clearance of 1.5 mm.
/// assert!((lock_up_n(0.5, 3.65, 0.0015).unwrap() - 69.76).abs() < 0.01);
/// ```
///
/// Source: R. Dawson and P. R. Paslay, "Drill pipe buckling in inclined holes", J. Petroleum Technology, 1984
/// (from memory).
pub fn lock_up_n(ei_n_m2: f64, w_n_per_m: f64, r_m: f64) -> Result<f64, OutOfRange> {
    in_range("bending stiffness of the hose", ei_n_m2, (f64::MIN_POSITIVE, 1000.0), "N m2")?;
    in_range("weight of the hose", w_n_per_m, (0.0, 100.0), "N/m")?;
    in_range("clearance of the hose in the tube", r_m, (f64::MIN_POSITIVE, 0.1), "m")?;
    Ok(2.0 * (ei_n_m2 * w_n_per_m / r_m).sqrt())
}

/// How near a pushed hose comes to snaking in its tube.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LockUp {
    /// The greatest push in the hose where suction and friction balance, N; 0 where nothing pushes.
    pub push_n: f64,
    /// What the hose bears, N.
    pub limit_n: f64,
}

impl LockUp {
    /// The push just behind the valve, where it is greatest, with the hose at `at` and the suction just needed.
    pub fn at(setting: &Setting, at: &At, limit_n: f64) -> Result<LockUp, HoseError> {
        let hose = setting.hose();
        let outside_n = hose.mu_floor * hose.weight_n_per_m * (hose.length_m - at.inserted_m);
        let suction = if at.needed_pa.is_finite() { at.needed_pa / at.spent.had_pa } else { 1.0 };
        let [valve_n, along_n, _] = setting.pulls_n(&at.spent, suction);
        let start_n = outside_n - valve_n;
        let mut least_n = start_n;
        if at.inserted_m > 0.0 {
            let along = Along {
                weight_n_per_m: hose.weight_n_per_m,
                mu: hose.mu_in,
                air_n_per_m: along_n / at.inserted_m,
            };
            for end_m in setting.path().ends_m().map(|end| end.min(at.inserted_m)) {
                least_n = least_n.min(drawn_in(setting.path(), end_m, start_n, &along));
            }
        }
        Ok(LockUp { push_n: (-least_n).max(0.0), limit_n })
    }
}

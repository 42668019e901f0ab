//! The Darcy friction factor of a round tube, and the pressure it takes.

use crate::reckon::range::{OutOfRange, in_range};
use std::f64::consts::LOG10_E;

/// The Reynolds number from which the flow is taken as turbulent.
pub const TURBULENT: f64 = 4000.0;
/// The least Reynolds number that [`colebrook`] is asked for: a narrow ring turns turbulent there.
const COLEBROOK_FROM: f64 = 2300.0;

/// Darcy friction factor of a round tube for any flow.
///
/// [`colebrook`] from Re 4000 up, [`churchill`] below, where the flow may be laminar. At the border
/// the two differ by 1.7 % in a smooth tube.
///
/// Arguments: Reynolds number `re` (above 0 to 1e9), roughness over diameter `rough` (0 to 0.1).
/// Result without unit. Errors: [`OutOfRange`].
///
/// ```
/// use longsweep::reckon::air::friction::friction_factor;
/// assert!((friction_factor(100.0, 0.0).unwrap() - 0.64).abs() < 1e-9); // laminar: 64/Re
/// ```
pub fn friction_factor(re: f64, rough: f64) -> Result<f64, OutOfRange> {
    if re < TURBULENT { churchill(re, rough) } else { colebrook(re, rough) }
}

/// Darcy friction factor of turbulent flow by Colebrook, solved to 1e-10 by Newton's method.
///
/// `1/sqrt f = -2 log10(e / 3.7 D + 2.51 / (Re sqrt f))`. Arguments: `re` (2300 to 1e9), `rough` = e/D
/// (0 to 0.1). Result without unit. Errors: [`OutOfRange`]. Accuracy: a few percent of experiment.
///
/// ```
/// use longsweep::reckon::air::friction::colebrook;
/// assert!((colebrook(1e5, 1e-4).unwrap() - 0.018513866).abs() < 1e-9);
/// ```
///
/// Source: Colebrook 1939, as in every handbook; values from the reference library fluids 1.3.1.
pub fn colebrook(re: f64, rough: f64) -> Result<f64, OutOfRange> {
    in_range("Reynolds number", re, (COLEBROOK_FROM, 1e9), "")?;
    in_range("roughness over diameter", rough, (0.0, 0.1), "")?;
    // With x = 1/sqrt f the left side grows and the right side falls, so there is one root; their gap is bent
    // downward, so that from the second on Newton's steps come up to it from below. Some four do.
    let (grain, slope) = (rough / 3.7, 2.51 / re);
    let mut x: f64 = 7.0;
    for _ in 0..50 {
        let inside = grain + slope * x;
        let step = (x + 2.0 * LOG10_E * inside.ln()) / (1.0 + 2.0 * LOG10_E * slope / inside);
        x = (x - step).max(1.0);
        // The next step would be of the square of this one.
        if step.abs() < 1e-8 * x {
            break;
        }
    }
    Ok(1.0 / (x * x))
}

/// Darcy friction factor for all regimes by Churchill 1977.
///
/// `f = 8 [(8/Re)^12 + (A + B)^-1.5]^(1/12)`, `A = {2.457 ln 1/[(7/Re)^0.9 + 0.27 e/D]}^16`,
/// `B = (37530/Re)^16`. Arguments: `re` (above 0 to 1e9), `rough` = e/D (0 to 0.1). Result without
/// unit. Errors: [`OutOfRange`]. Accuracy: exact where laminar, 2 % of Colebrook where turbulent; between
/// them (Re 2000 to 4000) no formula is sure.
///
/// ```
/// use longsweep::reckon::air::friction::churchill;
/// assert!((churchill(1e5, 1e-4).unwrap() - 0.018462625).abs() < 1e-9);
/// ```
///
/// Source: Churchill, Chem. Eng. 1977 (from memory), as coded in fluids 1.3.1.
pub fn churchill(re: f64, rough: f64) -> Result<f64, OutOfRange> {
    in_range("Reynolds number", re, (1e-3, 1e9), "")?;
    in_range("roughness over diameter", rough, (0.0, 0.1), "")?;
    let a = (2.457 * ((7.0 / re).powf(0.9) + 0.27 * rough).ln()).powi(16);
    let b = (37_530.0 / re).powi(16);
    Ok(8.0 * ((8.0 / re).powi(12) + (a + b).powf(-1.5)).powf(1.0 / 12.0))
}

/// Pressure lost to friction in a straight tube at constant density, `dp = f (L/D) rho V²/2`.
///
/// Arguments: friction `f`, length `l_m` (m), bore `d_m` (m), density `rho_kg_m3`, speed `v_m_s` (m/s).
/// Result in Pa, a loss of total pressure. Assumption: density the same from end to end, within 1 % for
/// losses under 2 kPa in air; the whole line is reckoned with [`super::isothermal`] instead.
///
/// ```
/// use longsweep::reckon::air::friction::darcy;
/// // Air at 26.635025 m/s through 60 ft of 1.87 in tube: 3092.68 Pa.
/// let lost = darcy(0.018807938, 18.288, 0.047498, 1.204, 26.635025);
/// assert!((lost - 3092.6786).abs() < 1e-3);
/// ```
///
/// Source: Darcy–Weisbach.
pub fn darcy(f: f64, l_m: f64, d_m: f64, rho_kg_m3: f64, v_m_s: f64) -> f64 {
    f * l_m / d_m * rho_kg_m3 * v_m_s * v_m_s / 2.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reckon::check::{near, within};

    /// Re, e/D, Colebrook, Churchill, computed with fluids 1.3.1; its documentation gives the fourth row.
    const ROWS: [(f64, f64, f64, f64); 8] = [
        (4000.0, 0.0, 0.039907014, 0.040589733),
        (1e4, 0.0, 0.030882950, 0.031002131),
        (1e5, 0.0, 0.017989773, 0.017874822),
        (1e5, 1e-4, 0.018513866, 0.018462625),
        (1e5, 1e-3, 0.022174536, 0.022343236),
        (1e6, 1e-3, 0.019943466, 0.020021956),
        (1e7, 0.01, 0.037909826, 0.037896587),
        (5e4, 3.2e-5, 0.021006847, 0.020907493),
    ];

    #[test]
    fn agrees_with_fluids() {
        for (re, rough, by_colebrook, by_churchill) in ROWS {
            // Nine decimals given.
            within(colebrook(re, rough).unwrap(), by_colebrook, 6e-10);
            within(churchill(re, rough).unwrap(), by_churchill, 6e-10);
        }
    }

    #[test]
    fn agrees_with_its_own_equation() {
        for (re, rough, ..) in ROWS {
            let f = colebrook(re, rough).unwrap();
            let right = -2.0 * (rough / 3.7 + 2.51 / (re * f.sqrt())).log10();
            within(1.0 / f.sqrt(), right, 1e-10);
        }
    }

    #[test]
    fn agrees_with_explicit_formulas() {
        for (re, rough, ..) in ROWS {
            let f = colebrook(re, rough).unwrap();
            let haaland = (-1.8 * ((rough / 3.7f64).powf(1.11) + 6.9 / re).log10()).powi(-2);
            near(haaland, f, 0.015);
        }
        near(0.3164 / 1e5f64.powf(0.25), colebrook(1e5, 0.0).unwrap(), 0.015);
    }

    #[test]
    fn published_white_example_6_7() {
        // Oil, 0.2 m³/s, 500 m of 200 mm, roughness 0.26 mm: printed V 6.4, Re 128000, f 0.0225 read off
        // a chart; head 117 m from memory.
        let f = colebrook(128_000.0, 0.0013).unwrap();
        within(f, 0.02271607, 1e-8);
        near(f, 0.0225, 0.01);
        let v = 0.2 / (std::f64::consts::PI * 0.01);
        let head = darcy(0.0225, 500.0, 0.2, 900.0, v) / (900.0 * 9.81);
        // 117 is a whole number from rounded speed and factor.
        near(head, 117.0, 0.02);
    }

    #[test]
    fn published_munson_example_8_5() {
        // Air at 50 m/s in a drawn tube of 4 mm: Re 13700 and f 0.028 printed, 1.076 kPa from memory.
        let re = 1.23 * 50.0 * 0.004 / 1.79e-5;
        near(re, 13_700.0, 0.004);
        within(darcy(0.028, 0.1, 0.004, 1.23, 50.0), 1076.25, 1e-9);
        let f = colebrook(13_700.0, 0.0015 / 4.0).unwrap();
        within(f, 0.02912138, 1e-8);
        within(darcy(f, 0.1, 0.004, 1.23, 50.0), 1119.3, 0.06);
    }

    #[test]
    fn agrees_with_laminar_theory() {
        near(friction_factor(1000.0, 0.0).unwrap(), 0.064, 1e-6);
    }

    #[test]
    fn grows_with_roughness() {
        assert!(colebrook(1e5, 1e-3).unwrap() > colebrook(1e5, 1e-4).unwrap());
    }

    #[test]
    fn refuses_laminar_flow_in_the_turbulent_formula() {
        assert!(colebrook(2000.0, 0.0).is_err());
        assert!(churchill(0.0, 0.0).is_err());
    }
}

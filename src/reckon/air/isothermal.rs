//! Air flowing through a tube while its pressure, and so its density, falls.
//!
//! At 100 inches of water below the room the air is a quarter thinner, so each part is reckoned with
//! the isothermal equation `G² = (P1² - P2²) / [R T (N + 2 ln(P1/P2))]`: `G` mass flow for each square
//! metre of bore, `P` absolute static pressure, `N` the loss number of the part, `f L / D` for a tube
//! or K for a bend.

use crate::measure::{Si, Units};
use crate::reckon::range::{OutOfRange, in_range};
use crate::reckon::root::between;
use std::fmt;

/// Why a part has no outlet pressure.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum IsothermalError {
    /// The tube cannot carry that much: the flow chokes before its end.
    Choked { flux_kg_s_m2: f64, inlet_pa: f64, most_kg_s_m2: f64 },
    /// An input outside the range of the formula.
    Range(OutOfRange),
}

impl From<OutOfRange> for IsothermalError {
    fn from(error: OutOfRange) -> Self {
        IsothermalError::Range(error)
    }
}

impl IsothermalError {
    /// The sentence in the units of its reader.
    pub fn said(&self, units: &dyn Units) -> String {
        match self {
            IsothermalError::Choked { flux_kg_s_m2, inlet_pa, most_kg_s_m2 } => format!(
                "the flow chokes: {:.2} times as much air as can pass from {} absolute",
                flux_kg_s_m2 / most_kg_s_m2,
                units.figure(inlet_pa.round(), "Pa")
            ),
            IsothermalError::Range(error) => error.said(units),
        }
    }
}

impl fmt::Display for IsothermalError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.said(&Si))
    }
}

impl std::error::Error for IsothermalError {}

/// Static pressure at the end of a part, absolute.
///
/// Solves the equation of the [module](self) for `P2` on the branch below the speed of sound.
///
/// Arguments: inlet static pressure `p1_pa` (Pa absolute, above 0 to 1e8), mass flow over bore area
/// `flux` (kg/(s m²), 0 to 1e6), gas constant times temperature `rt` (J/kg, 1e3 to 1e7), loss number
/// `n` (0 to 1e6). Result in Pa absolute.
///
/// Errors: [`IsothermalError::Choked`] where no pressure above `flux sqrt(R T)` answers;
/// [`IsothermalError::Range`].
///
/// Assumptions: ideal gas, temperature the same along the part, level tube, one friction factor.
///
/// ```
/// use longsweep::reckon::air::isothermal::outlet_pressure;
/// // 100 cfm of air through 60 ft of 1.87 in tube, from the room: 3169 Pa are lost.
/// let area = std::f64::consts::PI * 0.047498f64.powi(2) / 4.0;
/// let flux = 1.204 * 26.635025;
/// let p2 = outlet_pressure(101_325.0, flux, 287.055 * 293.15, 0.018807938 * 18.288 / 0.047498).unwrap();
/// assert!((101_325.0 - p2 - 3169.1283).abs() < 0.3);
/// ```
///
/// Source: textbook form, e.g. Massoud, Engineering Thermofluids; checked with fluids 1.3.1.
pub fn outlet_pressure(p1_pa: f64, flux: f64, rt: f64, n: f64) -> Result<f64, IsothermalError> {
    check(p1_pa, rt, n)?;
    in_range("mass flow over area", flux, (0.0, 1e6), "kg/s m2")?;
    if flux == 0.0 {
        return Ok(p1_pa);
    }
    // What is left over of the pressure when the part ends at `p2`: it falls as `p2` rises.
    let left = |p2: f64| p1_pa * p1_pa - p2 * p2 - flux * flux * rt * (n + 2.0 * (p1_pa / p2).ln());
    let sonic_pa = flux * rt.sqrt();
    if sonic_pa >= p1_pa || left(sonic_pa) < 0.0 {
        let most_kg_s_m2 = critical_pressure(p1_pa, n)? / rt.sqrt();
        return Err(IsothermalError::Choked { flux_kg_s_m2: flux, inlet_pa: p1_pa, most_kg_s_m2 });
    }
    // `left` falls and is bent downward, so that Newton's steps come down to the root from a start above it:
    // the pressure without the term of the logarithm. Near the speed of sound they are many and small.
    let mut p2 = (p1_pa * p1_pa - sonic_pa * sonic_pa * n).sqrt();
    for _ in 0..100 {
        let step = left(p2) / (2.0 * (sonic_pa * sonic_pa / p2 - p2));
        p2 = (p2 - step).max(sonic_pa);
        if step.abs() <= 1e-15 * p2 || !step.is_finite() {
            break;
        }
    }
    Ok(p2)
}

/// The outlet pressure at which a part chokes, Pa absolute: `(P1/P2)² = 1 + N + 2 ln(P1/P2)`.
///
/// Arguments: `p1_pa` and `n` as in [`outlet_pressure`]. A lower outlet pressure draws no more air.
///
/// ```
/// use longsweep::reckon::air::isothermal::critical_pressure;
/// let choking = critical_pressure(1e6, 0.00185 * 1000.0 / 0.5).unwrap();
/// assert!((choking - 389_699.73176).abs() < 1e-4);
/// ```
///
/// Source: the greatest flux of the same equation; the value from fluids 1.3.1's documentation.
pub fn critical_pressure(p1_pa: f64, n: f64) -> Result<f64, OutOfRange> {
    check(p1_pa, 1e3, n)?;
    let ratio = between(1.0, 2.0 + 2.0 * (1.0 + n).sqrt(), 1e-15, |r| r * r - 1.0 - n - 2.0 * r.ln());
    Ok(p1_pa / ratio)
}

fn check(p1_pa: f64, rt: f64, n: f64) -> Result<(), OutOfRange> {
    in_range("inlet pressure", p1_pa, (1e-3, 1e8), "Pa")?;
    in_range("specific energy R T", rt, (1e3, 1e7), "J/kg")?;
    in_range("loss number", n, (0.0, 1e6), "")?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reckon::check::{near, within};
    use std::f64::consts::PI;

    fn area(d_m: f64) -> f64 {
        PI * d_m * d_m / 4.0
    }

    #[test]
    fn agrees_with_fluids_for_60_ft_of_tube() {
        // fluids 1.3.1 isothermal_gas(rho=1.204063, fd=0.0188, P1=101325, L=18.288, D=0.047498).
        let (rt, n, a) = (101_325.0 / 1.204063, 0.0188 * 18.288 / 0.047498, area(0.047498));
        for (flow, p2) in [(0.03, 100_457.59), (0.0568, 98_159.707), (0.0799, 94_898.570)] {
            within(outlet_pressure(101_325.0, flow / a, rt, n).unwrap(), p2, 0.006);
        }
        within(outlet_pressure(101_325.0, 0.066094094 / a, rt, n).unwrap(), 97_000.0, 1e-4);
    }

    #[test]
    fn agrees_with_darcy_at_small_losses() {
        let (rt, n) = (287.055 * 293.15, 3.0);
        let g = 5.0;
        let lost = 101_325.0 - outlet_pressure(101_325.0, g, rt, n).unwrap();
        near(lost, n * g * g * rt / (2.0 * 101_325.0), 1e-3);
    }

    #[test]
    fn published_massoud_gas_main() {
        // Gas of molar mass 16 at 540 R, 15 miles of 2.25 ft, 45 ft/s, f 0.00886, from 120 psia: printed
        // RT/V² 829.15, fL/D 311.87, (P2/P1)² 0.6233, P2 94.74 psia, five digits each.
        let (c1, n): (f64, f64) = (829.15, 311.87);
        let p1 = 120.0 * 6894.757;
        let rt = 9e4;
        // G = rho V and rho = P1/RT, so G² RT = P1² / c1.
        let p2 = outlet_pressure(p1, p1 / (c1 * rt).sqrt(), rt, n).unwrap();
        within((p2 / p1).powi(2), 0.6233, 5e-5);
        within(p2 / p1, 0.7895, 5e-5);
        within(p2 / 6894.757, 94.74, 5e-3);
    }

    #[test]
    fn published_methane_line() {
        // Methane, 305 m of 52.5 mm, G 41.0, from 345 kPa at 288.8 K; the outlet 298.4 kPa is from memory.
        let p2 = outlet_pressure(345e3, 41.0, 8314.46 / 16.04 * 288.8, 4.0 * 0.0051 * 305.0 / 0.0525);
        near(p2.unwrap(), 298.4e3, 2e-3);
    }

    #[test]
    fn refuses_a_choked_outlet() {
        // A printed problem (air, 150 mm, 30 m, 1 kPa to 0.1 kPa) asks for less than the choking pressure,
        // 318.67 Pa by fluids; the friction that belongs to it is recovered here from that figure.
        let ratio: f64 = 1000.0 / 318.67;
        let n = ratio * ratio - 1.0 - 2.0 * ratio.ln();
        within(critical_pressure(1000.0, n).unwrap(), 318.67, 1e-6);
        let most = 318.67 / 84_000f64.sqrt();
        let refused = outlet_pressure(1000.0, 1.01 * most, 84_000.0, n);
        assert!(matches!(refused, Err(IsothermalError::Choked { .. })));
        assert!(outlet_pressure(1000.0, 0.99 * most, 84_000.0, n).is_ok());
    }

    #[test]
    fn agrees_with_the_reference_librarys_own_example() {
        // 145.48475726 kg/s through 0.5 m, from 10 to 9 bar, by the documentation of fluids 1.3.1.
        let p2 = outlet_pressure(1e6, 145.48475726 / area(0.5), 1e6 / 11.3, 0.00185 * 1000.0 / 0.5);
        within(p2.unwrap(), 9e5, 1e-2);
    }

    #[test]
    fn zero_flow_keeps_the_pressure() {
        assert_eq!(outlet_pressure(1e5, 0.0, 84_000.0, 7.0), Ok(1e5));
    }

    #[test]
    fn grows_with_the_loss_number() {
        let p2 = |n| outlet_pressure(1e5, 40.0, 84_000.0, n).unwrap();
        assert!(p2(8.0) < p2(7.0));
    }
}

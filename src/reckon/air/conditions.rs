//! The air itself: density, viscosity, and inches of water with their reference named.

use crate::measure::{CFM_M3_S, INCH_WATER_PA};
use crate::reckon::range::{OutOfRange, in_range};

/// Gas constant of dry air, J/(kg K).
pub const GAS_CONSTANT: f64 = 287.055;

/// Standard air of the fan and cleaner tests, 0.075 lb/ft³ in kg/m³. Flows on a unit's curve are flows
/// of this air. Source: glossary of the ASME displacement-compressor test code, 14.696 psi, 68 °F, 36 % RH.
pub const STANDARD_DENSITY: f64 = 1.201_384_8;

/// Pascals in an inch of water of exactly 1000 kg/m³, the conventional inch, called "at 4 °C".
pub const INCH_OF_WATER_4C: f64 = INCH_WATER_PA;

/// Cubic metres a second in one cubic foot a minute.
pub const CFM: f64 = CFM_M3_S;

/// Density of dry air as an ideal gas, `rho = p / (R T)`.
///
/// Arguments: absolute pressure `p_pa` (Pa, 10 000 to 1 000 000), temperature `t_k` (K, 200 to 400).
/// Result in kg/m³. Errors: [`OutOfRange`]. Accuracy: 0.1 % in this range; moisture lowers it by up to
/// 1 % on a warm wet day.
///
/// ```
/// use longsweep::reckon::air::conditions::density;
/// assert!((density(101_325.0, 293.15).unwrap() - 1.2041).abs() < 1e-4);
/// ```
///
/// Source: ideal gas law.
pub fn density(p_pa: f64, t_k: f64) -> Result<f64, OutOfRange> {
    in_range("absolute pressure", p_pa, (1e4, 1e6), "Pa")?;
    in_range("temperature", t_k, (200.0, 400.0), "K")?;
    Ok(p_pa / (GAS_CONSTANT * t_k))
}

/// Dynamic viscosity of air by Sutherland's law, `mu = 1.458e-6 T^1.5 / (T + 110.4)`.
///
/// Argument: temperature `t_k` (K, 200 to 400). Result in Pa s. Errors: [`OutOfRange`]. Accuracy:
/// within 0.5 % of tables.
///
/// ```
/// use longsweep::reckon::air::conditions::viscosity;
/// assert!((viscosity(293.15).unwrap() - 1.81e-5).abs() < 0.01e-5);
/// ```
///
/// Source: constants of the U.S. Standard Atmosphere 1976 (from memory).
pub fn viscosity(t_k: f64) -> Result<f64, OutOfRange> {
    in_range("temperature", t_k, (200.0, 400.0), "K")?;
    Ok(1.458e-6 * t_k.powf(1.5) / (t_k + 110.4))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reckon::check::{near, within};

    #[test]
    fn published_standard_air_from_its_pounds() {
        near(0.075 * 0.453_592_37 / 0.3048f64.powi(3), STANDARD_DENSITY, 1e-7);
    }

    #[test]
    fn agrees_with_dry_air_at_70_fahrenheit() {
        // Computed for dry ideal air: 1.1995597 at 70 °F, 1.2041063 at 20 °C, with a gas constant that
        // differs in its sixth digit.
        near(density(101_325.0, 294.261_111).unwrap(), 1.1995597, 5e-5);
        near(density(101_325.0, 293.15).unwrap(), 1.2041063, 5e-5);
        // Standard air is a little moist, and so within 0.3 % of dry.
        near(density(101_325.0, 293.15).unwrap(), STANDARD_DENSITY, 3e-3);
    }

    #[test]
    fn agrees_with_density_of_water_times_gravity() {
        let inch = |water: f64| water * 9.806_65 * 0.0254;
        within(inch(1000.0), INCH_OF_WATER_4C, 1e-9);
        within(inch(999.016), 248.843_81, 1e-5);
        // The published figure carries one digit more of the water's density.
        within(inch(998.206), 248.642_12, 1e-4);
    }

    #[test]
    fn refuses_a_gauge_pressure() {
        assert!(density(0.0, 293.15).is_err());
        assert!(viscosity(20.0).is_err());
    }
}

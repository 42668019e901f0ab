//! Air power: what the moving air could do, flow times suction.

use crate::reckon::range::{OutOfRange, in_range};

/// Watts for each cubic foot a minute times inch of water in ASTM F558 and F820 (constant from memory).
///
/// It implies an inch of water of 248.659 Pa, as read near 68 °F; with the conventional inch of
/// 249.08891 Pa the product would be 0.17 % more, so inches and constant must not be mixed.
pub const F558_CONSTANT: f64 = 0.117_354;

/// Air power by ASTM F558, `AP = 0.117354 Q h`.
///
/// Arguments: flow `q_cfm` (ft³/min, corrected to standard air, 0 to 1000), suction `h_in` (inches of
/// water near 68 °F, gauge, 0 to 400). Result in watts. Errors: [`OutOfRange`].
///
/// ```
/// use longsweep::reckon::air::power::f558_air_power;
/// assert!((f558_air_power(100.0, 80.0).unwrap() - 938.832).abs() < 1e-9);
/// ```
///
/// Source: ASTM F558 (portable cleaners) and F820 (built-in systems), same term.
pub fn f558_air_power(q_cfm: f64, h_in: f64) -> Result<f64, OutOfRange> {
    in_range("flow", q_cfm, (0.0, 1000.0), "cfm")?;
    in_range("suction", h_in, (0.0, 400.0), "inH2O")?;
    Ok(F558_CONSTANT * q_cfm * h_in)
}

/// The same power from SI figures, `AP = Q p`: flow `q_m3s` (m³/s of standard air), suction `p_pa` (Pa
/// gauge). Result in watts. No inch of water enters, so none has to be named.
///
/// ```
/// use longsweep::reckon::air::power::air_power;
/// assert_eq!(air_power(0.05, 20_000.0), 1000.0);
/// ```
pub fn air_power(q_m3s: f64, p_pa: f64) -> f64 {
    q_m3s * p_pa
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reckon::air::conditions::{CFM, INCH_OF_WATER_4C};
    use crate::reckon::check::near;

    #[test]
    fn agrees_with_the_si_product_at_its_own_inch() {
        near(f558_air_power(100.0, 80.0).unwrap(), air_power(100.0 * CFM, 80.0 * 248.659), 2e-6);
    }

    #[test]
    fn grows_with_the_conventional_inch_by_a_sixth_of_a_percent() {
        near(CFM * INCH_OF_WATER_4C, 0.117557, 3e-6);
        near(CFM * INCH_OF_WATER_4C / F558_CONSTANT, 1.0017, 1e-4);
    }

    #[test]
    fn zero_power_when_sealed_or_open() {
        assert_eq!(f558_air_power(0.0, 130.0), Ok(0.0));
        assert_eq!(air_power(0.05, 0.0), 0.0);
    }
}

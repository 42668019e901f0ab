//! Air power: what the moving air could do, flow times suction.

/// Air power, `AP = Q p`: flow `q_m3s` (m³/s of standard air), suction `p_pa` (Pa
/// gauge). Result in watts. No inch of water enters, so none has to be named.
///
/// Source: ASTM F558 (portable cleaners) and F820 (built-in systems), the same term.
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

    /// The standard's own constant, 0.117354 W for each ft³/min and inch of water (from memory), holds for an
    /// inch of 248.659 Pa, as read near 68 °F; with the conventional inch the product is a sixth of a percent more.
    #[test]
    fn published_astm_f558_constant() {
        near(air_power(100.0 * CFM, 80.0 * 248.659), 0.117354 * 100.0 * 80.0, 2e-6);
        near(air_power(CFM, INCH_OF_WATER_4C) / 0.117354, 1.0017, 1e-4);
    }

    #[test]
    fn zero_power_when_sealed_or_open() {
        assert_eq!(air_power(0.0, 32_000.0), 0.0);
        assert_eq!(air_power(0.05, 0.0), 0.0);
    }
}

//! Which dust a speed of air carries along level tube, and which stays behind.

/// A band of dust with the least speed that industrial ventilation moves it by.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dust {
    /// What it is, as a crew would say it.
    pub words: &'static str,
    /// Feet a minute, the low end of the printed band.
    pub least_fpm: f64,
}

/// The bands, lightest first.
///
/// Source: transport velocities of the ACGIH industrial ventilation manual, 2009, as quoted in secondary
/// copies: very fine light dust (cotton lint, wood flour) 2,500 to 3,000 ft/min; dry dusts and powders
/// 3,000 to 4,000; average industrial dust 3,500 to 4,000; heavy dust 4,000 to 4,500. They are for ducts of
/// works, wider than ours, and a guide for a house.
pub const DUSTS: [Dust; 4] = [
    Dust { words: "very fine, light dust such as lint and flour", least_fpm: 2500.0 },
    Dust { words: "dry dust and powder", least_fpm: 3000.0 },
    Dust { words: "average dust", least_fpm: 3500.0 },
    Dust { words: "heavy grit such as sand", least_fpm: 4000.0 },
];

/// Metres a second in a foot a minute.
const FPM_M_S: f64 = 0.3048 / 60.0;

/// The bands that a speed `v_m_s` (m/s) leaves lying, lightest first; empty where it carries them all.
///
/// A speed equal to a band's least carries it.
///
/// ```
/// use longsweep::reckon::air::dust::left_behind;
/// let behind = left_behind(3200.0 * 0.3048 / 60.0);
/// assert_eq!(behind.len(), 2);
/// assert_eq!(behind[1].words, "heavy grit such as sand");
/// ```
///
/// Source: [`DUSTS`].
pub fn left_behind(v_m_s: f64) -> &'static [Dust] {
    // A speed that was written in feet a minute must not miss its own band by a last digit.
    let carried = DUSTS.iter().take_while(|dust| v_m_s >= dust.least_fpm * FPM_M_S * (1.0 - 1e-9)).count();
    &DUSTS[carried..]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reckon::check::{IN, within};
    use std::f64::consts::PI;

    /// Flows for the four speeds in tube of 1.87 in bore, reckoned apart: 47.6816, 57.2179, 66.7542, 76.2905 cfm.
    #[test]
    fn agrees_with_the_flows_reckoned_apart() {
        let area_ft2 = 0.25 * PI * (1.87 * IN / 0.3048).powi(2);
        for (dust, cfm) in DUSTS.iter().zip([47.6816, 57.2179, 66.7542, 76.2905]) {
            within(dust.least_fpm * area_ft2, cfm, 5e-5);
        }
    }

    /// ACGIH, as quoted: grit of the weight of blasting sand wants 4,000 ft/min.
    #[test]
    fn published_bands_and_their_edges() {
        let behind = |fpm: f64| left_behind(fpm * FPM_M_S).len();
        assert_eq!(
            [2499.0, 2500.0, 3000.0, 3499.0, 3500.0, 3999.0, 4000.0].map(behind),
            [4, 3, 2, 2, 1, 1, 0]
        );
        assert_eq!(left_behind(0.0).len(), 4);
    }
}

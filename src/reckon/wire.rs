//! Copper wire: sizes, resistance, voltage drop; and what a branch circuit may carry.
//!
//! The low-voltage pair between the valves and the unit is switched, not loaded, so its drop seldom
//! decides; the unit's own supply does, and its last word is the electrician's and the local code's.

use super::range::{OutOfRange, in_range};
use crate::measure::INCH_M;
use std::f64::consts::PI;

/// Resistivity of annealed copper at 20 °C, ohm m: 1/58 ohm mm²/m. Source: IEC 60028 (from memory).
pub const COPPER_OHM_M: f64 = 1e-6 / 58.0;

/// Rise of copper's resistance for each kelvin above 20 °C. Source: IEC 60028 (from memory).
pub const COPPER_PER_K: f64 = 0.003_93;

/// Diameter of a solid wire by its gauge, `d = 0.005 in x 92^((36 - n)/39)`.
///
/// Argument: American wire gauge `n` (0 to 40). Result in metres. Errors: [`OutOfRange`]. Accuracy:
/// exact by definition; tables round it to four figures.
///
/// ```
/// use longsweep::reckon::wire::awg_diameter_m;
/// assert!((awg_diameter_m(18).unwrap() / 0.0254 - 0.0403).abs() < 5e-5);
/// ```
///
/// Source: ASTM B258.
pub fn awg_diameter_m(n: i32) -> Result<f64, OutOfRange> {
    in_range("wire gauge", f64::from(n), (0.0, 40.0), "AWG")?;
    Ok(0.005 * INCH_M * 92f64.powf(f64::from(36 - n) / 39.0))
}

/// Resistance of a solid copper wire for each metre, `(1/58) (1 + 0.00393 (t - 20)) / A`.
///
/// Arguments: gauge `n` (0 to 40), temperature `t_c` (°C, -50 to 150). Result in ohm/m. Errors:
/// [`OutOfRange`]. Accuracy: within 0.3 % of the electrical code's table for solid uncoated wire.
///
/// ```
/// use longsweep::reckon::wire::copper_ohm_per_m;
/// assert!((1000.0 * copper_ohm_per_m(18, 20.0).unwrap() - 20.948236).abs() < 1e-5);
/// ```
///
/// Source: [`COPPER_OHM_M`], [`COPPER_PER_K`], [`awg_diameter_m`].
pub fn copper_ohm_per_m(n: i32, t_c: f64) -> Result<f64, OutOfRange> {
    in_range("temperature of the wire", t_c, (-50.0, 150.0), "°C")?;
    let d_m = awg_diameter_m(n)?;
    Ok(COPPER_OHM_M * (1.0 + COPPER_PER_K * (t_c - 20.0)) / (PI * d_m * d_m / 4.0))
}

/// Solid or seven strands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Strands {
    Solid,
    Seven,
}

/// One row of the electrical code's table of direct-current resistance, uncoated copper at 75 °C.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TableRow {
    pub awg: i32,
    pub strands: Strands,
    /// Ohms for each thousand feet, as printed.
    pub ohm_per_kft: f64,
}

/// NFPA 70, chapter 9, table 8, the sizes met here.
// One printed resistance happens to read like a circle's number.
#[allow(clippy::approx_constant)]
pub const NEC_TABLE_8: [TableRow; 8] = [
    TableRow { awg: 18, strands: Strands::Solid, ohm_per_kft: 7.77 },
    TableRow { awg: 18, strands: Strands::Seven, ohm_per_kft: 7.95 },
    TableRow { awg: 16, strands: Strands::Solid, ohm_per_kft: 4.89 },
    TableRow { awg: 16, strands: Strands::Seven, ohm_per_kft: 4.99 },
    TableRow { awg: 14, strands: Strands::Solid, ohm_per_kft: 3.07 },
    TableRow { awg: 14, strands: Strands::Seven, ohm_per_kft: 3.14 },
    TableRow { awg: 12, strands: Strands::Solid, ohm_per_kft: 1.93 },
    TableRow { awg: 12, strands: Strands::Seven, ohm_per_kft: 1.98 },
];

/// Resistance by [`NEC_TABLE_8`] in ohm/m, if the table here has the size.
///
/// ```
/// use longsweep::reckon::wire::{table_ohm_per_m, Strands};
/// assert!((table_ohm_per_m(16, Strands::Seven).unwrap() * 304.8 - 4.99).abs() < 1e-12);
/// ```
pub fn table_ohm_per_m(awg: i32, strands: Strands) -> Option<f64> {
    let row = NEC_TABLE_8.iter().find(|row| row.awg == awg && row.strands == strands)?;
    Some(row.ohm_per_kft / 304.8)
}

/// Voltage lost in a two-wire run, out and back, `2 L r I`.
///
/// Arguments: one-way length `l_m` (m, 0 to 1000), resistance of one wire `ohm_per_m` (above 0 to 10),
/// current `i_a` (A, 0 to 100). Result in volts. Errors: [`OutOfRange`]. Assumption: direct current, or
/// alternating current in wires this small.
///
/// ```
/// use longsweep::reckon::wire::{table_ohm_per_m, two_wire_drop_v, Strands};
/// // 100 ft of 16 stranded at 4 A: printed 4.0 V.
/// let r = table_ohm_per_m(16, Strands::Seven).unwrap();
/// assert!((two_wire_drop_v(30.48, r, 4.0).unwrap() - 3.992).abs() < 1e-9);
/// ```
///
/// Source: Ohm's law; the example is a published worked drop.
pub fn two_wire_drop_v(l_m: f64, ohm_per_m: f64, i_a: f64) -> Result<f64, OutOfRange> {
    in_range("length of the wire", l_m, (0.0, 1000.0), "m")?;
    in_range("resistance of the wire", ohm_per_m, (f64::MIN_POSITIVE, 10.0), "ohm/m")?;
    in_range("current", i_a, (0.0, 100.0), "A")?;
    Ok(2.0 * l_m * ohm_per_m * i_a)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reckon::check::{FT, IN, near, within};

    #[test]
    fn agrees_with_derived_solid_copper() {
        // Gauge, diameter in, area mm², ohm/kft at 20 °C, at 75 °C, ohm/km at 20 °C; eight figures given.
        let rows = [
            (14, 0.06408373, 2.0809077, 2.5254231, 3.0712932, 8.2855087),
            (16, 0.05082070, 1.3086957, 4.0155799, 4.8835476, 13.174475),
            (18, 0.04030265, 0.82304683, 6.3850222, 7.7651448, 20.948236),
            (20, 0.03196146, 0.51761924, 10.152583, 12.347064, 33.308999),
            (22, 0.02534659, 0.32553394, 16.143239, 19.632600, 52.963384),
            (24, 0.02010076, 0.20473031, 25.668756, 31.217058, 84.215079),
        ];
        for (n, inches, mm2, at_20, at_75, per_km) in rows {
            let d_m = awg_diameter_m(n).unwrap();
            within(d_m / IN, inches, 6e-9);
            near(PI * d_m * d_m / 4.0 * 1e6, mm2, 1e-7);
            near(copper_ohm_per_m(n, 20.0).unwrap() * 1000.0 * FT, at_20, 1e-7);
            near(copper_ohm_per_m(n, 75.0).unwrap() * 1000.0 * FT, at_75, 1e-7);
            near(copper_ohm_per_m(n, 20.0).unwrap() * 1000.0, per_km, 1e-7);
        }
    }

    #[test]
    fn published_table_8_agrees_with_derived_solid_wire() {
        // The table prints three figures.
        for row in NEC_TABLE_8.iter().filter(|row| row.strands == Strands::Solid) {
            within(copper_ohm_per_m(row.awg, 75.0).unwrap() * 1000.0 * FT, row.ohm_per_kft, 0.0066);
        }
    }

    #[test]
    fn published_ratio_of_neighbouring_gauges() {
        near(awg_diameter_m(17).unwrap() / awg_diameter_m(18).unwrap(), 1.1229322, 1e-7);
    }

    #[test]
    fn published_drop_over_100_ft_of_16_stranded() {
        let ohm_per_m = table_ohm_per_m(16, Strands::Seven).unwrap();
        let drop = two_wire_drop_v(100.0 * FT, ohm_per_m, 4.0).unwrap();
        // Printed 4.0 V and 16.7 % of 24 V, unrounded 3.992 and 16.63.
        within(drop, 3.992, 1e-9);
        within(100.0 * drop / 24.0, 16.63, 0.005);
    }

    #[test]
    fn published_loop_of_18() {
        // Another source: 6.505 ohm/kft at 20 °C, 400 ft make 2.602 ohm; it lies 1.9 % above
        // solid wire by the formula.
        within(two_wire_drop_v(200.0 * FT, 6.505 / (1000.0 * FT), 1.0).unwrap(), 2.602, 1e-9);
        near(copper_ohm_per_m(18, 20.0).unwrap() * 1000.0 * FT, 6.505, 0.02);
    }

    #[test]
    fn zero_current_loses_no_voltage_and_odd_inputs_are_refused() {
        assert_eq!(two_wire_drop_v(30.0, 0.02, 0.0), Ok(0.0));
        assert!(awg_diameter_m(41).is_err());
        assert_eq!(table_ohm_per_m(20, Strands::Solid), None);
    }
}

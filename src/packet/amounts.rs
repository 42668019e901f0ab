//! Forces, pressures and flows in the firm's units; lengths and angles are said by [`Say`].
use crate::measure::{FOOT_M, Lengths, Say};

/// Pound-force in newtons, exact by its definition (0.45359237 kg × 9.80665 m/s²).
const LBF_N: f64 = 4.448_221_615_260_5;
/// Inch of water, conventional (4 °C, 1000 kg/m³), in pascals.
const INCH_WATER_PA: f64 = 249.088_91;
/// Cubic foot per minute in m³/s.
const CFM_M3_S: f64 = FOOT_M * FOOT_M * FOOT_M / 60.0;

/// `9.5 lbf`, or `42 N`.
pub fn force(say: Say, force_n: f64) -> String {
    match say.lengths {
        Lengths::FtIn => format!("{:.1} lbf", force_n / LBF_N),
        Lengths::Metric => format!("{force_n:.0} N"),
    }
}

/// `110 inH2O`, or `27.4 kPa`.
pub fn pressure(say: Say, pressure_pa: f64) -> String {
    match say.lengths {
        Lengths::FtIn => format!("{:.0} inH2O", pressure_pa / INCH_WATER_PA),
        Lengths::Metric => format!("{:.1} kPa", pressure_pa / 1000.0),
    }
}

/// `75 cfm`, or `127 m³/h`.
pub fn flow(say: Say, flow_m3_s: f64) -> String {
    match say.lengths {
        Lengths::FtIn => format!("{:.0} cfm", flow_m3_s / CFM_M3_S),
        Lengths::Metric => format!("{:.0} m³/h", flow_m3_s * 3600.0),
    }
}

/// `3930 ft/min`, or `20.0 m/s`.
pub fn speed(say: Say, speed_m_s: f64) -> String {
    match say.lengths {
        Lengths::FtIn => format!("{:.0} ft/min", speed_m_s / FOOT_M * 60.0),
        Lengths::Metric => format!("{speed_m_s:.1} m/s"),
    }
}

/// A count: whole numbers without a point, others to one place.
pub fn count(count: f64) -> String {
    if (count - count.round()).abs() < 0.05 {
        return format!("{count:.0}");
    }
    format!("{count:.1}")
}

#[cfg(test)]
mod tests {
    use super::*;
    const FT: Say = Say {
        lengths: Lengths::FtIn,
    };
    const MM: Say = Say {
        lengths: Lengths::Metric,
    };

    #[test]
    fn recovers_round_figures() {
        assert_eq!(force(FT, 9.5 * LBF_N), "9.5 lbf");
        assert_eq!(pressure(FT, 110.0 * 249.08891), "110 inH2O");
        assert_eq!(flow(FT, 0.0471947443), "100 cfm");
        assert_eq!(speed(MM, 20.0), "20.0 m/s");
        assert_eq!(count(12.0), "12");
        assert_eq!(count(12.5), "12.5");
    }
}

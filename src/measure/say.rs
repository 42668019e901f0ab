//! Numbers as the firm reads them: feet, inches and sixteenths, or whole millimetres.
use super::unit::{CFM_M3_S, FOOT_M, GRAVITY_M_S2, INCH_M, INCH_WATER_PA, LBF_N};
use serde::Serialize;

/// How a firm writes its lengths.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Lengths {
    /// Feet, inches and sixteenths: `12 ft 6-1/2 in`.
    FtIn,
    /// Whole millimetres: `3810 mm`.
    Metric,
}

/// Says numbers in the firm's units; carried to every place that writes words for people.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Say {
    /// The units of length.
    pub lengths: Lengths,
}

impl Say {
    /// A length to 1/16 in or to a whole millimetre, with its unit; negative lengths carry a minus sign.
    ///
    /// ```
    /// use longsweep::measure::{Lengths, Say};
    /// let say = Say { lengths: Lengths::FtIn };
    /// assert_eq!(say.length(3.81), "12 ft 6 in");
    /// assert_eq!(say.length(0.0285750), "1-1/8 in");
    /// assert_eq!(Say { lengths: Lengths::Metric }.length(3.81), "3810 mm");
    /// ```
    pub fn length(&self, length_m: f64) -> String {
        match self.lengths {
            Lengths::FtIn => feet_and_inches(length_m),
            Lengths::Metric => format!("{} mm", millimetres(length_m)),
        }
    }

    /// A length rounded up to the next sixteenth or millimetre: for "make it at least so long".
    pub fn length_up(&self, length_m: f64) -> String {
        self.length(self.step_up(length_m))
    }

    /// A length rounded down to the sixteenth or millimetre before: for "make it at most so long".
    ///
    /// ```
    /// use longsweep::measure::{Lengths, Say};
    /// // 60 % of a 2x4 is 2.1 in; the nearest sixteenth, 2-1/8 in, would be too much.
    /// assert_eq!(Say { lengths: Lengths::FtIn }.length_down(0.6 * 3.5 * 0.0254), "2-1/16 in");
    /// ```
    pub fn length_down(&self, length_m: f64) -> String {
        let step_m = self.step_m();
        self.length((length_m / step_m + 1e-6).floor() * step_m)
    }

    /// The least length of the firm's ruler (1/16 in, 1 mm) that is not shorter than `length_m`.
    pub fn step_up(&self, length_m: f64) -> f64 {
        let step_m = self.step_m();
        (length_m / step_m - 1e-6).ceil() * step_m
    }

    /// The length that [`Say::length`] prints, in metres.
    pub fn step_near(&self, length_m: f64) -> f64 {
        match self.lengths {
            Lengths::FtIn => sixteenths(length_m) as f64 * INCH_M / 16.0,
            Lengths::Metric => millimetres(length_m) as f64 / 1000.0,
        }
    }

    /// The finest division of the firm's ruler, in metres.
    pub fn step_m(&self) -> f64 {
        match self.lengths {
            Lengths::FtIn => INCH_M / 16.0,
            Lengths::Metric => 0.001,
        }
    }

    /// An area of floor: `12.5 sq ft`, or `1.16 m²`.
    pub fn area(&self, area_m2: f64) -> String {
        match self.lengths {
            Lengths::FtIn => format!("{:.1} sq ft", area_m2 / (FOOT_M * FOOT_M)),
            Lengths::Metric => format!("{area_m2:.2} m²"),
        }
    }

    /// An angle in degrees: whole, with halves and quarters as fractions, else to a tenth: `22-1/2°`.
    pub fn angle(&self, angle_deg: f64) -> String {
        let quarters = (angle_deg * 4.0).round();
        if (angle_deg * 4.0 - quarters).abs() > 0.004 {
            let tenths = (angle_deg * 10.0).round();
            return match tenths % 5.0 == 0.0 {
                // Nearer to a half or a whole than a tenth tells.
                true => self.angle(tenths / 10.0),
                false => format!("{:.1}°", tenths / 10.0),
            };
        }
        let q = quarters.abs() as u64;
        let (whole, part) = (q / 4, ["", "1/4", "1/2", "3/4"][(q % 4) as usize]);
        let mut out = String::from(if quarters < 0.0 { "-" } else { "" });
        if whole > 0 || part.is_empty() {
            push_whole(&mut out, whole);
        }
        out.push_str(if whole > 0 && !part.is_empty() { "-" } else { "" });
        out.push_str(part);
        out.push('°');
        out
    }

    /// A force: `9.5 lbf`, or `42 N`.
    pub fn force(&self, force_n: f64) -> String {
        match self.lengths {
            Lengths::FtIn => format!("{:.1} lbf", force_n / LBF_N),
            Lengths::Metric => format!("{force_n:.0} N"),
        }
    }

    /// A weight for each length of hose: `0.25 lb/ft`, or `372 g/m`.
    pub fn weight(&self, weight_n_per_m: f64) -> String {
        match self.lengths {
            Lengths::FtIn => format!("{:.2} lb/ft", weight_n_per_m * FOOT_M / LBF_N),
            Lengths::Metric => format!("{:.0} g/m", weight_n_per_m / GRAVITY_M_S2 * 1000.0),
        }
    }

    /// A pressure: `110 inH2O`, or `27.4 kPa`.
    pub fn pressure(&self, pressure_pa: f64) -> String {
        match self.lengths {
            Lengths::FtIn => format!("{:.0} inH2O", pressure_pa / INCH_WATER_PA),
            Lengths::Metric => format!("{:.1} kPa", pressure_pa / 1000.0),
        }
    }

    /// A pressure over none at all: `12.3 psi absolute`, or `84.6 kPa absolute`.
    pub fn absolute_pressure(&self, pressure_pa: f64) -> String {
        match self.lengths {
            Lengths::FtIn => format!("{:.1} psi absolute", pressure_pa * INCH_M * INCH_M / LBF_N),
            Lengths::Metric => format!("{:.1} kPa absolute", pressure_pa / 1000.0),
        }
    }

    /// A flow of standard air: `75 cfm`, or `127 m³/h`.
    pub fn flow(&self, flow_m3_s: f64) -> String {
        match self.lengths {
            Lengths::FtIn => format!("{:.0} cfm", flow_m3_s / CFM_M3_S),
            Lengths::Metric => format!("{:.0} m³/h", flow_m3_s * 3600.0),
        }
    }

    /// A speed of air: `3930 ft/min`, or `20.0 m/s`.
    pub fn speed(&self, speed_m_s: f64) -> String {
        match self.lengths {
            Lengths::FtIn => format!("{:.0} ft/min", speed_m_s / FOOT_M * 60.0),
            Lengths::Metric => format!("{speed_m_s:.1} m/s"),
        }
    }
}

/// To the nearest, as a length is printed.
fn sixteenths(length_m: f64) -> i64 {
    round_half_up(length_m / INCH_M * 16.0)
}

/// To the nearest, as a length is printed.
fn millimetres(length_m: f64) -> i64 {
    round_half_up(length_m * 1000.0)
}

/// Feet, inches and the nearest sixteenth. Parts that are nought are left out, but for the inches between
/// feet and a fraction, so that `1 ft 0-1/8 in` is not taken for a slip of the pen.
fn feet_and_inches(length_m: f64) -> String {
    let sixteenths = sixteenths(length_m);
    let s = sixteenths.unsigned_abs();
    let (feet, inches, rest) = (s / 192, s % 192 / 16, s % 16);
    let mut out = String::with_capacity(16);
    if sixteenths < 0 {
        out.push('-');
    }
    if feet > 0 {
        push_whole(&mut out, feet);
        out.push_str(" ft");
    }
    if inches > 0 || rest > 0 || feet == 0 {
        if feet > 0 {
            out.push(' ');
        }
        push_inches(&mut out, inches, rest, feet == 0);
        out.push_str(" in");
    }
    out
}

/// Whole inches and sixteenths in lowest terms: `6-1/2`; where they stand alone, a fraction without the nought before.
fn push_inches(out: &mut String, inches: u64, rest: u64, alone: bool) {
    if inches > 0 || rest == 0 || !alone {
        push_whole(out, inches);
        if rest > 0 {
            out.push('-');
        }
    }
    if rest > 0 {
        let common = 1 << rest.trailing_zeros();
        push_whole(out, rest / common);
        out.push('/');
        push_whole(out, 16 / common);
    }
}

/// Writes a whole number.
pub(crate) fn push_whole(out: &mut String, whole: u64) {
    if whole >= 10 {
        push_whole(out, whole / 10);
    }
    out.push(char::from(b'0' + (whole % 10) as u8));
}

/// Rounds halves away from nought; a length that is out of range for `i64` saturates.
fn round_half_up(x: f64) -> i64 {
    x.round() as i64
}

#[cfg(test)]
mod tests {
    use super::*;
    const FT: Say = Say { lengths: Lengths::FtIn };

    #[test]
    fn recovers_marks_of_a_tape() {
        assert_eq!(FT.length(12.0 * FOOT_M + 6.5 * INCH_M), "12 ft 6-1/2 in");
        assert_eq!(FT.length(-4.0 * FOOT_M), "-4 ft");
        assert_eq!(FT.length(0.0), "0 in");
        assert_eq!(FT.length(11.99 * INCH_M), "1 ft");
        assert_eq!(FT.length(0.5 * INCH_M), "1/2 in");
        assert_eq!(FT.length(FOOT_M + 0.125 * INCH_M), "1 ft 0-1/8 in");
        assert_eq!(FT.length(-FOOT_M - 0.125 * INCH_M), "-1 ft 0-1/8 in");
    }

    #[test]
    fn angles_in_quarters() {
        assert_eq!(FT.angle(22.5), "22-1/2°");
        assert_eq!(FT.angle(90.0), "90°");
        assert_eq!(FT.angle(-0.5), "-1/2°");
        assert_eq!(FT.angle(33.69), "33.7°");
        assert_eq!(
            (FT.angle(-0.036), FT.angle(44.98), FT.angle(22.46)),
            ("0°".into(), "45°".into(), "22-1/2°".into())
        );
    }

    #[test]
    fn recovers_round_forces_and_flows() {
        const MM: Say = Say { lengths: Lengths::Metric };
        assert_eq!(FT.force(9.5 * LBF_N), "9.5 lbf");
        assert_eq!(FT.pressure(110.0 * INCH_WATER_PA), "110 inH2O");
        assert_eq!(FT.weight(0.25 * LBF_N / FOOT_M), "0.25 lb/ft");
        assert_eq!(MM.weight(0.372 * 9.80665), "372 g/m");
        assert_eq!(FT.flow(0.047_194_744_3), "100 cfm");
        assert_eq!(MM.speed(20.0), "20.0 m/s");
        // A standard atmosphere is 14.696 psi.
        assert_eq!(FT.absolute_pressure(101_325.0), "14.7 psi absolute");
    }

    #[test]
    fn rounds_up_to_what_a_tape_shows() {
        assert_eq!(FT.length_up(1.01 * INCH_M), "1-1/16 in");
        assert_eq!(FT.length_up(1.0 * INCH_M), "1 in");
    }
}

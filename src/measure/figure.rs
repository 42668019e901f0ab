//! Figures of a refusal in whichever units its reader has.
use super::say::{Lengths, Say};
use super::unit::{CFM_M3_S, FOOT_M, INCH_M, INCH_WATER_PA, LBF_N};

/// Units in which a figure can be said. A refusal keeps its figures as numbers, and is said in the units of whoever
/// reads it.
pub trait Units {
    /// A figure given in an SI unit (`m`, `Pa`, `m3/s`, `N`, `m/s`; any other is left as it is, empty for a ratio), with
    /// its unit. Not rounded to a ruler, so that a figure just past its limit still differs from it.
    fn figure(&self, value: f64, unit: &str) -> String;
}

/// The SI unit as it stands: for developers and for other programs.
#[derive(Debug, Clone, Copy)]
pub struct Si;

impl Units for Si {
    fn figure(&self, value: f64, unit: &str) -> String {
        with_unit(value, unit)
    }
}

impl Units for Say {
    fn figure(&self, value: f64, unit: &str) -> String {
        let feet = self.lengths == Lengths::FtIn;
        match unit {
            // A hundred inches is as far as anyone counts in inches.
            "m" if feet && value.abs() < 100.0 * INCH_M => with_unit(value / INCH_M, "in"),
            "m" if feet => with_unit(value / FOOT_M, "ft"),
            "m" if value.abs() < 10.0 => with_unit(value * 1000.0, "mm"),
            "Pa" if feet => with_unit(value / INCH_WATER_PA, "inH2O"),
            "Pa" => with_unit(value / 1000.0, "kPa"),
            "m3/s" if feet => with_unit(value / CFM_M3_S, "cfm"),
            "m3/s" => with_unit(value * 3600.0, "m\u{b3}/h"),
            "N" if feet => with_unit(value / LBF_N, "lbf"),
            "m/s" if feet => with_unit(value / FOOT_M * 60.0, "ft/min"),
            "ohm/m" if feet => with_unit(value * FOOT_M * 1000.0, "ohm per 1000 ft"),
            _ => with_unit(value, unit),
        }
    }
}

fn with_unit(value: f64, unit: &str) -> String {
    let gap = if unit.is_empty() { "" } else { " " };
    format!("{}{gap}{unit}", six_figures(value))
}

/// Six figures, without noughts that say nothing.
fn six_figures(value: f64) -> String {
    if value == 0.0 || !value.is_finite() {
        return value.to_string();
    }
    let places = (5.0 - value.abs().log10().floor()).clamp(0.0, 15.0) as usize;
    let text = format!("{value:.places$}");
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').into() } else { text }
}

#[cfg(test)]
mod tests {
    use super::*;
    const FT: Say = Say { lengths: Lengths::FtIn };
    const MM: Say = Say { lengths: Lengths::Metric };

    #[test]
    fn recovers_round_figures_in_the_units_of_the_firm() {
        for (value, unit, feet, metric) in [
            (0.2286, "m", "9 in", "228.6 mm"),
            (30.48, "m", "100 ft", "30.48 m"),
            (-0.0127, "m", "-0.5 in", "-12.7 mm"),
            (24_908.891, "Pa", "100 inH2O", "24.9089 kPa"),
            (0.047_194_744_32, "m3/s", "100 cfm", "169.901 m\u{b3}/h"),
            (0.32, "", "0.32", "0.32"),
            (40.0, "AWG", "40 AWG", "40 AWG"),
        ] {
            assert_eq!((FT.figure(value, unit), MM.figure(value, unit)), (feet.into(), metric.into()));
        }
    }

    #[test]
    fn says_no_more_figures_than_a_person_reads() {
        assert_eq!(Si.figure(-0.174_299_999_999_999_95, "m"), "-0.1743 m");
        assert_eq!(Si.figure(1_234_567.0, "m"), "1234567 m");
        assert_eq!(Si.figure(0.0, ""), "0");
    }
}

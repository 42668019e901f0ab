//! Kinds of numbers, their units and their words.

use super::unit::{CFM_M3_S, FOOT_M, GRAVITY_M_S2, INCH_M, INCH_WATER_PA, LBF_N};

/// No line of a house is longer, in metres; beyond it a unit was mistaken.
pub const MOST_LENGTH_M: f64 = 1000.0;

/// What kind of number is meant; tells the units that fit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Metres, not negative.
    Length,
    /// Metres, not negative; of a part, a hole or a wall, so that a bare number means inches.
    Breadth,
    /// Metres, either sign.
    Coordinate,
    /// Degrees; the unit may be left out.
    Angle,
    /// A plain number without a unit.
    Plain,
    /// A share, written in percent; `10 %` is 0.10.
    Ratio,
    /// Weight per length, N/m.
    Weight,
    /// Pascals.
    Pressure,
    /// m³/s.
    Flow,
    /// Newtons.
    Force,
    /// Resistance to bending, N m².
    Stiffness,
    /// m/s.
    Speed,
    Volts,
    Amps,
    /// American wire gauge.
    Gauge,
}

impl Kind {
    /// Every kind that has units, once.
    pub const ALL: [Kind; 11] = [
        Kind::Length,
        Kind::Angle,
        Kind::Ratio,
        Kind::Weight,
        Kind::Pressure,
        Kind::Flow,
        Kind::Force,
        Kind::Stiffness,
        Kind::Speed,
        Kind::Volts,
        Kind::Amps,
    ];

    /// `length`, as in "a unit of length".
    pub fn word(self) -> &'static str {
        match self {
            Kind::Length | Kind::Breadth | Kind::Coordinate => "length",
            Kind::Angle => "angle",
            Kind::Plain => "number",
            Kind::Ratio => "percentage",
            Kind::Weight => "weight per length",
            Kind::Pressure => "pressure",
            Kind::Flow => "flow",
            Kind::Force => "force",
            Kind::Stiffness => "bending stiffness",
            Kind::Speed => "speed",
            Kind::Volts => "voltage",
            Kind::Amps => "current",
            Kind::Gauge => "wire gauge",
        }
    }

    /// `a length`, `an angle`.
    pub fn a(self) -> &'static str {
        match self {
            Kind::Length | Kind::Breadth => "a length",
            Kind::Coordinate => "a coordinate",
            Kind::Angle => "an angle",
            Kind::Plain => "a number",
            Kind::Ratio => "a percentage",
            Kind::Weight => "a weight per length",
            Kind::Pressure => "a pressure",
            Kind::Flow => "a flow",
            Kind::Force => "a force",
            Kind::Stiffness => "a bending stiffness",
            Kind::Speed => "a speed",
            Kind::Volts => "a voltage",
            Kind::Amps => "a current",
            Kind::Gauge => "a wire gauge",
        }
    }

    /// A measure of this kind, well written.
    pub fn example(self) -> &'static str {
        match self {
            Kind::Length => "12 ft 6-1/2 in or 3.81 m",
            Kind::Breadth => "2-1/8 in or 54 mm",
            Kind::Coordinate => "-1 ft 4 in or -0.4 m",
            Kind::Angle => "45 or 22.5",
            Kind::Plain => "0.32",
            Kind::Ratio => "10 %",
            Kind::Weight => "0.25 lb/ft or 370 g/m",
            Kind::Pressure => "110 inH2O or 27 kPa",
            Kind::Flow => "100 cfm or 170 m3/h",
            Kind::Force => "9 lbf or 40 N",
            Kind::Stiffness => "170 lbf in2 or 0.5 N m2",
            Kind::Speed => "3000 fpm or 15 m/s",
            Kind::Volts => "120 V",
            Kind::Amps => "14 A",
            Kind::Gauge => "18 AWG",
        }
    }

    /// The unit that comes first, for an example.
    pub fn usual(self) -> &'static str {
        self.units().first().map_or("", |(name, _)| name)
    }

    /// The units, for a sentence, `use ft, in, m`; spellings of one unit are given once.
    pub fn units_list(self) -> String {
        let mut seen: Vec<f64> = Vec::new();
        let mut names = Vec::new();
        for (name, factor) in self.units() {
            if !seen.contains(factor) {
                seen.push(*factor);
                names.push(*name);
            }
        }
        match names.pop() {
            Some(last) if names.is_empty() => format!("use {last}"),
            Some(last) => format!("use {} or {last}", names.join(", ")),
            None => "leave the unit out".into(),
        }
    }

    /// Known spellings with their factor to SI, the usual one first.
    pub(super) fn units(self) -> &'static [(&'static str, f64)] {
        match self {
            Kind::Length | Kind::Breadth | Kind::Coordinate => &[
                ("ft", FOOT_M),
                ("in", INCH_M),
                ("m", 1.0),
                ("cm", 0.01),
                ("mm", 0.001),
                ("feet", FOOT_M),
                ("foot", FOOT_M),
                ("inches", INCH_M),
                ("inch", INCH_M),
                ("metres", 1.0),
                ("meters", 1.0),
            ],
            Kind::Angle => &[("deg", 1.0), ("°", 1.0), ("degrees", 1.0), ("degree", 1.0)],
            Kind::Plain => &[],
            Kind::Ratio => &[("%", 0.01), ("percent", 0.01)],
            Kind::Weight => &[
                ("lb/ft", LBF_N / FOOT_M),
                ("g/m", GRAVITY_M_S2 / 1000.0),
                ("kg/m", GRAVITY_M_S2),
                ("N/m", 1.0),
                ("lbf/ft", LBF_N / FOOT_M),
                ("oz/ft", LBF_N / 16.0 / FOOT_M),
            ],
            Kind::Pressure => &[
                ("inH2O", INCH_WATER_PA),
                ("kPa", 1000.0),
                ("Pa", 1.0),
                ("mbar", 100.0),
                ("hPa", 100.0),
                ("mmH2O", GRAVITY_M_S2),
                ("psi", LBF_N / (INCH_M * INCH_M)),
            ],
            Kind::Flow => &[
                ("cfm", CFM_M3_S),
                ("m3/h", 1.0 / 3600.0),
                ("l/s", 0.001),
                ("m3/s", 1.0),
                ("ft3/min", CFM_M3_S),
                ("l/min", 0.001 / 60.0),
            ],
            Kind::Force => &[("lbf", LBF_N), ("N", 1.0), ("lb", LBF_N), ("kgf", GRAVITY_M_S2)],
            Kind::Stiffness => {
                &[("lbf in2", LBF_N * INCH_M * INCH_M), ("N m2", 1.0), ("lb in2", LBF_N * INCH_M * INCH_M)]
            }
            Kind::Speed => {
                &[("fpm", FOOT_M / 60.0), ("m/s", 1.0), ("ft/min", FOOT_M / 60.0), ("ft/s", FOOT_M)]
            }
            Kind::Volts => &[("V", 1.0), ("volts", 1.0), ("volt", 1.0), ("mV", 0.001), ("kV", 1000.0)],
            Kind::Amps => &[("A", 1.0), ("amps", 1.0), ("amp", 1.0), ("mA", 0.001)],
            Kind::Gauge => &[("AWG", 1.0)],
        }
    }

    /// The first spelling of the unit that goes by this one: `ft` for `feet`.
    pub(super) fn plainest(self, name: &'static str) -> &'static str {
        let factor = self.units().iter().find(|(known, _)| *known == name).map(|(_, factor)| *factor);
        self.units().iter().find(|(_, first)| Some(*first) == factor).map_or(name, |(first, _)| first)
    }

    pub(super) fn factor(self, unit: &str) -> Option<f64> {
        let folded = fold(unit);
        self.units().iter().find(|(name, _)| fold(name) == folded).map(|(_, factor)| *factor)
    }

    /// The most that can be meant, in SI and in words; far above any part of this trade.
    pub(super) fn most(self) -> (f64, &'static str) {
        match self {
            Kind::Length | Kind::Breadth | Kind::Coordinate => (MOST_LENGTH_M, "1 km, longer than any house"),
            Kind::Angle => (36_000.0, "36000 degrees"),
            Kind::Plain => (1e9, "1000 million"),
            Kind::Ratio => (100.0, "10000 %"),
            Kind::Weight => (1e5, "100000 N/m"),
            Kind::Pressure => (1e7, "10000 kPa"),
            Kind::Flow => (1e3, "1000 m3/s"),
            Kind::Force => (1e6, "1000000 N"),
            Kind::Stiffness => (1e3, "1000 N m2"),
            Kind::Speed => (1e3, "1000 m/s"),
            Kind::Volts => (1e5, "100000 V"),
            Kind::Amps => (1e5, "100000 A"),
            Kind::Gauge => (40.0, "40 AWG, the finest"),
        }
    }
}

/// A unit's name without case and spacing: `in H2O` is `inh2o`, `m³/h` is `m3/h`.
pub(super) fn fold(unit: &str) -> String {
    let letters = unit.chars().filter(|c| !c.is_whitespace());
    let plain = |c| match c {
        '²' => '2',
        '³' => '3',
        c => c,
    };
    letters.flat_map(char::to_lowercase).map(plain).collect()
}

//! Figures with their dimension, as a worked example states and reckons them.

use crate::measure::{Kind, Say, read_quantity};

/// Powers of length, mass, time and current, so that feet are never added to pounds.
pub type Dimension = [i8; 4];

const NONE: Dimension = [0; 4];
const TIME: Dimension = [0, 0, 1, 0];

/// A figure in SI (angles in radians), with its dimension.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Figure {
    pub si: f64,
    pub of: Dimension,
}

impl Figure {
    /// A number without a unit.
    pub fn plain(si: f64) -> Figure {
        Figure { si, of: NONE }
    }

    /// Metres.
    pub fn length(length_m: f64) -> Figure {
        Figure { si: length_m, of: [1, 0, 0, 0] }
    }

    /// Degrees, kept in radians.
    pub fn angle(angle_deg: f64) -> Figure {
        Figure::plain(angle_deg.to_radians())
    }

    /// Newtons.
    pub fn force(force_n: f64) -> Figure {
        Figure { si: force_n, of: [1, 1, -2, 0] }
    }

    /// Pascals.
    pub fn pressure(pressure_pa: f64) -> Figure {
        Figure { si: pressure_pa, of: [-1, 1, -2, 0] }
    }

    /// Cubic metres a second.
    pub fn flow(flow_m3_s: f64) -> Figure {
        Figure { si: flow_m3_s, of: [3, 0, -1, 0] }
    }

    /// Seconds.
    pub fn time(time_s: f64) -> Figure {
        Figure { si: time_s, of: TIME }
    }

    /// Volts.
    pub fn volts(volts: f64) -> Figure {
        Figure { si: volts, of: [2, 1, -3, -1] }
    }

    /// Amperes.
    pub fn amps(amps: f64) -> Figure {
        Figure { si: amps, of: [0, 0, 0, 1] }
    }

    /// The figure in the unit that the trade says it in.
    pub fn said(self, say: Say) -> String {
        let in_unit = |name: &str| {
            let one = unit(name).map_or(1.0, |one| one.si);
            let text = format!("{:.2}", self.si / one);
            let text = text.trim_end_matches('0').trim_end_matches('.').to_owned();
            if name.is_empty() || name == "times" { text } else { format!("{text} {name}") }
        };
        match self.of {
            [1, 0, 0, 0] => say.length(self.si),
            [1, 1, -2, 0] => in_unit("lb"),
            [-1, 1, -2, 0] => in_unit("inH2O"),
            [3, 0, -1, 0] => in_unit("cfm"),
            [1, 0, -1, 0] => in_unit("ft/min"),
            TIME if self.si < 3600.0 => in_unit("min"),
            TIME => in_unit("h"),
            of => {
                match OTHER.iter().map(|(name, _, of)| (*name, *of)).chain(ELECTRIC).find(|(_, k)| *k == of) {
                    Some((name, _)) => in_unit(name),
                    None => in_unit("times"),
                }
            }
        }
    }

    /// What the dimension is called, for messages.
    pub fn what(self) -> &'static str {
        let kinds = KINDS.iter().find(|(_, of)| *of == self.of).map(|(kind, _)| kind.a());
        let others = OTHER.iter().find(|(_, _, of)| *of == self.of).map(|(name, ..)| *name);
        match (self.of, kinds.or(others)) {
            (NONE, _) => "a plain number or an angle",
            (TIME, _) => "a time",
            (_, Some(name)) => name,
            _ => "a figure of no common kind",
        }
    }
}

/// The kinds of measure that have units, with their dimension.
const KINDS: [(Kind, Dimension); 10] = [
    (Kind::Length, [1, 0, 0, 0]),
    (Kind::Angle, NONE),
    (Kind::Ratio, NONE),
    (Kind::Force, [1, 1, -2, 0]),
    (Kind::Weight, [0, 1, -2, 0]),
    (Kind::Pressure, [-1, 1, -2, 0]),
    (Kind::Flow, [3, 0, -1, 0]),
    (Kind::Speed, [1, 0, -1, 0]),
    (Kind::Volts, [2, 1, -3, -1]),
    (Kind::Amps, [0, 0, 0, 1]),
];

/// Units that no file of a company holds, and a worked example may.
const OTHER: [(&str, f64, Dimension); 8] = [
    ("min", 60.0, TIME),
    ("h", 3600.0, TIME),
    ("s", 1.0, TIME),
    ("ohm", 1.0, [2, 1, -3, -2]),
    ("W", 1.0, [2, 1, -3, 0]),
    ("sq in", 0.0254 * 0.0254, [2, 0, 0, 0]),
    ("sq ft", 0.3048 * 0.3048, [2, 0, 0, 0]),
    ("times", 1.0, NONE),
];

const ELECTRIC: [(&str, Dimension); 2] = [("V", [2, 1, -3, -1]), ("A", [0, 0, 0, 1])];

/// One of a unit, by its spelling.
pub fn unit(name: &str) -> Option<Figure> {
    if let Some((_, si, of)) = OTHER.iter().find(|(known, ..)| *known == name) {
        return Some(Figure { si: *si, of: *of });
    }
    if name.contains(char::is_whitespace) {
        return None;
    }
    KINDS.iter().find_map(|&(kind, of)| {
        let si = read_quantity(&format!("1 {name}"), kind).ok()?;
        Some(Figure { si: if kind == Kind::Angle { si.to_radians() } else { si }, of })
    })
}

/// A figure as it is stated, with half of its last place: what it may differ by and still be right.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stated {
    pub figure: Figure,
    pub half: f64,
}

/// Reads `43 ft 8-11/16 in`, `3,250 ft/min`, `61 %`, `1.65`. Feet, inches and fractions are held to the
/// nearest sixteenth, everything else to the last place written.
pub fn stated(text: &str) -> Option<Stated> {
    let plain = text.replace(',', "");
    let split = plain.find(|c: char| !(c.is_ascii_digit() || " .-/".contains(c))).unwrap_or(plain.len());
    let (number, name) = (plain[..split].trim(), plain[split..].trim());
    let fits = if name.is_empty() { Some(Figure::plain(1.0)) } else { unit(name) };
    match (fits, number.parse::<f64>()) {
        (Some(one), Ok(number_is)) => {
            let places = number.split_once('.').map_or(0, |(_, places)| places.len());
            let whole_inches = one.of == [1, 0, 0, 0] && places == 0;
            let half =
                if whole_inches { SIXTEENTH_M / 2.0 } else { 0.5 * 10f64.powi(-(places as i32)) * one.si };
            Some(Stated { figure: Figure { si: number_is * one.si, of: one.of }, half })
        }
        _ => {
            let length_m = read_quantity(&plain, Kind::Coordinate).ok()?;
            Some(Stated { figure: Figure::length(length_m), half: SIXTEENTH_M / 2.0 })
        }
    }
}

const SIXTEENTH_M: f64 = 0.0254 / 16.0;

impl Stated {
    /// Whether what was reckoned rounds to what is stated. The last bits of either are forgiven.
    pub fn agrees(self, with: Figure) -> bool {
        let slack = 1e-9 * self.figure.si.abs().max(with.si.abs());
        self.figure.of == with.of && (self.figure.si - with.si).abs() <= self.half + slack
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_stated_figure_is_held_to_its_last_place() {
        let agrees = |text: &str, si: f64| stated(text).map(|s| s.agrees(Figure { si, of: s.figure.of }));
        assert_eq!(agrees("1.65", 1.654), Some(true));
        assert_eq!(agrees("1.65", 1.656), Some(false));
        assert_eq!(agrees("4 ft 0-1/8 in", (48.0 + 0.15) * 0.0254), Some(true));
        assert_eq!(agrees("4 ft 0-1/8 in", (48.0 + 0.16) * 0.0254), Some(false));
        assert_eq!(agrees("7 ft", 7.004 * 0.3048), Some(false));
        assert_eq!(agrees("8,150 ft/min", 8150.4 * 0.3048 / 60.0), Some(true));
        assert_eq!(agrees("61 %", 0.607), Some(true));
        assert_eq!(agrees("135 deg", 135f64.to_radians()), Some(true));
        assert_eq!(agrees("3 h", 10_800.0), Some(true));
        assert_eq!(stated("some"), None);
        assert_eq!(stated("3 yards"), None);
    }

    #[test]
    fn feet_are_no_pounds() {
        assert!(!stated("3 lb").unwrap().agrees(Figure::length(13.3)));
    }
}

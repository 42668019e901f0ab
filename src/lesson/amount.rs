//! A number that a reader works out or a crew lead measures, in the unit it is told in.

use super::worked::{Figure, stated, unit};
use crate::measure::{INCH_M, Lengths, Say};

/// A number with its unit, as the page tells it.
#[derive(Debug, Clone, PartialEq)]
pub struct Amount {
    /// In `unit`.
    pub value: f64,
    /// `in`, `mm`, `degrees`, `cfm`; empty for a plain number.
    pub unit: String,
    /// As a person reads it, unit and all: `5 ft 6-1/2 in`.
    pub words: String,
    /// Whether it is a length, and how the firm writes those.
    pub length: Option<Say>,
}

impl Amount {
    /// A length in metres.
    pub fn length(length_m: f64, say: Say) -> Amount {
        let (per_m, unit) = scale(say);
        Amount { value: length_m * per_m, unit: unit.into(), words: say.length(length_m), length: Some(say) }
    }

    /// A figure that was reckoned. `plain` is the unit of a figure that has none of its own, since degrees
    /// and counts are plain numbers.
    pub fn of(figure: Figure, plain: &str, say: Say) -> Amount {
        if figure.of == Figure::length(0.0).of {
            return Amount::length(figure.si, say);
        }
        let said = figure.said(say);
        let name = said.split_once(' ').map_or("", |(_, name)| name);
        let one = unit(name).filter(|_| !name.is_empty());
        let value = figure.si / one.map_or(1.0, |one| one.si);
        let name = if name.is_empty() { plain } else { name };
        let words = format!("{} {name}", trimmed(value, 2)).trim_end().to_owned();
        Amount { value, unit: name.to_owned(), words, length: None }
    }

    /// A number as it is written: a length, or a number and a unit of any kind. `None` where it begins with
    /// no number.
    pub fn read(text: &str, say: Say) -> Option<Amount> {
        let length = stated(text).filter(|stated| stated.figure.of == Figure::length(0.0).of);
        if let Some(stated) = length {
            return Some(Amount { words: text.to_owned(), ..Amount::length(stated.figure.si, say) });
        }
        let text = text.trim();
        let (number, unit) = text.split_once(char::is_whitespace).unwrap_or((text, ""));
        let value = number.replace(',', "").parse().ok()?;
        Some(Amount { value, unit: unit.trim().into(), words: text.to_owned(), length: None })
    }

    /// How near a guess must come, as it is written, in this number's unit; `None` where it is of another.
    pub fn within(&self, text: &str) -> Option<f64> {
        let say = self.length.unwrap_or(Say { lengths: Lengths::FtIn });
        let near = Amount::read(text, say)?;
        let same = near.length.is_some() == self.length.is_some() && near.unit == self.unit;
        (same || near.unit.is_empty() && (self.length.is_none() || near.value == 0.0)).then_some(near.value)
    }

    /// A tolerance in this unit, as a person reads it.
    pub fn near(&self, within: f64) -> String {
        match self.length {
            Some(say) => say.length(within / scale(say).0),
            None => format!("{} {}", trimmed(within, 4), self.unit).trim_end().to_owned(),
        }
    }

    /// How an answer is written; empty where that needs no telling.
    pub fn hint(&self) -> &'static str {
        match self.length.map(|say| say.lengths) {
            Some(Lengths::FtIn) => "or feet and inches, like 5 ft 6-1/2 in",
            _ => "",
        }
    }

    /// What the script reads an answer as: `ft-in`, `mm`, or `number`.
    pub fn lengths(&self) -> &'static str {
        match self.length.map(|say| say.lengths) {
            Some(Lengths::FtIn) => "ft-in",
            Some(Lengths::Metric) => "mm",
            None => "number",
        }
    }
}

/// Units to a metre, and the unit.
fn scale(say: Say) -> (f64, &'static str) {
    match say.lengths {
        Lengths::FtIn => (1.0 / INCH_M, "in"),
        Lengths::Metric => (1000.0, "mm"),
    }
}

/// A number without noughts behind that say nothing.
fn trimmed(value: f64, places: usize) -> String {
    let text = format!("{value:.places$}");
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SAY: Say = Say { lengths: Lengths::FtIn };

    #[test]
    fn lengths_are_told_in_inches_and_other_numbers_in_their_unit() {
        let length = Amount::read("2 ft 2-1/8 in", SAY).unwrap();
        assert!((length.value - 26.125).abs() < 1e-9);
        assert_eq!((length.unit.as_str(), length.within("1/8 in")), ("in", Some(0.125)));
        let flow = Amount::read("49 cfm", SAY).unwrap();
        assert_eq!((flow.value, flow.unit.as_str(), flow.within("2 cfm")), (49.0, "cfm", Some(2.0)));
    }

    #[test]
    fn reckoned_figures_are_told_in_the_unit_of_the_trade() {
        let suction = Amount::of(Figure::pressure(249.08 * 90.0), "", SAY);
        assert_eq!((suction.unit.as_str(), suction.value.round()), ("inH2O", 90.0));
        assert_eq!(Amount::of(Figure::plain(405.0), "degrees", SAY).words, "405 degrees");
        assert_eq!(Amount::of(Figure::length(0.3048), "degrees", SAY).words, "1 ft");
    }

    #[test]
    fn a_tolerance_of_another_unit_is_refused() {
        let length = Amount::read("26 in", SAY).unwrap();
        assert_eq!(length.within("2 degrees"), None);
        assert_eq!(length.within("2"), None);
        assert_eq!(length.within("0"), Some(0.0));
        assert_eq!(Amount::read("90 degrees", SAY).unwrap().within("1"), Some(1.0));
        assert!(Amount::read("much", SAY).is_none());
    }
}

//! Numbers as a tape shows them: whole, decimal, or with a fraction.
use super::fault::{Fault, MeasureError};
use super::kind::Kind;
use crate::text::clip;

/// A reader over one text; keeps its place in bytes for exact messages.
pub(super) struct Scan<'t> {
    pub text: &'t str,
    pub at: usize,
    pub kind: Kind,
}

/// A number read, with the bytes it was read from.
pub(super) struct Number {
    pub value: f64,
    pub start: usize,
    pub end: usize,
    /// Whether it has a decimal point, exponent or fraction.
    pub broken: bool,
}

/// A plain number without a unit: `0.32`, `45`, `22-1/2`; negative allowed.
pub fn read_number(text: &str) -> Result<f64, MeasureError> {
    let mut scan = Scan::new(text, Kind::Plain);
    let negative = scan.sign();
    let number = scan.number()?;
    scan.nothing_left()?;
    Ok(if negative { -number.value } else { number.value })
}

impl<'t> Scan<'t> {
    pub fn new(text: &'t str, kind: Kind) -> Self {
        Scan { text, at: 0, kind }
    }

    pub fn rest(&self) -> &'t str {
        self.text.get(self.at..).unwrap_or("")
    }

    pub fn peek(&self) -> Option<char> {
        self.rest().chars().next()
    }

    pub fn skip_space(&mut self) {
        self.take(char::is_whitespace);
    }

    /// Takes the characters that fit, and returns them.
    pub fn take(&mut self, fits: impl Fn(char) -> bool) -> &'t str {
        let rest = self.rest();
        let len = rest.find(|c| !fits(c)).unwrap_or(rest.len());
        self.at += len;
        &rest[..len]
    }

    /// Takes a sign; true for a minus.
    pub fn sign(&mut self) -> bool {
        self.skip_space();
        let sign = self.peek().filter(|c| is_dash(*c) || *c == '+');
        self.at += sign.map_or(0, char::len_utf8);
        sign.is_some_and(|c| c != '+')
    }

    pub fn error<T>(&self, at: std::ops::Range<usize>, fault: Fault) -> Result<T, MeasureError> {
        Err(MeasureError { at, fault })
    }

    /// A number, with its fraction if it has one.
    pub fn number(&mut self) -> Result<Number, MeasureError> {
        self.skip_space();
        let start = self.at;
        if let Some(part) = self.vulgar() {
            return Ok(self.done(part, start, true));
        }
        let first = self.decimal(start)?;
        if first.broken && matches!(self.peek(), Some('/' | '⁄')) {
            return self.point_and_fraction(start);
        }
        if self.slash() {
            let value = self.over(first.value, start)?;
            return Ok(self.done(value, start, true));
        }
        if first.broken {
            return Ok(first);
        }
        let part = self.fraction_after_whole()?;
        Ok(self.done(first.value + part.unwrap_or(0.0), start, part.is_some()))
    }

    /// Refuses what is left after the measure.
    pub fn nothing_left(&mut self) -> Result<(), MeasureError> {
        self.skip_space();
        let junk = self.rest().trim_end();
        if junk.is_empty() {
            return Ok(());
        }
        if self.kind == Kind::Plain
            && junk == "%"
            && let Ok(percent) = self.text[..self.at].trim().parse::<f64>()
        {
            // As many figures as were written, and two more.
            let decimals = self.text[..self.at].trim().split_once('.').map_or(0, |(_, part)| part.len());
            let number = format!("{:.*}", decimals + 2, percent / 100.0);
            return self.error(0..self.at + 1, Fault::Percent { number });
        }
        self.error(self.at..self.at + junk.len(), Fault::Junk { junk: clip(junk) })
    }

    fn done(&self, value: f64, start: usize, broken: bool) -> Number {
        Number { value, start, end: self.at, broken }
    }

    /// Digits with at most one point, and an exponent.
    fn decimal(&mut self, start: usize) -> Result<Number, MeasureError> {
        let whole = self.take(|c| c.is_ascii_digit());
        let mut broken = false;
        if self.peek() == Some('.') {
            self.at += 1;
            broken = true;
            let decimals = self.take(|c| c.is_ascii_digit());
            if whole.is_empty() && decimals.is_empty() {
                self.at = start;
            }
        }
        if self.at == start {
            return self.no_number(start);
        }
        broken |= self.exponent();
        if self.peek() == Some(',') {
            let comma = self.take(|c| c.is_ascii_digit() || c == ',' || c == '.');
            let found = format!("{}{comma}", &self.text[start..self.at - comma.len()]);
            return self.error(start..self.at, Fault::Comma { found: clip(&found) });
        }
        let value = self.text[start..self.at].parse().unwrap_or(f64::INFINITY);
        if !f64::is_finite(value) {
            let number = clip(&self.text[start..self.at]);
            let most = "a number can be";
            return self.error(start..self.at, Fault::TooLarge { number, most });
        }
        Ok(self.done(value, start, broken))
    }

    /// `e9`, `E-3`, only when digits follow at once, so that `3 east` is not half a number.
    fn exponent(&mut self) -> bool {
        let rest = self.rest().as_bytes();
        if !matches!(rest.first(), Some(b'e' | b'E')) {
            return false;
        }
        let sign = usize::from(matches!(rest.get(1), Some(b'-' | b'+')));
        if !rest.get(1 + sign).is_some_and(u8::is_ascii_digit) {
            return false;
        }
        self.at += 1 + sign;
        self.take(|c| c.is_ascii_digit());
        true
    }

    fn no_number<T>(&mut self, start: usize) -> Result<T, MeasureError> {
        let word = self.take(|c| !c.is_whitespace());
        let (end, found) = (start + word.len(), clip(word));
        let bare = word.trim_start_matches(['.', '-', '+']).to_ascii_lowercase();
        if ["inf", "nan", "infinity"].iter().any(|w| bare == *w) {
            return self.error(start..end, Fault::NotFinite { found });
        }
        let kind = self.kind;
        if found.is_empty() {
            return self.error(0..self.text.len(), Fault::Empty(kind));
        }
        self.error(start..end, Fault::NoNumber { found, kind })
    }

    /// `2.1/8` may mean two and an eighth or a share of 2.1; nobody cuts by a guess.
    fn point_and_fraction<T>(&mut self, start: usize) -> Result<T, MeasureError> {
        self.take(|c| c.is_ascii_digit() || matches!(c, '/' | '⁄'));
        let number = &self.text[start..self.at];
        let fault =
            Fault::PointAndFraction { number: clip(number), whole: clip(&number.replacen('.', "-", 1)) };
        self.error(start..self.at, fault)
    }

    fn slash(&mut self) -> bool {
        let slash = self.peek().filter(|c| matches!(c, '/' | '⁄'));
        self.at += slash.map_or(0, char::len_utf8);
        slash.is_some()
    }

    /// The denominator, and the division.
    fn over(&mut self, top: f64, start: usize) -> Result<f64, MeasureError> {
        let digits = self.take(|c| c.is_ascii_digit());
        let fraction = clip(&self.text[start..self.at]);
        match digits.parse::<f64>() {
            Ok(0.0) => self.error(start..self.at, Fault::ZeroDenominator { fraction }),
            Ok(bottom) if bottom.is_finite() => Ok(top / bottom),
            _ => self.error(start..self.at.max(start), Fault::Junk { junk: fraction }),
        }
    }

    /// `-1/2`, ` 1/2` or `½` after a whole number; leaves its place where there is none.
    fn fraction_after_whole(&mut self) -> Result<Option<f64>, MeasureError> {
        let back = self.at;
        self.skip_space();
        if let Some(dash) = self.peek().filter(|c| is_dash(*c)) {
            self.at += dash.len_utf8();
            self.skip_space();
        }
        let start = self.at;
        if let Some(part) = self.vulgar() {
            return Ok(Some(part));
        }
        let top = self.take(|c| c.is_ascii_digit());
        if top.is_empty() || !self.slash() {
            self.at = back;
            return Ok(None);
        }
        let part = self.over(top.parse().unwrap_or(f64::INFINITY), start)?;
        if part >= 1.0 {
            let fraction = clip(&self.text[start..self.at]);
            return self.error(start..self.at, Fault::TopHeavy { fraction });
        }
        Ok(Some(part))
    }

    /// One character that is a fraction.
    fn vulgar(&mut self) -> Option<f64> {
        let c = self.peek()?;
        let value = match c {
            '½' => 0.5,
            '¼' => 0.25,
            '¾' => 0.75,
            '⅓' => 1.0 / 3.0,
            '⅔' => 2.0 / 3.0,
            '⅛' => 0.125,
            '⅜' => 0.375,
            '⅝' => 0.625,
            '⅞' => 0.875,
            _ => return None,
        };
        self.at += c.len_utf8();
        Some(value)
    }
}

/// A hyphen, or what editors make of one.
pub(super) fn is_dash(c: char) -> bool {
    c == '-' || matches!(c, '\u{2010}'..='\u{2015}' | '−')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_numbers_of_a_tape() {
        for (text, value) in [
            ("45", 45.0),
            ("22-1/2", 22.5),
            ("22 1/2", 22.5),
            ("22½", 22.5),
            ("-0.5", -0.5),
            (".25", 0.25),
            ("1e3", 1000.0),
            ("3/4", 0.75),
        ] {
            assert_eq!(read_number(text), Ok(value), "{text}");
        }
    }

    #[test]
    fn refuses_with_the_place() {
        let fault = |text| read_number(text).unwrap_err();
        assert_eq!(fault("3 1/0").at, 2..5);
        assert_eq!(fault("3,5").fault, Fault::Comma { found: "3,5".into() });
        assert_eq!(fault("5 x").at, 2..3);
        assert_eq!(fault("32 %").fault.help().as_deref(), Some("write `0.32`"));
        assert_eq!(fault("2.5%").fault.help().as_deref(), Some("write `0.025`"));
        assert!(matches!(fault(".inf").fault, Fault::NotFinite { .. }));
        assert!(matches!(fault("1e999").fault, Fault::TooLarge { .. }));
        assert!(matches!(fault("6-5/2").fault, Fault::TopHeavy { .. }));
    }
}

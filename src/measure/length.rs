//! Lengths in feet and inches or metric.
use super::fault::{Fault, MeasureError};
use super::kind::Kind;
use super::number::{Number, Scan, short};
use super::quantity::unit_fault;
use super::{FOOT_M, INCH_M};

/// No house is longer; beyond it a unit was mistaken.
const MOST_M: f64 = 10_000.0;

/// Reads a length that is not negative, in metres.
///
/// Feet and inches with a fraction, or one number with a unit; case and spacing are free.
/// Refused: no unit, unknown unit, a fraction over zero, inches before feet, anything that follows,
/// a minus, and more than 10 km.
///
/// ```
/// use longsweep::measure::read_length;
/// let m = read_length("12 ft 6-1/2 in").unwrap();
/// assert!((m - 3.8227).abs() < 1e-12);
/// assert_eq!(read_length("3.81 m").unwrap(), 3.81);
/// assert_eq!(read_length("16").unwrap_err().to_string(), "no unit after `16` in a length");
/// ```
pub fn read_length(text: &str) -> Result<f64, MeasureError> {
    read(text, Kind::Length)
}

/// Reads a coordinate: a length that may be negative; a minus belongs to the whole, `-1 ft 4 in`.
pub fn read_coordinate(text: &str) -> Result<f64, MeasureError> {
    read(text, Kind::Coordinate)
}

fn read(text: &str, kind: Kind) -> Result<f64, MeasureError> {
    let mut scan = Scan::new(text, kind);
    let negative = scan.sign();
    let mut total_m = 0.0;
    let mut last: Option<Tape> = None;
    loop {
        let number = scan.number()?;
        let unit = tape_unit(&mut scan, &number)?;
        check_order(&scan, last.as_ref(), &number, unit)?;
        total_m += number.value * unit.metres();
        last = Some(Tape { unit, broken: number.broken });
        scan.take(|c| c.is_whitespace() || c == '-');
        if !scan.peek().is_some_and(|c| c.is_numeric() || c == '.') {
            break;
        }
    }
    scan.nothing_left()?;
    check_size(&scan, total_m)?;
    if negative && kind == Kind::Length && total_m != 0.0 {
        let number = short(text.trim());
        return scan.error(whole(text), Fault::Negative { number, kind });
    }
    Ok(if negative { -total_m } else { total_m })
}

/// One part of a length already read.
struct Tape {
    unit: TapeUnit,
    broken: bool,
}

/// Units of length.
#[derive(Clone, Copy, PartialEq)]
enum TapeUnit {
    Foot,
    Inch,
    Metre,
    Centimetre,
    Millimetre,
}

impl TapeUnit {
    fn metres(self) -> f64 {
        match self {
            TapeUnit::Foot => FOOT_M,
            TapeUnit::Inch => INCH_M,
            TapeUnit::Metre => 1.0,
            TapeUnit::Centimetre => 0.01,
            TapeUnit::Millimetre => 0.001,
        }
    }

    fn of(word: &str) -> Option<TapeUnit> {
        Some(match word {
            "ft" | "foot" | "feet" | "'" | "′" | "’" => TapeUnit::Foot,
            "in" | "inch" | "inches" | "\"" | "″" | "”" | "''" | "′′" => TapeUnit::Inch,
            "m" | "metre" | "metres" | "meter" | "meters" => TapeUnit::Metre,
            "cm" | "centimetre" | "centimetres" | "centimeter" | "centimeters" => TapeUnit::Centimetre,
            "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" => TapeUnit::Millimetre,
            _ => return None,
        })
    }
}

fn is_prime(c: char) -> bool {
    matches!(c, '\'' | '"' | '′' | '″' | '’' | '”')
}

/// The unit after a number: a word, or a run of primes.
fn tape_unit(scan: &mut Scan, number: &Number) -> Result<TapeUnit, MeasureError> {
    scan.skip_space();
    let start = scan.at;
    let word = match scan.peek() {
        Some(c) if is_prime(c) => scan.take(is_prime),
        _ => scan.take(|c| c.is_alphabetic() || matches!(c, '/' | '%' | '°' | '²' | '³')),
    };
    if word.is_empty() {
        return no_unit(scan, number);
    }
    let end = scan.at;
    if scan.peek() == Some('.') {
        scan.at += 1;
    }
    match TapeUnit::of(&word.to_lowercase()) {
        Some(unit) => Ok(unit),
        None => scan.error(start..end, unit_fault(word, scan.kind)),
    }
}

fn no_unit<T>(scan: &mut Scan, number: &Number) -> Result<T, MeasureError> {
    let junk = scan.rest().trim_end();
    if !junk.is_empty() {
        return scan.error(scan.at..scan.at + junk.len(), Fault::Junk { junk: short(junk) });
    }
    let fault = Fault::NoUnit { number: short(&scan.text[number.start..number.end]), kind: scan.kind };
    scan.error(number.start..number.end, fault)
}

/// Only whole feet may be followed, and only by inches.
fn check_order(
    scan: &Scan,
    last: Option<&Tape>,
    number: &Number,
    unit: TapeUnit,
) -> Result<(), MeasureError> {
    let fits = match last {
        None => true,
        Some(tape) => tape.unit == TapeUnit::Foot && unit == TapeUnit::Inch && !tape.broken,
    };
    if fits {
        return Ok(());
    }
    let found = short(&scan.text[number.start..scan.at]);
    scan.error(number.start..scan.at, Fault::Order { found })
}

fn check_size(scan: &Scan, total_m: f64) -> Result<(), MeasureError> {
    if total_m <= MOST_M {
        return Ok(());
    }
    let number = short(scan.text.trim());
    scan.error(whole(scan.text), Fault::TooLarge { number, most: "10 km, longer than any house" })
}

/// The bytes of the text without the space around it.
pub(super) fn whole(text: &str) -> std::ops::Range<usize> {
    let start = text.len() - text.trim_start().len();
    start..text.trim_end().len().max(start)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::{Lengths, Say};
    use proptest::prelude::*;

    #[test]
    fn reads_every_form_of_a_tape() {
        let want = 12.0 * FOOT_M + 6.5 * INCH_M;
        for text in [
            "12 ft 6-1/2 in",
            "12 ft 6 1/2 in",
            "12' 6-1/2\"",
            "12'-6½\"",
            "12FT6.5IN",
            "12 feet 6½ inches",
            "150.5 in",
            "12′ 6 ½″",
            "3.8227 m",
            "382.27 cm",
            "3822.7mm",
            "12 ft. 6-1/2 in.",
            " 12ft  6-1/2in ",
            "12 ft - 6 1/2 in",
            "12.541666666666666 ft",
        ] {
            let got = read_length(text).unwrap_or_else(|e| panic!("{text}: {e}"));
            assert!((got - want).abs() < 1e-12, "{text} gave {got}"); // one rounding of each factor
        }
        assert_eq!(read_length("0 in"), Ok(0.0));
        assert_eq!(read_coordinate("-1 ft 4 in"), Ok(-(FOOT_M + 4.0 * INCH_M)));
        assert_eq!(read_coordinate("−4 ft"), Ok(-4.0 * FOOT_M));
    }

    #[test]
    fn refuses_with_exact_span_and_words() {
        for (text, at, message) in [
            ("16", 0..2, "no unit after `16` in a length"),
            ("12 ft 6", 6..7, "no unit after `6` in a length"),
            ("", 0..0, "a length is empty"),
            ("12 fr", 3..5, "`fr` is not a known unit of length"),
            ("3 V", 2..3, "`V` is a unit of voltage, not of length"),
            ("1/0 in", 0..3, "the fraction `1/0` divides by zero"),
            ("inf ft", 0..3, "`inf` is not a finite number"),
            (".nan", 0..4, "`.nan` is not a finite number"),
            ("6 in 12 ft", 5..10, "`12 ft` stands in the wrong place in a length"),
            ("3 m 81 cm", 4..9, "`81 cm` stands in the wrong place in a length"),
            ("12 ft or so", 6..11, "`or so` does not belong to the measure before it"),
            ("-3 ft", 0..5, "`-3 ft` is negative, and a length is not"),
            ("1e300 m", 0..7, "`1e300 m` is more than 10 km, longer than any house"),
            ("3,81 m", 0..4, "`3,81` has a comma in a number"),
            ("west", 0..4, "`west` does not begin a length with a number"),
        ] {
            let error = read_length(text).expect_err(text);
            assert_eq!((error.to_string().as_str(), error.at), (message, at), "{text}");
        }
    }

    #[test]
    fn names_the_unit_that_was_meant() {
        assert_eq!(read_length("12 fet").unwrap_err().fault.help().unwrap(), "write `ft`");
        assert!(read_length("12 furlongs").unwrap_err().fault.help().unwrap().starts_with("use ft, in"));
    }

    proptest! {
        #[test]
        fn recovers_what_say_writes(sixteenths in -200_000_i32..200_000) {
            let length_m = f64::from(sixteenths) * INCH_M / 16.0;
            let text = Say { lengths: Lengths::FtIn }.length(length_m);
            // Sums of exact binary fractions times one factor: a few roundings at 300 m.
            prop_assert!((read_coordinate(&text).unwrap() - length_m).abs() < 1e-11, "{}", text);
        }

        #[test]
        fn recovers_millimetres(mm in 0_u32..1_000_000) {
            let length_m = f64::from(mm) / 1000.0;
            let text = Say { lengths: Lengths::Metric }.length(length_m);
            prop_assert!((read_length(&text).unwrap() - length_m).abs() < 1e-11, "{}", text);
        }

        #[test]
        fn never_panics(text in ".*") {
            if let Err(error) = read_coordinate(&text) {
                prop_assert!(text.get(error.at.clone()).is_some(), "{:?}", error);
            }
        }

        #[test]
        fn never_panics_on_near_misses(text in "[0-9./ \\-−½'\"′a-zA-Z,⁄]{0,20}") {
            if let Err(error) = read_length(&text) {
                prop_assert!(text.get(error.at.clone()).is_some(), "{:?}", error);
            }
        }
    }
}

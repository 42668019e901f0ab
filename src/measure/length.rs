//! Lengths in feet and inches or metric.
use super::fault::{Fault, MeasureError};
use super::kind::{Kind, MOST_LENGTH_M};
use super::number::{Number, Scan, is_dash};
use super::quantity::unit_fault;
use super::{FOOT_M, INCH_M, Lengths, Say};
use crate::text::clip;

/// Reads a length that is not negative, in metres.
///
/// Feet and inches with a fraction, or one number with a unit; case and spacing are free.
/// Refused: no unit, unknown unit, a fraction over zero, inches before feet, anything that follows,
/// a minus, a foot or more of inches behind feet, and more than 1 km.
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

/// Reads a length of a part, a hole or a wall; like [`read_length`], but a bare number is taken to have
/// meant inches when it is refused.
pub fn read_breadth(text: &str) -> Result<f64, MeasureError> {
    read(text, Kind::Breadth)
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
        let unit = tape_unit(&mut scan, &number, last.as_ref())?;
        check_order(&scan, last.as_ref(), &number, unit)?;
        check_inches(&scan, text, last.as_ref(), &number)?;
        total_m += number.value * unit.metres();
        last = Some(Tape { unit, broken: number.broken, value: number.value });
        scan.take(|c| c.is_whitespace() || is_dash(c));
        if !scan.peek().is_some_and(|c| c.is_numeric() || c == '.') {
            break;
        }
    }
    scan.nothing_left()?;
    check_size(&scan, total_m)?;
    if negative && kind != Kind::Coordinate && total_m != 0.0 {
        let number = clip(text.trim());
        return scan.error(whole(text), Fault::Negative { number, kind });
    }
    Ok(if negative { -total_m } else { total_m })
}

/// One part of a length already read.
struct Tape {
    unit: TapeUnit,
    broken: bool,
    value: f64,
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
fn tape_unit(scan: &mut Scan, number: &Number, last: Option<&Tape>) -> Result<TapeUnit, MeasureError> {
    scan.skip_space();
    let start = scan.at;
    let word = match scan.peek() {
        Some(c) if is_prime(c) => scan.take(is_prime),
        _ => scan.take(|c| c.is_alphabetic() || matches!(c, '/' | '%' | '°' | '²' | '³')),
    };
    if word.is_empty() {
        return no_unit(scan, number, last);
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

fn no_unit<T>(scan: &mut Scan, number: &Number, last: Option<&Tape>) -> Result<T, MeasureError> {
    let junk = scan.rest().trim_end();
    if !junk.is_empty() {
        return scan.error(scan.at..scan.at + junk.len(), Fault::Junk { junk: clip(junk) });
    }
    let bare = &scan.text[number.start..number.end];
    let with = |units: &[&str]| units.iter().map(|unit| format!("{} {unit}", clip(bare))).collect();
    // Behind feet stand inches, and a fraction is read off a tape of inches; else nobody can know.
    let meant = match scan.kind {
        _ if last.is_some_and(|tape| tape.unit == TapeUnit::Foot) => {
            vec![format!("{} in", clip(scan.text.trim()))]
        }
        _ if bare.contains(['/', '⁄']) || bare.chars().any(|c| c.is_numeric() && !c.is_ascii()) => {
            with(&["in"])
        }
        Kind::Breadth => with(&["in", "mm"]),
        _ => with(&["in", "ft"]),
    };
    let fault = Fault::NoUnit { number: clip(bare), kind: scan.kind, meant };
    scan.error(number.start..number.end, fault)
}

/// Behind feet stand fewer than twelve inches; more is a slip of the pen or of the tape.
fn check_inches(scan: &Scan, text: &str, last: Option<&Tape>, number: &Number) -> Result<(), MeasureError> {
    let Some(feet) = last.filter(|_| number.value >= 12.0) else {
        return Ok(());
    };
    let meant = Say { lengths: Lengths::FtIn }.length(feet.value * FOOT_M + number.value * INCH_M);
    let inches = clip(&text[number.start..scan.at]);
    scan.error(number.start..scan.at, Fault::InchesOfAFoot { inches, meant })
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
    let found = clip(&scan.text[number.start..scan.at]);
    scan.error(number.start..scan.at, Fault::Order { found })
}

fn check_size(scan: &Scan, total_m: f64) -> Result<(), MeasureError> {
    if total_m <= MOST_LENGTH_M {
        return Ok(());
    }
    let number = clip(scan.text.trim());
    scan.error(whole(scan.text), Fault::TooLarge { number, most: scan.kind.most().1 })
}

/// The bytes of the text without the space around it.
pub(super) fn whole(text: &str) -> std::ops::Range<usize> {
    let start = text.len() - text.trim_start().len();
    start..text.trim_end().len().max(start)
}

#[cfg(test)]
mod tests {
    use super::*;
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
        for minus in ["-", "−", "–", "—"] {
            assert_eq!(read_coordinate(&format!("{minus}4 ft")), Ok(-4.0 * FOOT_M), "{minus}");
        }
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
            ("6 in 12 ft", 5..10, "`12 ft` is in the wrong place in a length"),
            ("3 m 81 cm", 4..9, "`81 cm` is in the wrong place in a length"),
            ("12 ft or so", 6..11, "`or so` does not belong to the measure before it"),
            ("-3 ft", 0..5, "`-3 ft` is negative, and a length is not"),
            ("1e300 m", 0..7, "`1e300 m` is more than 1 km, longer than any house"),
            ("3,81 m", 0..4, "`3,81` has a comma in a number"),
            ("west", 0..4, "`west` is not a length"),
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

    /// Numbers that a tape has, written without a unit or by halves: no help may change what was meant.
    #[test]
    fn helps_without_losing_or_making_up_a_length() {
        let help = |text: &str, kind| read(text, kind).unwrap_err().fault.help().unwrap_or_default();
        assert!(help("34", Kind::Length).starts_with("write `34 in` or `34 ft`, whichever is meant"));
        assert!(help("34", Kind::Breadth).starts_with("write `34 in` or `34 mm`"));
        assert!(help("2 1/8", Kind::Breadth).starts_with("write `2 1/8 in`;"));
        assert!(help("2-1/8", Kind::Length).starts_with("write `2-1/8 in`;"));
        assert!(help("2½", Kind::Length).starts_with("write `2½ in`;"));
        assert!(help("12 ft 6", Kind::Length).starts_with("write `12 ft 6 in`;"));
        for (text, message, part) in [
            ("2 ft 14 in", "`14 in` after feet is a foot or more", "`3 ft 2 in` is the same"),
            ("2.1/8 in", "`2.1/8` has both a decimal point and a fraction", "like `2-1/8`"),
            ("6.5 1/2 in", "`1/2 in` does not belong to the measure before it", "whole measure anew"),
            ("10 + 1/2 in", "`+ 1/2 in` does not belong to the measure before it", "whole measure anew"),
        ] {
            let error = read_length(text).unwrap_err();
            assert_eq!(error.to_string(), message, "{text}");
            let help = error.fault.help().unwrap();
            assert!(help.contains(part), "{text}: {help}");
        }
        assert_eq!(read_length("2 ft 11-15/16 in"), Ok(2.0 * FOOT_M + 11.9375 * INCH_M));
    }

    /// Editors and telephones turn a hyphen into a dash; the half inch stays.
    #[test]
    fn a_dash_before_a_fraction_is_a_hyphen() {
        for dash in ["-", "‐", "‑", "‒", "–", "—", "−"] {
            assert_eq!(read_length(&format!("10{dash}1/2 in")), Ok(10.5 * INCH_M), "{dash}");
            assert_eq!(
                read_length(&format!("12 ft 6{dash}½ in")),
                Ok(12.0 * FOOT_M + 6.5 * INCH_M),
                "{dash}"
            );
        }
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

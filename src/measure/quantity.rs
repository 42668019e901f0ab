//! Every measure that is not a length: weights, pressures, flows, volts, shares.
use super::fault::{Fault, MeasureError};
use super::kind::Kind;
use super::length::whole;
use super::number::Scan;
use super::{read_breadth, read_coordinate, read_length};
use crate::text::clip;
use crate::text::nearest;

/// Reads a measure of that kind, in SI; none but a coordinate or a plain number may be negative.
///
/// ```
/// use longsweep::measure::{Kind, read_quantity};
/// assert_eq!(read_quantity("10 %", Kind::Ratio).unwrap(), 0.10);
/// assert_eq!(read_quantity("2 kPa", Kind::Pressure).unwrap(), 2000.0);
/// assert_eq!(read_quantity("22-1/2", Kind::Angle).unwrap(), 22.5);
/// ```
pub fn read_quantity(text: &str, kind: Kind) -> Result<f64, MeasureError> {
    match kind {
        Kind::Length => return read_length(text),
        Kind::Breadth => return read_breadth(text),
        Kind::Coordinate => return read_coordinate(text),
        Kind::Plain => return super::read_number(text),
        _ => {}
    }
    let mut scan = Scan::new(text, kind);
    let negative = scan.sign();
    let number = scan.number()?;
    scan.skip_space();
    let unit = scan.rest().trim_end();
    let factor = if unit.is_empty() && kind == Kind::Angle {
        1.0
    } else if unit.is_empty() {
        let (at, value) = (number.start..number.end, number.value);
        let number = clip(&text[number.start..number.end]);
        let as_written = format!("{number} {}", kind.usual());
        let meant = match kind {
            // `0.10` is a tenth to most, and a tenth of one percent as it stands.
            Kind::Ratio if (0.0..1.0).contains(&value) && value > 0.0 => {
                vec![format!("{} {}", (value * 1e8).round() / 1e6, kind.usual()), as_written]
            }
            _ => vec![as_written],
        };
        return scan.error(at, Fault::NoUnit { number, kind, meant });
    } else {
        match kind.factor(unit) {
            Some(factor) => factor,
            None => return scan.error(scan.at..scan.at + unit.len(), unit_fault(unit, kind)),
        }
    };
    let value = number.value * factor;
    check(&scan, value, negative, number.broken)?;
    Ok(value)
}

/// Refuses a minus, a broken gauge, and what no gauge can show.
fn check(scan: &Scan, value: f64, negative: bool, broken: bool) -> Result<(), MeasureError> {
    let (number, kind) = (clip(scan.text.trim()), scan.kind);
    if negative && value != 0.0 {
        return scan.error(whole(scan.text), Fault::Negative { number, kind });
    }
    if kind == Kind::Gauge && broken {
        return scan.error(whole(scan.text), Fault::NotWhole { number });
    }
    let (most, words) = kind.most();
    if value > most {
        return scan.error(whole(scan.text), Fault::TooLarge { number, most: words });
    }
    Ok(())
}

/// A unit that does not fit: one of another kind, or none at all.
pub(super) fn unit_fault(unit: &str, kind: Kind) -> Fault {
    let other = Kind::ALL.iter().find(|k| **k != kind && k.word() != kind.word() && k.factor(unit).is_some());
    if let Some(is) = other {
        return Fault::OtherUnit { unit: clip(unit), is: *is, wanted: kind };
    }
    let nearest = nearest(unit, kind.units().iter().map(|(name, _)| *name));
    Fault::UnknownUnit { unit: clip(unit), kind, nearest: nearest.map(|name| kind.plainest(name)) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn reads_units_to_si() {
        for (text, kind, si) in [
            ("0.25 lb/ft", Kind::Weight, 3.648_475_73), // 0.25 x 14.593 902 9 N/m per lbf/ft
            ("370 g/m", Kind::Weight, 3.628_460_5),
            ("0.37 kg/m", Kind::Weight, 3.628_460_5),
            ("100 inH2O", Kind::Pressure, 24_908.891), // conventional inch, figures section 3
            ("100 in H2O", Kind::Pressure, 24_908.891),
            ("27 kPa", Kind::Pressure, 27_000.0),
            ("100 cfm", Kind::Flow, 0.047_194_745),
            ("170 m³/h", Kind::Flow, 0.047_222_222),
            ("47.2 L/s", Kind::Flow, 0.0472),
            ("120 V", Kind::Volts, 120.0),
            ("14A", Kind::Amps, 14.0),
            ("18 awg", Kind::Gauge, 18.0),
            ("10%", Kind::Ratio, 0.10),
            ("360 deg", Kind::Angle, 360.0),
            ("22½°", Kind::Angle, 22.5),
            ("10 lbf", Kind::Force, 44.482_216),
            ("100 lbf in2", Kind::Stiffness, 0.286_981_466),
            ("0.5 N m²", Kind::Stiffness, 0.5),
            ("3000 fpm", Kind::Speed, 15.24),
        ] {
            let got = read_quantity(text, kind).unwrap_or_else(|e| panic!("{text}: {e}"));
            assert!((got - si).abs() <= 1e-8 * si.abs().max(1.0), "{text} gave {got}"); // printed digits
        }
    }

    #[test]
    fn refuses_with_exact_span_and_words() {
        for (text, kind, at, message) in [
            ("10", Kind::Ratio, 0..2, "no unit after `10` in a percentage"),
            ("110 inH20", Kind::Pressure, 4..9, "`inH20` is not a known unit of pressure"),
            ("5 ft", Kind::Volts, 2..4, "`ft` is a unit of length, not of voltage"),
            ("-5 V", Kind::Volts, 0..4, "`-5 V` is negative, and a voltage is not"),
            ("18.5 AWG", Kind::Gauge, 0..8, "`18.5 AWG` is not a whole number"),
            ("1e9 A", Kind::Amps, 0..5, "`1e9 A` is more than 100000 A"),
            ("nan %", Kind::Ratio, 0..3, "`nan` is not a finite number"),
        ] {
            let error = read_quantity(text, kind).expect_err(text);
            assert_eq!((error.to_string().as_str(), error.at), (message, at), "{text}");
        }
        let near = read_quantity("110 inH20", Kind::Pressure).unwrap_err().fault.help();
        assert_eq!(near.as_deref(), Some("write `inH2O`"));
    }

    proptest! {
        #[test]
        fn never_panics(text in ".*") {
            for kind in Kind::ALL {
                if let Err(error) = read_quantity(&text, kind) {
                    prop_assert!(text.get(error.at.clone()).is_some(), "{:?}", error);
                    let _ = (error.to_string(), error.fault.help());
                }
            }
        }
    }
}

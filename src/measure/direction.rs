//! Directions in words, and headings said in words.
//!
//! A direction is a unit vector: x east, y north, z up. A zero vector is none.
use super::fault::{Fault, MeasureError};
use super::length::whole;
use super::{Lengths, Say};
use crate::text::clip;
use crate::text::nearest;
use glam::DVec3;
use std::ops::Range;

/// The six words and their unit vectors.
pub const DIRECTIONS: [(&str, DVec3); 6] = [
    ("east", DVec3::X),
    ("west", DVec3::NEG_X),
    ("north", DVec3::Y),
    ("south", DVec3::NEG_Y),
    ("up", DVec3::Z),
    ("down", DVec3::NEG_Z),
];

/// Angles nearer than this to a round one are said as the round one; a tenth of what is printed.
const SAID_DEG: f64 = 0.05;

/// One of the six words as a unit vector, whatever its case.
pub fn read_direction(text: &str) -> Result<DVec3, MeasureError> {
    let word = text.trim();
    let found = DIRECTIONS.iter().find(|(name, _)| name.eq_ignore_ascii_case(word));
    found.map(|(_, vector)| *vector).ok_or_else(|| {
        let nearest = nearest(word, DIRECTIONS.map(|(name, _)| name));
        MeasureError { at: whole(text), fault: Fault::UnknownDirection { word: clip(word), nearest } }
    })
}

/// A mix of directions, scaled to a unit vector: the sum of each word's vector times its weight.
///
/// Errors where the weights cancel out, as in `{north: 1, south: 1}`; the span is left empty.
pub fn mix(parts: &[(DVec3, f64)]) -> Result<DVec3, MeasureError> {
    let sum: DVec3 = parts.iter().map(|(vector, weight)| *vector * *weight).sum();
    sum.try_normalize().ok_or(MeasureError { at: 0..0, fault: Fault::NoDirection })
}

/// The words of a mix as written: `3 north, 4 up`.
pub fn direction_words(parts: &[(&str, f64)]) -> String {
    let words: Vec<String> = parts.iter().map(|(name, weight)| format!("{weight} {name}")).collect();
    words.join(", ")
}

/// Splits `90 west` or `22 1/2 deg south` into the bytes of its angle and of its direction.
pub fn split_turn(text: &str) -> Result<(Range<usize>, Range<usize>), MeasureError> {
    let all = whole(text);
    let half = || MeasureError { at: all.clone(), fault: Fault::HalfTurn { found: clip(text.trim()) } };
    let body = &text[all.clone()];
    let (angle, word) = body.rsplit_once(char::is_whitespace).ok_or_else(half)?;
    if !word.starts_with(char::is_alphabetic) || word.eq_ignore_ascii_case("deg") {
        return Err(half());
    }
    let angle = angle.trim_end();
    Ok((all.start..all.start + angle.len(), all.end - word.len()..all.end))
}

/// A heading in words: `west`, `north-east` at the exact eighths, `up`, `down`, and otherwise the
/// nearest of the four with the angle from it and the slope: `north 20° east`, `west, 30° up`.
///
/// A vector of no length or not finite is `no heading`.
///
/// ```
/// use glam::DVec3;
/// use longsweep::measure::heading_words;
/// assert_eq!(heading_words(DVec3::NEG_X), "west");
/// assert_eq!(heading_words(DVec3::new(1.0, 1.0, 0.0)), "north-east");
/// assert_eq!(heading_words(DVec3::new(-0.75_f64.sqrt(), 0.0, 0.5)), "west, 30° up");
/// ```
pub fn heading_words(heading: DVec3) -> String {
    let Some(unit) = heading.try_normalize() else {
        return "no heading".into();
    };
    let level = unit.truncate();
    let slope_deg = unit.z.atan2(level.length()).to_degrees();
    if slope_deg.abs() > 90.0 - SAID_DEG {
        return if slope_deg > 0.0 { "up" } else { "down" }.into();
    }
    let compass = compass_words(level.x.atan2(level.y).to_degrees().rem_euclid(360.0));
    if slope_deg.abs() <= SAID_DEG {
        return compass;
    }
    let way = if slope_deg > 0.0 { "up" } else { "down" };
    format!("{compass}, {} {way}", angle(slope_deg.abs()))
}

/// A bearing (degrees from north toward east) in words.
fn compass_words(bearing_deg: f64) -> String {
    const EIGHTHS: [&str; 8] =
        ["north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"];
    let eighth = (bearing_deg / 45.0).round();
    if (bearing_deg - eighth * 45.0).abs() <= SAID_DEG {
        return EIGHTHS[eighth as usize % 8].into();
    }
    let quarter = (bearing_deg / 90.0).round();
    let off_deg = bearing_deg - quarter * 90.0;
    let near = quarter as usize * 2;
    let toward = if off_deg > 0.0 { near + 2 } else { near + 6 };
    format!("{} {} {}", EIGHTHS[near % 8], angle(off_deg.abs()), EIGHTHS[toward % 8])
}

/// An angle as everywhere; the units of length do not matter to it.
fn angle(angle_deg: f64) -> String {
    let say = Say { lengths: Lengths::FtIn };
    say.angle(angle_deg)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// A heading from a bearing and a slope, in degrees.
    fn toward(bearing_deg: f64, slope_deg: f64) -> DVec3 {
        let (b, s) = (bearing_deg.to_radians(), slope_deg.to_radians());
        DVec3::new(b.sin() * s.cos(), b.cos() * s.cos(), s.sin())
    }

    #[test]
    fn says_headings() {
        for (bearing, slope, words) in [
            (0.0, 0.0, "north"),
            (315.0, 0.0, "north-west"),
            (225.0, 0.0, "south-west"),
            (20.0, 0.0, "north 20° east"),
            (70.0, 0.0, "east 20° north"),
            (350.0, 0.0, "north 10° west"),
            (200.0, 0.0, "south 20° west"),
            (270.0, 30.0, "west, 30° up"),
            (45.0, -22.5, "north-east, 22-1/2° down"),
            (0.0, -90.0, "down"),
            (10.0, 90.0, "up"),
            (359.99, 0.0, "north"),
            (110.0, 45.0, "east 20° south, 45° up"),
        ] {
            assert_eq!(heading_words(toward(bearing, slope)), words);
        }
        assert_eq!(heading_words(DVec3::ZERO), "no heading");
        assert_eq!(heading_words(DVec3::NAN), "no heading");
    }

    #[test]
    fn recovers_every_word() {
        for (word, vector) in DIRECTIONS {
            assert_eq!(heading_words(read_direction(word).unwrap()), word);
            assert_eq!(read_direction(&format!(" {} ", word.to_uppercase())), Ok(vector));
        }
    }

    #[test]
    fn refuses_what_is_no_direction() {
        let error = read_direction("nroth").unwrap_err();
        assert_eq!(error.to_string(), "`nroth` is not a direction");
        assert_eq!(error.fault.help().as_deref(), Some("write `north`"));
        assert!(
            read_direction("left").unwrap_err().fault.help().unwrap().starts_with("say it by the compass")
        );
        assert!(mix(&[(DVec3::X, 2.0), (DVec3::NEG_X, 2.0)]).is_err());
        let mixed = mix(&[(DVec3::Y, 3.0), (DVec3::Z, 4.0)]).unwrap();
        assert!((mixed - DVec3::new(0.0, 0.6, 0.8)).length() < 1e-15); // one rounding
    }

    #[test]
    fn splits_turns() {
        assert_eq!(split_turn("90 west").unwrap(), (0..2, 3..7));
        assert_eq!(split_turn(" 22 1/2 deg  up ").unwrap(), (1..11, 13..15));
        for text in ["90", "west", "90 deg", ""] {
            assert!(split_turn(text).is_err(), "{text}");
        }
    }

    proptest! {
        #[test]
        fn never_panics(text in ".*", x in any::<f64>(), y in any::<f64>(), z in any::<f64>()) {
            let _ = (read_direction(&text), split_turn(&text), heading_words(DVec3::new(x, y, z)));
        }
    }
}

//! Numbers as a drawing writes them, in few letters and without the library's way round by floating point.
use crate::measure::push_whole;

/// A drawing is some metres wide at most; what lies farther off, or nowhere, is told before it is shown.
const FARTHEST: f64 = 1e12;

/// Whole hundredths of a millimetre.
pub fn hundredths(mm: f64) -> i64 {
    (mm * 100.0).round().clamp(-FARTHEST, FARTHEST) as i64
}

/// Writes a length to a hundredth of a millimetre in the fewest letters: `.5`, `-1.25`, `3`.
pub fn push_short(out: &mut String, mm: f64) {
    push_hundredths(out, hundredths(mm));
}

/// Writes whole hundredths of a millimetre as millimetres, without needless noughts.
pub fn push_hundredths(out: &mut String, hundredths: i64) {
    if hundredths < 0 {
        out.push('-');
    }
    let (whole, part) = (hundredths.unsigned_abs() / 100, hundredths.unsigned_abs() % 100);
    if whole > 0 || part == 0 {
        push_whole(out, whole);
    }
    push_part(out, part, 10);
}

/// How many letters [`push_hundredths`] writes.
pub fn letters(hundredths: i64) -> usize {
    let (whole, part) = (hundredths.unsigned_abs() / 100, hundredths.unsigned_abs() % 100);
    let before = match whole {
        0 => usize::from(part == 0),
        1..10 => 1,
        10..100 => 2,
        100..1000 => 3,
        whole => whole.ilog10() as usize + 1,
    };
    let behind = match part {
        0 => 0,
        part if part.is_multiple_of(10) => 2,
        _ => 3,
    };
    before + behind + usize::from(hundredths < 0)
}

/// Writes a number to a thousandth, without needless noughts: `0.5`, `-1.125`, `3`.
pub fn push_number(out: &mut String, x: f64) {
    push_parts(out, x, 1000);
}

/// The same to a ten-thousandth, as words; what is no number, or larger than any figure of a house, as it is.
pub fn fine(x: f64) -> String {
    if x.is_nan() || x.abs() > 1e9 {
        return x.to_string();
    }
    let mut out = String::with_capacity(12);
    push_parts(&mut out, x, 10_000);
    out
}

/// Writes a number as whole parts of one, so many to one.
fn push_parts(out: &mut String, x: f64, to_one: u32) {
    let parts = (x * f64::from(to_one)).round() as i64;
    let to_one = u64::from(to_one);
    if parts < 0 {
        out.push('-');
    }
    push_whole(out, parts.unsigned_abs() / to_one);
    push_part(out, parts.unsigned_abs() % to_one, to_one / 10);
}

/// The point and what stands behind it; `place` is what its first digit counts.
fn push_part(out: &mut String, mut part: u64, mut place: u64) {
    if part > 0 {
        out.push('.');
    }
    while part > 0 {
        push_digit(out, part / place);
        (part, place) = (part % place, place / 10);
    }
}

fn push_digit(out: &mut String, digit: u64) {
    out.push(char::from(b'0' + digit as u8));
}

#[cfg(test)]
mod tests {
    use super::*;

    fn short(mm: f64) -> String {
        let mut out = String::new();
        push_short(&mut out, mm);
        out
    }

    fn number(x: f64) -> String {
        let mut out = String::new();
        push_number(&mut out, x);
        out
    }

    #[test]
    fn writes_numbers_to_a_thousandth() {
        let told = [1.0, 0.12345, -0.00001, -0.5, 186.0, 12.3456, -89.07].map(number);
        assert_eq!(told, ["1", "0.123", "0", "-0.5", "186", "12.346", "-89.07"]);
        for k in (-3000..3000).chain([12_345, -9_990, 190_000, 1_000_001]) {
            let x = f64::from(k) / 1000.0;
            assert_eq!(number(x), format!("{}", x + 0.0));
            let tenth = f64::from(k) / 10_000.0;
            assert_eq!(fine(tenth), format!("{}", tenth + 0.0));
        }
        assert_eq!([0.00004, -3.25, f64::NAN].map(fine), ["0", "-3.25", "NaN"]);
    }

    #[test]
    fn writes_short_numbers() {
        let told = [0.0, -0.001, 0.05, -0.5, 12.0, 12.3, -12.345, 0.999].map(short);
        assert_eq!(told, ["0", "0", ".05", "-.5", "12", "12.3", "-12.35", "1"]);
    }

    #[test]
    fn agrees_with_the_shortest_digits_of_the_library() {
        for k in (-3000..3000).chain([12_345, -9_990, 19_000, 1_000_001]) {
            let x = f64::from(k) / 100.0;
            let wanted = format!("{}", x + 0.0);
            let wanted = match wanted.strip_prefix("-0.") {
                Some(part) => format!("-.{part}"),
                None => wanted.strip_prefix("0.").map_or(wanted.clone(), |part| format!(".{part}")),
            };
            assert_eq!(short(x), wanted);
            assert_eq!(letters(i64::from(k)), wanted.len());
        }
    }
}

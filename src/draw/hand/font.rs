//! Text is measured with the font it is set in, the embedded DejaVu Sans.
use std::sync::OnceLock;
use ttf_parser::Face;

/// Family named in every drawing; a reader without it falls back on a narrower face.
pub const FAMILY: &str = "DejaVu Sans, sans-serif";
/// Font size of ordinary text, mm. ISO 3098 counts the height of capitals; DejaVu's are 0.729 of its
/// size, so this gives capitals of 2.5 mm.
pub const SIZE_MM: f64 = 3.43;
/// Height of a line box over the baseline and below it, as parts of the size (the font's own ascender
/// and descender, which is also what a renderer reports as the box of a text).
pub const ASCENT: f64 = 0.928;
pub const DESCENT: f64 = 0.236;

/// Height of one line of text, mm.
pub fn line_height(size_mm: f64) -> f64 {
    (ASCENT + DESCENT) * size_mm
}

/// From the middle of a line box down to its baseline, mm.
pub fn middle_to_baseline(size_mm: f64) -> f64 {
    (ASCENT - DESCENT) / 2.0 * size_mm
}

/// Width of words as set without kerning, mm.
pub fn width(words: &str, size_mm: f64, bold: bool) -> f64 {
    advanced(0.0, words, bold) * size_mm
}

/// The advance of words that follow others, as a part of the size, both together.
fn advanced(before: f64, words: &str, bold: bool) -> f64 {
    words.chars().fold(before, |sum, c| sum + advance(c, bold))
}

/// Advance of a character as a part of the size; the common ones are looked up once.
fn advance(c: char, bold: bool) -> f64 {
    static COMMON: OnceLock<[Vec<f64>; 2]> = OnceLock::new();
    let common =
        COMMON.get_or_init(|| [false, true].map(|b| ('\u{0}'..='\u{ff}').map(|c| measured(c, b)).collect()));
    match common[usize::from(bold)].get(c as usize) {
        Some(part) => *part,
        None => measured(c, bold),
    }
}

/// Advance of a character from the font; one that it lacks is as wide as its empty box.
fn measured(c: char, bold: bool) -> f64 {
    let Some(face) = face(bold) else { return 1.0 };
    let glyph = face.glyph_index(c).unwrap_or(ttf_parser::GlyphId(0));
    f64::from(face.glyph_hor_advance(glyph).unwrap_or(0)) / f64::from(face.units_per_em())
}

/// Words broken into lines not wider than `room_mm`, where their spaces allow it.
pub fn wrapped(words: &str, size_mm: f64, room_mm: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let mut so_far = 0.0;
    for word in words.split_whitespace() {
        let longer = advanced(advanced(so_far, " ", false), word, false);
        match lines.last_mut() {
            Some(line) if longer * size_mm <= room_mm => {
                line.push(' ');
                line.push_str(word);
                so_far = longer;
            }
            _ => {
                lines.push(word.to_string());
                so_far = advanced(0.0, word, false);
            }
        }
    }
    lines
}

/// The embedded face, read once.
fn face(bold: bool) -> Option<&'static Face<'static>> {
    static FACES: OnceLock<[Option<Face<'static>>; 2]> = OnceLock::new();
    let faces = FACES.get_or_init(|| {
        [dejavu::sans::regular(), dejavu::sans::bold()].map(|bytes| Face::parse(bytes, 0).ok())
    });
    faces[usize::from(bold)].as_ref()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn capitals_are_two_and_a_half_millimetres_high() {
        let face = face(false).expect("the font is embedded");
        let letter =
            face.glyph_index('H').and_then(|glyph| face.glyph_bounding_box(glyph)).expect("it has an H");
        let capital = f64::from(letter.y_max) / f64::from(face.units_per_em());
        assert!((capital * SIZE_MM - 2.5).abs() < 0.01, "capital height {capital} of the size");
    }

    #[test]
    fn grows_with_every_letter() {
        assert!(width("MM", SIZE_MM, false) > width("M", SIZE_MM, false));
        assert!(width("M", SIZE_MM, true) > width("M", SIZE_MM, false));
    }

    #[test]
    fn wraps_at_spaces() {
        assert_eq!(wrapped("one two three", SIZE_MM, 16.0), ["one two", "three"]);
    }
}

//! Paper: how much of it a sheet has, and how much words take, so that a packet is split into printed
//! pages before it is laid out and every one of them has its own title block.
use crate::company::Paper;
use crate::draw;

/// Margin over and under the frame of a sheet, mm; home printers leave a quarter inch (6.35 mm) blank.
pub const EDGE_MM: f64 = 7.0;
/// Between the frame and what stands in it, mm.
const PAD_MM: f64 = 3.0;
/// One point, mm (a seventy-second of an inch).
pub const POINT_MM: f64 = 25.4 / 72.0;
/// Height of a line of words as a part of their size; the style sets the same.
pub const LINE: f64 = 1.25;

/// Margin beside the frame, mm: a drawing is 186 mm wide at most, so the margins leave it room on either
/// paper.
pub fn side_mm(paper: Paper) -> f64 {
    match paper {
        Paper::Letter => 9.0,
        Paper::A4 => 6.5,
    }
}

/// Height of the frame, mm.
pub fn height_mm(paper: Paper) -> f64 {
    paper.size_mm().1 - 2.0 * EDGE_MM
}

/// Width within the frame, mm.
pub fn width_mm(paper: Paper) -> f64 {
    paper.size_mm().0 - 2.0 * (side_mm(paper) + PAD_MM) - 1.0
}

/// Height of the title block at the foot, of a title, of the line under it, of the bar of a sheet that may
/// not be built by, and what is kept free at the end, mm.
const BLOCK_MM: f64 = 14.6;
const TITLE_MM: f64 = 8.8;
const UNDER_TITLE_MM: f64 = 5.0;
const BAR_MM: f64 = 7.5;
const SPARE_MM: f64 = 4.0;

/// Height that a sheet has for its body, mm; `barred` where a bar stands over it, `told` where a line stands
/// under its title.
pub fn body_mm(paper: Paper, barred: bool, told: bool) -> f64 {
    let head_mm = TITLE_MM + if told { UNDER_TITLE_MM } else { 0.0 } + if barred { BAR_MM } else { 0.0 };
    height_mm(paper) - BLOCK_MM - head_mm - SPARE_MM
}

/// How many lines words take in a column.
///
/// Arguments: the words; `size_pt` their size, points; `room_mm` the column's width, millimetres. Measured
/// in the wide face that drawings are set in, so that a narrower one takes no more. At least one line.
pub fn lines(words: &str, size_pt: f64, room_mm: f64) -> usize {
    draw::wrapped(words, size_pt * POINT_MM, room_mm).len().max(1)
}

/// Height of words in a column, mm; arguments as of [`lines`].
pub fn words_mm(words: &str, size_pt: f64, room_mm: f64) -> f64 {
    lines(words, size_pt, room_mm) as f64 * size_pt * POINT_MM * LINE
}

/// Width and height in mm that a drawing names; nothing where it names none.
pub fn svg_mm(svg: &str) -> (f64, f64) {
    let named = |mark: &str| {
        let rest = svg.split_once(mark)?.1;
        rest.split_once("mm\"")?.0.parse::<f64>().ok()
    };
    (named(" width=\"").unwrap_or(0.0), named(" height=\"").unwrap_or(0.0))
}

/// Splits rows into groups, each at most `room_mm` high, as few as will do and about equally high, so
/// that no sheet is left nearly empty. The first group has `less_mm` less room. A row is never split; one
/// that is higher than the room stands alone.
pub fn pages(heights_mm: &[f64], room_mm: f64, less_mm: f64) -> Vec<std::ops::Range<usize>> {
    let full = filled(heights_mm, room_mm, less_mm);
    let count = full.len();
    // Fill every sheet only as far as it takes, by halving the room between what is needed and what is there.
    let (mut low, mut high) = (0.0, room_mm);
    for _ in 0..20 {
        let middle = (low + high) / 2.0;
        if filled(heights_mm, middle, less_mm).len() <= count { high = middle } else { low = middle }
    }
    filled(heights_mm, high, less_mm)
}

/// Rows taken one after the other while there is room.
fn filled(heights_mm: &[f64], room_mm: f64, less_mm: f64) -> Vec<std::ops::Range<usize>> {
    let mut groups = Vec::new();
    let (mut start, mut left_mm) = (0, room_mm - less_mm);
    for (i, height_mm) in heights_mm.iter().enumerate() {
        if *height_mm > left_mm && i > start {
            groups.push(start..i);
            (start, left_mm) = (i, room_mm);
        }
        left_mm -= height_mm;
    }
    groups.push(start..heights_mm.len());
    groups
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_are_shared_out_evenly_and_none_is_lost() {
        let groups = pages(&[10.0; 12], 100.0, 0.0);
        assert_eq!(groups, [0..6, 6..12]);
        assert_eq!(pages(&[10.0; 10], 100.0, 0.0).as_slice(), std::slice::from_ref(&(0..10)));
        assert_eq!(pages(&[10.0; 10], 100.0, 5.0).len(), 2);
        assert_eq!(pages(&[300.0, 10.0], 100.0, 0.0), [0..1, 1..2]);
        assert_eq!(pages(&[], 100.0, 0.0).as_slice(), std::slice::from_ref(&(0..0)));
    }

    #[test]
    fn a_drawing_as_wide_as_any_fits_both_papers() {
        assert!(width_mm(Paper::Letter) >= 186.0 && width_mm(Paper::A4) >= 186.0);
    }

    #[test]
    fn grows_with_words() {
        assert_eq!(lines("one", 10.0, 50.0), 1);
        assert!(lines("one two three four five six seven eight", 10.0, 20.0) > 3);
    }
}

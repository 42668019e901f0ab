//! Where words cannot stand, by small squares of paper: a quick no before what is there is looked at one by one.
use crate::draw::hand::geo::{Quad, V2};
use std::cell::Cell;
use std::ops::Range;

/// Squares to a millimetre; words are some four high.
const PER_MM: f64 = 2.0;
/// What lies this far inside of a square or a box counts as inside, in squares: no rounding turns touching into
/// meeting.
const INSIDE: f64 = 2e-6;

/// Squares of a sheet in which part of something lies that bears no words on it.
#[derive(Debug, Clone)]
pub struct Covered {
    corner: V2,
    /// Squares in a row, and rows.
    count: (usize, usize),
    /// A bit for each square, in columns of words: what lies over one another lies side by side here.
    columns: Vec<u64>,
    /// The square that was last found under a box, by its column and row: it often lies under the next one too.
    found: Cell<V2>,
}

impl Covered {
    /// A sheet with nothing on it.
    pub fn new(frame: &Quad) -> Covered {
        let size = (frame.max - frame.min) * PER_MM;
        let count = (size.x.ceil().max(1.0) as usize, size.y.ceil().max(1.0) as usize);
        let columns = vec![0; count.0.div_ceil(64) * count.1];
        Covered { corner: frame.min, count, columns, found: Cell::new(V2::MAX) }
    }

    /// Marks the squares in which part of a quadrilateral lies.
    pub fn take(&mut self, quad: &Quad) {
        let (low, high) = ((quad.min - self.corner) * PER_MM, (quad.max - self.corner) * PER_MM);
        let rows = touched(low.y, high.y, self.count.1);
        if quad.is_level() {
            let columns = touched(low.x, high.x, self.count.0);
            rows.for_each(|row| self.mark(row, columns.clone()));
            return;
        }
        let corner = |i: usize| (quad.corners[i % 4] - self.corner) * PER_MM;
        if corner(0).distance_squared(corner(1)) < 1.0 {
            // Of a thin stroke its middle line is enough.
            let middle = Side::new((corner(0) + corner(1)) / 2.0, (corner(2) + corner(3)) / 2.0);
            return self.take_thin(&middle, rows);
        }
        let sides: [Side; 4] = std::array::from_fn(|i| Side::new(corner(i), corner(i + 1)));
        for row in rows {
            let band = (row as f64 + INSIDE, row as f64 + 1.0 - INSIDE);
            let within = sides.iter().filter_map(|side| side.within(band));
            let (left, right) =
                within.fold((f64::MAX, f64::MIN), |(lo, hi), (a, b)| (lo.min(a).min(b), hi.max(a).max(b)));
            self.mark(row, touched(left, right, self.count.0));
        }
    }

    /// Marks the squares in which part of a line lies, which is in some rows.
    fn take_thin(&mut self, line: &Side, rows: Range<usize>) {
        for row in rows {
            let band = (row as f64 + INSIDE, row as f64 + 1.0 - INSIDE);
            if let Some((a, b)) = line.within(band) {
                self.mark(row, touched(a.min(b), a.max(b), self.count.0));
            }
        }
    }

    /// Marks squares of a row.
    fn mark(&mut self, row: usize, columns: Range<usize>) {
        if !columns.is_empty() {
            let high = self.count.1;
            masks(columns).for_each(|(word, mask)| self.columns[word * high + row] |= mask);
        }
    }

    /// Whether a marked square lies wholly within an upright rectangle, which then meets what was marked.
    #[inline]
    pub fn meets(&self, min: V2, max: V2) -> bool {
        let (low, high) = ((min - self.corner) * PER_MM, (max - self.corner) * PER_MM);
        let (at, end) = (self.found.get(), high - V2::ONE);
        let still = (low.x <= at.x) & (at.x <= end.x) & (low.y <= at.y) & (at.y <= end.y);
        still || self.finds(low, high)
    }

    /// Looks for a marked square within an upright rectangle, in squares.
    fn finds(&self, low: V2, high: V2) -> bool {
        let (columns, rows) = (held(low.x, high.x, self.count.0), held(low.y, high.y, self.count.1));
        if columns.is_empty() || rows.is_empty() {
            return false;
        }
        masks(columns).any(|(word, mask)| {
            let first = word * self.count.1;
            let under = &self.columns[first + rows.start..first + rows.end];
            let marked = under.iter().position(|bits| bits & mask != 0);
            if let Some(nth) = marked {
                let column = (word * 64) as u32 + (under[nth] & mask).trailing_zeros();
                self.found.set(V2::new(f64::from(column), (rows.start + nth) as f64));
            }
            marked.is_some()
        })
    }
}

/// A side of a quadrilateral, from its upper end to its lower, in squares.
struct Side {
    from: V2,
    to: V2,
    /// Along the row for each row down; nought for a level side.
    slope: f64,
}

impl Side {
    fn new(a: V2, b: V2) -> Side {
        let (from, to) = if a.y <= b.y { (a, b) } else { (b, a) };
        let down = to.y - from.y;
        Side { from, to, slope: if down > 1e-9 { (to.x - from.x) / down } else { 0.0 } }
    }

    /// Where along the row its part between two heights begins and ends.
    fn within(&self, (top, bottom): (f64, f64)) -> Option<(f64, f64)> {
        let (from, to) = (self.from, self.to);
        if to.y < top || from.y > bottom {
            return None;
        }
        let a = if from.y < top { from.x + (top - from.y) * self.slope } else { from.x };
        let b = if to.y > bottom { from.x + (bottom - from.y) * self.slope } else { to.x };
        Some((a, b))
    }
}

/// The squares of `count` in which part of a stretch lies.
#[inline]
fn touched(low: f64, high: f64, count: usize) -> Range<usize> {
    let (low, high) = ((low + INSIDE).max(0.0), (high - INSIDE).min(count as f64));
    if low < high { low as usize..rounded_up(high) } else { 0..0 }
}

/// The squares of `count` that lie wholly in a stretch; one at its beginning or end may be left out.
#[inline]
fn held(low: f64, high: f64, count: usize) -> Range<usize> {
    nearest(low + (0.5 + INSIDE))..nearest(high - (0.5 + INSIDE)).min(count)
}

/// The whole number nearest to one, nought for what lies below it.
#[inline]
fn nearest(x: f64) -> usize {
    // Added to so large a number, of which a double holds no parts, the last bits are the whole number.
    const LARGE: f64 = (1_u64 << 52) as f64;
    let held = x.max(0.0) + LARGE;
    (held.to_bits() as u32) as usize
}

/// The next whole number that is not less than one that is not below nought.
#[inline]
fn rounded_up(x: f64) -> usize {
    let whole = x as u32;
    whole as usize + usize::from(f64::from(whole) < x)
}

/// The words of a row that hold some of its squares, which are not none, each with the bits of those.
#[inline]
fn masks(columns: Range<usize>) -> impl Iterator<Item = (usize, u64)> {
    let (first, last) = (columns.start / 64, (columns.end - 1) / 64);
    (first..=last).map(move |word| {
        let from = if word == first { columns.start % 64 } else { 0 };
        let to = if word == last { (columns.end - 1) % 64 } else { 63 };
        (word, (u64::MAX << from) & (u64::MAX >> (63 - to)))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::draw::hand::geo::v2;
    use proptest::prelude::*;

    fn point() -> impl Strategy<Value = V2> {
        (-10.0..210.0f64, -10.0..110.0f64).prop_map(|(x, y)| v2(x, y))
    }

    proptest! {
        #[test]
        fn what_is_covered_is_met_by_the_exact_rule_too(
            a in point(), b in point(), half in 0.1..2.0f64, at in point(), wide in 1.0..70.0f64, high in 1.0..9.0f64,
        ) {
            let mut covered = Covered::new(&Quad::rect(v2(0.5, 0.0), v2(185.5, 90.0)));
            let stroke = Quad::stroke(a, b, half);
            covered.take(&stroke);
            let words = Quad::about(at, v2(wide, high));
            let told = covered.meets(words.min, words.max);
            prop_assert!(!told || words.meets(&stroke));
            prop_assert_eq!(covered.meets(words.min, words.max), told);
        }
    }

    proptest! {
        #[test]
        fn a_box_over_the_middle_of_a_stroke_is_told(
            a in point(), b in point(), half in 0.1..2.0f64, t in 0.0..1.0f64,
        ) {
            let frame = Quad::rect(v2(0.5, 0.0), v2(185.5, 90.0));
            let mut covered = Covered::new(&frame);
            covered.take(&Quad::stroke(a, b, half));
            let words = Quad::about(a.lerp(b, t), v2(3.0, 3.0));
            prop_assert!(covered.meets(words.min, words.max) || !words.inside(&frame));
        }
    }

    #[test]
    fn a_box_over_a_stroke_is_told() {
        let mut covered = Covered::new(&Quad::rect(v2(0.5, 0.0), v2(185.5, 90.0)));
        covered.take(&Quad::stroke(v2(10.0, 20.0), v2(150.0, 24.0), 0.15));
        assert!(covered.meets(v2(60.0, 18.0), v2(90.0, 26.0)));
        assert!(!covered.meets(v2(60.0, 28.0), v2(90.0, 32.0)));
    }
}

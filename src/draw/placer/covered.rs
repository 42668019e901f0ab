//! Where words cannot stand, by small squares of paper: a quick no before what is there is looked at one by one.
use crate::draw::hand::geo::{Quad, V2};

/// Side of a square, mm; words are some four high.
const SQUARE_MM: f64 = 1.0;
/// From point to point along and across what is marked, mm.
const POINT_MM: f64 = 0.7;
/// So many points are marked for one thing at most; a sheet's whole area takes as many.
const MOST_POINTS: f64 = 200_000.0;
/// A square counts as under a box when it lies this far inside of it, mm: no rounding turns touching into meeting.
const INSIDE_MM: f64 = 1e-6;

/// Squares of a sheet in which a point of something lies that bears no words on it.
#[derive(Debug, Clone)]
pub struct Covered {
    corner: V2,
    /// Squares in a row, and rows.
    count: (usize, usize),
    /// A bit for each square, each row in words of its own.
    rows: Vec<u64>,
    words_in_a_row: usize,
}

impl Covered {
    /// A sheet with nothing on it.
    pub fn new(frame: &Quad) -> Covered {
        let size = (frame.max - frame.min) / SQUARE_MM;
        let count = (size.x.ceil().max(1.0) as usize, size.y.ceil().max(1.0) as usize);
        let words_in_a_row = count.0.div_ceil(64);
        Covered { corner: frame.min, count, rows: vec![0; words_in_a_row * count.1], words_in_a_row }
    }

    /// Marks the squares in which points well inside of a quadrilateral lie.
    pub fn take(&mut self, quad: &Quad) {
        let [a, b, _, d] = quad.corners;
        let (across, along) = (b - a, d - a);
        let steps = |way: V2| (way.length() / POINT_MM).ceil().max(1.0);
        let (wide, long) = (steps(across), steps(along));
        // What is far larger than paper is left to the exact rule.
        if wide * long > MOST_POINTS {
            return;
        }
        for i in 0..long as usize {
            for j in 0..wide as usize {
                self.mark(a + along * ((i as f64 + 0.5) / long) + across * ((j as f64 + 0.5) / wide));
            }
        }
    }

    fn mark(&mut self, point: V2) {
        let at = (point - self.corner) / SQUARE_MM;
        let inside = at.x >= 0.0 && at.y >= 0.0 && at.x < self.count.0 as f64 && at.y < self.count.1 as f64;
        if inside {
            let (column, row) = (at.x as usize, at.y as usize);
            self.rows[row * self.words_in_a_row + column / 64] |= 1 << (column % 64);
        }
    }

    /// Whether a marked square lies wholly within an upright rectangle, which then meets what was marked.
    pub fn meets(&self, rect: &Quad) -> bool {
        let (low, high) = ((rect.min - self.corner) / SQUARE_MM, (rect.max - self.corner) / SQUARE_MM);
        let span = |low: f64, high: f64, count: usize| {
            let first = (low + INSIDE_MM).ceil().max(0.0) as usize;
            (first, ((high - INSIDE_MM).floor().max(0.0) as usize).min(count))
        };
        let (columns, rows) = (span(low.x, high.x, self.count.0), span(low.y, high.y, self.count.1));
        if columns.0 >= columns.1 {
            return false;
        }
        let (first, last) = (columns.0 / 64, (columns.1 - 1) / 64);
        (rows.0..rows.1).any(|row| {
            (first..=last).any(|word| {
                let from = if word == first { columns.0 % 64 } else { 0 };
                let to = if word == last { (columns.1 - 1) % 64 } else { 63 };
                let mask = (u64::MAX << from) & (u64::MAX >> (63 - to));
                self.rows[row * self.words_in_a_row + word] & mask != 0
            })
        })
    }
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
            prop_assert!(!covered.meets(&words) || words.meets(&stroke));
        }
    }

    #[test]
    fn a_box_over_a_stroke_is_told() {
        let mut covered = Covered::new(&Quad::rect(v2(0.5, 0.0), v2(185.5, 90.0)));
        covered.take(&Quad::stroke(v2(10.0, 20.0), v2(150.0, 24.0), 0.15));
        assert!(covered.meets(&Quad::rect(v2(60.0, 18.0), v2(90.0, 26.0))));
        assert!(!covered.meets(&Quad::rect(v2(60.0, 28.0), v2(90.0, 32.0))));
    }
}

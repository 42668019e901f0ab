//! Things on a line that are drawn larger than they are: couplings and members of the frame.
//!
//! What is not to scale must not seem to touch what it does not touch. So every box knows how far it
//! reaches in truth; it is drawn at its usual size where that leaves daylight to its neighbours on the leg,
//! else as much smaller as it must be.
use super::draft::Draft;

/// Daylight kept between two boxes that do not touch, from edge to edge of their strokes, mm.
const DAYLIGHT_MM: f64 = 0.3;
/// Width of the strokes round a box, mm.
const STROKE_MM: f64 = 0.25;
/// The least half of a box along the line, mm.
const LEAST_MM: f64 = 0.12;

/// A box on a leg.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reach {
    /// Middle, from the leg's start.
    pub at_m: f64,
    /// Half of what it takes up along the leg in truth.
    pub half_m: f64,
    /// Half of what it is usually drawn as, mm.
    pub usual_mm: f64,
}

impl Draft<'_> {
    /// Half of what each box of a leg is drawn as, mm, in their order. `mm_per_m` is the leg's on paper.
    pub fn drawn_halves(&self, leg: usize, boxes: &[Reach]) -> Vec<f64> {
        let Some(line) = self.drawn.legs.get(leg) else {
            return boxes.iter().map(|reach| reach.usual_mm).collect();
        };
        let mm_per_m = line.mm_per_m();
        boxes.iter().enumerate().map(|(i, own)| half(own, i, boxes, mm_per_m)).collect()
    }
}

/// Half of what one box is drawn as among the others.
fn half(own: &Reach, index: usize, all: &[Reach], mm_per_m: f64) -> f64 {
    let true_mm = own.half_m * mm_per_m;
    let mut half_mm = own.usual_mm.max(true_mm);
    for other in all.iter().enumerate().filter(|(i, _)| *i != index).map(|(_, other)| other) {
        let apart_m = (own.at_m - other.at_m).abs() - own.half_m - other.half_m;
        // Those that touch in truth are left to touch.
        if apart_m > 0.0 {
            half_mm = half_mm.min(true_mm + (apart_m * mm_per_m - STROKE_MM - DAYLIGHT_MM) / 2.0);
        }
    }
    half_mm.max(LEAST_MM)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::measure::INCH_M;

    /// A coupling of 2-3/8 in that clears a joist of 1-1/2 in by two inches, at 1:96.
    #[test]
    fn a_coupling_two_inches_off_a_joist_leaves_daylight() {
        let mm_per_m = 1000.0 / 96.0;
        let joist = Reach { at_m: 0.0, half_m: 0.75 * INCH_M, usual_mm: 0.5 };
        let sleeve = Reach { at_m: (0.75 + 2.0 + 1.1875) * INCH_M, half_m: 1.1875 * INCH_M, usual_mm: 0.6 };
        let all = [joist, sleeve];
        let drawn: f64 = all.iter().enumerate().map(|(i, own)| half(own, i, &all, mm_per_m)).sum();
        let gap_mm = (sleeve.at_m - joist.at_m) * mm_per_m - drawn - STROKE_MM;
        assert!(gap_mm >= DAYLIGHT_MM - 1e-9, "{gap_mm} mm of daylight");
    }

    #[test]
    fn alone_a_box_has_its_usual_size_or_its_true_one() {
        let small = Reach { at_m: 1.0, half_m: 0.01, usual_mm: 0.6 };
        assert_eq!(half(&small, 0, &[small], 10.0), 0.6);
        assert_eq!(half(&small, 0, &[small], 100.0), 1.0);
    }
}

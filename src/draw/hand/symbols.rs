//! Symbols of fixed size that stand for something too small to draw: riser, unit, north.
use super::geo::{Quad, V2, v2};
use super::scene::{Fill, Mark, Pen};
use super::text::{Align, Text};

/// Length of the north arrow, mm.
const ARROW_MM: f64 = 8.0;

/// A leg toward the viewer or away, in plan: a circle with a dot (rising) or a cross (falling), ISO 6412-1.
pub fn riser(mark: &mut Mark, at: V2, rising: bool) {
    let r = 1.8;
    mark.circle(at, r, Pen::Thick, Fill::White);
    if rising {
        mark.circle(at, 0.55, Pen::None, Fill::Black);
    } else {
        let d = r * std::f64::consts::FRAC_1_SQRT_2;
        mark.lines(&[(at - v2(d, d), at + v2(d, d)), (at + v2(-d, d), at + v2(d, -d))], Pen::Thin);
    }
}

/// The power unit: a circle in a square, in light line.
pub fn unit(mark: &mut Mark, at: V2) {
    mark.polygon(&Quad::about(at, v2(5.0, 5.0)).corners, Pen::Thin, Fill::White);
    mark.circle(at, 1.8, Pen::Thin, Fill::None);
}

/// A half-filled arrow with N at its head.
pub fn north_arrow(mark: &mut Mark, place: &Quad, north: V2) {
    let way = north.normalize_or(v2(0.0, -1.0));
    let middle = place.middle() + v2(0.0, 1.6);
    let (tail, head) = (middle - way * ARROW_MM / 2.0, middle + way * ARROW_MM / 2.0);
    let (side, neck) = (way.perp() * 1.5, tail + way * 1.5);
    mark.polygon(&[head, tail + side, neck], Pen::Thin, Fill::Black);
    mark.polygon(&[head, tail - side, neck], Pen::Thin, Fill::White);
    let x = head.x.clamp(place.min.x + 1.5, place.max.x - 1.5);
    mark.text(Text::plain(v2(x, head.y - 1.2), "N", Align::Middle).bold());
}

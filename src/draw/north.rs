//! The north arrow, and lines that pass under one another.
use super::geo::{Quad, V2, crossing, v2};
use super::labels::anywhere;
use super::scene::{Anchor, Fill, Mark, Pen, Text};
use super::view::View;

/// Length of the arrow, mm.
const ARROW_MM: f64 = 8.0;
/// What stays clear of a line that passes over, mm.
const CLEAR_MM: f64 = 1.1;

impl View<'_> {
    /// An arrow to the north with its letter, in a corner that is free; `north` is its way on paper.
    pub fn north_arrow(&mut self, north: V2) {
        let frame = self.board.frame;
        let wish = v2(frame.max.x, self.drawn.bounds().0.y.min(frame.middle().y) - 5.0);
        let Some(chosen) = self.board.place(anywhere(&frame, v2(9.0, 13.0), wish), f64::MAX) else {
            return;
        };
        let mut mark =
            Mark::new("north", "north").with("angle", format!("{:.0}", north.x.atan2(-north.y).to_degrees()));
        draw(&mut mark, &chosen.words, north);
        self.marks.push(mark);
    }

    /// Finds where straights cross on paper and breaks the farther one; `depths` are how near the ends
    /// of each leg are to the viewer, greater is nearer.
    pub fn find_under(&mut self, depths: &[(f64, f64)]) {
        let straights: Vec<_> = self.drawn.pieces.iter().filter(|piece| piece.bend.is_none()).collect();
        let mut under = Vec::new();
        for (i, a) in straights.iter().enumerate() {
            for b in straights.iter().skip(i + 1).filter(|b| b.leg > a.leg + 1) {
                let Some((s, t)) = crossing((a.curve[0], a.curve[3]), (b.curve[0], b.curve[3])) else {
                    continue;
                };
                let depth = |leg: usize, at: f64| depths[leg].0 + (depths[leg].1 - depths[leg].0) * at;
                let (far, near, at) = if depth(a.leg, s) < depth(b.leg, t) { (a, b, s) } else { (b, a, t) };
                let span = far.to_m - far.from_m;
                let long = far.curve[0].distance(far.curve[3]).max(1e-6);
                let (u, v) = (
                    (far.curve[3] - far.curve[0]) / long,
                    (near.curve[3] - near.curve[0]).normalize_or_zero(),
                );
                let slant = u.perp_dot(v).abs().max(0.25);
                let half = (self.tube_half() + CLEAR_MM) / slant / long * span;
                let middle = far.from_m + span * at;
                under.push((middle - half, middle + half));
            }
        }
        self.under = under;
    }
}

/// A half-filled arrow with N at its head.
pub fn draw(mark: &mut Mark, place: &Quad, north: V2) {
    let way = north.normalize_or(v2(0.0, -1.0));
    let middle = place.middle() + v2(0.0, 1.6);
    let (tail, head) = (middle - way * ARROW_MM / 2.0, middle + way * ARROW_MM / 2.0);
    let (side, neck) = (way.perp() * 1.5, tail + way * 1.5);
    mark.polygon(&[head, tail + side, neck], Pen::Thin, Fill::Black);
    mark.polygon(&[head, tail - side, neck], Pen::Thin, Fill::White);
    let x = head.x.clamp(place.min.x + 1.5, place.max.x - 1.5);
    mark.text(Text::plain(v2(x, head.y - 1.2), "N", Anchor::Middle).bold());
}

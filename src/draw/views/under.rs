//! Lines that pass under one another.
use super::draft::Draft;
use crate::draw::hand::geo::meeting;

/// What stays clear of a line that passes over, mm.
const CLEAR_MM: f64 = 1.1;

impl Draft<'_> {
    /// Finds where straights cross on paper and breaks the farther one; `depths` are how near the ends
    /// of each leg are to the viewer, greater is nearer.
    pub fn find_under(&mut self, depths: &[(f64, f64)]) {
        let straights: Vec<_> = self.drawn.pieces.iter().filter(|piece| piece.bend.is_none()).collect();
        let mut under = Vec::new();
        for (i, a) in straights.iter().enumerate() {
            for b in straights.iter().skip(i + 1).filter(|b| b.leg > a.leg + 1) {
                let Some((s, t)) = meeting((a.curve[0], a.curve[3]), (b.curve[0], b.curve[3])) else {
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

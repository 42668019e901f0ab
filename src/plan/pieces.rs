//! A sheet cut into trapezoids, which are convex and hold no corner of the floor inside: for every search
//! over its points.
use super::sheet::{Edge, SAME_M, Sheet};
use super::types::P2;

/// A convex piece of floor, counter-clockwise.
pub type Piece = Vec<P2>;

/// Cuts a sheet along the verticals through its corners.
pub fn pieces(sheet: &Sheet) -> Vec<Piece> {
    let mut xs: Vec<f64> = sheet.corners.iter().map(|c| c.x).collect();
    xs.sort_by(f64::total_cmp);
    xs.dedup_by(|b, a| *b - *a < SAME_M);
    let mut found = Vec::new();
    for pair in xs.windows(2) {
        let (x0, x1) = (pair[0], pair[1]);
        let middle = (x0 + x1) / 2.0;
        let mut crossing: Vec<(f64, &Edge)> = sheet
            .edges
            .iter()
            .filter(|e| (e.a.x <= middle) != (e.b.x <= middle))
            .map(|e| (height(e, middle), e))
            .collect();
        crossing.sort_by(|a, b| a.0.total_cmp(&b.0));
        for pair in crossing.chunks_exact(2) {
            let (low, high) = (pair[0].1, pair[1].1);
            let corner = |x: f64, e: &Edge| P2::new(x, height(e, x));
            let ring = vec![corner(x0, low), corner(x1, low), corner(x1, high), corner(x0, high)];
            found.push(tidy(ring));
        }
    }
    found.retain(|piece| piece.len() > 2);
    found
}

fn height(edge: &Edge, x: f64) -> f64 {
    let t = (x - edge.a.x) / (edge.b.x - edge.a.x);
    edge.a.y + (edge.b.y - edge.a.y) * t.clamp(0.0, 1.0)
}

/// Without points that stand twice.
fn tidy(mut ring: Piece) -> Piece {
    let mut kept = 0;
    for i in 0..ring.len() {
        let point = ring[i];
        if ring[..kept].iter().all(|k| k.distance_squared(point) > SAME_M * SAME_M) {
            ring[kept] = point;
            kept += 1;
        }
    }
    ring.truncate(kept);
    ring
}

/// The middle of a piece's corners, which lies in it.
pub fn middle(piece: &[P2]) -> P2 {
    piece.iter().copied().sum::<P2>() / piece.len().max(1) as f64
}

/// Halves a convex piece across its longer side.
pub fn halved(piece: &[P2]) -> [Piece; 2] {
    let fold = |f: fn(P2, P2) -> P2| piece.iter().copied().reduce(f).unwrap_or_default();
    let (low, high) = (fold(P2::min), fold(P2::max));
    let (size, middle) = (high - low, (low + high) / 2.0);
    let across = if size.x >= size.y { P2::X } else { P2::Y };
    let offset = across.dot(middle);
    [side(piece, across, offset), side(piece, -across, -offset)]
}

/// The part of a convex piece where `across · p <= offset`.
pub fn side(piece: &[P2], across: P2, offset: f64) -> Piece {
    let mut kept = Vec::with_capacity(piece.len() + 1);
    for (i, a) in piece.iter().enumerate() {
        let b = piece[(i + 1) % piece.len()];
        let (da, db) = (across.dot(*a) - offset, across.dot(b) - offset);
        if da <= 0.0 {
            kept.push(*a);
        }
        if (da < 0.0) != (db < 0.0) && da != 0.0 && db != 0.0 {
            kept.push(*a + (b - *a) * (da / (da - db)));
        }
    }
    tidy(kept)
}

/// Whether a segment runs through the inside of a convex piece.
pub fn runs_through(piece: &[P2], a: P2, b: P2) -> bool {
    let (mut t0, mut t1, along) = (0.0_f64, 1.0_f64, b - a);
    for (i, p) in piece.iter().enumerate() {
        let side = piece[(i + 1) % piece.len()] - *p;
        let unit = side.normalize_or_zero();
        // Positive inside; a segment along a side is not inside.
        let (from, by) = (unit.perp_dot(a - *p) - SAME_M, unit.perp_dot(along));
        if by.abs() < 1e-15 {
            if from <= 0.0 {
                return false;
            }
        } else if by > 0.0 {
            t0 = t0.max(-from / by);
        } else {
            t1 = t1.min(-from / by);
        }
    }
    t0 < t1
}

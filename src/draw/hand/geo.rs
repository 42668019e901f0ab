//! Small plane geometry on paper: millimetres, x to the right, y down the paper.
use glam::DVec2;

/// A point or a step on the paper, mm.
pub type V2 = DVec2;

/// Writes a point.
pub fn v2(x: f64, y: f64) -> V2 {
    V2::new(x, y)
}

/// A quadrilateral with opposite sides parallel, and its upright bounding box; what labels and lines take up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quad {
    pub corners: [V2; 4],
    pub min: V2,
    pub max: V2,
    /// Whether it is an upright rectangle, its own bounding box.
    upright: bool,
}

impl Quad {
    /// The quadrilateral through four corners, in order round it.
    pub fn new(corners: [V2; 4]) -> Quad {
        let fold = |f: fn(V2, V2) -> V2| corners[1..].iter().fold(corners[0], |a, b| f(a, *b));
        Quad { corners, min: fold(V2::min), max: fold(V2::max), upright: false }
    }

    /// An upright rectangle.
    #[inline]
    pub fn rect(min: V2, max: V2) -> Quad {
        Quad { corners: [min, v2(max.x, min.y), max, v2(min.x, max.y)], min, max, upright: true }
    }

    /// An upright rectangle about its middle.
    #[inline]
    pub fn about(middle: V2, size: V2) -> Quad {
        Quad::rect(middle - size / 2.0, middle + size / 2.0)
    }

    /// A straight line as wide as twice `half`, with square ends that reach `half` beyond.
    pub fn stroke(a: V2, b: V2, half: f64) -> Quad {
        let along = (b - a).try_normalize().unwrap_or(V2::X) * half;
        let side = along.perp();
        Quad::new([a - along - side, a - along + side, b + along + side, b + along - side])
    }

    /// Whether it is an upright rectangle.
    #[inline]
    pub fn is_upright(&self) -> bool {
        self.upright
    }

    /// Whether its sides run level and plumb, so that it fills its bounding box.
    pub fn is_level(&self) -> bool {
        let [a, b, c, _] = self.corners;
        self.upright || (a.y == b.y && b.x == c.x) || (a.x == b.x && b.y == c.y)
    }

    /// Grown along its first side and across it.
    pub fn grown(&self, along: f64, across: f64) -> Quad {
        if self.upright {
            return Quad::rect(self.min - v2(along, across), self.max + v2(along, across));
        }
        let c = &self.corners;
        let u = (c[1] - c[0]).try_normalize().unwrap_or(V2::X) * along;
        let v = (c[3] - c[0]).try_normalize().unwrap_or(V2::Y) * across;
        Quad::new([c[0] - u - v, c[1] + u - v, c[2] + u + v, c[3] - u + v])
    }

    /// Whether the bounding boxes share more than an edge.
    pub fn bounds_meet(&self, other: &Quad) -> bool {
        (self.max.x > other.min.x)
            & (other.max.x > self.min.x)
            & (self.max.y > other.min.y)
            & (other.max.y > self.min.y)
    }

    /// Whether two quadrilaterals share more than an edge (separating axes).
    pub fn meets(&self, other: &Quad) -> bool {
        self.bounds_meet(other) && self.overlaps(other)
    }

    /// Whether two quadrilaterals whose bounding boxes share more than an edge do so themselves.
    pub fn overlaps(&self, other: &Quad) -> bool {
        // The sides of an upright one are those of the bounding boxes.
        (self.upright || !other.is_beside(&self.strips()))
            && (other.upright || !self.is_beside(&other.strips()))
    }

    /// The middle.
    pub fn middle(&self) -> V2 {
        (self.corners[0] + self.corners[2]) / 2.0
    }

    /// Whether an upright frame holds it.
    pub fn inside(&self, frame: &Quad) -> bool {
        frame.holds(self.min, self.max)
    }

    /// Whether it holds, as an upright frame, what reaches from one corner to another.
    #[inline]
    pub fn holds(&self, min: V2, max: V2) -> bool {
        min.x >= self.min.x - 1e-9
            && min.y >= self.min.y - 1e-9
            && max.x <= self.max.x + 1e-9
            && max.y <= self.max.y + 1e-9
    }
}

/// The strip of paper between two opposite sides of a quadrilateral.
#[derive(Debug, Clone, Copy)]
pub struct Strip {
    across: V2,
    low: f64,
    high: f64,
}

impl Quad {
    /// The strips between its opposite sides; it is what they share.
    #[inline]
    pub fn strips(&self) -> [Strip; 2] {
        let c = &self.corners;
        [(c[0], c[1], c[2]), (c[1], c[2], c[3])].map(|(a, b, c)| {
            let across = (b - a).perp();
            let (low, high) = sorted(across.dot(a), across.dot(c));
            Strip { across, low, high }
        })
    }

    /// Whether it lies beside one of another's strips, or touches it at most.
    #[inline]
    pub fn is_beside(&self, strips: &[Strip; 2]) -> bool {
        strips.iter().any(|strip| {
            let [p, q, r, s] = self.corners.map(|corner| strip.across.dot(corner));
            let ((p, q), (r, s)) = (sorted(p, q), sorted(r, s));
            let (low, high) = (sorted(p, r).0, sorted(q, s).1);
            (strip.high <= low + 1e-9 || high <= strip.low + 1e-9) && strip.across.length_squared() > 1e-18
        })
    }
}

/// Two numbers, the lesser first.
fn sorted(a: f64, b: f64) -> (f64, f64) {
    (if a < b { a } else { b }, if a < b { b } else { a })
}

/// The crossing of two segments, as the fraction along each, when they cross.
pub fn meeting(a: (V2, V2), b: (V2, V2)) -> Option<(f64, f64)> {
    let (u, v, w) = (a.1 - a.0, b.1 - b.0, b.0 - a.0);
    let det = u.perp_dot(v);
    if det.abs() < 1e-12 {
        return None;
    }
    let (s, t) = (w.perp_dot(v) / det, w.perp_dot(u) / det);
    ((0.0..=1.0).contains(&s) && (0.0..=1.0).contains(&t)).then_some((s, t))
}

/// The part of a segment inside an upright frame.
pub fn clipped(a: V2, b: V2, frame: &Quad) -> Option<(V2, V2)> {
    let (mut t0, mut t1, d) = (0.0_f64, 1.0_f64, b - a);
    let sides = [
        (-d.x, a.x - frame.min.x),
        (d.x, frame.max.x - a.x),
        (-d.y, a.y - frame.min.y),
        (d.y, frame.max.y - a.y),
    ];
    for (p, q) in sides {
        if p.abs() < 1e-12 {
            if q < 0.0 {
                return None;
            }
        } else if p < 0.0 {
            t0 = t0.max(q / p);
        } else {
            t1 = t1.min(q / p);
        }
    }
    (t0 < t1).then(|| (a + d * t0, a + d * t1))
}

/// Hatch lines at 45 degrees across a polygon of any shape, `pitch` mm apart; the first lies on the grid of the
/// paper, so that neighbouring areas are hatched in step.
pub fn hatch(polygon: &[V2], pitch: f64, rising: bool) -> Vec<(V2, V2)> {
    let along = if rising { v2(1.0, -1.0) } else { v2(1.0, 1.0) }.normalize();
    let across = along.perp();
    let reach = polygon.iter().map(|p| across.dot(*p));
    let (lo, hi) = reach.fold((f64::MAX, f64::MIN), |(lo, hi), x| (lo.min(x), hi.max(x)));
    let first = (lo / pitch).ceil();
    let count = ((hi / pitch - first).ceil() + 1.0).max(0.0) as usize;
    // Where each hatch line goes in and out, by its number, side by side round the polygon.
    let mut cuts: Vec<(usize, V2)> = Vec::with_capacity(2 * count.min(MOST_LINES));
    for (i, a) in polygon.iter().enumerate() {
        let b = polygon[(i + 1) % polygon.len()];
        let (p, q) = sorted(across.dot(*a), across.dot(b));
        let from = (p / pitch - first).floor() - 1.0;
        for nth in from.max(0.0) as usize..count.min(MOST_LINES) {
            let offset = (first + nth as f64) * pitch;
            if offset > q || offset >= hi {
                break;
            }
            let (da, db) = (across.dot(*a) - offset, across.dot(b) - offset);
            if (da < 0.0) != (db < 0.0) {
                cuts.push((nth, *a + (b - *a) * (da / (da - db))));
            }
        }
    }
    // A line goes in and out by turns.
    cuts.sort_by(|p, q| p.0.cmp(&q.0).then_with(|| along.dot(p.1).total_cmp(&along.dot(q.1))));
    cuts.chunk_by(|p, q| p.0 == q.0).flat_map(chords).collect()
}

/// So many lines are hatched at most: a sheet's own height of them at the finest pitch.
const MOST_LINES: usize = 100_000;

/// The pieces of a line that lie inside, from where it goes in to where it goes out; those too short to see are
/// left out.
fn chords(cuts: &[(usize, V2)]) -> impl Iterator<Item = (V2, V2)> {
    let pairs = cuts.chunks_exact(2).map(|pair| (pair[0].1, pair[1].1));
    pairs.filter(|(a, b)| a.distance(*b) > 0.2)
}

/// A line without the points that lie no farther than `off_mm` from it without them; its ends stay.
pub fn simplified(points: &[V2], off_mm: f64) -> impl Iterator<Item = V2> {
    let mut kept = vec![false; points.len()];
    let mut parts = vec![(0, points.len().saturating_sub(1))];
    while let Some((first, last)) = parts.pop() {
        let (Some(a), Some(b)) = (points.get(first), points.get(last)) else { continue };
        (kept[first], kept[last]) = (true, true);
        let inner = (first + 1..last).map(|i| (i, off_segment_mm(points[i], *a, *b)));
        let farthest = inner.max_by(|p, q| p.1.total_cmp(&q.1));
        if let Some((i, mm)) = farthest
            && mm > off_mm
        {
            parts.extend([(first, i), (i, last)]);
        }
    }
    points.iter().zip(kept).filter(|(_, kept)| *kept).map(|(point, _)| *point)
}

/// How far a point lies from a segment, mm.
fn off_segment_mm(p: V2, a: V2, b: V2) -> f64 {
    let d = b - a;
    let t = ((p - a).dot(d) / d.length_squared().max(1e-18)).clamp(0.0, 1.0);
    p.distance(a + d * t)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn squares_that_share_an_edge_do_not_meet() {
        let a = Quad::rect(v2(0.0, 0.0), v2(1.0, 1.0));
        assert!(!a.meets(&Quad::rect(v2(1.0, 0.0), v2(2.0, 1.0))));
        assert!(a.meets(&Quad::rect(v2(0.9, 0.9), v2(2.0, 2.0))));
    }

    #[test]
    fn a_slanted_stroke_misses_a_box_inside_its_bounds() {
        let slanted = Quad::stroke(v2(0.0, 0.0), v2(10.0, 10.0), 0.1);
        assert!(!slanted.meets(&Quad::rect(v2(6.0, 1.0), v2(9.0, 4.0))));
        assert!(slanted.meets(&Quad::rect(v2(4.0, 4.0), v2(6.0, 6.0))));
    }

    #[test]
    fn clips_to_the_frame() {
        let frame = Quad::rect(v2(0.0, 0.0), v2(10.0, 10.0));
        let (a, b) = clipped(v2(-5.0, 5.0), v2(15.0, 5.0), &frame).expect("it crosses");
        assert!(a.distance(v2(0.0, 5.0)) < 1e-9 && b.distance(v2(10.0, 5.0)) < 1e-9);
        assert!(clipped(v2(-5.0, -5.0), v2(-1.0, 20.0), &frame).is_none());
    }

    #[test]
    fn hatch_stays_inside() {
        let square = [v2(0.0, 0.0), v2(4.0, 0.0), v2(4.0, 4.0), v2(0.0, 4.0)];
        let frame = Quad::rect(square[0], square[2]);
        let lines = hatch(&square, 1.0, true);
        assert!(lines.len() >= 4);
        assert!(lines.iter().all(|(a, b)| Quad::new([*a, *b, *b, *a]).inside(&frame)));
    }

    #[test]
    fn hatch_leaves_a_notch_open() {
        // A U: two arms, 1 wide, over a foot.
        let u = [(0, 0), (1, 0), (1, 4), (3, 4), (3, 0), (4, 0), (4, 5), (0, 5)];
        let u: Vec<V2> = u.iter().map(|(x, y)| v2(f64::from(*x), f64::from(*y))).collect();
        let lines = hatch(&u, 0.5, true);
        let in_notch = |p: V2| p.x > 1.0 && p.x < 3.0 && p.y < 4.0;
        assert!(lines.iter().all(|(a, b)| !in_notch(a.lerp(*b, 0.5))));
        assert!(lines.iter().any(|(a, _)| a.x < 1.0) && lines.iter().any(|(_, b)| b.x > 3.0));
    }

    #[test]
    fn a_simplified_line_stays_near() {
        let arc: Vec<V2> =
            (0..=400).map(|i| f64::from(i) / 400.0).map(|t| v2(100.0 * t, 20.0 * t * t)).collect();
        let fewer: Vec<V2> = simplified(&arc, 0.02).collect();
        assert!(fewer.len() < 60 && fewer.first() == arc.first() && fewer.last() == arc.last());
        let off = |p: &V2| {
            fewer.windows(2).map(|pair| off_segment_mm(*p, pair[0], pair[1])).fold(f64::MAX, f64::min)
        };
        assert!(arc.iter().all(|p| off(p) <= 0.02 + 1e-12));
        let corner = [v2(0.0, 0.0), v2(1.0, 0.0), v2(1.0, 1.0)];
        assert!(simplified(&corner, 0.02).eq(corner));
        assert_eq!(simplified(&[], 0.02).count(), 0);
    }
}

//! A sheet of floor that a hose can lie on: its edges, with the floor at their left, and the gates in
//! them through which it goes on to another sheet.
use super::shapes::Rings;
use super::sight::{WHOLE_TURN, turn_of};
use super::types::P2;

/// Nearer than this two points are one. House plans are taped to a sixteenth of an inch (1.6 mm); unions
/// are reckoned on a grid of some 1e-8 m.
pub const SAME_M: f64 = 1e-6;

/// An edge of a sheet, the floor at its left.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Edge {
    pub a: P2,
    pub b: P2,
    pub gate: Option<Gate>,
}

/// An edge that is no wall: what lies beyond is another sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gate {
    pub to: usize,
    /// What is at `p` here lies at `p + shift` there.
    pub shift: P2,
}

/// A flat piece of floor, or the slope of a stair laid flat.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    pub rings: Rings,
    pub edges: Vec<Edge>,
    /// Corners that a hose can lie round: where the floor takes up more than half a turn, and gates end.
    pub turns: Vec<P2>,
    /// Every end of an edge, once.
    pub corners: Vec<P2>,
}

/// A gate to be cut into the edges of a sheet.
#[derive(Debug, Clone, Copy)]
pub struct Opening {
    pub a: P2,
    pub b: P2,
    pub gate: Gate,
}

impl Sheet {
    /// The sheet inside rings, its edges split where openings begin and end.
    pub fn new(rings: Rings, openings: &[Opening]) -> Sheet {
        let mut edges = Vec::new();
        for ring in &rings {
            for (i, a) in ring.iter().enumerate() {
                split(*a, ring[(i + 1) % ring.len()], openings, &mut edges);
            }
        }
        let mut corners: Vec<P2> = Vec::new();
        for edge in &edges {
            if !corners.iter().any(|c| c.distance(edge.a) < SAME_M) {
                corners.push(edge.a);
            }
        }
        let mut sheet = Sheet { rings, edges, turns: Vec::new(), corners };
        let turns = sheet.corners.iter().copied().filter(|c| sheet.turns_at(*c));
        sheet.turns = turns.collect();
        sheet
    }

    /// Whether a shortest way may bend at a corner.
    fn turns_at(&self, corner: P2) -> bool {
        let before = self.edges.iter().filter(|e| e.b.distance(corner) < SAME_M);
        let after = || self.edges.iter().filter(|e| e.a.distance(corner) < SAME_M);
        let mut met = 0;
        for from in before {
            met += 1;
            for to in after() {
                let gate = from.gate.is_some() != to.gate.is_some();
                let turn = (from.b - from.a).normalize_or_zero().perp_dot((to.b - to.a).normalize_or_zero());
                if turn < -1e-9 || gate || met > 1 {
                    return true;
                }
            }
        }
        false
    }

    /// The edges that a point of the sheet lies on, seen from there.
    pub fn around(&self, point: P2) -> Around {
        let leaving = self.edges.iter().flat_map(|edge| edge.leaving(point));
        Around(leaving.map(|(toward, outgoing)| (turn_of(toward), outgoing)).collect())
    }

    /// Whether a point lies on the sheet, its edges included.
    pub fn holds(&self, point: P2) -> bool {
        let mut inside = false;
        for edge in &self.edges {
            if edge.distance(point) < SAME_M {
                return true;
            }
            if (edge.a.y > point.y) != (edge.b.y > point.y) {
                let x = edge.a.x + (point.y - edge.a.y) / (edge.b.y - edge.a.y) * (edge.b.x - edge.a.x);
                inside ^= point.x < x;
            }
        }
        inside
    }

    /// The point of the sheet nearest to one that may lie just off it.
    pub fn nearest(&self, point: P2) -> P2 {
        if self.holds(point) {
            return point;
        }
        let on = self.edges.iter().map(|edge| edge.nearest(point));
        on.min_by(|a, b| a.distance(point).total_cmp(&b.distance(point))).unwrap_or(point)
    }
}

/// A ray that leaves a point of an edge nearer to the edge than this, as [`turn_of`] counts, runs along it: a micron
/// off in 30 ft. Which side of it the ray takes is rounding, and past the edge's end it would be in the wall.
const ALONG: f64 = 1e-7;

/// Directions in which edges leave a point that lies on them, as [`turn_of`] counts, and whether they run that way.
pub struct Around(Vec<(f64, bool)>);

impl Around {
    /// Whether a ray sets out into the floor. A point inside sees all round; one on an edge or a corner sees
    /// what lies between its edges.
    pub fn open_toward(&self, direction: P2) -> bool {
        let ray = turn_of(direction);
        // How far counter-clockwise from this side of an edge the ray sets out.
        let turn = |edge: f64| if ray < edge { ray + WHOLE_TURN - edge } else { ray - edge };
        let along = |edge: f64| turn(edge).min(WHOLE_TURN - turn(edge)) < ALONG;
        let nearest = self.0.iter().min_by(|a, b| turn(a.0).total_cmp(&turn(b.0)));
        nearest.is_none_or(|(_, outgoing)| *outgoing) && !self.0.iter().any(|(edge, _)| along(*edge))
    }
}

impl Edge {
    /// Directions in which the edge leaves a point that lies on it, and whether it runs that way.
    fn leaving(&self, point: P2) -> impl Iterator<Item = (P2, bool)> {
        let on = self.distance(point) < SAME_M;
        let ahead = (on && self.b.distance(point) >= SAME_M).then(|| (self.b - self.a, true));
        let back = (on && self.a.distance(point) >= SAME_M).then(|| (self.a - self.b, false));
        ahead.into_iter().chain(back)
    }

    fn nearest(&self, point: P2) -> P2 {
        let along = self.b - self.a;
        let t = (point - self.a).dot(along) / along.length_squared();
        self.a + along * t.clamp(0.0, 1.0)
    }

    /// From a point to the nearest of the edge.
    pub fn distance(&self, point: P2) -> f64 {
        self.nearest(point).distance(point)
    }

    /// How far along a ray its line lies; `None` where they run alongside.
    pub fn line_at(&self, from: P2, direction: P2) -> Option<f64> {
        let along = self.b - self.a;
        let det = direction.perp_dot(along);
        (det.abs() > 1e-15).then(|| (self.a - from).perp_dot(along) / det)
    }

    /// How far along a ray the edge itself is met.
    pub fn met_at(&self, from: P2, direction: P2) -> Option<f64> {
        let along = self.b - self.a;
        let det = direction.perp_dot(along);
        if det.abs() < 1e-15 {
            return None;
        }
        let w = self.a - from;
        let u = w.perp_dot(direction) / det;
        (0.0..=1.0).contains(&u).then(|| w.perp_dot(along) / det)
    }
}

/// Cuts an edge where openings in it begin and end.
fn split(a: P2, b: P2, openings: &[Opening], edges: &mut Vec<Edge>) {
    let along = b - a;
    let length_m = along.length();
    if length_m < SAME_M {
        return;
    }
    let unit = along / length_m;
    let mut parts: Vec<(f64, f64, Gate)> = Vec::new();
    for opening in openings {
        let off = unit.perp_dot(opening.a - a).abs().max(unit.perp_dot(opening.b - a).abs());
        let (s, t) = (unit.dot(opening.a - a), unit.dot(opening.b - a));
        let (s, t) = (s.min(t).max(0.0), s.max(t).min(length_m));
        if off < 10.0 * SAME_M && t - s > SAME_M {
            parts.push((s, t, opening.gate));
        }
    }
    parts.sort_by(|p, q| p.0.total_cmp(&q.0));
    let mut at = 0.0;
    for (s, t, gate) in parts {
        if s - at > SAME_M {
            edges.push(Edge { a: a + unit * at, b: a + unit * s, gate: None });
        }
        edges.push(Edge { a: a + unit * s, b: a + unit * t, gate: Some(gate) });
        at = t;
    }
    if length_m - at > SAME_M {
        edges.push(Edge { a: a + unit * at, b, gate: None });
    }
}

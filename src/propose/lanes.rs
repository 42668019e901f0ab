//! Lanes on the raceway's level: where tube may run and turn, as nodes of a grid with eight headings.
//!
//! Headings are counted from east, counter-clockwise, in eighths of a turn: 0 east, 1 north-east, 2 north.
use super::build::entry;
use super::parts::Wye;
use crate::plan::{Box2, Edge, Hang, P2, Rings, Sheet};
use rayon::prelude::*;

/// From lane to lane, 12 in; between joists across them.
const LANE_M: f64 = 12.0 * 0.0254;
/// Kept between tube and what it must not touch, 1/4 in.
const CLEAR_M: f64 = 0.25 * 0.0254;
/// Coordinates nearer than this are one lane.
const ONE_M: f64 = 1e-6;
/// What two sockets side by side take over the tubes themselves, 3/4 in.
const SOCKETS_M: f64 = 0.75 * 0.0254;
/// Two lanes nearer than this serve each other badly; the one that nobody stands on is left out.
const CLOSE_M: f64 = 4.0 * 0.0254;

/// A heading in eighths of a turn.
pub type Heading = usize;

/// The way of a heading; from a table, so that it is the same on every machine.
pub fn way(heading: Heading) -> P2 {
    const ASLANT: f64 = std::f64::consts::FRAC_1_SQRT_2;
    const EIGHTHS: [P2; 8] = [
        P2::new(1.0, 0.0),
        P2::new(ASLANT, ASLANT),
        P2::new(0.0, 1.0),
        P2::new(-ASLANT, ASLANT),
        P2::new(-1.0, 0.0),
        P2::new(-ASLANT, -ASLANT),
        P2::new(0.0, -1.0),
        P2::new(ASLANT, -ASLANT),
    ];
    EIGHTHS[heading % 8]
}

/// Degrees from one heading to another, 0 to 180.
pub fn angle_deg(from: Heading, to: Heading) -> f64 {
    let eighths = (to + 8 - from) % 8;
    eighths.min(8 - eighths) as f64 * 45.0
}

/// What tube meets on the level.
pub struct Ground {
    pub footprint: Sheet,
    pub no_go: Vec<Box2>,
    pub hang: Hang,
    /// Half the tube's outside diameter.
    pub half_m: f64,
    /// Around the footprint.
    bounds: Box2,
    /// Centrelines of tube that lies there already, from which other tube keeps off.
    tubes: Vec<(P2, P2)>,
}

impl Ground {
    /// The ground inside a footprint, in which tube keeps clear of the no-go places.
    pub fn new(footprint: Rings, no_go: &[Box2], hang: Hang, half_m: f64) -> Ground {
        let by = P2::splat(half_m + CLEAR_M);
        let no_go = no_go.iter().map(|b| Box2 { from: b.from - by, size: b.size + by * 2.0 }).collect();
        let footprint = Sheet::new(footprint, &[]);
        let fold = |f: fn(P2, P2) -> P2| footprint.corners.iter().copied().reduce(f).unwrap_or_default();
        let (low, high) = (fold(P2::min), fold(P2::max));
        let bounds = Box2 { from: low, size: high - low };
        Ground { footprint, no_go, hang, half_m, bounds, tubes: Vec::new() }
    }

    /// Headings that tube may take: all of them; what a joist lets pass is told by [`Ground::bores`].
    pub fn headings(&self) -> std::ops::Range<Heading> {
        0..8
    }

    /// The same with tube that lies there already.
    pub fn beside(self, tubes: Vec<(P2, P2)>) -> Ground {
        Ground { tubes, ..self }
    }

    /// Between centrelines of two tubes, their sockets counted.
    fn apart_m(&self) -> f64 {
        2.0 * self.half_m + SOCKETS_M
    }

    /// How far a straight may go from a point before it leaves the footprint or meets a no-go place.
    pub fn free_m(&self, from: P2, heading: Heading) -> f64 {
        let way = way(heading);
        if !self.footprint.holds(from) || self.no_go.iter().any(|b| within(b, from)) {
            return 0.0;
        }
        let walls = self.footprint.edges.iter().filter_map(|edge| met(edge, from, way));
        // A ray through the very corner of two walls may be told by neither; no straight is longer than the house.
        let walls = walls.filter(|at| *at > ONE_M).fold(out_of(&self.bounds, from, way), f64::min);
        let boxes = self.no_go.iter().filter_map(|b| into(b, from, way)).fold(f64::MAX, f64::min);
        let rod = |(a, b): &(P2, P2)| rod_at(from, way, (*a, *b), self.apart_m());
        let tubes = self.tubes.iter().filter_map(rod).fold(f64::MAX, f64::min);
        (walls.min(boxes) - self.half_m).min(tubes)
    }

    /// Joists that a straight is bored through; `None` where it may not be. A joist is bored square across.
    pub fn bores(&self, a: P2, b: P2) -> Option<usize> {
        let Hang::Between(joists) = &self.hang else { return Some(0) };
        let across = |p: P2| if joists.run_north { p.x } else { p.y };
        let (from_m, to_m) = (across(a), across(b));
        if (from_m - to_m).abs() < ONE_M {
            let gap_m = (from_m - joists.nearest_m(from_m)).abs();
            return (gap_m >= joists.thick_m / 2.0 + self.half_m).then_some(0);
        }
        let along_m = if joists.run_north { (a.y - b.y).abs() } else { (a.x - b.x).abs() };
        if along_m > ONE_M {
            // A straight on the diagonal keeps within its bay, clear of the faces.
            let keep_m = joists.thick_m / 2.0 + self.half_m;
            let (low, high) = (from_m.min(to_m), from_m.max(to_m));
            return (joists.count_between(low - keep_m, high + keep_m) == 0).then_some(0);
        }
        let count = joists.count_between(from_m, to_m);
        (count == 0 || joists.bore).then_some(count)
    }

    /// Whether a fitting's arm from a work point stands free of joists.
    pub fn arm_free(&self, at: P2, heading: Heading, arm_m: f64) -> bool {
        let Hang::Between(joists) = &self.hang else { return true };
        let end = at + way(heading) * arm_m;
        let across = |p: P2| if joists.run_north { p.x } else { p.y };
        let (a, b) = (across(at), across(end));
        let half_m = joists.thick_m / 2.0 + if (a - b).abs() < ONE_M { self.half_m } else { 0.0 };
        joists.count_between(a.min(b) - half_m + ONE_M, a.max(b) + half_m - ONE_M) == 0
    }
}

/// How far along a ray an edge is met, its ends with a hair to spare.
fn met(edge: &Edge, from: P2, way: P2) -> Option<f64> {
    const HAIR: f64 = 1e-9;
    let along = edge.b - edge.a;
    let (det, to) = (way.perp_dot(along), edge.a - from);
    if det.abs() < 1e-12 {
        return None;
    }
    let u = to.perp_dot(way) / det;
    (-HAIR..=1.0 + HAIR).contains(&u).then(|| to.perp_dot(along) / det)
}

/// How far along a ray from inside a box it is left.
fn out_of(b: &Box2, from: P2, way: P2) -> f64 {
    let far = b.from + b.size;
    let axis = |p: f64, d: f64, low: f64, high: f64| match d {
        d if d > 1e-12 => (high - p) / d,
        d if d < -1e-12 => (low - p) / d,
        _ => f64::MAX,
    };
    axis(from.x, way.x, b.from.x, far.x).min(axis(from.y, way.y, b.from.y, far.y))
}

fn within(b: &Box2, p: P2) -> bool {
    let (low, high) = (b.from, b.from + b.size);
    p.x > low.x + ONE_M && p.y > low.y + ONE_M && p.x < high.x - ONE_M && p.y < high.y - ONE_M
}

/// How far along a ray a box is entered.
fn into(b: &Box2, from: P2, way: P2) -> Option<f64> {
    let (low, high) = (b.from, b.from + b.size);
    let (mut t0, mut t1) = (0.0_f64, f64::MAX);
    for (p, d, l, h) in [(from.x, way.x, low.x, high.x), (from.y, way.y, low.y, high.y)] {
        if d.abs() < 1e-12 {
            if p <= l + ONE_M || p >= h - ONE_M {
                return None;
            }
        } else {
            let (a, b) = ((l - p) / d, (h - p) / d);
            t0 = t0.max(a.min(b));
            t1 = t1.min(a.max(b));
        }
    }
    (t1 > t0 + ONE_M && t1 > 0.0).then_some(t0.max(0.0))
}

/// Whether some tubes keep off others.
pub fn off_all(ground: &Ground, some: &[(P2, P2)], others: &[(P2, P2)]) -> bool {
    let off = |(a, b): &(P2, P2), other: &(P2, P2)| {
        let length_m = a.distance(*b);
        // A tube seen on end still has its place.
        let way = if length_m < ONE_M { P2::X } else { (*b - *a) / length_m };
        rod_at(*a, way, *other, ground.apart_m()).is_none_or(|at| at > length_m)
    };
    some.iter().all(|tube| others.iter().all(|other| off(tube, other)))
}

/// How far along a ray it comes within a distance of a straight; nothing where it sets out within it.
fn rod_at(from: P2, way: P2, (a, b): (P2, P2), within_m: f64) -> Option<f64> {
    let (along, rel) = ((b - a).normalize_or_zero(), from - a);
    let length_m = a.distance(b);
    let disc = |centre: P2| {
        let rel = from - centre;
        let (half, rest) = (rel.dot(way), rel.length_squared() - within_m * within_m);
        let root = half * half - rest;
        if rest < 0.0 {
            return Some(0.0);
        }
        (root > 0.0 && half < 0.0).then(|| -half - root.sqrt())
    };
    let (mut t0, mut t1) = (0.0_f64, f64::MAX);
    let sides = [(rel.dot(along), way.dot(along), 0.0, length_m), {
        (along.perp_dot(rel), along.perp_dot(way), -within_m, within_m)
    }];
    for (p, d, low, high) in sides {
        if d.abs() < 1e-12 {
            if p <= low || p >= high {
                t1 = -1.0;
            }
        } else {
            let (u, v) = ((low - p) / d, (high - p) / d);
            t0 = t0.max(u.min(v));
            t1 = t1.min(u.max(v));
        }
    }
    let side = (t1 > t0).then_some(t0);
    [side, disc(a), disc(b)].into_iter().flatten().reduce(f64::min)
}

/// Nodes where lanes cross, and what lies straight ahead of each.
pub struct Lanes {
    pub ground: Ground,
    pub nodes: Vec<P2>,
    /// By node and heading: nodes ahead with their distances, the nearest first.
    ahead: Vec<Vec<(usize, f64)>>,
    /// By node and heading: how far a straight may go.
    free_m: Vec<f64>,
}

impl Lanes {
    /// Lanes over the footprint that hold all of the `fixed` points; `arm_m` is the longest arm of a bend, by
    /// which lanes between joists keep off them.
    pub fn new(ground: Ground, fixed: &[P2], arm_m: f64) -> Lanes {
        let corners = &ground.footprint.corners;
        let fold = |f: fn(P2, P2) -> P2| corners.iter().copied().reduce(f).unwrap_or_default();
        let (low, high) = (fold(P2::min), fold(P2::max));
        let origin = fixed.last().copied().unwrap_or(low);
        let along = |from_m: f64, to_m: f64, at_m: f64| -> Vec<f64> {
            let first = ((from_m - at_m) / LANE_M).ceil() as i64;
            let last = ((to_m - at_m) / LANE_M).floor() as i64;
            (first..=last).map(|k| at_m + k as f64 * LANE_M).collect()
        };
        let (mut xs, mut ys) = (along(low.x, high.x, origin.x), along(low.y, high.y, origin.y));
        if let Hang::Between(joists) = &ground.hang {
            let lanes = |from_m: f64, to_m: f64| {
                let mut found = Vec::new();
                for middle_m in joists.between(from_m - joists.spacing_m, to_m + joists.spacing_m) {
                    let face_m = middle_m + joists.thick_m / 2.0;
                    let room_m = joists.spacing_m - joists.thick_m;
                    let off_m = arm_m + CLEAR_M;
                    if room_m - off_m >= ground.half_m {
                        found.extend([face_m + off_m, face_m + room_m - off_m]);
                    }
                    found.push(face_m + room_m / 2.0);
                    // Beside both joists, and a lane farther, so that a leg on the diagonal fits the bay.
                    let beside_m = ground.half_m + CLEAR_M;
                    if room_m - 2.0 * beside_m >= LANE_M - ONE_M {
                        let off = [beside_m, beside_m + LANE_M];
                        found.extend(off.into_iter().flat_map(|m| [face_m + m, face_m + room_m - m]));
                    }
                }
                found.into_iter().filter(|m| (from_m..=to_m).contains(m)).collect::<Vec<f64>>()
            };
            if joists.run_north {
                xs = lanes(low.x, high.x);
            } else {
                ys = lanes(low.y, high.y);
            }
        }
        let between = matches!(ground.hang, Hang::Between(_));
        let xs = merged(xs, fixed.iter().map(|p| p.x), between);
        let ys = merged(ys, fixed.iter().map(|p| p.y), between);
        let nodes = xs.iter().flat_map(|x| ys.iter().map(|y| P2::new(*x, *y))).collect();
        let mut lanes = Lanes { ground, nodes, ahead: Vec::new(), free_m: Vec::new() };
        lanes.look(&xs, &ys);
        lanes
    }

    fn look(&mut self, xs: &[f64], ys: &[f64]) {
        let looked: Vec<(f64, Vec<(usize, f64)>)> = (0..self.nodes.len() * 8)
            .into_par_iter()
            .map(|state| {
                let (at, heading) = (self.nodes[state / 8], state % 8);
                let free_m = self.ground.free_m(at, heading).max(0.0);
                let mut found = on_way(xs, ys, at, heading);
                found.retain(|(node, m)| *m <= free_m && self.ground.bores(at, self.nodes[*node]).is_some());
                found.sort_by(|a, b| a.1.total_cmp(&b.1));
                (free_m, found)
            })
            .collect();
        (self.free_m, self.ahead) = looked.into_iter().unzip();
    }

    /// Nodes straight ahead, the nearest first.
    pub fn ahead(&self, node: usize, heading: Heading) -> &[(usize, f64)] {
        &self.ahead[node * 8 + heading]
    }

    /// How far a straight may go from a node; nothing where a joist that may not be bored stands at once.
    pub fn free_m(&self, node: usize, heading: Heading) -> f64 {
        let free_m = self.free_m[node * 8 + heading];
        let at = self.nodes[node];
        match &self.ground.hang {
            Hang::Between(joists) => {
                let along = if joists.run_north { heading % 4 == 2 } else { heading.is_multiple_of(4) };
                if along {
                    return if self.ground.bores(at, at).is_some() { free_m } else { 0.0 };
                }
                let square = heading.is_multiple_of(2);
                if joists.bore && square {
                    return free_m;
                }
                let far = at + way(heading) * free_m;
                let (a, b) = if joists.run_north { (at.x, far.x) } else { (at.y, far.y) };
                let longer = if square { 1.0 } else { std::f64::consts::SQRT_2 };
                let face_m = |m: f64| ((m - a).abs() - joists.thick_m / 2.0) * longer;
                joists.between(a, b).first().map_or(free_m, |m| face_m(*m).clamp(0.0, free_m))
            }
            _ => free_m,
        }
    }

    /// The node at a point.
    pub fn node_at(&self, at: P2) -> Option<usize> {
        self.nodes.iter().position(|node| node.distance(at) < 2.0 * ONE_M)
    }

    /// Whether a bend with these arms may stand at a node.
    pub fn bend_free(&self, node: usize, from: Heading, to: Heading, arm_m: f64) -> bool {
        let at = self.nodes[node];
        self.ground.arm_free(at, (from + 4) % 8, arm_m) && self.ground.arm_free(at, to, arm_m)
    }
}

impl Lanes {
    /// Whether a line that comes square to a run, its axis meeting the run's at a point, has room to turn by 45
    /// there and to enter a wye farther on.
    pub fn square_entry(&self, meets: P2, arrives: Heading, run: Heading, wye: &Wye) -> bool {
        let (ground, (bend, slant)) = (&self.ground, entry(meets, arrives, run, wye.along_m));
        let joint = meets + way(run) * wye.along_m;
        let back = |heading: Heading| (heading + 4) % 8;
        ground.bores(bend, joint) == Some(0)
            && ground.free_m(bend, slant) >= wye.leg_m
            && ground.free_m(meets, run) >= wye.along_m + wye.arm_m
            && ground.arm_free(bend, back(arrives), wye.bend_arm_m)
            && ground.arm_free(bend, slant, wye.bend_arm_m)
            && self.wye_free(joint, slant, run, wye)
    }

    /// Whether a wye may stand at a point of a run, its branch arriving in a heading.
    pub fn wye_free(&self, at: P2, arrives: Heading, run: Heading, wye: &Wye) -> bool {
        [run, (run + 4) % 8, (arrives + 4) % 8].iter().all(|h| self.ground.arm_free(at, *h, wye.arm_m))
    }
}

/// Lanes and fixed coordinates in order, each once; a lane close to a fixed one gives way.
fn merged(lanes: Vec<f64>, fixed: impl Iterator<Item = f64>, keep: bool) -> Vec<f64> {
    let fixed: Vec<f64> = fixed.collect();
    let near = |m: &f64| fixed.iter().any(|f| (f - m).abs() < if keep { ONE_M } else { CLOSE_M });
    let mut all: Vec<f64> = lanes.into_iter().filter(|m| !near(m)).collect();
    all.extend(fixed.iter().copied());
    all.sort_by(f64::total_cmp);
    all.dedup_by(|b, a| *b - *a < ONE_M);
    all
}

/// Nodes on a ray, by index and distance.
fn on_way(xs: &[f64], ys: &[f64], at: P2, heading: Heading) -> Vec<(usize, f64)> {
    let way = way(heading);
    let place = |list: &[f64], m: f64| {
        let i = list.partition_point(|x| *x < m - ONE_M);
        list.get(i).is_some_and(|x| (x - m).abs() < ONE_M).then_some(i)
    };
    let mut found = Vec::new();
    let mut add = |t: f64, i: Option<usize>, j: Option<usize>| {
        if let (true, Some(i), Some(j)) = (t > ONE_M, i, j) {
            found.push((i * ys.len() + j, t));
        }
    };
    if way.x.abs() > 0.1 {
        for (i, x) in xs.iter().enumerate() {
            let t = (x - at.x) / way.x;
            add(t, Some(i), place(ys, at.y + way.y * t));
        }
    } else {
        for (j, y) in ys.iter().enumerate() {
            add((y - at.y) / way.y, place(xs, at.x), Some(j));
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_straight_through_a_corner_ends_there() {
        let ring = vec![P2::ZERO, P2::new(3.0, 0.0), P2::new(3.0, 3.0), P2::new(0.0, 3.0)];
        let ground = Ground::new(vec![ring], &[], Hang::Below, 0.0);
        for k in 1..300 {
            // On the diagonal of the square, as near as numbers come.
            let at = P2::splat(0.01 * f64::from(k)) + P2::new(1e-16, -1e-16);
            assert!((ground.free_m(at, 1) - (3.0 - at.x) * 2_f64.sqrt()).abs() < 1e-6);
            assert!((ground.free_m(at, 5) - at.x * 2_f64.sqrt()).abs() < 1e-6);
        }
    }

    #[test]
    fn tube_keeps_off_other_tube() {
        let ring = vec![P2::ZERO, P2::new(4.0, 0.0), P2::new(4.0, 4.0), P2::new(0.0, 4.0)];
        let ground = Ground::new(vec![ring], &[], Hang::Below, 0.025);
        let ground = ground.beside(vec![(P2::new(2.0, 1.0), P2::new(2.0, 3.0))]);
        let apart = 0.05 + SOCKETS_M;
        assert!((ground.free_m(P2::new(0.5, 2.0), 0) - (1.5 - apart)).abs() < 1e-9);
        assert!((ground.free_m(P2::new(2.0, 0.3), 2) - (0.7 - apart)).abs() < 1e-9);
        assert!((ground.free_m(P2::new(0.5, 0.5), 0) - 3.475).abs() < 1e-9);
        assert!(off_all(&ground, &[(P2::ONE, P2::new(1.0, 3.0))], &ground.tubes));
        assert!(!off_all(&ground, &[(P2::ONE, P2::new(3.0, 2.0))], &ground.tubes));
        assert!(!off_all(&ground, &[(P2::new(2.0, 2.0), P2::new(2.0, 2.0))], &ground.tubes));
    }

    #[test]
    fn a_leg_on_the_diagonal_keeps_within_its_bay() {
        let inch = 0.0254;
        let joists = crate::plan::Joists {
            run_north: true,
            spacing_m: 16.0 * inch,
            first_m: 0.0,
            size: "2x10".into(),
            thick_m: 1.5 * inch,
            deep_m: 9.25 * inch,
            bore: true,
        };
        let ring = vec![P2::splat(-3.0), P2::new(3.0, -3.0), P2::new(3.0, 3.0), P2::new(-3.0, 3.0)];
        let ground = Ground::new(vec![ring], &[], Hang::Between(joists), inch);
        // Between joists at 0 and 16 in: 12 in across fits, 16 in would be bored aslant.
        let at = |east_in: f64, north_in: f64| P2::new(east_in, north_in) * inch;
        assert_eq!(ground.bores(at(2.0, 0.0), at(14.0, 12.0)), Some(0));
        assert_eq!(ground.bores(at(2.0, 0.0), at(18.0, 16.0)), None);
        assert_eq!(ground.bores(at(2.0, 0.0), at(34.0, 0.0)), Some(2));
        assert_eq!(ground.bores(at(8.0, 0.0), at(8.0, 40.0)), Some(0));
    }
}

//! What is within reach of a valve: for every corner that the hose comes to, what that corner sees, cut by a
//! disc of what is left of the hose and of the wand; all of them together.
//!
//! Discs are drawn as chords that never stray outward, so that nothing is called reached that is not.
use super::farthest::{Farthest, farthest};
use super::house::{Home, House};
use super::place::Placed;
use super::shapes::{Rings, area, difference, intersection, signed_area_m2, union_of_many};
use super::sight::{Fan, Span, Wedge};
use super::types::P2;
use super::ways::Lie;
use rayon::prelude::*;

/// Contours stand this far apart in hose, 5 ft.
pub const STEP_M: f64 = 5.0 * 0.3048;
/// Chords stray from their circle by less than 1/32 in.
const CHORD_M: f64 = 0.0254 / 32.0;
/// A part of a room smaller than this is rounding of the union, m².
const CRUMB_M2: f64 = 2e-4;

/// The floor that a length of hose and the wand come to.
#[derive(Debug, Clone, PartialEq)]
pub struct Region {
    pub hose_m: f64,
    /// One shape for each sheet of the house.
    pub sheets: Vec<Rings>,
}

/// What one valve reaches.
#[derive(Debug, Clone, PartialEq)]
pub struct Reach {
    pub start: Home,
    pub hose_m: f64,
    pub wand_m: f64,
    /// Contours from the shortest hose; the last is the hose itself.
    pub bands: Vec<Region>,
    /// What wants the most hose of the whole floor, beyond the reach too.
    pub farthest: Option<Farthest>,
}

/// A room, or a part of one, that is left out.
#[derive(Debug, Clone, PartialEq)]
pub struct Left {
    pub room: usize,
    pub area_m2: f64,
    /// Free floor of the whole room.
    pub of_m2: f64,
    /// On the room's floor.
    pub rings: Rings,
    pub spot: Spot,
}

/// Where in its room a part lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Spot {
    /// All of it, and no way leads there.
    Shut,
    /// All of it, for the hose is too short.
    All,
    /// A part, from the middle of the room in this direction.
    Toward(P2),
}

/// Reckons the reach of a valve from where its hose lies.
pub fn reach(house: &House, lie: &Lie, hose_m: f64, wand_m: f64) -> Reach {
    let mut steps: Vec<f64> =
        (1..).map(|n| f64::from(n) * STEP_M).take_while(|m| *m < hose_m - 1e-6).collect();
    steps.push(hose_m);
    let bands = regions(house, lie, &steps, wand_m);
    Reach { start: lie.start.home, hose_m, wand_m, farthest: farthest(house, lie, wand_m), bands }
}

/// The regions of several lengths of hose.
pub fn regions(house: &House, lie: &Lie, hoses_m: &[f64], wand_m: f64) -> Vec<Region> {
    hoses_m.par_iter().map(|hose_m| region(house, lie, *hose_m, wand_m)).collect()
}

fn region(house: &House, lie: &Lie, hose_m: f64, wand_m: f64) -> Region {
    let mut outlines: Vec<Vec<Vec<P2>>> = vec![Vec::new(); house.sheets.len()];
    for (m, view) in lie.views().take_while(|(m, _)| *m <= hose_m) {
        for (sheet, outline) in within(view, hose_m + wand_m - m) {
            outlines[sheet].push(outline);
        }
    }
    let sheets = outlines.iter().map(|all| if all.is_empty() { Vec::new() } else { union_of_many(all) });
    Region { hose_m, sheets: sheets.collect() }
}

/// Outlines of what a view shows within a distance, with their sheets.
fn within(view: &Fan, radius_m: f64) -> Vec<(usize, Vec<P2>)> {
    let mut found = Vec::new();
    for (c, chain) in view.chains.iter().enumerate() {
        let eye = view.home.at;
        let mut run = Run::default();
        let mut runs = Vec::new();
        for wedge in &view.wedges {
            match wedge.spans.iter().find(|span| span.chain == c) {
                Some(span) => run.add(wedge, span, radius_m, &mut runs),
                None => run.end(&mut runs),
            }
        }
        run.end(&mut runs);
        let outlines = runs.into_iter().map(|ring| ring.into_iter().map(|p| eye + chain.shift + p).collect());
        found.extend(outlines.map(|ring| (chain.sheet, ring)));
    }
    found
}

/// The farther and the nearer line of neighbouring wedges, from the eye.
#[derive(Default)]
struct Run {
    far: Vec<P2>,
    near: Vec<P2>,
}

impl Run {
    fn add(&mut self, wedge: &Wedge, span: &Span, radius_m: f64, done: &mut Vec<Vec<P2>>) {
        let mut rays = vec![wedge.from];
        rays.extend(cuts(wedge, span.far, radius_m));
        rays.extend(cuts(wedge, span.near, radius_m));
        rays.push(wedge.to);
        let start = wedge.from;
        rays.sort_by(|a, b| start.angle_to(*a).total_cmp(&start.angle_to(*b)));
        for pair in rays.windows(2) {
            let middle = (pair[0] + pair[1]).try_normalize().unwrap_or(pair[0]);
            let line = |ends: (f64, f64), ray: P2| wedge.line_m(ends, ray);
            let bare = span.near == (0.0, 0.0);
            if !bare && line(span.near, middle) >= radius_m {
                self.end(done);
                continue;
            }
            if line(span.far, middle) <= radius_m {
                self.far.extend(pair.iter().map(|ray| *ray * line(span.far, *ray)));
            } else {
                self.far.extend(arc(pair[0], pair[1], radius_m));
            }
            let near = |ray: &P2| if bare { P2::ZERO } else { *ray * line(span.near, *ray) };
            self.near.extend(pair.iter().map(near));
        }
    }

    fn end(&mut self, done: &mut Vec<Vec<P2>>) {
        let mut ring = std::mem::take(&mut self.far);
        ring.extend(std::mem::take(&mut self.near).into_iter().rev());
        ring.dedup_by(|b, a| a.distance_squared(*b) < 1e-18);
        if ring.len() > 2 && signed_area_m2(&ring).abs() > 1e-12 {
            done.push(ring);
        }
    }
}

/// Directions within a wedge in which a line lies at a distance from the eye.
fn cuts(wedge: &Wedge, ends: (f64, f64), radius_m: f64) -> impl Iterator<Item = P2> {
    let (a, b) = (wedge.from * ends.0, wedge.to * ends.1);
    let along = b - a;
    let (p, q, r) = (along.length_squared(), a.dot(along), a.length_squared() - radius_m * radius_m);
    let root = (q * q - p * r).max(0.0).sqrt();
    let real = p > 1e-18 && q * q > p * r;
    let at = [(-q - root) / p, (-q + root) / p];
    let inside = at.into_iter().filter(move |t| real && (1e-9..1.0 - 1e-9).contains(t));
    inside.filter_map(move |t| (a + along * t).try_normalize())
}

/// Chords of a circle from one direction to another, counter-clockwise.
fn arc(from: P2, to: P2, radius_m: f64) -> Vec<P2> {
    let turn = from.angle_to(to).max(0.0);
    let step = 2.0 * (1.0 - CHORD_M / radius_m).clamp(-1.0, 1.0).acos();
    let n = (turn / step).ceil().max(1.0) as usize;
    (0..=n).map(|i| P2::from_angle(turn * i as f64 / n as f64).rotate(from) * radius_m).collect()
}

/// Rooms and parts of rooms that a region leaves out, in the order of the plan; `comes` tells whether any
/// hose, long enough, comes to a point of a sheet.
pub fn left_out(
    house: &House,
    placed: &Placed,
    whole: &Region,
    comes: impl Fn(usize, P2) -> bool,
) -> Vec<Left> {
    let rooms = placed.rooms.iter().enumerate();
    let left = rooms.filter_map(|(number, room)| {
        let outline = vec![room.corners.clone()];
        let free = intersection(&house.sheets[room.floor].rings, &oriented(&outline));
        let rings = difference(&free, &whole.sheets[room.floor]);
        let (area_m2, of_m2) = (area(&rings), area(&free));
        if area_m2 < CRUMB_M2 {
            return None;
        }
        let spot = if of_m2 - area_m2 > CRUMB_M2 {
            Spot::Toward((middle_of(&rings) - middle_of(&free)).normalize_or_zero())
        } else if free.iter().flatten().any(|p| comes(room.floor, *p)) {
            Spot::All
        } else {
            Spot::Shut
        };
        Some(Left { room: number, area_m2, of_m2, rings, spot })
    });
    left.collect()
}

/// The outline of a room with its inside at the left.
fn oriented(outline: &Rings) -> Rings {
    let turned = outline.iter().map(|ring| {
        let mut ring = ring.clone();
        if signed_area_m2(&ring) < 0.0 {
            ring.reverse();
        }
        ring
    });
    turned.collect()
}

/// The centre of the area inside rings.
pub fn middle_of(rings: &Rings) -> P2 {
    let (mut sum, mut twice) = (P2::ZERO, 0.0);
    for ring in rings {
        for (i, a) in ring.iter().enumerate() {
            let b = ring[(i + 1) % ring.len()];
            let cross = a.perp_dot(b);
            sum += (*a + b) * cross / 3.0;
            twice += cross;
        }
    }
    if twice.abs() < 1e-12 { P2::ZERO } else { sum / twice }
}

//! What a corner adds to the reach of a hose: outlines of what it shows within a distance, less what the corner
//! before it shows as well, which the hose comes to on a shorter way.
//!
//! Discs are drawn as chords that never stray outward.
use super::pieces::runs_through;
use super::shapes::signed_area_m2;
use super::sheet::SAME_M;
use super::sight::{Fan, Span, Wedge};
use super::types::P2;
use super::ways::Turn;
use std::ops::Range;

/// Chords stray from their circle by less than 1/32 in.
const CHORD_M: f64 = 0.0254 / 32.0;
/// Points of an outline no farther apart, or off a straight line, are one, or on it.
const NEAR_M: f64 = 1e-9;

/// Neighbouring wedges over one chain that show something new at a corner, or at the start.
pub struct New<'w> {
    /// Length of the hose there.
    pub at_m: f64,
    /// From there to the farthest point shown.
    pub most_m: f64,
    view: &'w Fan,
    chain: usize,
    wedges: Range<usize>,
}

impl<'w> New<'w> {
    /// Finds what the corner before does not show. Beside that one wedge more is kept, so that outlines lie over
    /// each other.
    pub fn of(turn: Turn<'w>) -> Vec<New<'w>> {
        let (view, n) = (turn.view, turn.view.wedges.len());
        let mut found: Vec<New> = Vec::new();
        for chain in 0..view.chains.len() {
            let fresh = |wedge: &Wedge| span(wedge, chain).is_some_and(|span| is_new(&turn, wedge, span));
            let fresh: Vec<bool> = view.wedges.iter().map(fresh).collect();
            for (w, wedge) in view.wedges.iter().enumerate() {
                let Some(span) = span(wedge, chain) else { continue };
                if !(fresh[w] || fresh[(w + 1) % n] || fresh[(w + n - 1) % n]) {
                    continue;
                }
                let most_m = span.far.0.max(span.far.1);
                match found.last_mut().filter(|last| last.chain == chain && last.wedges.end == w) {
                    Some(last) => {
                        last.wedges.end += 1;
                        last.most_m = last.most_m.max(most_m);
                    }
                    None => found.push(New { at_m: turn.at_m, most_m, view, chain, wedges: w..w + 1 }),
                }
            }
        }
        found
    }

    /// The sheet that it lies on.
    pub fn sheet(&self) -> usize {
        self.view.chains[self.chain].sheet
    }

    /// Outlines of it within a distance.
    pub fn within(&self, radius_m: f64) -> Vec<Vec<P2>> {
        let (eye, mut run, mut found) = (self.view.eye_of(self.chain), Run::default(), Vec::new());
        for wedge in &self.view.wedges[self.wedges.clone()] {
            if let Some(span) = span(wedge, self.chain) {
                run.add(wedge, span, radius_m, &mut found);
            }
        }
        run.end(&mut found);
        found.iter_mut().flatten().for_each(|p| *p += eye);
        found
    }
}

/// The piece of a wedge over a chain.
fn span(wedge: &Wedge, chain: usize) -> Option<&Span> {
    wedge.spans.iter().find(|span| span.chain == chain)
}

/// Whether the corner before shows less than all of a piece of view, or shows it over a longer way.
fn is_new(turn: &Turn, wedge: &Wedge, span: &Span) -> bool {
    let Some((before, straight_m)) = turn.before else { return true };
    let (eye, sheet) = (turn.view.eye_of(span.chain), turn.view.chains[span.chain].sheet);
    let at = |m: (f64, f64)| [eye + wedge.from * m.0, eye + wedge.to * m.1];
    let ([a, b], [d, c]) = (at(span.near), at(span.far));
    // From the eye itself it is a triangle.
    let corners = [a, d, c, b];
    let piece = if span.near == (0.0, 0.0) { &corners[..3] } else { &corners[..] };
    let middle = (a + b + c + d) / 4.0;
    // Laid flat alike, both corners stand as far apart as they do: then no point is farther by way of the first.
    let same = |way: &usize| before.eye_of(*way).distance(eye) <= straight_m + SAME_M;
    let shown = before.chains_to(sheet).filter(same).any(|way| before.sees_over(way, middle));
    let mut here = before.shadows.iter().filter(|(s, _, _)| *s == sheet);
    !shown || here.any(|(_, a, b)| runs_through(piece, *a, *b))
}

/// The farther and the nearer line of neighbouring wedges, from the eye.
#[derive(Default)]
struct Run {
    far: Vec<P2>,
    near: Vec<P2>,
}

impl Run {
    fn add(&mut self, wedge: &Wedge, span: &Span, radius_m: f64, done: &mut Vec<Vec<P2>>) {
        let bare = span.near == (0.0, 0.0);
        if bare && span.far.0.max(span.far.1) <= radius_m {
            self.far.extend([wedge.from * span.far.0, wedge.to * span.far.1]);
            self.near.extend([P2::ZERO, P2::ZERO]);
            return;
        }
        let mut rays = vec![wedge.from];
        rays.extend(cuts(wedge, span.far, radius_m));
        rays.extend(cuts(wedge, span.near, radius_m));
        rays.push(wedge.to);
        if rays.len() > 2 {
            let start = wedge.from;
            rays.sort_by(|a, b| start.angle_to(*a).total_cmp(&start.angle_to(*b)));
        }
        for pair in rays.windows(2) {
            let middle = (pair[0] + pair[1]).try_normalize().unwrap_or(pair[0]);
            let line = |ends: (f64, f64), ray: P2| wedge.line_m(ends, ray);
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
        straighten(&mut ring);
        if ring.len() > 2 && signed_area_m2(&ring).abs() > 1e-12 {
            done.push(ring);
        }
    }
}

/// Takes out points that stand twice, and those between others in a straight line: every direction of a corner
/// cuts the walls behind it.
fn straighten(ring: &mut Vec<P2>) {
    let mut kept: Vec<P2> = Vec::with_capacity(ring.len());
    for point in ring.iter() {
        if kept.last().is_some_and(|last| last.distance_squared(*point) < NEAR_M * NEAR_M) {
            continue;
        }
        while let [.., a, b] = kept.as_slice()
            && between(*a, *b, *point)
        {
            kept.pop();
        }
        kept.push(*point);
    }
    *ring = kept;
}

/// Whether a point stands on the way from one to another.
fn between(a: P2, point: P2, b: P2) -> bool {
    let along = b - a;
    let ahead = along.dot(point - a) > 0.0 && along.dot(b - point) > 0.0;
    ahead && along.perp_dot(point - a).abs() < NEAR_M * along.length()
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

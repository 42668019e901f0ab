//! Outlines of what a view shows within a distance of its eye.
//!
//! Discs are drawn as chords that never stray outward, so that nothing is called reached that is not.
use super::shapes::signed_area_m2;
use super::sheet::SAME_M;
use super::sight::{Fan, Span, Wedge};
use super::types::P2;

/// Chords stray from their circle by less than 1/32 in.
const CHORD_M: f64 = 0.0254 / 32.0;
/// What a longer hose adds is drawn so much over what a shorter one reaches.
const OVER_M: f64 = 0.05;
/// Outlines of what the open wedges of a view show between two distances, and a little nearer, with their sheets.
pub fn within(
    view: &Fan,
    (done_m, radius_m): (f64, f64),
    open: impl Fn(usize) -> bool,
) -> Vec<(usize, Vec<P2>)> {
    let beyond = |span: &&Span| span.far.0.max(span.far.1) > done_m;
    // A hair's breadth of view is what rounding leaves between corners in one line; what is beside it shows as well.
    let hair = |wedge: &Wedge, spans: &[Span]| {
        let far_m = spans.last().map_or(0.0, |span| span.far.0.max(span.far.1)).min(radius_m);
        wedge.from.perp_dot(wedge.to).abs() * far_m.max(1.0) < SAME_M && wedge.from.dot(wedge.to) > 0.0
    };
    let wedges = view.wedges.iter().enumerate().map(|(w, wedge)| (w, wedge, view.spans(w)));
    let wedges = wedges.filter(|(_, wedge, spans)| !hair(wedge, spans));
    let shown = |(w, wedge, spans)| -> (&Wedge, &[Span]) {
        let spans: &[Span] = spans;
        let shown = spans.iter().any(|span| beyond(&span)) && open(w);
        (wedge, if shown { spans } else { &[] })
    };
    let wedges: Vec<(&Wedge, &[Span])> = wedges.map(shown).collect();
    let any = |c: usize| wedges.iter().any(|(_, spans)| spans.iter().any(|span| span.chain == c));
    // Round from behind a wedge that is not shown, so that no outline is cut in two where the turn is counted from.
    let first = wedges.iter().position(|(_, spans)| spans.is_empty()).unwrap_or(0);
    let (before, after) = wedges.split_at(first);
    let mut found = Vec::new();
    for (c, chain) in view.chains.iter().enumerate().filter(|(c, _)| any(*c)) {
        let eye = view.home.at;
        let mut run = Run::default();
        let mut runs = Vec::new();
        for (wedge, spans) in after.iter().chain(before) {
            match spans.iter().find(|span| span.chain == c).filter(beyond) {
                Some(span) => run.add(wedge, &span.beyond(done_m - OVER_M), radius_m, &mut runs),
                None => run.end(&mut runs),
            }
        }
        if runs.is_empty() && wedges.iter().all(|(_, spans)| !spans.is_empty()) {
            // All round, the farther line closes in itself.
            run.near.clear();
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
    /// How far off both are in the direction of the last wedge's end.
    last: Option<(f64, f64)>,
}

impl Run {
    fn add(&mut self, wedge: &Wedge, span: &Span, radius_m: f64, done: &mut Vec<Vec<P2>>) {
        let rays = rays(wedge, span, radius_m);
        for pair in rays.windows(2) {
            let line = |ends: (f64, f64), ray: P2| wedge.line_m(ends, ray).min(radius_m);
            let bare = span.near == (0.0, 0.0);
            let ends = |ray: P2| (line(span.far, ray), if bare { 0.0 } else { line(span.near, ray) });
            let [from, to] = [pair[0], pair[1]].map(ends);
            let middle = (pair[0] + pair[1]).try_normalize().unwrap_or(pair[0]);
            let (far_m, near_m) = ends(middle);
            if near_m >= radius_m {
                self.end(done);
                continue;
            }
            // What meets along a line alone is no one outline.
            if self.last.is_some_and(|last| last.0.min(from.0) - last.1.max(from.1) < SAME_M) {
                self.end(done);
            }
            if far_m < radius_m {
                self.far.extend([pair[0] * from.0, pair[1] * to.0]);
            } else {
                arc(pair[0], pair[1], radius_m, &mut self.far);
            }
            self.near.extend([pair[0] * from.1, pair[1] * to.1]);
            self.last = Some(to);
        }
    }

    fn end(&mut self, done: &mut Vec<Vec<P2>>) {
        if self.last.take().is_none() {
            return;
        }
        let mut ring = std::mem::take(&mut self.far);
        ring.extend(self.near.drain(..).rev());
        let same = |a: &P2, b: &P2| a.distance_squared(*b) < 1e-18;
        ring.dedup_by(|b, a| same(a, b));
        while ring.len() > 1 && same(&ring[0], &ring[ring.len() - 1]) {
            ring.pop();
        }
        if ring.len() > 2 && signed_area_m2(&ring).abs() > 1e-12 {
            done.push(ring);
        }
    }
}

/// Directions of a wedge between which its lines are either all within a distance or all beyond it.
fn rays(wedge: &Wedge, span: &Span, radius_m: f64) -> Vec<P2> {
    let mut rays = vec![wedge.from];
    rays.extend(cuts(wedge, span.far, radius_m));
    rays.extend(cuts(wedge, span.near, radius_m));
    rays.push(wedge.to);
    if rays.len() > 2 {
        rays.sort_by(|a, b| wedge.from.angle_to(*a).total_cmp(&wedge.from.angle_to(*b)));
    }
    rays
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
fn arc(from: P2, to: P2, radius_m: f64, points: &mut Vec<P2>) {
    let turn = from.angle_to(to).max(0.0);
    let step = 2.0 * (1.0 - CHORD_M / radius_m).clamp(-1.0, 1.0).acos();
    let n = (turn / step).ceil().max(1.0) as usize;
    points.extend((0..=n).map(|i| P2::from_angle(turn * i as f64 / n as f64).rotate(from) * radius_m));
}

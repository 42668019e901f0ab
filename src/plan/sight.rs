//! What a point of the floor sees: rays are cast midway between the directions of corners, where no ray
//! can graze one, and each tells which edge closes the view between two neighbouring directions.
//!
//! Behind a gate the view goes on over the next sheet, laid flat beside this one.
use super::house::{Home, House};
use super::pieces::{middle, runs_through};
use super::sheet::{Edge, SAME_M};
use super::types::P2;
use std::ops::Range;

/// Directions nearer than this are one, radians or as [`turn_of`] counts.
const SAME_RAD: f64 = 1e-11;
/// No view goes through more gates.
const MOST_GATES: usize = 6;

/// What a point sees, as wedges in order round it, counter-clockwise by angle.
#[derive(Debug, Clone, PartialEq)]
pub struct Fan {
    pub home: Home,
    pub wedges: Vec<Wedge>,
    /// The turn of the first direction of each wedge.
    pub turns: Vec<f64>,
    /// Those of all wedges, in their order.
    spans: Vec<Span>,
    /// Where the view ends beside a corner: sheet, and both ends of the line on it.
    pub shadows: Vec<(usize, P2, P2)>,
    /// Ways of getting from this sheet to others; the first is no way at all.
    pub chains: Vec<Chain>,
}

/// The view between two neighbouring directions.
#[derive(Debug, Clone, PartialEq)]
pub struct Wedge {
    /// Both directions as unit vectors.
    pub from: P2,
    pub to: P2,
    /// Pieces of the view, one for each sheet it goes over: where [`Fan::spans`] finds them.
    spans: Range<usize>,
}

/// A piece of a wedge on one sheet: from its nearer to its farther line, metres along both directions.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Span {
    /// Index into the chains.
    pub chain: usize,
    pub near: (f64, f64),
    pub far: (f64, f64),
}

/// A sheet seen from another: what lies at `p` in the frame of the eye is at `p + shift` on the sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Chain {
    pub sheet: usize,
    pub shift: P2,
}

/// Looks round from a point of the house.
pub fn fan(house: &House, home: Home) -> Fan {
    let chains = chains(house, home.sheet);
    let (turns, rays) = directions(house, home.at, &chains);
    let middles: Vec<P2> =
        rays.iter().enumerate().map(|(i, from)| between(*from, rays[(i + 1) % rays.len()])).collect();
    let facing: Vec<_> = chains.iter().map(|chain| facing(house, home, chain)).collect();
    let first = first_met(home.at, &facing[0], &turns, &middles);
    let look = Look { home, chains: &chains, facing, first };
    let around = house.sheets[home.sheet].around(home.at);
    let (mut wedges, mut spans) = (Vec::with_capacity(rays.len()), Vec::with_capacity(rays.len()));
    for (i, from) in rays.iter().enumerate() {
        let (to, middle, before) = (rays[(i + 1) % rays.len()], middles[i], spans.len());
        if around.open_toward(middle) {
            look.along(i, (*from, to, middle), &mut spans);
        }
        wedges.push(Wedge { from: *from, to, spans: before..spans.len() });
    }
    let mut fan = Fan { home, wedges, turns, spans, shadows: Vec::new(), chains };
    fan.shadows = shadows(&fan);
    fan
}

/// Every sheet that may be seen from another, through gates.
fn chains(house: &House, from: usize) -> Vec<Chain> {
    let mut found = vec![Chain { sheet: from, shift: P2::ZERO }];
    let mut ring = vec![(found[0], vec![from])];
    for _ in 0..MOST_GATES {
        let mut next = Vec::new();
        for (chain, been) in &ring {
            let gates = house.sheets[chain.sheet].edges.iter().filter_map(|edge| edge.gate);
            for gate in gates.filter(|gate| !been.contains(&gate.to)) {
                let beyond = Chain { sheet: gate.to, shift: chain.shift + gate.shift };
                if !found.iter().any(|c| c.sheet == beyond.sheet && c.shift.distance(beyond.shift) < SAME_M) {
                    found.push(beyond);
                    next.push((beyond, [been.as_slice(), &[gate.to]].concat()));
                }
            }
        }
        ring = next;
    }
    found
}

/// A whole turn, as [`turn_of`] counts.
pub const WHOLE_TURN: f64 = 4.0;

/// Grows with the angle of a direction as `atan2` does, from -2 to 2, and is had without it.
pub fn turn_of(toward: P2) -> f64 {
    let part = toward.y / (toward.x.abs() + toward.y.abs());
    if toward.x >= 0.0 {
        part
    } else if toward.y >= 0.0 {
        2.0 - part
    } else {
        -2.0 - part
    }
}

/// Directions of every corner, each once, by angle: [`turn_of`] each, and itself.
fn directions(house: &House, eye: P2, chains: &[Chain]) -> (Vec<f64>, Vec<P2>) {
    let corners = chains.iter().flat_map(|chain| {
        house.sheets[chain.sheet].corners.iter().map(move |corner| *corner - chain.shift - eye)
    });
    let far = corners.map(|toward| (toward, toward.length())).filter(|(_, far_m)| *far_m > SAME_M);
    let mut rays: Vec<(f64, P2)> =
        far.map(|(toward, far_m)| (turn_of(toward), toward * far_m.recip())).collect();
    rays.sort_unstable_by(|a, b| a.0.total_cmp(&b.0));
    rays.dedup_by(|b, a| b.0 - a.0 < SAME_RAD);
    if let (Some(first), Some(last)) = (rays.first().copied(), rays.last().copied())
        && rays.len() > 1
        && first.0 + WHOLE_TURN - last.0 < SAME_RAD
    {
        rays.pop();
    }
    rays.into_iter().unzip()
}

/// The direction midway, counter-clockwise from the first to the second.
fn between(from: P2, to: P2) -> P2 {
    let sum = from + to;
    let length = sum.length();
    // Within a hair of half a turn the sum says little; the side of the first does.
    if length < 1e-6 {
        from.perp()
    } else if from.perp_dot(to) >= 0.0 {
        sum * length.recip()
    } else {
        -(sum * length.recip())
    }
}

/// The edges of a chain's sheet that face the eye. An edge that starts in the eye, or runs the other way, is no
/// end of the view.
fn facing<'h>(house: &'h House, home: Home, chain: &Chain) -> Vec<&'h Edge> {
    let eye = home.at + chain.shift;
    let faces =
        |edge: &&Edge| (edge.b - edge.a).perp_dot(eye - edge.a) > -SAME_M && edge.distance(eye) > SAME_M;
    house.sheets[chain.sheet].edges.iter().filter(faces).collect()
}

/// How far along a ray an edge is met that closes the view, farther than `reached_m`.
fn met(edge: &Edge, eye: P2, ray: P2, reached_m: f64) -> Option<f64> {
    let at = edge.met_at(eye, ray).filter(|at| *at > reached_m)?;
    (ray.perp_dot(edge.b - edge.a) > 0.0).then_some(at)
}

/// The first edge of the eye's own sheet along the middle ray of each wedge. Which wedges an edge may close is told
/// with one to spare at both ends; the ray itself decides.
fn first_met<'h>(
    eye: P2,
    facing: &[&'h Edge],
    turns: &[f64],
    middles: &[P2],
) -> Vec<Option<(f64, &'h Edge)>> {
    let n = turns.len();
    let mut found: Vec<Option<(f64, &Edge)>> = vec![None; n];
    if n == 0 {
        return found;
    }
    let wedge = |toward: P2| (turns.partition_point(|turn| *turn <= turn_of(toward)) + n - 1) % n;
    for edge in facing {
        let (from, to) = (wedge(edge.a - eye), wedge(edge.b - eye));
        let first = (from + n - 1) % n;
        let count = ((to + n - from) % n + 3).min(n);
        for w in (first..first + count).map(|w| w % n) {
            if let Some(at) = met(edge, eye, middles[w], SAME_M)
                && found[w].is_none_or(|(least, _)| at < least)
            {
                found[w] = Some((at, edge));
            }
        }
    }
    found
}

/// A point of the house looking round.
struct Look<'h> {
    home: Home,
    chains: &'h [Chain],
    /// By chain, the edges that face the eye.
    facing: Vec<Vec<&'h Edge>>,
    /// By wedge, the first of them on the eye's own sheet, and how far off it is met.
    first: Vec<Option<(f64, &'h Edge)>>,
}

impl Look<'_> {
    /// Follows the middle ray of a wedge from sheet to sheet and notes what closes the view on each.
    fn along(&self, wedge: usize, (from, to, middle): (P2, P2, P2), spans: &mut Vec<Span>) {
        let (mut chain, mut near) = (0, (0.0, 0.0));
        let mut closed = self.first[wedge];
        for _ in 0..=MOST_GATES {
            let eye = self.home.at + self.chains[chain].shift;
            let Some((at, edge)) = closed else { break };
            let (Some(a), Some(b)) = (edge.line_at(eye, from), edge.line_at(eye, to)) else { break };
            spans.push(Span { chain, near, far: (a.max(near.0), b.max(near.1)) });
            let Some(gate) = edge.gate else { break };
            let shift = self.chains[chain].shift + gate.shift;
            let known = |c: &Chain| c.sheet == gate.to && c.shift.distance(shift) < SAME_M;
            let Some(beyond) = self.chains.iter().position(known) else { break };
            (chain, near) = (beyond, (a, b));
            let eye = self.home.at + self.chains[chain].shift;
            let here =
                self.facing[chain].iter().filter_map(|edge| Some((met(edge, eye, middle, at)?, *edge)));
            closed = here.min_by(|a, b| a.0.total_cmp(&b.0));
        }
    }
}

/// Lines along the directions of corners where the view of one side and of the other differ.
fn shadows(fan: &Fan) -> Vec<(usize, P2, P2)> {
    let n = fan.wedges.len();
    let mut found = Vec::new();
    for (i, after) in fan.wedges.iter().enumerate() {
        let (before, here) = (fan.spans((i + n - 1) % n), fan.spans(i));
        for (c, chain) in fan.chains.iter().enumerate() {
            let left = before.iter().find(|s| s.chain == c).map(|s| (s.near.1, s.far.1));
            let right = here.iter().find(|s| s.chain == c).map(|s| (s.near.0, s.far.0));
            let mut add = |from_m: f64, to_m: f64| {
                if (to_m - from_m).abs() > SAME_M {
                    let at = |m: f64| fan.home.at + chain.shift + after.from * m;
                    found.push((chain.sheet, at(from_m), at(to_m)));
                }
            };
            match (left, right) {
                (Some(a), Some(b)) => {
                    add(a.0, b.0);
                    add(a.1, b.1);
                }
                (Some(a), None) | (None, Some(a)) => add(a.0, a.1),
                (None, None) => {}
            }
        }
    }
    found
}

impl Fan {
    /// Pieces of a wedge's view, one for each sheet it goes over.
    pub fn spans(&self, wedge: usize) -> &[Span] {
        &self.spans[self.wedges[wedge].spans.clone()]
    }

    /// The straight distance to a point that is seen, its edges included; the least where it is seen over
    /// two ways.
    pub fn sees(&self, sheet: usize, point: P2) -> Option<f64> {
        self.sees_within(sheet, point, f64::INFINITY)
    }

    /// The same of a point nearer than this.
    pub fn sees_within(&self, sheet: usize, point: P2, within_m: f64) -> Option<f64> {
        let (mut least_m, mut seen) = (within_m, None);
        for chain in self.chains_to(sheet) {
            let distance = self.straight_m(chain, point);
            if distance < least_m && self.sees_over(chain, point) {
                (least_m, seen) = (distance, Some(if distance < SAME_M { 0.0 } else { distance }));
            }
        }
        seen
    }

    /// The ways that lead to a sheet, as indices into the chains.
    pub fn chains_to(&self, sheet: usize) -> impl Iterator<Item = usize> {
        let chains = self.chains.iter().enumerate();
        chains.filter(move |(_, chain)| chain.sheet == sheet).map(|(c, _)| c)
    }

    /// From the eye to a point of a chain's sheet, as the crow flies.
    pub fn straight_m(&self, chain: usize, point: P2) -> f64 {
        self.toward(chain, point).length()
    }

    /// Where the eye lies in the frame of a chain's sheet.
    pub fn eye_of(&self, chain: usize) -> P2 {
        self.home.at + self.chains[chain].shift
    }

    fn toward(&self, chain: usize, point: P2) -> P2 {
        point - self.chains[chain].shift - self.home.at
    }

    /// Whether a point is seen over one chain.
    pub fn sees_over(&self, chain: usize, point: P2) -> bool {
        let toward = self.toward(chain, point);
        let distance = toward.length();
        distance < SAME_M || self.sees_along(chain, toward, distance)
    }

    /// The same of a point that no border of the view comes near.
    pub fn sees_well(&self, chain: usize, point: P2) -> bool {
        let toward = self.toward(chain, point);
        let distance = toward.length();
        let shows = |w| self.shows(w, chain, toward / distance, distance);
        distance < SAME_M || self.wedge_toward(toward).is_some_and(shows)
    }

    /// The wedge in which a direction lies.
    fn wedge_toward(&self, toward: P2) -> Option<usize> {
        let turn = turn_of(toward);
        let after = self.turns.partition_point(|from| *from <= turn);
        after.checked_sub(1).or(self.turns.len().checked_sub(1))
    }

    /// Whether a point of a wedge, in a direction, lies between the lines of its span on a chain's sheet.
    fn shows(&self, wedge: usize, chain: usize, unit: P2, distance: f64) -> bool {
        let Some(span) = self.spans(wedge).iter().find(|s| s.chain == chain) else { return false };
        let wedge = &self.wedges[wedge];
        let near = || if span.near == (0.0, 0.0) { 0.0 } else { wedge.line_m(span.near, unit) };
        distance <= wedge.line_m(span.far, unit) + SAME_M && distance >= near() - SAME_M
    }

    fn sees_along(&self, chain: usize, toward: P2, distance: f64) -> bool {
        let n = self.wedges.len();
        let Some(at) = self.wedge_toward(toward) else { return false };
        // A point on the border of two wedges is seen when either shows it; corners in one line, but for the
        // rounding of a union, leave several wedges within a hair of it.
        let slack = (SAME_M / distance).max(SAME_RAD);
        let unit = toward / distance;
        if self.shows(at, chain, unit, distance) {
            return true;
        }
        let beside = |border: P2| unit.perp_dot(border).abs() <= slack;
        let mut tried = 1;
        let mut w = at;
        while tried <= n && beside(self.wedges[w].from) {
            w = (w + n - 1) % n;
            tried += 1;
            if self.shows(w, chain, unit, distance) {
                return true;
            }
        }
        w = at;
        while tried <= n && beside(self.wedges[w].to) {
            w = (w + 1) % n;
            tried += 1;
            if self.shows(w, chain, unit, distance) {
                return true;
            }
        }
        false
    }

    /// Whether a shadow line runs through the inside of a convex piece of a sheet.
    pub fn parts(&self, sheet: usize, piece: &[P2]) -> bool {
        let centre = middle(piece);
        let radius_m = piece.iter().map(|p| p.distance(centre)).fold(0.0, f64::max);
        let near = |a: P2, b: P2| Edge { a, b, gate: None }.distance(centre) < radius_m;
        let here = self.shadows.iter().filter(|(s, _, _)| *s == sheet);
        here.into_iter().any(|(_, a, b)| near(*a, *b) && runs_through(piece, *a, *b))
    }
}

impl Span {
    /// No less than what of the span is farther off than this.
    pub fn beyond(&self, near_m: f64) -> Span {
        let between = self.near.0.max(self.near.1) < near_m && near_m < self.far.0.min(self.far.1);
        let near = if between { (near_m, near_m) } else { self.near };
        Span { near, ..*self }
    }
}

impl Wedge {
    /// How far along a direction within the wedge the line lies that is met at `ends` along its borders.
    pub fn line_m(&self, ends: (f64, f64), unit: P2) -> f64 {
        let (a, b) = (self.from * ends.0, self.to * ends.1);
        let along = b - a;
        let det = unit.perp_dot(along);
        // Where they run alongside, squared on both sides: there is no root to be taken.
        if det * det < 1e-24 * along.length_squared().max(1e-18) {
            ends.0.max(ends.1)
        } else {
            a.perp_dot(along) / det
        }
    }
}

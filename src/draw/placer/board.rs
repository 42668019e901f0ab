//! Where labels go: one placer for all views.
//!
//! What is already on the paper is a list of quadrilaterals. A label comes with candidates, each a set
//! of boxes, leaders and dimension lines with a cost; the cheapest that breaks no hard rule is taken.
//! Hard: words lie on nothing but light line; leaders cross no words, no leader and no frame. Soft, at a
//! price: a leader across a tube, a level or a dimension line. The order of asking and of candidates
//! decides alone, so the same drawing comes out every time.
use super::covered::Covered;
use crate::draw::hand::geo::{Quad, V2};
use std::cell::Cell;
use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// What takes up room, by how it bears being crossed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum What {
    /// Words and their boxes.
    Words,
    /// Tube, symbols: no words on them, leaders at a price.
    Object,
    Leader,
    /// Dimension and extension lines.
    Dimension,
    /// Level lines.
    Level,
    /// Hatch of a finding: no words on it, leaders over it freely.
    Hatch,
    /// Hatch of planes: words may lie on it, at a price.
    Light,
}

/// Clear space kept before and after words, and over and under them, mm.
const PAD_MM: (f64, f64) = (1.3, 0.3);
/// A line counts as so wide to each side, mm.
const LINE_HALF_MM: f64 = 0.15;
/// Half of what is kept clear for a leader, mm.
const LEADER_HALF_MM: f64 = 0.45;
/// So much of a leader at its anchor may touch what it points at, mm.
const TOUCH_MM: f64 = 1.6;

/// Side of a cell of the grid by which what is taken is found, mm.
const CELL_MM: f64 = 6.0;

/// The sheet while labels are put on it.
#[derive(Debug, Clone)]
pub struct Board {
    pub frame: Quad,
    taken: Vec<Taken>,
    /// Where words cannot stand, coarsely.
    covered: Covered,
    /// The first and the last entry of each cell, row by row; of what is taken, as often as it touches cells.
    cells: Vec<(u32, u32)>,
    entries: Vec<Entry>,
    /// Columns and rows of cells.
    grid: (usize, usize),
    /// What the labels placed so far paid for crossing things.
    pub strain: f64,
    /// Whether nothing more is to be placed.
    closed: bool,
    /// What last forbade words a place, and a leader: it often forbids the next place too.
    blockers: [Cell<u32>; 2],
    /// Room for the candidates of a label, kept from one to the next.
    open: Vec<Candidate>,
    order: Vec<Reverse<(u64, usize)>>,
}

/// No entry.
const NONE: u32 = u32::MAX;

/// Something on the paper.
#[derive(Debug, Clone, Copy)]
struct Taken {
    quad: Quad,
    what: What,
}

/// Something in a cell: its bounds, where it stands in the list, the first cell that it touches, and the next
/// entry of the same cell.
#[derive(Debug, Clone, Copy)]
struct Entry {
    min: V2,
    max: V2,
    index: u32,
    first: (u16, u16),
    next: u32,
    what: What,
}

/// A place a label might take.
#[derive(Debug, Clone, Copy)]
pub struct Candidate {
    pub words: Quad,
    /// From the words to what they speak of.
    pub leader: Option<(V2, V2)>,
    pub cost: f64,
}

/// A place for an upright box, kept small: most are put away at a glance.
#[derive(Debug, Clone, Copy)]
pub struct Upright {
    pub min: V2,
    pub max: V2,
    /// What a leader is to point at.
    pub toward: Option<V2>,
    pub cost: f64,
}

/// A number that grows with a cost, quick to sort by: the order of `f64::total_cmp`.
fn rank(cost: f64) -> u64 {
    let bits = cost.to_bits();
    if cost.is_sign_negative() { !bits } else { bits | 1 << 63 }
}

impl Candidate {
    /// Words alone.
    pub fn bare(words: Quad, cost: f64) -> Candidate {
        Candidate { words, leader: None, cost }
    }

    /// Words with a leader from where they are nearest to what it points at.
    pub fn led(words: Quad, toward: V2, cost: f64) -> Candidate {
        let start = toward.clamp(words.min, words.max);
        Candidate { leader: Some((start, toward)), ..Candidate::bare(words, cost) }
    }
}

impl Upright {
    /// A box about its middle, without a leader.
    #[inline]
    pub fn about(middle: V2, size: V2, cost: f64) -> Upright {
        Upright { min: middle - size / 2.0, max: middle + size / 2.0, toward: None, cost }
    }

    /// The same for so much more.
    #[inline]
    pub fn dearer(self, by: f64) -> Upright {
        Upright { cost: self.cost + by, ..self }
    }

    fn candidate(&self) -> Candidate {
        let words = Quad::rect(self.min, self.max);
        match self.toward {
            Some(toward) => Candidate::led(words, toward, self.cost),
            None => Candidate::bare(words, self.cost),
        }
    }
}

impl Board {
    /// An empty paper.
    pub fn new(frame: Quad) -> Board {
        let size = frame.max - frame.min;
        let count = |mm: f64| (mm / CELL_MM).ceil().max(1.0) as usize;
        let grid = (count(size.x), count(size.y));
        Board {
            frame,
            taken: Vec::new(),
            covered: Covered::new(&frame),
            cells: vec![(NONE, NONE); grid.0 * grid.1],
            entries: Vec::with_capacity(256),
            grid,
            strain: 0.0,
            closed: false,
            blockers: [Cell::new(0), Cell::new(0)],
            open: Vec::new(),
            order: Vec::new(),
        }
    }

    /// Marks room as taken.
    pub fn take(&mut self, quad: Quad, what: What) {
        let (from, to) = self.span(&quad);
        let first = (from.0 as u16, from.1 as u16);
        let entry =
            Entry { min: quad.min, max: quad.max, index: self.taken.len() as u32, first, next: NONE, what };
        for row in from.1..=to.1 {
            for column in from.0..=to.0 {
                let (cell, number) = (row * self.grid.0 + column, self.entries.len() as u32);
                let (head, tail) = &mut self.cells[cell];
                match self.entries.get_mut(*tail as usize) {
                    Some(last) => last.next = number,
                    None => *head = number,
                }
                *tail = number;
                self.entries.push(entry);
            }
        }
        if words_price(what).is_none() {
            self.covered.take(&quad);
        }
        self.taken.push(Taken { quad, what });
    }

    /// Marks the room of a line as taken.
    pub fn take_line(&mut self, a: V2, b: V2, half: f64, what: What) {
        self.take(Quad::stroke(a, b, half), what);
    }

    /// First and last column and row of the cells that a quadrilateral's bounds touch; what lies outside
    /// the frame counts to the cells of its edge.
    fn span(&self, quad: &Quad) -> ((usize, usize), (usize, usize)) {
        let cell = |at: V2| {
            let at = (at - self.frame.min) / CELL_MM;
            let clamp = |x: f64, count: usize| (x.max(0.0) as u32 as usize).min(count - 1);
            (clamp(at.x, self.grid.0), clamp(at.y, self.grid.1))
        };
        (cell(quad.min), cell(quad.max))
    }

    /// Goes over everything taken that a quadrilateral meets and that is asked for, once each, until told to stop.
    fn visit(&self, quad: &Quad, asked: impl Fn(What) -> bool, mut see: impl FnMut(&Taken, u32) -> bool) {
        let (from, to) = self.span(quad);
        for row in from.1..=to.1 {
            for column in from.0..=to.0 {
                let mut next = self.cells[row * self.grid.0 + column].0;
                while let Some(entry) = self.entries.get(next as usize) {
                    next = entry.next;
                    let apart = quad.max.x <= entry.min.x
                        || entry.max.x <= quad.min.x
                        || quad.max.y <= entry.min.y
                        || entry.max.y <= quad.min.y;
                    // In several cells at once: seen only in the first that both share.
                    let first =
                        (usize::from(entry.first.0).max(from.0), usize::from(entry.first.1).max(from.1));
                    if apart || first != (column, row) || !asked(entry.what) {
                        continue;
                    }
                    let taken = &self.taken[entry.index as usize];
                    if quad.overlaps(&taken.quad) && !see(taken, entry.index) {
                        return;
                    }
                }
            }
        }
    }

    /// Takes the best of the places that costs less than `limit`, and answers which it was.
    pub fn place(&mut self, places: impl IntoIterator<Item = Upright>, limit: f64) -> Option<Candidate> {
        if self.closed {
            return None;
        }
        let (mut open, mut order) = self.desk();
        // Most stand on something, so that only the few others are kept and put in order.
        places.into_iter().for_each(|place| {
            if place.cost < limit && self.is_open(place.min, place.max) {
                order.push(Reverse((rank(place.cost), open.len())));
                open.push(place.candidate());
            }
        });
        self.settle(open, order, limit)
    }

    /// The same of boxes that may be turned.
    pub fn place_turned(
        &mut self,
        candidates: impl IntoIterator<Item = Candidate>,
        limit: f64,
    ) -> Option<Candidate> {
        if self.closed {
            return None;
        }
        let (mut open, mut order) = self.desk();
        for candidate in candidates {
            if candidate.cost < limit && self.may_stand(&candidate.words) {
                order.push(Reverse((rank(candidate.cost), open.len())));
                open.push(candidate);
            }
        }
        self.settle(open, order, limit)
    }

    /// Empty lists for the candidates of a label.
    fn desk(&mut self) -> (Vec<Candidate>, Vec<Reverse<(u64, usize)>>) {
        let (mut open, mut order) = (std::mem::take(&mut self.open), std::mem::take(&mut self.order));
        open.clear();
        order.clear();
        (open, order)
    }

    /// Takes the best of the candidates that stand on nothing at a glance.
    fn settle(
        &mut self,
        open: Vec<Candidate>,
        order: Vec<Reverse<(u64, usize)>>,
        limit: f64,
    ) -> Option<Candidate> {
        let mut order = BinaryHeap::from(order);
        let mut best: Option<(f64, usize)> = None;
        while let Some(Reverse((_, index))) = order.pop() {
            let candidate = &open[index];
            let room = best.map_or(limit, |(cost, _)| cost);
            // The others are dearer still, and what they cross only adds to it.
            if candidate.cost >= room {
                break;
            }
            if let Some(cost) = self.cost_standing(candidate, room) {
                best = Some((cost, index));
            }
        }
        let chosen = best.map(|(cost, index)| (cost, open[index]));
        (self.open, self.order) = (open, order.into_vec());
        let (cost, chosen) = chosen?;
        self.put(&chosen, cost);
        Some(chosen)
    }

    /// Lets nothing more be placed; for a try that has already lost to another.
    pub fn close(&mut self) {
        self.closed = true;
    }

    /// Takes the room of a candidate whose full cost is known.
    pub fn put(&mut self, candidate: &Candidate, cost: f64) {
        self.strain += cost - candidate.cost;
        self.take(candidate.words, What::Words);
        if let Some((a, b)) = candidate.leader {
            self.take_line(a, b, LINE_HALF_MM, What::Leader);
        }
    }

    /// A straight less what lies under words.
    pub fn clear_of_words(&self, a: V2, b: V2) -> Vec<(V2, V2)> {
        let (way, long) = ((b - a).normalize_or_zero(), a.distance(b));
        let mut covered: Vec<(f64, f64)> = Vec::new();
        for Taken { quad, what, .. } in &self.taken {
            let wide = quad.grown(0.8, 0.3);
            if *what != What::Words || !wide.meets(&Quad::stroke(a, b, LINE_HALF_MM)) {
                continue;
            }
            let along = wide.corners.map(|corner| (corner - a).dot(way));
            covered.push(along.iter().fold((f64::MAX, f64::MIN), |(lo, hi), t| (lo.min(*t), hi.max(*t))));
        }
        covered.sort_by(|p, q| p.0.total_cmp(&q.0));
        let (mut at, mut left) = (0.0, Vec::new());
        for (from, to) in covered.into_iter().chain([(long, long)]) {
            if from - at > 0.8 {
                left.push((a + way * at, a + way * from));
            }
            at = to.max(at);
        }
        left
    }

    /// Whether nothing is there but light line.
    pub fn is_free(&self, quad: &Quad) -> bool {
        let mut free = true;
        let heavy = |what| what != What::Light;
        self.visit(quad, heavy, |_, _| {
            free = false;
            false
        });
        free
    }

    /// The full cost of a candidate below `limit`, or `None` when it breaks a rule or costs more.
    pub fn cost(&self, candidate: &Candidate, limit: f64) -> Option<f64> {
        let stands = !self.closed && candidate.cost < limit && self.may_stand(&candidate.words);
        if stands { self.cost_standing(candidate, limit) } else { None }
    }

    /// Whether words lie in the frame, and on nothing as far as a glance tells.
    fn may_stand(&self, words: &Quad) -> bool {
        if words.is_upright() {
            return self.is_open(words.min, words.max);
        }
        words.grown(PAD_MM.0, PAD_MM.1).inside(&self.frame)
    }

    /// The same of an upright box by its corners.
    #[inline]
    fn is_open(&self, min: V2, max: V2) -> bool {
        let pad = V2::new(PAD_MM.0, PAD_MM.1);
        let (min, max) = (min - pad, max + pad);
        self.frame.holds(min, max) && !self.covered.meets(min, max)
    }

    /// The same of a candidate that stands on nothing at a glance.
    fn cost_standing(&self, candidate: &Candidate, limit: f64) -> Option<f64> {
        let wide = candidate.words.grown(PAD_MM.0, PAD_MM.1);
        let mut cost = candidate.cost;
        cost += self.price(&wide, limit - cost, words_price, Some(0))?;
        if let Some((from, to)) = candidate.leader {
            let short = to - (to - from).clamp_length_max(TOUCH_MM);
            let stroke = Quad::stroke(from + (short - from).clamp_length_max(0.4), short, LEADER_HALF_MM);
            cost += self.price(&stroke, limit - cost, leader_price, Some(1))?;
            cost += self.beside_dimension(&stroke, to - from);
        }
        (cost < limit).then_some(cost)
    }

    /// What a dimension line costs for itself; `None` when it breaks a rule or costs more than `limit`.
    pub fn dimension_price(&self, (a, b): (V2, V2), limit: f64) -> Option<f64> {
        let line = dimension_stroke((a, b));
        let may = !self.closed && line.inside(&self.frame);
        if may { self.price(&line, limit, dimension_price, None) } else { None }
    }

    /// Marks the room of a dimension line as taken.
    pub fn take_dimension(&mut self, (a, b): (V2, V2)) {
        self.take(dimension_stroke((a, b)), What::Dimension);
    }

    /// A leader that runs along an extension line reads as a part of it.
    fn beside_dimension(&self, stroke: &Quad, way: V2) -> f64 {
        let (way, mut price) = (way.normalize_or_zero(), 0.0);
        let lines = |what| what == What::Dimension;
        self.visit(&stroke.grown(0.9, 0.9), lines, |Taken { quad, .. }, _| {
            if (quad.corners[2] - quad.corners[1]).normalize_or_zero().dot(way).abs() > 0.97 {
                price += 16.0;
            }
            true
        });
        price
    }

    /// The price of everything a quadrilateral meets; `None` when it breaks a rule or passes `limit`.
    /// `last` is the number of its kind among the blockers.
    fn price(
        &self,
        quad: &Quad,
        limit: f64,
        of: impl Fn(What) -> Option<f64>,
        last: Option<usize>,
    ) -> Option<f64> {
        let blocker = last.map(|kind| &self.blockers[kind]);
        let known = blocker.and_then(|blocker| self.taken.get(blocker.get() as usize));
        if known.is_some_and(|taken| of(taken.what).is_none() && quad.meets(&taken.quad)) {
            return None;
        }
        let mut sum = Some(0.0);
        let all = |_| true;
        self.visit(quad, all, |taken, index| {
            let price = of(taken.what);
            if let (None, Some(blocker)) = (price, blocker) {
                blocker.set(index);
            }
            sum = sum.and_then(|sum| price.map(|price| sum + price)).filter(|sum| *sum < limit);
            sum.is_some()
        });
        sum
    }
}

/// The room of a dimension or extension line.
pub fn dimension_stroke((a, b): (V2, V2)) -> Quad {
    Quad::stroke(a, b, LINE_HALF_MM)
}

/// What it costs words to lie on something; `None` when they must not. A level is interrupted for them.
fn words_price(what: What) -> Option<f64> {
    match what {
        What::Level => Some(3.0),
        What::Light => Some(1.5),
        _ => None,
    }
}

/// What it costs a leader to cross something.
fn leader_price(what: What) -> Option<f64> {
    match what {
        What::Words | What::Leader => None,
        What::Object => Some(25.0),
        What::Dimension => Some(8.0),
        What::Level => Some(1.0),
        What::Hatch | What::Light => Some(0.2),
    }
}

/// What it costs a dimension line to cross something.
fn dimension_price(what: What) -> Option<f64> {
    match what {
        What::Words | What::Leader => None,
        What::Object => Some(7.0),
        What::Dimension => Some(0.6),
        What::Level => Some(1.0),
        What::Hatch | What::Light => Some(0.2),
    }
}

#[cfg(test)]
mod tests {
    use super::super::around::round;
    use super::*;
    use crate::draw::hand::geo::v2;

    fn board() -> Board {
        Board::new(Quad::rect(v2(0.0, 0.0), v2(60.0, 40.0)))
    }

    #[test]
    fn labels_of_one_anchor_do_not_overlap() {
        let mut board = board();
        let size = v2(14.0, 4.0);
        let places: Vec<Quad> = (0..6)
            .filter_map(|_| board.place(round(v2(30.0, 20.0), size, V2::ZERO), f64::MAX))
            .map(|chosen| chosen.words)
            .collect();
        assert_eq!(places.len(), 6);
        for (i, a) in places.iter().enumerate() {
            assert!(places[..i].iter().all(|b| !a.meets(b)));
        }
    }

    #[test]
    fn costs_are_ranked_in_their_order() {
        let mut costs = [3.5, -1.0, 0.0, 1e9, -0.0, 2.0, f64::MAX, -7.25];
        costs.sort_unstable_by_key(|cost| rank(*cost));
        assert!(costs.windows(2).all(|pair| pair[0].total_cmp(&pair[1]).is_le()), "{costs:?}");
    }

    #[test]
    fn no_room_is_told() {
        let mut board = board();
        board.take(board.frame, What::Object);
        assert!(board.place(round(v2(30.0, 20.0), v2(5.0, 4.0), V2::ZERO), f64::MAX).is_none());
    }

    #[test]
    fn a_leader_goes_round_words() {
        let mut board = board();
        board.take(Quad::rect(v2(20.0, 12.0), v2(40.0, 16.0)), What::Words);
        let chosen = board
            .place(round(v2(30.0, 20.0), v2(10.0, 4.0), v2(0.0, -1.0)), f64::MAX)
            .expect("there is room");
        let leader = chosen.leader.expect("round gives leaders");
        let words = Quad::rect(v2(20.0, 12.0), v2(40.0, 16.0));
        assert!(!Quad::stroke(leader.0, leader.1, 0.1).meets(&words));
    }
}

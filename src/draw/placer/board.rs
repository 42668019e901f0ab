//! Where labels go: one placer for all views.
//!
//! What is already on the paper is a list of quadrilaterals. A label comes with candidates, each a set
//! of boxes, leaders and dimension lines with a cost; the cheapest that breaks no hard rule is taken.
//! Hard: words lie on nothing but light line; leaders cross no words, no leader and no frame. Soft, at a
//! price: a leader across a tube, a level or a dimension line. The order of asking and of candidates
//! decides alone, so the same drawing comes out every time.
use super::candidate::{Candidate, Upright, rank};
use super::covered::Covered;
use super::taken::{Taken, TakenUp};
use super::what::{What, dimension_price, leader_price, words_price};
use crate::draw::hand::geo::{Quad, V2};
use std::cell::Cell;
use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// Clear space kept before and after words, and over and under them, mm.
const PAD_MM: (f64, f64) = (1.3, 0.3);
/// A line counts as so wide to each side, mm.
const LINE_HALF_MM: f64 = 0.15;
/// Half of what is kept clear for a leader, mm.
const LEADER_HALF_MM: f64 = 0.45;
/// So much of a leader at its anchor may touch what it points at, mm.
const TOUCH_MM: f64 = 1.6;

/// The sheet while labels are put on it.
#[derive(Debug, Clone)]
pub struct Board {
    pub frame: Quad,
    /// Everything that takes up room.
    taken: TakenUp,
    /// Where words cannot stand, coarsely.
    covered: Covered,
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

impl Board {
    /// An empty paper.
    pub fn new(frame: Quad) -> Board {
        Board {
            frame,
            taken: TakenUp::new(&frame),
            covered: Covered::new(&frame),
            strain: 0.0,
            closed: false,
            blockers: [Cell::new(0), Cell::new(0)],
            open: Vec::new(),
            order: Vec::new(),
        }
    }

    /// Marks room as taken.
    pub fn take(&mut self, quad: Quad, what: What) {
        if words_price(what).is_none() {
            self.covered.take(&quad);
        }
        self.taken.add(quad, what);
    }

    /// Marks the room of a line as taken.
    pub fn take_line(&mut self, a: V2, b: V2, half: f64, what: What) {
        self.take(Quad::stroke(a, b, half), what);
    }

    /// Takes the best of the places that costs less than `limit`, and answers which it was.
    pub fn place(&mut self, places: impl IntoIterator<Item = Upright>, limit: f64) -> Option<Candidate> {
        if self.closed {
            return None;
        }
        let (mut open, mut order) = self.desk();
        // Most stand on something, so that only the few others are kept and put in order.
        for place in places {
            if place.cost < limit && self.is_open(place.min, place.max) {
                order.push(Reverse((rank(place.cost), open.len())));
                open.push(place.candidate());
            }
        }
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
        for Taken { quad, what, .. } in self.taken.all() {
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
        self.taken.visit(quad, heavy, |_, _| {
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
        self.taken.visit(&stroke.grown(0.9, 0.9), lines, |Taken { quad, .. }, _| {
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
        let known = blocker.and_then(|blocker| self.taken.all().get(blocker.get() as usize));
        if known.is_some_and(|taken| of(taken.what).is_none() && quad.meets(&taken.quad)) {
            return None;
        }
        let mut sum = Some(0.0);
        let all = |_| true;
        self.taken.visit(quad, all, |taken, index| {
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

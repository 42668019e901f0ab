//! Where labels go: one placer for all views.
//!
//! What is already on the paper is a list of quadrilaterals. A label comes with candidates, each a set
//! of boxes, leaders and dimension lines with a cost; the cheapest that breaks no hard rule is taken.
//! Hard: words lie on nothing but light line; leaders cross no words, no leader and no frame. Soft, at a
//! price: a leader across a tube, a level or a dimension line. The order of asking and of candidates
//! decides alone, so the same drawing comes out every time.
use super::around::Round;
use super::candidate::{Candidate, Upright};
use super::covered::Covered;
use super::search::{Desk, Search};
use super::taken::{Taken, TakenUp};
use super::what::{What, dimension_price, leader_price, words_price};
use crate::draw::hand::geo::{Quad, V2};
use std::cell::Cell;

/// Clear space kept before and after words, and over and under them, mm.
const PAD_MM: V2 = V2::new(1.3, 0.3);
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
    blockers: [Blockers; 2],
    /// Room for the places of a label, kept from one to the next.
    desk: Desk,
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
            blockers: Default::default(),
            desk: Desk::default(),
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

    /// Takes the best of the places that costs less than `limit`, and answers which it was: of those close by, and of
    /// those round some points.
    pub fn place<const N: usize>(
        &mut self,
        near: impl IntoIterator<Item = Upright>,
        mut rounds: [Round; N],
        limit: f64,
    ) -> Option<Candidate> {
        if self.closed {
            return None;
        }
        let mut search = Search::new(std::mem::take(&mut self.desk), limit);
        for (nth, place) in near.into_iter().enumerate() {
            if place.cost < limit && self.is_open(place.min, place.max) {
                search.find(nth, place);
            }
        }
        self.go_round(&mut search, &mut rounds);
        let (desk, best) = search.end(|place, room| self.cost_standing(place, room));
        self.desk = desk;
        self.take_best(best)
    }

    /// Looks for places round points, ring by ring outward, as long as one farther out may still be the best.
    fn go_round(&self, search: &mut Search, rounds: &mut [Round]) {
        // Their numbers come after all that lie close by.
        const FIRST: usize = 1 << 20;
        const EACH: usize = 1 << 10;
        let room = self.frame.grown(-PAD_MM.x, -PAD_MM.y);
        for ring in 0..Round::RINGS {
            let least = rounds.iter_mut().map(|round| round.go_to(ring)).fold(f64::MAX, f64::min);
            // Nothing that is still to be seen costs less, so that what does is in its order.
            search.settle(least, |place, room| self.cost_standing(place, room));
            if least >= search.room() {
                break;
            }
            for (nth, round) in rounds.iter_mut().enumerate() {
                let (first, limit) = (FIRST + nth * EACH, search.room());
                let half = round.size() / 2.0 + PAD_MM;
                let is_free = |middle: V2| !self.covered.meets(middle - half, middle + half);
                round.each(&room, limit, is_free, |nth, place| search.find(first + nth, place));
            }
        }
    }

    /// Takes the best of candidates, whose boxes may be turned.
    pub fn place_turned(
        &mut self,
        candidates: impl IntoIterator<Item = Candidate>,
        limit: f64,
    ) -> Option<Candidate> {
        if self.closed {
            return None;
        }
        let may = |candidate: &Candidate| candidate.cost < limit && self.may_stand(&candidate.words);
        let mut open: Vec<Candidate> = candidates.into_iter().filter(may).collect();
        open.sort_by(|a, b| a.cost.total_cmp(&b.cost));
        let mut best: Option<(f64, Candidate)> = None;
        for candidate in open {
            let room = best.map_or(limit, |(cost, _)| cost);
            // The others are dearer still, and what they cross only adds to it.
            if candidate.cost >= room {
                break;
            }
            if let Some(cost) = self.cost_standing(&candidate, room) {
                best = Some((cost, candidate));
            }
        }
        self.take_best(best)
    }

    /// Takes the room of what was found best.
    fn take_best(&mut self, best: Option<(f64, Candidate)>) -> Option<Candidate> {
        let (cost, chosen) = best?;
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
        words.grown(PAD_MM.x, PAD_MM.y).inside(&self.frame)
    }

    /// The same of an upright box by its corners.
    #[inline]
    fn is_open(&self, min: V2, max: V2) -> bool {
        let (min, max) = (min - PAD_MM, max + PAD_MM);
        self.frame.holds(min, max) && !self.covered.meets(min, max)
    }

    /// The same of a candidate that stands on nothing at a glance.
    fn cost_standing(&self, candidate: &Candidate, limit: f64) -> Option<f64> {
        let (wide, room) = (candidate.words.grown(PAD_MM.x, PAD_MM.y), limit - candidate.cost);
        // Most are turned down for their leader.
        let (crossed, beside) = match candidate.leader {
            Some(leader) => self.leader_price(leader, room)?,
            None => (0.0, 0.0),
        };
        let cost = candidate.cost + self.price(&wide, room, words_price, Some(0))? + crossed + beside;
        (cost < limit).then_some(cost)
    }

    /// What a leader costs for what it crosses, and for what it runs along; `None` when it breaks a rule or crosses so
    /// much that it costs more than `limit`.
    fn leader_price(&self, (from, to): (V2, V2), limit: f64) -> Option<(f64, f64)> {
        let short = to - (to - from).clamp_length_max(TOUCH_MM);
        let stroke = Quad::stroke(from + (short - from).clamp_length_max(0.4), short, LEADER_HALF_MM);
        let crossed = self.price(&stroke, limit, leader_price, Some(1))?;
        Some((crossed, self.beside_dimension(&stroke, to - from)))
    }

    /// What a dimension line costs for itself; `None` when it breaks a rule or costs more than `limit`.
    pub fn dimension_price(&self, stroke: &Quad, limit: f64) -> Option<f64> {
        let may = !self.closed && stroke.inside(&self.frame);
        if may { self.price(stroke, limit, dimension_price, None) } else { None }
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
        let blockers = last.map(|kind| &self.blockers[kind]);
        let forbids = |taken: &Taken| of(taken.what).is_none() && quad.meets(&taken.quad);
        if blockers
            .is_some_and(|blockers| blockers.any(|index| self.taken.all().get(index).is_some_and(forbids)))
        {
            return None;
        }
        let mut sum = Some(0.0);
        let all = |_| true;
        self.taken.visit(quad, all, |taken, index| {
            let price = of(taken.what);
            if let (None, Some(blockers)) = (price, blockers) {
                blockers.add(index);
            }
            sum = sum.and_then(|sum| price.map(|price| sum + price)).filter(|sum| *sum < limit);
            sum.is_some()
        });
        sum
    }
}

/// The last few things that forbade a place, by where they stand among what is taken, the last first.
#[derive(Debug, Clone, Default)]
struct Blockers(Cell<[u32; 4]>);

impl Blockers {
    /// Whether one of them forbids it again; it is asked first the next time.
    fn any(&self, forbids: impl Fn(usize) -> bool) -> bool {
        let all = self.0.get();
        let found = all.iter().position(|index| forbids(*index as usize));
        found.inspect(|place| self.bring_forward(*place, all[*place])).is_some()
    }

    /// Remembers one more, and forgets the one that was not asked for longest.
    fn add(&self, index: u32) {
        self.bring_forward(3, index);
    }

    /// Puts one first; those before a place move back by one.
    fn bring_forward(&self, place: usize, index: u32) {
        let mut all = self.0.get();
        all.copy_within(..place, 1);
        all[0] = index;
        self.0.set(all);
    }
}

/// The room of a dimension or extension line.
pub fn dimension_stroke((a, b): (V2, V2)) -> Quad {
    Quad::stroke(a, b, LINE_HALF_MM)
}

//! The search for a label's place, the cheapest first.
//!
//! What a place costs by itself is known at once; what its words and its leader cross only adds to that and is dear
//! to find out. So places are held against what is on the paper in the order of their own costs, and none that costs
//! as much by itself as the best does in all. Of two that cost the same the one with the lower number is taken.
use super::candidate::{Candidate, Upright, rank};
use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// A search that is under way.
pub struct Search {
    desk: Desk,
    best: Option<(f64, Candidate)>,
    limit: f64,
}

/// Lists of a search, kept from one to the next.
#[derive(Debug, Clone, Default)]
pub struct Desk {
    /// Places that stand on nothing at a glance.
    open: Vec<Upright>,
    /// The same by cost, number, and where they stand in the list.
    order: BinaryHeap<Reverse<(u64, usize, usize)>>,
}

impl Search {
    /// A search for what costs less than `limit`.
    pub fn new(mut desk: Desk, limit: f64) -> Search {
        desk.open.clear();
        desk.order.clear();
        Search { desk, best: None, limit }
    }

    /// A place has to cost less than this.
    pub fn room(&self) -> f64 {
        self.best.map_or(self.limit, |(cost, _)| cost)
    }

    /// Adds a place that stands on nothing at a glance.
    pub fn find(&mut self, number: usize, place: Upright) {
        self.desk.order.push(Reverse((rank(place.cost), number, self.desk.open.len())));
        self.desk.open.push(place);
    }

    /// Finds out about the places that cost less than `below` by themselves. `in_all` answers what a place costs with
    /// all that it crosses, where that is less than a limit.
    pub fn settle(&mut self, below: f64, in_all: impl Fn(&Candidate, f64) -> Option<f64>) {
        while let Some(Reverse((_, _, index))) = self.desk.order.peek() {
            let (place, room) = (self.desk.open[*index], self.room());
            if place.cost >= below || place.cost >= room {
                break;
            }
            self.desk.order.pop();
            let candidate = place.candidate();
            if let Some(cost) = in_all(&candidate, room) {
                self.best = Some((cost, candidate));
            }
        }
    }

    /// The best of all, with what it costs in all, and the lists for the next search.
    pub fn end(
        mut self,
        in_all: impl Fn(&Candidate, f64) -> Option<f64>,
    ) -> (Desk, Option<(f64, Candidate)>) {
        self.settle(f64::MAX, in_all);
        (self.desk, self.best)
    }
}

//! The shortest easy way from any place and heading on the lanes to the unit, turned down over it.
use super::bound::{BendPart, bend_between};
use super::lanes::{Heading, Lanes, angle_deg};
use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// A turn is taken to cost as much as this much tube for each 45 degrees: fittings, joints and air.
const TURN_M: f64 = 0.5;
/// Lengths in the queue are whole tenths of a millimetre, so that they order exactly.
const TENTHS: f64 = 1e4;

/// The way on from every node and heading, just after a turn there.
pub struct Onward<'l> {
    lanes: &'l Lanes,
    bends: &'l [BendPart],
    shortest_m: f64,
    unit: usize,
    /// By node and heading: cost, and the node where the next turn stands with the heading after it; the
    /// unit itself where the line turns down.
    best: Vec<(f64, Option<(usize, Heading)>)>,
}

impl<'l> Onward<'l> {
    /// Works backwards from the unit (Dijkstra). Every leg has room for the longest arm at both ends.
    pub fn new(lanes: &'l Lanes, bends: &'l [BendPart], shortest_m: f64, unit: usize) -> Onward<'l> {
        let mut onward = Onward {
            lanes,
            bends,
            shortest_m,
            unit,
            best: vec![(f64::INFINITY, None); lanes.nodes.len() * 8],
        };
        let mut queue = BinaryHeap::new();
        for heading in lanes.ground.headings() {
            onward.arrive(unit, heading, 2.0 * TURN_M, (unit, heading), &mut queue);
        }
        while let Some(Reverse((tenths, node, to))) = queue.pop() {
            let cost = onward.best[node * 8 + to].0;
            if tenths > (cost * TENTHS) as u64 {
                continue;
            }
            for from in lanes.ground.headings() {
                let Some(bend) = bend_between(bends, from, to) else { continue };
                if lanes.bend_free(node, from, to, bends[bend].arm_m) {
                    let turned = cost + angle_deg(from, to) / 45.0 * TURN_M;
                    onward.arrive(node, from, turned, (node, to), &mut queue);
                }
            }
        }
        onward
    }

    fn leg_m(&self) -> f64 {
        2.0 * self.bends.iter().map(|bend| bend.arm_m).fold(0.0, f64::max) + self.shortest_m
    }

    /// All places from which a leg comes to a node in a heading.
    fn arrive(
        &mut self,
        node: usize,
        heading: Heading,
        cost: f64,
        next: (usize, Heading),
        queue: &mut BinaryHeap<Reverse<(u64, usize, Heading)>>,
    ) {
        let least_m = self.leg_m();
        for (from, m) in self.lanes.ahead(node, (heading + 4) % 8) {
            let at = from * 8 + heading;
            if *m >= least_m && cost + m < self.best[at].0 {
                self.best[at] = (cost + m, Some(next));
                queue.push(Reverse((((cost + m) * TENTHS) as u64, *from, heading)));
            }
        }
    }

    /// The best way on along a straight that has started at a node and is free for turns after `after_m`:
    /// cost from there, and the turning points with headings after them; the last is over the unit.
    pub fn after_leg(
        &self,
        node: usize,
        heading: Heading,
        after_m: f64,
    ) -> Option<(f64, Vec<(usize, Heading)>)> {
        let arm_m = self.bends.iter().map(|bend| bend.arm_m).fold(0.0, f64::max);
        let mut best: Option<(f64, (usize, Heading))> = None;
        for (turn, m) in self.lanes.ahead(node, heading).iter().filter(|(_, m)| *m >= after_m + arm_m) {
            let mut take = |cost: f64, to: (usize, Heading)| {
                if cost.is_finite() && best.is_none_or(|(least, _)| cost < least) {
                    best = Some((cost, to));
                }
            };
            if *turn == self.unit {
                take(m - after_m + 2.0 * TURN_M, (self.unit, heading));
            }
            for to in self.lanes.ground.headings() {
                let Some(bend) = bend_between(self.bends, heading, to) else { continue };
                if self.lanes.bend_free(*turn, heading, to, self.bends[bend].arm_m) {
                    let on = self.best[turn * 8 + to].0 + angle_deg(heading, to) / 45.0 * TURN_M;
                    take(m - after_m + on, (*turn, to));
                }
            }
        }
        let (cost, first) = best?;
        let mut turns = vec![first];
        let (mut node, mut heading) = first;
        while node != self.unit {
            let next = self.best[node * 8 + heading].1?;
            turns.push(next);
            (node, heading) = next;
        }
        Some((cost, turns))
    }
}

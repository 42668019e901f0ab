//! Raceways over the lanes: for every word of headings the route with the fewest bores and the shortest way
//! on. Branches that the bound shows to be too short are never entered; the search ends by work done.
use super::bound::Bound;
use super::lanes::{Heading, Lanes, way};
use super::onward::{Goal, Onward, Turns};
use super::parts::Parts;
use crate::plan::P2;
use std::collections::BTreeMap;

/// Straights tried by one search.
const WORK: usize = 400_000;
/// Turning points tried on one straight, spread over it.
const TURNS: usize = 14;

/// A route found: from over or under the valve to over the unit.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// Headings of the raceway's legs.
    pub word: Vec<Heading>,
    /// Where each leg begins; the first is the valve.
    pub corners: Vec<usize>,
    /// Where on the last leg the stop stands.
    pub stop_m: f64,
    /// Turning points beyond the stop with the headings after them; the last is where the line ends.
    pub onward: Turns,
    pub goal: Goal,
    /// Degrees on the level, without the riser's bend.
    pub degrees: f64,
    pub bores: usize,
    /// Tube beyond the stop, with what its turns count for.
    pub onward_cost_m: f64,
}

impl Found {
    /// Where the stop stands, and the heading of the tube there.
    pub fn stop(&self, lanes: &Lanes) -> (P2, Heading) {
        let last = self.corners.last().map_or(P2::ZERO, |n| lanes.nodes[*n]);
        let heading = self.word.last().copied().unwrap_or(0);
        (last + way(heading) * self.stop_m, heading)
    }
}

/// What a search goes by.
pub struct Search<'l> {
    lanes: &'l Lanes,
    bound: &'l Bound<'l>,
    onward: &'l Onward<'l>,
    parts: &'l Parts,
    /// What the hose path on the level must come to.
    need_m: f64,
    work: usize,
    best: BTreeMap<Vec<Heading>, Found>,
}

/// A leg begun.
struct Leg {
    node: usize,
    heading: Heading,
    last: usize,
    /// Hose path up to its start, degrees left, bores so far.
    path_m: f64,
    left_deg: f64,
    bores: usize,
}

impl<'l> Search<'l> {
    /// A search that has not begun.
    pub fn new(
        lanes: &'l Lanes,
        bound: &'l Bound<'l>,
        onward: &'l Onward<'l>,
        parts: &'l Parts,
        need_m: f64,
    ) -> Search<'l> {
        Search { lanes, bound, onward, parts, need_m, work: WORK, best: BTreeMap::new() }
    }

    /// The best route of every word of exactly so many degrees on the level, from a node.
    pub fn of_degrees(&mut self, start: usize, degrees: f64) -> Vec<Found> {
        self.best.clear();
        self.work = WORK;
        for heading in self.lanes.ground.headings() {
            let arm_m = self.parts.bends[self.parts.riser].arm_m;
            if self.bound.on_m(degrees, start, heading, self.parts.riser) < self.need_m {
                continue;
            }
            if self.lanes.ground.arm_free(self.lanes.nodes[start], heading, arm_m) {
                let leg = Leg {
                    node: start,
                    heading,
                    last: self.parts.riser,
                    path_m: 0.0,
                    left_deg: degrees,
                    bores: 0,
                };
                self.follow(leg, &mut vec![heading], &mut vec![start], degrees);
            }
        }
        std::mem::take(&mut self.best).into_values().collect()
    }

    fn follow(&mut self, leg: Leg, word: &mut Vec<Heading>, corners: &mut Vec<usize>, degrees: f64) {
        // Those who call have seen to it that the longest way on is long enough.
        if self.work == 0 {
            return;
        }
        self.work -= 1;
        if leg.left_deg < 1.0 {
            self.finish(&leg, word, corners, degrees);
            return;
        }
        for (next, m) in self.turning_points(&leg) {
            for (b, bend) in self.parts.bends.iter().enumerate() {
                let least_m = self.parts.bends[leg.last].arm_m + bend.arm_m + self.parts.shortest_m;
                let path_m = leg.path_m + m + bend.gain_m;
                // A hose path that is long enough already could have stopped with fewer bends.
                if bend.angle_deg > leg.left_deg + 1e-6 || m < least_m || path_m >= self.need_m {
                    continue;
                }
                let eighths = (bend.angle_deg / 45.0).round() as usize;
                let left_deg = leg.left_deg - bend.angle_deg;
                for to in [(leg.heading + eighths) % 8, (leg.heading + 8 - eighths) % 8] {
                    let longest_m = self.bound.on_m(left_deg, next, to, b);
                    if path_m + longest_m < self.need_m
                        || !self.lanes.bend_free(next, leg.heading, to, bend.arm_m)
                    {
                        continue;
                    }
                    let bores = self.lanes.ground.bores(self.lanes.nodes[leg.node], self.lanes.nodes[next]);
                    let Some(bores) = bores else { continue };
                    word.push(to);
                    corners.push(next);
                    let bores = leg.bores + bores;
                    self.follow(
                        Leg { node: next, heading: to, last: b, path_m, left_deg, bores },
                        word,
                        corners,
                        degrees,
                    );
                    word.pop();
                    corners.pop();
                }
            }
        }
    }

    /// Nodes ahead, not too many, spread over the straight, the farthest among them.
    fn turning_points(&self, leg: &Leg) -> Vec<(usize, f64)> {
        let all = self.lanes.ahead(leg.node, leg.heading);
        let step = all.len().div_ceil(TURNS).max(1);
        all.iter().rev().step_by(step).copied().collect()
    }

    /// The last leg: the stop where the hose path is long enough, then on to the unit.
    fn finish(&mut self, leg: &Leg, word: &[Heading], corners: &[usize], degrees: f64) {
        // In whole inches, as one marks a tape.
        let inch = 0.0254;
        let stop_m = ((self.need_m - leg.path_m) / inch - 1e-6).ceil() * inch;
        let stop_m = stop_m.max(self.parts.bends[leg.last].arm_m + self.parts.shortest_m);
        let after_m = stop_m + self.parts.stop_gap_m + self.parts.shortest_m;
        let Some((cost, onward, goal)) = self.onward.after_leg(leg.node, leg.heading, after_m) else {
            return;
        };
        let mut at = leg.node;
        let mut bores = leg.bores;
        for (node, _) in &onward {
            let Some(more) = self.lanes.ground.bores(self.lanes.nodes[at], self.lanes.nodes[*node]) else {
                return;
            };
            bores += more;
            at = *node;
        }
        let found = Found {
            word: word.to_vec(),
            corners: corners.to_vec(),
            stop_m,
            onward,
            goal,
            degrees,
            bores,
            onward_cost_m: cost,
        };
        let better = |old: &Found| (found.bores, found.onward_cost_m) < (old.bores, old.onward_cost_m);
        if self.best.get(word).is_none_or(better) {
            self.best.insert(word.to_vec(), found);
        }
    }
}

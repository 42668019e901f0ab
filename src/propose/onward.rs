//! The shortest easy way from any place and heading on the lanes to a goal: over the unit, or into a trunk.
use super::bound::{BendPart, bend_between};
use super::lanes::{Heading, Lanes, angle_deg};
use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// A turn is taken to cost as much as this much tube for each 45 degrees: fittings, joints and air.
pub const TURN_M: f64 = 0.5;
/// Lengths in the queue are whole tenths of a millimetre, so that they order exactly.
const TENTHS: f64 = 1e4;

/// Where a line may end.
#[derive(Debug, Clone, PartialEq)]
pub struct Goal {
    /// Where its axis arrives, and in which heading.
    pub node: usize,
    pub heading: Heading,
    /// What the end itself counts for.
    pub cost_m: f64,
    /// Kept free of other fittings before the node, over what any fitting needs.
    pub before_m: f64,
    pub end: GoalEnd,
}

/// What stands at the end.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum GoalEnd {
    /// The line turns down into the unit.
    Unit,
    /// A trunk of this heading, its axis met at this station; a line that comes square to it turns by 45
    /// before it, and the wye stands farther on.
    Wye { trunk: usize, station_m: f64, run: Heading },
}

/// The way on from every node and heading, just after a turn there.
pub struct Onward<'l> {
    lanes: &'l Lanes,
    bends: &'l [BendPart],
    shortest_m: f64,
    /// The longest arm of what stands beyond the stop.
    arm_m: f64,
    goals: Vec<Goal>,
    /// By node and heading: cost, and the node where the next turn stands with the heading after it; the
    /// heading itself where the line ends there.
    best: Vec<(f64, Option<(usize, Heading)>)>,
    /// By node and heading: the goal that is arrived at.
    goal_at: Vec<Option<usize>>,
}

/// Nodes where a line turns with the headings after them; at the last it ends.
pub type Turns = Vec<(usize, Heading)>;

impl<'l> Onward<'l> {
    /// Works backwards from the goals (Dijkstra). Every leg has room for the longest arm at both ends.
    pub fn new(
        lanes: &'l Lanes,
        bends: &'l [BendPart],
        shortest_m: f64,
        arm_m: f64,
        goals: Vec<Goal>,
    ) -> Onward<'l> {
        let states = lanes.nodes.len() * 8;
        let mut onward = Onward {
            lanes,
            bends,
            shortest_m,
            arm_m,
            goals: Vec::new(),
            best: vec![(f64::INFINITY, None); states],
            goal_at: vec![None; states],
        };
        let mut queue = BinaryHeap::new();
        for (number, goal) in goals.iter().enumerate() {
            let at = goal.node * 8 + goal.heading;
            let better = onward.goal_at[at].is_none_or(|old: usize| goal.cost_m < goals[old].cost_m);
            if better {
                onward.goal_at[at] = Some(number);
                onward.arrive(goal.node, goal.heading, goal.cost_m, goal.before_m, goal.heading, &mut queue);
            }
        }
        onward.goals = goals;
        while let Some(Reverse((tenths, node, to))) = queue.pop() {
            let cost = onward.best[node * 8 + to].0;
            if tenths > (cost * TENTHS) as u64 {
                continue;
            }
            for from in lanes.ground.headings() {
                let Some(bend) = bend_between(bends, from, to) else { continue };
                if lanes.bend_free(node, from, to, bends[bend].arm_m) {
                    let turned = cost + angle_deg(from, to) / 45.0 * TURN_M;
                    onward.arrive(node, from, turned, 0.0, to, &mut queue);
                }
            }
        }
        onward
    }

    /// All places from which a leg comes to a node in a heading, to go on there in another.
    fn arrive(
        &mut self,
        node: usize,
        heading: Heading,
        cost: f64,
        before_m: f64,
        then: Heading,
        queue: &mut BinaryHeap<Reverse<(u64, usize, Heading)>>,
    ) {
        let least_m = 2.0 * self.arm_m + self.shortest_m + before_m;
        for (from, m) in self.lanes.ahead(node, (heading + 4) % 8) {
            let at = from * 8 + heading;
            if *m >= least_m && cost + m < self.best[at].0 {
                self.best[at] = (cost + m, Some((node, then)));
                queue.push(Reverse((((cost + m) * TENTHS) as u64, *from, heading)));
            }
        }
    }

    /// The best way on along a straight that has started at a node and is free for turns after `after_m`:
    /// cost from there, the turns, and the goal at the last of them.
    pub fn after_leg(&self, node: usize, heading: Heading, after_m: f64) -> Option<(f64, Turns, Goal)> {
        let mut best: Option<(f64, (usize, Heading))> = None;
        for (turn, m) in self.lanes.ahead(node, heading).iter().filter(|(_, m)| *m >= after_m + self.arm_m) {
            let mut take = |cost: f64, to: (usize, Heading)| {
                if cost.is_finite() && best.is_none_or(|(least, _)| cost < least) {
                    best = Some((cost, to));
                }
            };
            let goal = self.goal_at[turn * 8 + heading].map(|goal| &self.goals[goal]);
            if let Some(goal) = goal.filter(|goal| *m >= after_m + self.arm_m + goal.before_m) {
                take(m - after_m + goal.cost_m, (*turn, heading));
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
        let (mut at, mut before) = (first, heading);
        // A turn never keeps its heading; the end does.
        while at.1 != before {
            before = at.1;
            at = self.best[at.0 * 8 + at.1].1?;
            turns.push(at);
        }
        let goal = self.goal_at[at.0 * 8 + at.1].map(|goal| self.goals[goal].clone())?;
        Some((cost, turns, goal))
    }
}

/// Over the unit from every side.
pub fn over_unit(lanes: &Lanes, unit: usize) -> Vec<Goal> {
    let goal =
        |heading| Goal { node: unit, heading, cost_m: 2.0 * TURN_M, before_m: 0.0, end: GoalEnd::Unit };
    lanes.ground.headings().map(goal).collect()
}

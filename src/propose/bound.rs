//! The longest hose path that so many degrees can give: dynamic programming over node, heading, last bend and
//! degrees left. It holds on the grid of lanes and for these bends only; there it is a proof, for it lets a
//! line cross itself and lie anywhere that any one leg may.
use super::lanes::{Heading, Lanes, angle_deg};

/// A bend as the search knows it.
#[derive(Debug, Clone, PartialEq)]
pub struct BendPart {
    pub angle_deg: f64,
    /// From the work point to where the tube seats.
    pub arm_m: f64,
    /// What the bend adds to the sum of runs: the arc less both tangents, never more than nothing.
    pub gain_m: f64,
}

impl BendPart {
    /// Of a centreline radius.
    pub fn new(angle_deg: f64, radius_m: f64, arm_m: f64) -> BendPart {
        let angle = angle_deg.to_radians();
        BendPart { angle_deg, arm_m, gain_m: radius_m * (angle - 2.0 * (angle / 2.0).tan()) }
    }
}

/// Degrees are counted in these steps.
const STEP_DEG: f64 = 45.0;

/// The longest way from every state.
pub struct Bound<'l> {
    lanes: &'l Lanes,
    bends: &'l [BendPart],
    shortest_m: f64,
    /// By degrees left in steps, then node, heading and last bend; negative where nothing fits.
    best_m: Vec<Vec<f64>>,
}

impl<'l> Bound<'l> {
    /// Works out all states up to `most_deg` degrees; `shortest_m` is the least tube between two fittings.
    pub fn new(lanes: &'l Lanes, bends: &'l [BendPart], shortest_m: f64, most_deg: f64) -> Bound<'l> {
        let mut bound = Bound { lanes, bends, shortest_m, best_m: Vec::new() };
        let steps = (most_deg / STEP_DEG).floor().max(0.0) as usize;
        for left in 0..=steps {
            let mut row = Vec::with_capacity(lanes.nodes.len() * 8 * bends.len());
            for node in 0..lanes.nodes.len() {
                for heading in 0..8 {
                    for last in 0..bends.len() {
                        row.push(bound.state(left, node, heading, last));
                    }
                }
            }
            bound.best_m.push(row);
        }
        bound
    }

    fn index(&self, node: usize, heading: Heading, last: usize) -> usize {
        (node * 8 + heading) * self.bends.len() + last
    }

    fn state(&self, left: usize, node: usize, heading: Heading, last: usize) -> f64 {
        let free_m = self.lanes.free_m(node, heading);
        let after_m = self.bends[last].arm_m + self.shortest_m;
        let mut best = if free_m >= after_m { free_m } else { f64::NEG_INFINITY };
        for (next, m) in self.lanes.ahead(node, heading) {
            for (b, bend) in self.bends.iter().enumerate() {
                let steps = (bend.angle_deg / STEP_DEG).round() as usize;
                if steps > left || *m < after_m + bend.arm_m {
                    continue;
                }
                for to in [(heading + steps) % 8, (heading + 8 - steps) % 8] {
                    let rest = self.best_m[left - steps][self.index(*next, to, b)];
                    if rest > 0.0 && self.lanes.bend_free(*next, heading, to, bend.arm_m) {
                        best = best.max(m + bend.gain_m + rest);
                    }
                }
            }
        }
        best
    }

    /// The longest way on from a node after a bend into a heading, with so many degrees left.
    pub fn on_m(&self, left_deg: f64, node: usize, heading: Heading, last: usize) -> f64 {
        let left = ((left_deg / STEP_DEG).floor().max(0.0) as usize).min(self.best_m.len() - 1);
        self.best_m[left][self.index(node, heading, last)]
    }
}

/// The bend that turns one heading into another.
pub fn bend_between(bends: &[BendPart], from: Heading, to: Heading) -> Option<usize> {
    let wanted = angle_deg(from, to);
    bends.iter().position(|bend| (bend.angle_deg - wanted).abs() < 1e-6)
}

//! The longest hose path that so many degrees can give: dynamic programming over node, heading, last bend and
//! degrees left. It holds on the grid of lanes and for these bends only; there it is a proof, for it lets a
//! line cross itself and lie anywhere that any one leg may.
use super::lanes::{Heading, Lanes, angle_deg};
use rayon::prelude::*;

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
        let states = lanes.nodes.len() * 8;
        let steps = (most_deg / STEP_DEG).floor().max(0.0) as usize;
        for left in 0..=steps {
            // What each bend gives at each node that is come to in each heading: worked out once, for a node
            // lies ahead of many others.
            let given: Vec<f64> = (0..states)
                .into_par_iter()
                .flat_map_iter(|state| bound.turned(left, state / 8, state % 8))
                .collect();
            let row =
                (0..states).into_par_iter().flat_map_iter(|state| bound.state(&given, state / 8, state % 8));
            let row = row.collect();
            bound.best_m.push(row);
        }
        bound
    }

    fn index(&self, node: usize, heading: Heading, last: usize) -> usize {
        (node * 8 + heading) * self.bends.len() + last
    }

    /// The longest way on through each bend at a node that is come to in a heading.
    fn turned(&self, left: usize, node: usize, heading: Heading) -> impl Iterator<Item = f64> + '_ {
        self.bends.iter().enumerate().map(move |(b, bend)| {
            let steps = (bend.angle_deg / STEP_DEG).round() as usize;
            if steps > left {
                return f64::NEG_INFINITY;
            }
            let on = [(heading + steps) % 8, (heading + 8 - steps) % 8].into_iter().filter_map(|to| {
                let rest = self.best_m[left - steps][self.index(node, to, b)];
                (rest > 0.0 && self.lanes.bend_free(node, heading, to, bend.arm_m))
                    .then_some(bend.gain_m + rest)
            });
            on.fold(f64::NEG_INFINITY, f64::max)
        })
    }

    /// The longest way from a node in a heading, after each bend.
    fn state(&self, given: &[f64], node: usize, heading: Heading) -> impl Iterator<Item = f64> {
        let n = self.bends.len();
        let free_m = self.lanes.free_m(node, heading);
        let after_m: Vec<f64> = self.bends.iter().map(|last| last.arm_m + self.shortest_m).collect();
        let mut best: Vec<f64> =
            after_m.iter().map(|m| if free_m >= *m { free_m } else { f64::NEG_INFINITY }).collect();
        for (next, m) in self.lanes.ahead(node, heading) {
            let given = &given[(next * 8 + heading) * n..][..n];
            for (best, after_m) in best.iter_mut().zip(&after_m) {
                for (bend, on_m) in self.bends.iter().zip(given) {
                    if *m >= after_m + bend.arm_m {
                        *best = best.max(m + on_m);
                    }
                }
            }
        }
        best.into_iter()
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

#[cfg(test)]
mod tests {
    use super::super::lanes::Ground;
    use super::super::testing::Dice;
    use super::*;
    use crate::plan::{Box2, Hang, P2};

    /// Every line of lanes and bends from a state, without the table: the longest of them.
    fn brute(
        l: &Lanes,
        bends: &[BendPart],
        shortest_m: f64,
        left_deg: f64,
        at: (usize, Heading, usize),
    ) -> f64 {
        let (node, heading, last) = at;
        let after_m = bends[last].arm_m + shortest_m;
        let free_m = l.free_m(node, heading);
        let mut best = if free_m >= after_m { free_m } else { f64::NEG_INFINITY };
        for (next, m) in l.ahead(node, heading) {
            for (b, bend) in bends.iter().enumerate() {
                if bend.angle_deg > left_deg + 1e-6 || *m < after_m + bend.arm_m {
                    continue;
                }
                for to in 0..8 {
                    if (angle_deg(heading, to) - bend.angle_deg).abs() < 1e-6
                        && l.bend_free(*next, heading, to, bend.arm_m)
                    {
                        let rest = brute(l, bends, shortest_m, left_deg - bend.angle_deg, (*next, to, b));
                        best = best.max(m + bend.gain_m + rest);
                    }
                }
            }
        }
        best
    }

    #[test]
    fn agrees_with_brute_force_on_small_floors() {
        let bends = [BendPart::new(90.0, 0.1778, 0.2032), BendPart::new(45.0, 0.1778, 0.0984)];
        let mut dice = Dice(2_026);
        let mut reached = 0;
        for _ in 0..60 {
            let (w, h) = (1.3 + 0.1 * dice.below(12) as f64, 1.3 + 0.1 * dice.below(12) as f64);
            let ring = vec![P2::ZERO, P2::new(w, 0.0), P2::new(w, h), P2::new(0.0, h)];
            let from = P2::new(0.1 * dice.below(9) as f64, 0.1 * dice.below(9) as f64);
            let duct = Box2 { from, size: P2::new(0.15, 0.3) };
            let ground = Ground::new(vec![ring], &[duct], Hang::Below, 0.0254);
            let valve = P2::new(w - 0.3, 0.3);
            let lanes = Lanes::new(ground, &[valve, P2::new(0.3, h - 0.3)], 0.2032);
            let bound = Bound::new(&lanes, &bends, 0.1, 180.0);
            let Some(start) = lanes.node_at(valve) else { continue };
            for (heading, left) in [(4, 45.0), (2, 90.0), (3, 135.0), (4, 180.0)] {
                let (table, all) = (
                    bound.on_m(left, start, heading, 0),
                    brute(&lanes, &bends, 0.1, left, (start, heading, 0)),
                );
                assert!(table == all || (table - all).abs() < 1e-9, "{table} by the table, {all} by trying");
                reached += usize::from(all > 0.0);
            }
        }
        assert!(reached > 100, "{reached}");
    }

    #[test]
    fn grows_with_degrees() {
        let bends = [BendPart::new(90.0, 0.1778, 0.2032)];
        let ring = vec![P2::ZERO, P2::new(4.0, 0.0), P2::new(4.0, 4.0), P2::new(0.0, 4.0)];
        let lanes =
            Lanes::new(Ground::new(vec![ring], &[], Hang::Below, 0.0254), &[P2::ONE, P2::new(3.0, 3.0)], 0.2);
        let bound = Bound::new(&lanes, &bends, 0.1, 270.0);
        let start = lanes.node_at(P2::ONE).expect("a node stands there");
        let reach: Vec<f64> =
            [0.0, 90.0, 180.0, 270.0].iter().map(|deg| bound.on_m(*deg, start, 0, 0)).collect();
        assert!(reach.windows(2).all(|pair| pair[0] < pair[1]), "{reach:?}");
    }
}

//! The lanes as a net of states for the tree: what stands at a node, in which heading, and what has room there.
use super::lanes::{Heading, Lanes, angle_deg};
use super::onward::TURN_M;
use super::parts::Parts;
use super::steiner::{Merge, Net};
use super::{bound::bend_between, build::entry};
use crate::plan::P2;

/// Costs are whole tenths of a millimetre.
const TENTHS: f64 = 1e4;

/// What is true of tube at a node in a heading.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// A fitting stands there.
    Fitted = 0,
    /// A wye stands a slant's length farther on, that of a branch which came square.
    FittedOn = 1,
    /// Tube runs through, with room behind for a fitting.
    Runs = 2,
    /// Tube runs through, with room behind for the 45 of a square branch.
    RunsSquare = 3,
}

const KINDS: [Kind; 4] = [Kind::Fitted, Kind::FittedOn, Kind::Runs, Kind::RunsSquare];

/// A state, taken apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct State {
    pub node: usize,
    pub heading: Heading,
    pub kind: Kind,
}

impl State {
    /// Its number in the net.
    pub fn number(self) -> u32 {
        ((self.node * 8 + self.heading) * 4 + self.kind as usize) as u32
    }

    /// The state of a number.
    pub fn of(number: u32) -> State {
        let n = number as usize;
        State { node: n / 32, heading: n / 4 % 8, kind: KINDS[n % 4] }
    }
}

/// A length as a cost.
pub fn cost(m: f64) -> u32 {
    (m.max(0.0) * TENTHS).round().min(f64::from(u32::MAX / 4)) as u32
}

/// The net over lanes; without a wye in the catalog nothing merges.
pub fn net(lanes: &Lanes, parts: &Parts) -> Net {
    let mut net = Net { steps: vec![Vec::new(); lanes.nodes.len() * 32], merges: Vec::new() };
    for node in 0..lanes.nodes.len() {
        for heading in lanes.ground.headings() {
            legs(&mut net, lanes, parts, node, heading);
            turns(&mut net, lanes, parts, node, heading);
            merges(&mut net, lanes, parts, node, heading);
        }
    }
    net
}

/// The least length of a leg between any two fittings.
pub fn least_m(parts: &Parts) -> f64 {
    2.0 * parts.arm_m() + parts.shortest_m
}

/// From a fitting along the straight to where the next may stand, and on from node to node.
fn legs(net: &mut Net, lanes: &Lanes, parts: &Parts, node: usize, heading: Heading) {
    let slant_m = parts.wye.as_ref().map_or(0.0, |wye| wye.along_m);
    let ahead = lanes.ahead(node, heading);
    let from = |kind| State { node, heading, kind }.number() as usize;
    for (fitted, behind_m) in [(Kind::Fitted, 0.0), (Kind::FittedOn, slant_m)] {
        for (runs, before_m) in [(Kind::Runs, 0.0), (Kind::RunsSquare, slant_m)] {
            let need_m = least_m(parts) + behind_m + before_m;
            if let Some((next, m)) = ahead.iter().find(|(_, m)| *m >= need_m) {
                net.steps[from(fitted)].push((State { node: *next, heading, kind: runs }.number(), cost(*m)));
            }
        }
    }
    if let Some((next, m)) = ahead.first() {
        for kind in [Kind::Runs, Kind::RunsSquare] {
            net.steps[from(kind)].push((State { node: *next, heading, kind }.number(), cost(*m)));
        }
    }
}

/// Short bends at a node.
fn turns(net: &mut Net, lanes: &Lanes, parts: &Parts, node: usize, heading: Heading) {
    let from = State { node, heading, kind: Kind::Runs }.number() as usize;
    for to in lanes.ground.headings() {
        let Some(bend) = bend_between(&parts.shorts, heading, to) else { continue };
        if lanes.bend_free(node, heading, to, parts.shorts[bend].arm_m) {
            let turned = cost(angle_deg(heading, to) / 45.0 * TURN_M);
            net.steps[from].push((State { node, heading: to, kind: Kind::Fitted }.number(), turned));
        }
    }
}

/// Wyes of a run at a node: a branch that comes at 45 degrees enters at once, one that comes square turns first.
fn merges(net: &mut Net, lanes: &Lanes, parts: &Parts, node: usize, run: Heading) {
    let Some(wye) = &parts.wye else { return };
    let at = lanes.nodes[node];
    let state = |heading, kind| State { node, heading, kind }.number();
    for by in [1, 7] {
        let arrives = (run + by) % 8;
        if lanes.wye_free(at, arrives, run, wye) && lanes.ground.free_m(at, run) > wye.arm_m {
            let (run_in, out) = (state(run, Kind::Runs), state(run, Kind::Fitted));
            net.merges.push(Merge {
                run: run_in,
                branch: state(arrives, Kind::Runs),
                out,
                cost: cost(TURN_M),
            });
        }
    }
    for by in [2, 6] {
        let arrives = (run + by) % 8;
        if lanes.square_entry(at, arrives, run, wye) {
            let (run_in, out) = (state(run, Kind::Runs), state(run, Kind::FittedOn));
            let branch = state(arrives, Kind::RunsSquare);
            // The slant is shorter than both sides of the square that it cuts off.
            let price = 2.0 * TURN_M + wye.leg_m - wye.along_m;
            net.merges.push(Merge { run: run_in, branch, out, cost: cost(price) });
        }
    }
}

/// Where a wye stands whose branch arrives at a node, and the turn before it, if it comes square.
pub fn joint(
    lanes: &Lanes,
    parts: &Parts,
    node: usize,
    arrives: Heading,
    run: Heading,
) -> (P2, Option<(P2, Heading)>) {
    let at = lanes.nodes[node];
    match &parts.wye {
        Some(wye) if angle_deg(arrives, run) > 46.0 => {
            (at + super::lanes::way(run) * wye.along_m, Some(entry(at, arrives, run, wye.along_m)))
        }
        _ => (at, None),
    }
}

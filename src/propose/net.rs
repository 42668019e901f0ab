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
    let Ok(wye) = &parts.wye else { return };
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
        Ok(wye) if angle_deg(arrives, run) > 46.0 => {
            (at + super::lanes::way(run) * wye.along_m, Some(entry(at, arrives, run, wye.along_m)))
        }
        _ => (at, None),
    }
}

#[cfg(test)]
mod tests {
    use super::super::bound::BendPart;
    use super::super::lanes::Ground;
    use super::super::steiner::tree;
    use super::*;
    use crate::plan::{Box2, Hang};
    use serde_json::{Value, json};

    /// Bends without arms, so that every node may be turned at.
    fn bare_parts() -> Parts {
        let bends = || vec![BendPart::new(90.0, 0.0, 0.0), BendPart::new(45.0, 0.0, 0.0)];
        Parts {
            bends: bends(),
            shorts: bends(),
            riser: 0,
            shortest_m: 1e-3,
            stop_gap_m: 0.0,
            wye: Err(String::new()),
        }
    }

    /// Answers of `tests/reference/plans.py`.
    fn reckoned(asked: &Value) -> Value {
        let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR"));
        let python = std::env::var_os("LONGSWEEP_PYTHON")
            .map_or_else(|| root.join("tests/.venv/bin/python"), std::path::PathBuf::from);
        let file = tempfile::NamedTempFile::new().expect("a file");
        std::fs::write(file.path(), asked.to_string()).expect("it is written");
        let script = root.join("tests/reference/plans.py");
        let output = std::process::Command::new(&python).arg("-B").arg(script).arg(file.path()).output();
        let output = output.unwrap_or_else(|error| panic!("{} does not start: {error}", python.display()));
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
        serde_json::from_slice(&output.stdout).expect("JSON")
    }

    /// The cheapest way from a fitting to a node, a step along a straight and a turn each at its own price.
    fn least(net: &Net, from: State, to: usize, price: impl Fn(State, State, u32) -> u32) -> Option<u64> {
        let of = |(number, steps): (usize, &Vec<(u32, u32)>)| {
            let at = State::of(number as u32);
            steps.iter().map(|(next, cost)| (*next, price(at, State::of(*next), *cost))).collect()
        };
        let priced = Net { steps: net.steps.iter().enumerate().map(of).collect(), merges: Vec::new() };
        let ends: Vec<(u32, u32)> = (0..8)
            .flat_map(|heading| {
                [Kind::Runs, Kind::Fitted].map(|kind| State { node: to, heading, kind }.number())
            })
            .map(|state| (state, 0))
            .collect();
        // A line may leave in its heading, or turn at once.
        tree(&priced, &[vec![(from.number(), 0)]], &ends).map(|tree| tree.cost)
    }

    #[test]
    fn ways_over_lanes_agree_with_networkx() {
        let mut dice = super::super::testing::Dice(31);
        let (mut asked, mut ours) = (Vec::new(), Vec::new());
        for _ in 0..12 {
            let mut part = |n: u64| dice.below(n) as f64 / 100.0;
            let (w, h) = (2.5 + part(300), 2.5 + part(300));
            let ring = vec![P2::ZERO, P2::new(w, 0.0), P2::new(w, h), P2::new(0.0, h)];
            let boxes: Vec<Box2> = (0..3)
                .map(|_| Box2 {
                    from: P2::new(part(250), part(250)),
                    size: P2::new(0.2 + part(80), 0.2 + part(80)),
                })
                .collect();
            let (a, b) =
                (P2::new(0.2 + part(50), 0.2 + part(50)), P2::new(w - 0.2 - part(50), h - 0.2 - part(50)));
            // Tube of no width, so that theirs needs to know of none.
            let lanes = Lanes::new(Ground::new(vec![ring], &boxes, Hang::Below, 0.0), &[a, b], 0.2);
            let net = net(&lanes, &bare_parts());
            let (Some(from), Some(to)) = (lanes.node_at(a), lanes.node_at(b)) else { continue };
            let start = State { node: from, heading: 0, kind: Kind::Runs };
            let metres = least(&net, start, to, |at, next, cost| if at.node == next.node { 0 } else { cost });
            let turns = least(&net, start, to, |at, next, _| angle_deg(at.heading, next.heading) as u32 / 45);
            ours.push((metres.map(|m| m as f64 / TENTHS), turns));
            let boxes: Vec<Value> = lanes
                .ground
                .no_go
                .iter()
                .map(|b| {
                    let end = b.from + b.size;
                    json!([b.from.x, b.from.y, end.x, end.y])
                })
                .collect();
            let nodes: Vec<Value> = lanes.nodes.iter().map(|p| json!([p.x, p.y])).collect();
            asked.push(json!({
                "nodes": nodes, "boxes": boxes, "ring": [0.0, 0.0, w, h], "from": [from, 0], "to": to,
            }));
        }
        let answers = reckoned(&json!({"grids": asked}));
        let mut found = 0;
        for ((metres, turns), answer) in ours.iter().zip(answers["grids"].as_array().expect("a list")) {
            match (metres, answer["metres"].as_f64()) {
                // Steps are whole tenths of a millimetre.
                (Some(m), Some(theirs)) => assert!((m - theirs).abs() < 2e-3, "{m} m, {theirs} by them"),
                (m, theirs) => assert_eq!(*m, theirs),
            }
            assert_eq!(*turns, answer["turns"].as_u64());
            found += usize::from(turns.is_some());
        }
        assert!(found >= 6, "{found} of {} are joined", ours.len());
    }
}

//! What all valves of a house reach together.
use super::farthest::farthest;
use super::house::{House, house};
use super::place::Placed;
use super::reach::{Laid, Left, Reach, Region, STEP_M, left_out, regions};
use super::types::{P2, Plan};
use super::ways::{Ways, ways};

/// A valve stands in a wall; farther than this from the floor it is not on the plan.
const OFF_M: f64 = 0.5;

/// A valve, in the job's frame.
#[derive(Debug, Clone, PartialEq)]
pub struct ValveAt {
    pub at: P2,
    pub up_m: f64,
    pub hose_m: f64,
}

/// What the valves of a house reach.
#[derive(Debug, Clone, PartialEq)]
pub struct Survey {
    pub house: House,
    /// What every corner of it sees.
    pub ways: Ways,
    /// In the order of the valves; `None` for one that stands off the plan.
    pub reaches: Vec<Option<Reach>>,
    /// What some valve reaches with so much hose, each up to the length of its own.
    pub bands: Vec<Region>,
    /// What no valve reaches.
    pub left: Vec<Left>,
}

/// Surveys a house for these valves.
pub fn survey(plan: &Plan, placed: &Placed, valves: &[ValveAt]) -> Survey {
    let house = house(plan, placed);
    let all = ways(&house);
    let lies: Vec<_> = valves
        .iter()
        .map(|valve| {
            let floor = placed.floors_m.iter().rposition(|up_m| *up_m <= valve.up_m + 0.02).unwrap_or(0);
            let home = house.home(floor, valve.at);
            (home.at.distance(valve.at) <= OFF_M).then(|| (all.from(&house, home), valve))
        })
        .collect();
    let reaches = lies.iter().map(|lie| {
        let (lie, valve) = lie.as_ref()?;
        let farthest = farthest(&house, lie, plan.wand_m);
        Some(Reach { start: lie.start.home, hose_m: valve.hose_m, wand_m: plan.wand_m, farthest })
    });
    let reaches = reaches.collect();
    let longest_m = valves.iter().map(|valve| valve.hose_m).fold(0.0, f64::max);
    let mut steps: Vec<f64> =
        (1..).map(|n| f64::from(n) * STEP_M).take_while(|m| *m < longest_m - 1e-6).collect();
    steps.push(longest_m);
    let laid = lies.iter().flatten().map(|(lie, valve)| Laid { lie, hose_m: valve.hose_m });
    let bands = regions(&house, &laid.collect::<Vec<_>>(), &steps, plan.wand_m);
    let comes =
        |sheet: usize, at: P2| lies.iter().flatten().any(|(lie, _)| lie.distance_m(sheet, at).is_finite());
    let left = bands.last().map_or(Vec::new(), |whole| left_out(&house, placed, whole, comes));
    drop(lies);
    Survey { house, ways: all, reaches, bands, left }
}

//! The search over house plans against libraries in another language: the fewest valves against a whole-number
//! programme, the tree of a trunk against a programme of flows.
mod common;
#[path = "common/floors.rs"]
mod floors;

use common::generate::{self, Dice};
use longsweep::plan::{candidates, cells, fewest, house, needs, place, ways};
use longsweep::propose::steiner::{Merge, Net, tree};
use serde_json::{Value, json};

const FT: f64 = 0.3048;

/// Asks `tests/reference/plans.py`.
fn reckon(asked: &Value) -> Value {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("asked.json");
    std::fs::write(&file, asked.to_string()).expect("a file");
    common::reckon("plans.py", &[&file])
}

#[test]
fn fewest_valves_agree_with_a_whole_number_programme() {
    let mut dice = Dice::new(77);
    let (mut asked, mut ours) = (Vec::new(), Vec::new());
    for number in 0..8 {
        let plan = floors::floor(&mut dice, 3 + number % 4);
        let placed = place(&plan).expect("it hangs together");
        let house = house(&plan, &placed);
        let places = candidates(&plan, &placed, &house);
        let cells = cells(&house, 3.0 * FT);
        let needs = needs(&house, &ways(&house), &places, &cells, plan.wand_m);
        for hose_ft in [8.0, 12.0, 18.0] {
            let near =
                |c: usize| (0..places.len()).filter(|p| needs.cautious_m[*p][c] <= hose_ft * FT).collect();
            let mut rows: Vec<Vec<usize>> = (0..cells.len()).map(near).collect();
            rows.retain(|row| !row.is_empty());
            let cover = fewest(&rows, places.len(), 400_000).expect("every row has a place");
            ours.push((cover.chosen.len(), cover.at_least));
            asked.push(json!({"rows": rows, "columns": places.len()}));
        }
    }
    let answers = reckon(&json!({"covers": asked}));
    let answers = answers["covers"].as_array().expect("a list");
    assert_eq!(answers.len(), ours.len());
    let mut proven = 0;
    for ((valves, at_least), answer) in ours.iter().zip(answers) {
        let optimum = answer.as_u64().expect("a number") as usize;
        assert!(*at_least <= optimum && optimum <= *valves, "{at_least} to {valves}, {optimum} by them");
        proven += usize::from(at_least == valves);
    }
    println!("{proven} of {} proven, all as they are by the programme", ours.len());
    assert!(proven * 3 >= ours.len() * 2, "{proven} of {} proven", ours.len());
}

#[test]
fn trees_agree_with_a_programme_of_flows() {
    let mut dice = Dice::new(4_711);
    let (mut asked, mut ours) = (Vec::new(), Vec::new());
    for number in 0..40 {
        let nodes = 6 + number % 4;
        let mut net = Net { steps: vec![Vec::new(); nodes], merges: Vec::new() };
        let mut arcs = Vec::new();
        for _ in 0..nodes * 3 {
            let (from, to) = (dice.below(nodes as u64) as u32, dice.below(nodes as u64) as u32);
            let cost = 1 + dice.below(30) as u32;
            if from != to {
                net.steps[from as usize].push((to, cost));
                arcs.push(json!([from, to, cost]));
            }
        }
        // In a plain graph flows merge wherever they meet, at no cost.
        net.merges = (0..nodes as u32).map(|n| Merge { run: n, branch: n, out: n, cost: 0 }).collect();
        let terminals: Vec<u32> = (1..2 + (number % 3) as u32 + 1).collect();
        let groups: Vec<Vec<(u32, u32)>> = terminals.iter().map(|t| vec![(*t, 0)]).collect();
        ours.push(tree(&net, &groups, &[(0, 0)]).map(|tree| tree.cost));
        asked.push(json!({"nodes": nodes, "arcs": arcs, "terminals": terminals, "root": 0}));
    }
    let answers = reckon(&json!({"trees": asked}));
    let mut found = 0;
    for (number, (cost, answer)) in ours.iter().zip(answers["trees"].as_array().expect("a list")).enumerate()
    {
        assert_eq!(cost.map(|c| c as f64), answer["least"].as_f64(), "tree {number}");
        if let (Some(cost), Some(both_ways)) = (cost, answer["undirected"].as_f64()) {
            // One-way arcs leave less choice than arcs both ways, of which theirs is at most twice the best.
            assert!(both_ways <= 2.0 * *cost as f64, "tree {number}: {both_ways} against {cost}");
            found += 1;
        }
    }
    assert!(found >= 20, "{found}");
}

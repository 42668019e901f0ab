//! How long reach, the fewest valves and proposed routes take; run with `cargo test --release --test bench_plan --
//! --ignored --nocapture`. The least of several runs is told, since other work on the machine only adds. Nothing is
//! asserted: a machine's load is no fault of the program.
mod common;
#[path = "common/floors.rs"]
mod floors;

use common::generate::{self, Dice};
use longsweep::company::load;
use longsweep::plan::{Laid, candidates, cells, farthest, fewest_valves, house, needs, place, regions, ways};
use longsweep::propose::Proposer;
use longsweep::standard::kinds;
use std::hint::black_box;
use std::time::{Duration, Instant};

const FT: f64 = 0.3048;
const RUNS: usize = 5;

/// The least time of several runs.
fn least<T>(mut work: impl FnMut() -> T) -> Duration {
    let once = |_| {
        let begun = Instant::now();
        black_box(work());
        begun.elapsed()
    };
    (0..RUNS).map(once).min().unwrap_or_default()
}

#[test]
#[ignore = "a benchmark"]
fn reach_and_fewest_valves_of_nine_rooms() {
    let mut dice = Dice::new(20_261_125);
    for _ in 0..5 {
        let plan = floors::floor(&mut dice, 9);
        let placed = place(&plan).expect("it hangs together");
        let house = house(&plan, &placed);
        let all = ways(&house);
        let places = candidates(&plan, &placed, &house);
        let lie = all.from(&house, places[0].home);
        let laid = [Laid { lie: &lie, hose_m: 40.0 * FT }];
        let steps: Vec<f64> = (1..=8).map(|n| f64::from(n) * 5.0 * FT).collect();
        let cells = cells(&house, FT);
        let hoses = [30.0 * FT, 40.0 * FT, 50.0 * FT];
        println!(
            "{} rooms, {} corners: graph {:.1?}, contours {:.1?}, farthest {:.1?}; {} places, {} cells: matrix {:.1?}, fewest for 3 hoses {:.1?}",
            plan.rooms.len(),
            all.corners.len(),
            least(|| ways(&house)),
            least(|| regions(&house, &laid, &steps, plan.wand_m)),
            least(|| farthest(&house, &lie, plan.wand_m)),
            places.len(),
            cells.len(),
            least(|| needs(&house, &all, &places, &cells, plan.wand_m)),
            least(|| fewest_valves(&house, &all, &places, &cells, plan.wand_m, &hoses)),
        );
    }
}

#[test]
#[ignore = "a benchmark"]
fn five_proposed_routes() {
    let company = load(common::repository(), &kinds());
    let job = company.jobs.iter().flatten().find(|job| job.key == "whimbrel-house").expect("the demo's job");
    let standard = company.standards.iter().find(|s| s.revision == job.standard).expect("its standard");
    let catalog = company.catalog.as_ref().expect("a catalog");
    let say = company.firm.as_ref().expect("a firm").say();
    let proposer = Proposer { job, standard, catalog, say };
    let found = proposer.inlet(0, &mut |_, _| {}).expect("a search");
    println!(
        "{} routes offered, {} inspected: {:.1?} for all of them",
        found.offers.len(),
        found.tried,
        least(|| proposer.inlet(0, &mut |_, _| {}))
    );
}

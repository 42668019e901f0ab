//! How long reach and the fewest valves take; run with `cargo test --release --test bench_plan -- --ignored
//! --nocapture`. Nothing is asserted: a machine's load is no fault of the program.
#[path = "common/floors.rs"]
mod floors;
#[path = "common/generate.rs"]
#[allow(dead_code)]
mod generate;

use generate::Dice;
use longsweep::plan::{candidates, cells, fewest_valves, house, place, reach, ways};
use std::time::Instant;

const FT: f64 = 0.3048;

#[test]
#[ignore = "a benchmark"]
fn reach_and_fewest_valves_of_nine_rooms() {
    let mut dice = Dice::new(20_261_125);
    for _ in 0..5 {
        let plan = floors::floor(&mut dice, 9);
        let placed = place(&plan).expect("it hangs together");
        let begun = Instant::now();
        let house = house(&plan, &placed);
        let all = ways(&house);
        let graph = begun.elapsed();
        let places = candidates(&plan, &placed, &house);
        let reached = reach(&house, &placed, &all, places[0].home, 40.0 * FT, plan.wand_m);
        let reach_took = begun.elapsed();
        let begun = Instant::now();
        let cells = cells(&house, FT);
        let found =
            fewest_valves(&house, &all, &places, &cells, plan.wand_m, &[30.0 * FT, 40.0 * FT, 50.0 * FT]);
        println!(
            "{} rooms, {} corners: graph {graph:.1?}, reach {reach_took:.1?} ({} bands); {} places, {} cells: fewest for 3 hoses {:.1?}: {:?}",
            plan.rooms.len(),
            all.corners.len(),
            reached.bands.len(),
            places.len(),
            cells.len(),
            begun.elapsed(),
            found
                .iter()
                .map(|f| (f.hose_m / FT, f.spread.valves, f.at_least, f.proven, f.out.len(), f.in_doubt))
                .collect::<Vec<_>>()
        );
    }
}

//! What a crew cuts and drills by, read back from the printed packets of random houses and worked out again in Python
//! from the words of their jobs (`tests/reference/printed_cuts.py`).
mod common;

use common::change;
use common::generate::Dice;
use common::houses::crowded;
use std::path::Path;

/// Houses of each firm.
const HOUSES: u64 = 8;

#[test]
fn packets_in_feet_and_inches_add_up() {
    packets_add_up(31_000, |_| ());
}

#[test]
fn packets_in_millimetres_of_parts_in_odd_inches_add_up() {
    packets_add_up(32_000, |content| {
        change(&content.join("company.yaml"), &[("lengths: ft-in", "lengths: metric")]);
        change(
            &content.join("catalog/tube-and-fittings.yaml"),
            &[
                ("stick: 8 ft", "stick: 97.3 in"),
                ("kerf: 1/8 in", "kerf: 2.2 mm"),
                ("laying-length: 3-7/8 in", "laying-length: 3.77 in"),
                ("laying-length: 2-1/4 in", "laying-length: 2.53 in"),
                ("run-laying-length: 1-3/4 in", "run-laying-length: 2.33 in"),
                ("gap: 1/8 in", "gap: 5/32 in"),
                ("inside-gap: 0 in", "inside-gap: 7/32 in"),
            ],
        );
    });
}

fn packets_add_up(seed: u64, firm: impl Fn(&Path)) {
    let company = common::published_houses(HOUSES, |n| crowded(&mut Dice::new(seed + n)), firm);
    let wrong = common::reckon("printed_cuts.py", &[company.path()]);
    let wrong = wrong.as_array().expect("a list of faults");
    assert!(wrong.is_empty(), "{} faults: {:#?}", wrong.len(), &wrong[..wrong.len().min(12)]);
}

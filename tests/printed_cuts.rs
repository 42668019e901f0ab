//! What a crew cuts and drills by, read back from the printed packets of random houses and worked out again in Python
//! from the words of their jobs (`tests/reference/printed_cuts.py`).
mod common;

use common::generate::Dice;
use common::houses::crowded;
use std::fs;
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

/// Puts words of a file in place of others; each must be there.
fn change(file: &Path, words: &[(&str, &str)]) {
    let mut text = fs::read_to_string(file).expect("a file of the firm");
    for (from, to) in words {
        assert!(text.contains(from), "{} has no {from}", file.display());
        text = text.replace(from, to);
    }
    fs::write(file, text).expect("a file of the firm");
}

fn packets_add_up(seed: u64, firm: impl Fn(&Path)) {
    let company = common::demo_without_jobs();
    firm(&company.path().join("content"));
    fs::remove_dir_all(company.path().join("content/lessons")).expect("lessons");
    for n in 0..HOUSES {
        let file = company.path().join(format!("jobs/house-{n}.yaml"));
        fs::write(file, crowded(&mut Dice::new(seed + n))).expect("a job");
    }
    common::publish(company.path());
    let wrong = common::reckon("printed_cuts.py", &[company.path()]);
    let wrong = wrong.as_array().expect("a list of faults");
    assert!(wrong.is_empty(), "{} faults: {:#?}", wrong.len(), &wrong[..wrong.len().min(12)]);
}

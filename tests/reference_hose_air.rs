//! Effort and air against a second reckoning in Python (`tests/reference/hose_air.py`).
mod common;

use common::generate::Dice;
use common::houses::house;
use serde_json::Value;
use std::fs;
use std::path::Path;

/// The reference walks in steps of eight millimetres, over which the force on the way up a riser changes
/// by up to a fifth of a percent.
const EFFORT: f64 = 0.005;
/// The two take the gas constant and the viscosity from other sources, and march by other means.
const AIR: f64 = 0.01;

const FIGURES: [(&str, &str, f64); 6] = [
    ("hose", "draw_in_N", EFFORT),
    ("hose", "available_N", EFFORT),
    ("hose", "pull_out_N", EFFORT),
    ("air", "flow_m3_s", AIR),
    ("air", "suction_at_valve_Pa", AIR),
    ("air", "suction_at_unit_Pa", AIR),
];

/// How many random houses; they have about two inlets each.
const HOUSES: usize = 48;

#[test]
fn agrees_with_python_on_the_demo() {
    let compared = compare(common::demo().path());
    assert!(compared > 0, "there was nothing to compare");
}

#[test]
fn agrees_with_python_on_random_houses() {
    let company = common::demo_without_jobs();
    let mut dice = Dice::new(20_260_504);
    for n in 0..HOUSES {
        fs::write(company.path().join(format!("jobs/house-{n}.yaml")), house(&mut dice)).unwrap();
    }
    let compared = compare(company.path());
    // Six figures of at least one inlet in each.
    assert!(compared > 6 * HOUSES, "{compared} figures of {HOUSES} houses");
}

/// Compares every figure the reference gives; returns how many there were.
fn compare(company: &Path) -> usize {
    let inspected = common::inspect(company, &[]);
    let file = company.join("inspected.json");
    fs::write(&file, Value::Array(inspected.clone()).to_string()).unwrap();
    let reference = common::reckon("hose_air.py", &[company, &file]);
    let (mut compared, mut wrong) = (0, Vec::new());
    for job in &inspected {
        let key = common::text(job, "/job");
        for (ours, theirs) in common::list(job, "/inlets").iter().zip(common::list(&reference[key], "")) {
            let place = format!("{key} {}", common::text(ours, "/id"));
            for (group, figure, tolerance) in FIGURES {
                let Some(expected) = theirs[group][figure].as_f64() else {
                    continue;
                };
                compared += 1;
                let found = ours[group][figure].as_f64().unwrap_or(f64::NAN);
                // A hose that hangs in its riser falls out by itself: no force in either.
                let apart = if found == expected { 0.0 } else { (found / expected - 1.0).abs() };
                if apart.is_nan() || apart > tolerance {
                    wrong.push(format!("{place} {figure}: {found} here, {expected} in the reference"));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{} of {compared}:\n{}", wrong.len(), wrong.join("\n"));
    compared
}

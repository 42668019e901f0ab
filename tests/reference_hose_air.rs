//! Effort and air against a second reckoning in Python (`tests/reference/hose_air.py`).
mod common;

use serde_json::Value;
use std::fs;

/// The reference looks at the travel every four centimetres only, over which the force on the way up a
/// riser changes by up to half a percent.
const EFFORT: f64 = 0.01;
/// The two take the gas constant and the viscosity from other sources, and march by other means.
const AIR: f64 = 0.01;

#[test]
fn agrees_with_python_on_the_demo() {
    let company = common::demo();
    let inspected = common::inspect(company.path(), &[]);
    let file = company.path().join("inspected.json");
    fs::write(&file, Value::Array(inspected.clone()).to_string()).unwrap();
    let reference = common::reckon("hose_air.py", &[company.path(), &file]);
    let (mut compared, mut wrong) = (0, Vec::new());
    for job in &inspected {
        let key = common::text(job, "/job");
        for (ours, theirs) in common::list(job, "/inlets").iter().zip(common::list(&reference[key], "")) {
            let place = format!("{key} {}", common::text(ours, "/id"));
            for (group, figure, tolerance) in [
                ("hose", "draw_in_N", EFFORT),
                ("hose", "available_N", EFFORT),
                ("hose", "pull_out_N", EFFORT),
                ("air", "flow_m3_s", AIR),
                ("air", "suction_at_valve_Pa", AIR),
                ("air", "suction_at_unit_Pa", AIR),
            ] {
                let Some(expected) = theirs[group][figure].as_f64() else {
                    continue;
                };
                compared += 1;
                let found = ours[group][figure].as_f64().unwrap_or(f64::NAN);
                let apart = (found / expected - 1.0).abs();
                if apart.is_nan() || apart > tolerance {
                    wrong.push(format!("{place} {figure}: {found} here, {expected} in the reference"));
                }
            }
        }
    }
    assert!(compared > 0, "there was nothing to compare");
    assert!(wrong.is_empty(), "{} of {compared}:\n{}", wrong.len(), wrong.join("\n"));
}

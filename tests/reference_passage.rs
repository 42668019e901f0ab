//! The longest rod through a bend against a search in Python (`tests/reference/passage.py`).
mod common;

use longsweep::reckon::passage::through_bend;
use serde_json::json;
use std::fs;

/// The search stops its bisection at a fifty-thousandth of the length and takes the rod and the wall as
/// points; a tenth of a percent leaves room for both, and is less than a tape shows on such a rod.
const LENGTH: f64 = 1e-3;

/// Bore, radius of the centreline, angle, rod, all lengths in inches: the demo's fittings, tighter and
/// wider ones, above and below the critical angle, thin rods and thick, other bores, and the corridor
/// corner.
const CASES: [(f64, f64, f64, f64); 14] = [
    (1.87, 2.0, 90.0, 0.0),
    (1.87, 2.0, 90.0, 1.25),
    (1.87, 2.0, 45.0, 1.25),
    (1.87, 7.0, 90.0, 1.25),
    (1.87, 7.0, 45.0, 0.5),
    (1.87, 7.0, 22.5, 1.25),
    (1.87, 3.0, 22.5, 1.75),
    (1.87, 1.5, 90.0, 0.75),
    (1.87, 9.0, 60.0, 1.0),
    (1.87, 2.0, 120.0, 1.25),
    (1.5, 2.5, 30.0, 0.3),
    (2.8, 4.0, 90.0, 2.2),
    (1.0, 0.5, 90.0, 0.0),
    (1.0, 0.5, 60.0, 0.4),
];

#[test]
fn agrees_with_a_search_over_tilted_rods() {
    const INCH: f64 = 0.0254;
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("cases.json");
    let cases = CASES.map(
        |(bore, radius, angle, rod)| json!({"bore": bore, "radius": radius, "angle_deg": angle, "rod": rod}),
    );
    fs::write(&file, serde_json::Value::from(cases.to_vec()).to_string()).unwrap();
    let searched = common::reckon("passage.py", &[&file]);
    let mut wrong = Vec::new();
    for ((bore, radius, angle, rod), theirs) in CASES.iter().zip(common::list(&searched, "")) {
        let expected = theirs.as_f64().unwrap_or(f64::NAN);
        let ours = through_bend(bore * INCH, radius * INCH, angle.to_radians(), rod * INCH).unwrap() / INCH;
        let apart = (ours / expected - 1.0).abs();
        if apart.is_nan() || apart > LENGTH {
            wrong.push(format!("{bore}, {radius}, {angle}°, {rod}: {ours} by formula, {expected} by search"));
        }
    }
    assert_eq!(common::list(&searched, "").len(), CASES.len());
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

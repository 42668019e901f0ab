//! A remedy of two changes, where no single one serves: found by the program, and made by hand in the file.
mod common;

use serde_json::Value;
use std::fs;

/// Six quarter turns: 540 degrees, and whatever single change is made there are more than 360 left, or the
/// raceway grows too short for its hose.
fn six_corners(raceway: &str, onward: &str) -> String {
    format!(
        "title: Six Corners\naddress: 1 Long Way\ndate: 2026-11-30\nunit: {{model: basement-600, own-circuit: yes}}\n\
         inlets:\n  - id: hall\n    name: Hall\n    valve: door-sealed\n    hose: bare-40\n    wall: 2x6\n    raceway:\n      \
         leaves: down\n      path: [{{run: 3 ft, crosses: none}}, {raceway}]\n    onward: {{path: [{onward}], into: unit}}\n"
    )
}

fn finding<'a>(job: &'a Value, clause: &str) -> &'a Value {
    let found = common::list(job, "/inlets/0/findings").iter().find(|found| found["clause"] == clause);
    found.unwrap_or_else(|| panic!("no finding of {clause}"))
}

#[test]
fn two_changes_serve_where_no_single_one_does() {
    let demo = common::demo_without_jobs();
    let company = demo.path();
    let zigzag = "{turn: 90 north}, {run: 10 ft}, {turn: 90 west}, {run: 10 ft}";
    fs::write(company.join("jobs/six.yaml"), six_corners(&[zigzag; 3].join(", "), "{run: 3 ft}")).unwrap();
    // By hand, as the words say: the stop 1 ft before B5, and R5 longer by 3 ft 0-1/16 in.
    let shorter = format!(
        "{zigzag}, {{turn: 90 north}}, {{run: 10 ft}}, {{turn: 90 west}}, {{run: 9 ft}}, {{run: 3 ft 0-1/16 in}}"
    );
    let rest = "{run: 1 ft}, {turn: 90 north}, {run: 10 ft}, {turn: 90 west}, {run: 13 ft}";
    fs::write(company.join("jobs/mended.yaml"), six_corners(&shorter, rest)).unwrap();

    let broken = &common::inspect(company, &["six"])[0];
    let total = finding(broken, "bend-total");
    assert_eq!(total["verdict"], "fail");
    let offers = common::list(total, "/proven_remedies");
    let words: Vec<&str> = offers.iter().map(|offer| common::text(offer, "/words")).collect();
    assert_eq!(words.len(), 1, "{words:?}");
    assert!(
        words[0].contains("before B5") && words[0].contains("; and make R5 3 ft 0-1/16 in longer"),
        "{words:?}"
    );

    let mended = &common::inspect(company, &["mended"])[0];
    for clause in ["bend-total", "hose-room", "fitting-room"] {
        assert_eq!(finding(mended, clause)["verdict"], "pass", "{clause}");
    }
}

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

/// A house whose trunk is fed from a valve over its start; `raceway`, `onward` and `trunk` are paths.
fn with_trunk(raceway: &str, onward: &str, trunk: &str) -> String {
    format!(
        "title: Stub House\naddress: 1 Long Way\ndate: 2026-11-30\nunit: {{model: basement-600, own-circuit: yes}}\n\
         trunks:\n  - {{id: main, leaves: west, path: [{trunk}], into: unit}}\n\
         inlets:\n  - id: hall\n    name: Hall\n    valve: door-sealed\n    hose: socked-40\n    wall: 2x6\n    raceway:\n      \
         leaves: down\n      path: [{{run: 3 ft, crosses: none}}, {raceway}]\n    \
         onward: {{path: [{onward}], into: {{trunk: main, at: 4 ft, with: wye-45}}}}\n"
    )
}

/// Words of the proven remedies of a clause at a place of the record.
fn remedies(job: &Value, findings: &str, clause: &str) -> Vec<String> {
    let found = common::list(job, findings).iter().filter(|found| found["clause"] == clause);
    let broken = found.filter(|found| found["verdict"] != "pass");
    broken
        .flat_map(|found| found["proven_remedies"].as_array().cloned().unwrap_or_default())
        .map(|offer| common::text(&offer, "/words").to_owned())
        .collect()
}

const RACEWAY: &str = "{turn: 90 west}, {run: 41 ft 2-1/2 in}";
const ONWARD: &str = "{run: 3 ft}, {turn: 45 south, with: short-45}, {run: 3 ft}";

#[test]
fn a_stub_anywhere_on_a_line_is_saved_by_a_change_that_was_tried() {
    let demo = common::demo_without_jobs();
    let jobs = demo.path().join("jobs");
    let write = |name: &str, text: String| fs::write(jobs.join(name), text).unwrap();
    // 3 in over five sticks before the stop; 3 in over a stick beyond it; 3 in over a stick of the trunk.
    write("a.yaml", with_trunk("{turn: 90 west}, {run: 40 ft 11-1/2 in}", ONWARD, "{run: 30 ft}"));
    let beyond = "{run: 8 ft 4-3/4 in}, {turn: 45 south, with: short-45}, {run: 3 ft}";
    write("b.yaml", with_trunk(RACEWAY, beyond, "{run: 30 ft}"));
    write("c.yaml", with_trunk(RACEWAY, ONWARD, "{run: 12 ft 6-3/4 in}"));
    for (job, findings, run) in [
        ("a", "/inlets/0/findings", "R2 "),
        ("b", "/inlets/0/findings", "R2 beyond the stop "),
        ("c", "/trunks/0/findings", "R1 "),
    ] {
        let found = &common::inspect(demo.path(), &[job])[0];
        let words = remedies(found, findings, "stubs");
        let notes: Vec<_> = common::list(found, findings).iter().filter(|f| f["clause"] == "stubs").collect();
        let saved =
            words.iter().any(|words| words.starts_with(&format!("make {run}")) && words.contains("shorter"));
        assert!(saved, "{job}: {words:?} {notes:#?}");
    }
}

/// Two branches that join a trunk by tees, so far apart.
fn two_tees(apart: &str) -> String {
    let inlet = |id: &str, at: &str| {
        format!(
            "  - id: {id}\n    name: {id}\n    valve: door-sealed\n    hose: socked-40\n    wall: 2x6\n    raceway:\n      \
             leaves: down\n      path: [{{run: 3 ft, crosses: none}}, {RACEWAY}]\n    \
             onward: {{path: [{ONWARD}], into: {{trunk: main, at: {at}, with: tee-90}}}}\n"
        )
    };
    format!(
        "title: Tee House\naddress: 1 Long Way\ndate: 2026-11-30\nunit: {{model: basement-600, own-circuit: yes}}\n\
         trunks:\n  - {{id: main, leaves: west, path: [{{run: 30 ft}}], into: unit}}\ninlets:\n{}{}",
        inlet("hall", "4 ft"),
        inlet("den", apart)
    )
}

/// A wye that takes more of the trunk than the tee it stands for leaves too little tube between two of them.
#[test]
fn a_wye_is_not_offered_where_it_spoils_the_trunk_that_it_stands_in() {
    let demo = common::demo_without_jobs();
    let company = demo.path();
    let parts = company.join("content/catalog/tube-and-fittings.yaml");
    let text = fs::read_to_string(&parts).unwrap();
    let wye = text.lines().find(|line| line.contains("id: wye-45,")).unwrap();
    let longer = wye.replace("run-laying-length: 1-3/4 in", "run-laying-length: 3-1/2 in");
    assert_ne!(wye, longer);
    fs::write(&parts, text.replace(wye, &longer)).unwrap();
    fs::write(company.join("jobs/near.yaml"), two_tees("4 ft 9 in")).unwrap();
    fs::write(company.join("jobs/far.yaml"), two_tees("9 ft")).unwrap();
    for (job, offered) in [("near", false), ("far", true)] {
        let found = &common::inspect(company, &[job])[0];
        for inlet in ["/inlets/0/findings", "/inlets/1/findings"] {
            let words = remedies(found, inlet, "wye-junctions");
            assert_eq!(
                words.iter().any(|words| words.contains("Wye 45°")),
                offered,
                "{job} {inlet}: {words:?}"
            );
        }
    }
}

//! What packets tell of hose and air, read back from the printed sheets of random houses and reckoned again in Python
//! from the words of their jobs and the catalog (`tests/reference/printed_air.py`).
mod common;

use common::change;
use common::generate::Dice;
use common::houses::drafty;
use serde_json::Value;
use std::fs;
use std::path::Path;

/// Houses of each firm.
const HOUSES: u64 = 5;

#[test]
fn houses_in_feet_and_inches() {
    let seen = read_back(41_000, |_| ());
    assert!(
        seen("upright junctions") > 0 && seen("taken") > 20 && seen("caught") > 0,
        "too little was drawn"
    );
}

/// A metric firm: closer gaps, a rough tube, leaks told at different suctions, limits in odd units.
#[test]
fn houses_in_millimetres_with_other_parts() {
    let seen = read_back(42_000, |content| {
        change(&content.join("company.yaml"), &[("lengths: ft-in", "lengths: metric")]);
        change(
            &content.join("catalog/tube-and-fittings.yaml"),
            &[("roughness: 0.0015 mm", "roughness: 0.05 mm")],
        );
        change(
            &content.join("catalog/hoses.yaml"),
            &[
                ("throat: 1.25 in, handle-passes: 3.5 in", "throat: 30 mm, handle-passes: 95 mm"),
                ("outside: 1.65 in, tail: 1.78 in", "outside: 1.65 in, tail: 1.86 in"),
            ],
        );
        change(
            &content.join("catalog/valves.yaml"),
            &[
                (
                    "opening: 1.80 in\n    leak: 0.3 cfm\n    leak-at: 100 inH2O",
                    "opening: 1.77 in\n    leak: 4 cfm\n    leak-at: 10 kPa",
                ),
                ("leak: 0.6 cfm\n    leak-at: 100 inH2O", "leak: 2 m3/h\n    leak-at: 60 inH2O"),
            ],
        );
        change(
            &content.join("catalog/units-and-wire.yaml"),
            &[("gauge: 18 AWG, stranded: true", "gauge: 20 AWG, stranded: false")],
        );
    });
    assert!(seen("caught") > 0, "nothing catches");
}

/// A catalog with gaps: no tail, no opening, no friction, no throat, no leak, no wire.
#[test]
fn houses_of_which_not_all_is_known() {
    let seen = read_back(43_000, |content| {
        change(
            &content.join("catalog/hoses.yaml"),
            &[
                ("length: 40 ft, outside: 1.75 in, tail: 1.78 in", "length: 40 ft, outside: 1.75 in"),
                (
                    "length: 50 ft, outside: 1.65 in, tail: 1.78 in, bore: 1.4 in, weight: 0.19 lb/ft, sock: false, friction: {in: 0.30, out: 0.34, floor: 0.35}, air-friction: 0.045, throat: 1.25 in",
                    "length: 50 ft, outside: 1.65 in, tail: 1.78 in, bore: 1.4 in, weight: 0.19 lb/ft, sock: false, air-friction: 0.045",
                ),
                (
                    "friction: {in: 0.30, out: 0.34, floor: 0.35}, air-friction: 0.045",
                    "friction: {in: 0.30, out: 0.34, floor: 0.35}",
                ),
                (
                    "length: 30 ft, outside: 1.75 in, tail: 1.78 in, bore: 1.4 in, weight: 0.25 lb/ft, sock: true, friction: {in: 0.32, out: 0.28, floor: 0.30}, air-friction: 0.045, throat: 1.25 in, handle-passes: 3.5 in",
                    "length: 30 ft, outside: 1.75 in, tail: 1.78 in, bore: 1.4 in, weight: 0.25 lb/ft, sock: true, friction: {in: 0.32, out: 0.28, floor: 0.30}, air-friction: 0.045, throat: 1.25 in",
                ),
            ],
        );
        change(
            &content.join("catalog/valves.yaml"),
            &[("    opening: 1.80 in\n    leak: 0.6 cfm\n    leak-at: 100 inH2O\n", "")],
        );
        change(
            &content.join("catalog/units-and-wire.yaml"),
            &[("wire: {id: bell-18, gauge: 18 AWG, stranded: true, volts: 24 V, amps: 0.5 A}\n", "")],
        );
    });
    assert!(seen("junctions") > 0, "nothing joins");
}

/// A figure that misses its limit by a hair, or keeps it by one, is printed so that it reads as what it is.
#[test]
fn limits_that_are_missed_and_kept_by_a_hair() {
    for lengths in ["ft-in", "metric"] {
        for hair in [1e-4, -1e-4] {
            let company = common::demo_without_jobs();
            let content = company.path().join("content");
            fs::remove_dir_all(content.join("lessons")).expect("lessons");
            change(&content.join("company.yaml"), &[("lengths: ft-in", &format!("lengths: {lengths}"))]);
            fs::write(company.path().join("jobs/hall.yaml"), HALL).expect("a job");
            let found = common::inspect(company.path(), &[]).remove(0);
            limits_beside(&content, &found, hair);
            common::publish(company.path());
            let seen = told_right(company.path(), 0);
            let broken = if hair > 0.0 { 8 } else { 0 };
            assert_eq!((seen("findings"), seen("findings broken")), (8, broken), "{lengths}, {hair}");
        }
    }
}

/// A house whose figures are all known, by numbers that no ruler shows.
const HALL: &str = "\
title: Hall
date: 2026-05-04
unit: {model: basement-600, at: {east: 2.345 m, north: 3 ft, up: -5 ft}}
inlets:
  - id: hall
    name: Hall
    valve: door-sealed
    hose: socked-40
    at: {east: 22 ft, north: 14 ft, up: 1 ft 6 in}
    raceway:
      leaves: down
      path: [{run: 0.9137 m}, {turn: 90 west}, {run: 6.1193 m}, {turn: 90 south}, {run: 7.7711 m}]
    onward:
      path: [{run: 0.731 m}, {turn: 90 east, with: short-90}, {run: 1.2317 m}]
      into: unit
";

/// Sets the limits of the standard, and what the handle lets in, beside what was found: past it by a part `hair` of it,
/// or short of it by as much where that is below nought.
fn limits_beside(content: &Path, found: &Value, hair: f64) {
    let measured = |clause: &str| {
        let findings = common::list(found, "/inlets/0/findings").iter();
        let of = findings.filter(|finding| finding["clause"] == clause);
        of.map(|finding| common::number(finding, "/measured")).next().expect("a finding")
    };
    let (more, less) = (1.0 + hair, 1.0 - hair);
    let hose_m = 40.0 * 0.3048;
    let limits = [
        (
            "allowance: 10 %",
            format!("allowance: {:.6} %", 100.0 * (measured("hose-room") * more / hose_m - 1.0)),
        ),
        (
            "tolerance: 1 in\n        fails-at: 6 in",
            format!("tolerance: {:.6} m", measured("misclosure") * less),
        ),
        ("reserve: 1.25", format!("reserve: {:.8}", measured("draw-in") * more)),
        ("limit: 20 lbf", format!("limit: {:.6} N", measured("pull-out") * less)),
        ("least: 2500 fpm", format!("least: {:.8} m/s", measured("air-velocity") * more)),
        ("least: 55 inH2O", format!("least: {:.4} Pa", measured("suction-at-valve") * more)),
        ("limit: 10 %", format!("limit: {:.8} %", 100.0 * measured("wire-drop") * less)),
    ];
    let limits: Vec<(&str, &str)> = limits.iter().map(|(from, to)| (*from, to.as_str())).collect();
    change(&content.join("standard/2026-1.yaml"), &limits);
    let passes = format!("handle-passes: {:.6} m", measured("passage") * more);
    change(&content.join("catalog/hoses.yaml"), &[("handle-passes: 3.5 in", &passes)]);
}

/// Publishes houses drawn by lot and reads them back; answers how many figures of each kind were held against another.
fn read_back(seed: u64, firm: impl Fn(&Path)) -> impl Fn(&str) -> u64 {
    let company = common::published_houses(HOUSES, |n| drafty(&mut Dice::new(seed + n)), firm);
    told_right(company.path(), 10)
}

/// Reads the sheets of a company back; of each kind there are more than `few` figures.
fn told_right(company: &Path, few: u64) -> impl Fn(&str) -> u64 + use<> {
    let read = common::reckon("printed_air.py", &[company]);
    let wrong = common::list(&read, "/wrong");
    assert!(wrong.is_empty(), "{} faults: {:#?}", wrong.len(), &wrong[..wrong.len().min(12)]);
    let seen = read["seen"].clone();
    let count = move |kind: &str| seen.get(kind).and_then(Value::as_u64).unwrap_or(0);
    for kind in ["reckoned", "printed", "readings", "limits", "rolls", "throats", "spare", "findings"] {
        assert!(count(kind) > few, "{kind}: {}", count(kind));
    }
    count
}

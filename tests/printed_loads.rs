//! What goes on the truck, read back from load sheets, `packet.json` and `takeoff` of random houses and counted again in
//! Python from the words of their jobs (`tests/reference/printed_loads.py`).
mod common;

use common::change;
use common::generate::Dice;
use common::houses::crowded;
use std::fs;
use std::path::Path;

/// Houses of each firm.
const HOUSES: u64 = 10;

#[test]
fn every_part_of_a_house_is_counted_once() {
    loads_add_up(51_000, |_| ());
}

#[test]
fn parts_of_two_kinds_are_told_apart_and_tubes_that_nobody_can_cut_are_said_to_be_missing() {
    loads_add_up(52_000, |content| {
        change(&content.join("company.yaml"), &[("lengths: ft-in", "lengths: metric")]);
        change(
            &content.join("company.yaml"),
            &[("{kind: stick, per: job, count: 1}", "{part: short-90, per: trunk, count: 2}")],
        );
        let parts = content.join("catalog/tube-and-fittings.yaml");
        let couplings = "  - {id: wide, name: Coupling for raceways, kind: coupling, gap: 1/4 in, socket: 1-1/8 in, for: raceway}
  - {id: coupling, name: Coupling for trunks, kind: coupling, gap: 1/8 in, socket: 3/4 in, for: trunk}";
        change(
            &parts,
            &[(
                "  - {id: coupling, name: Coupling, kind: coupling, gap: 1/8 in, socket: 1-1/8 in, for: either}",
                couplings,
            )],
        );
        change(&parts, &[("  - {id: cap, name: Cap, kind: cap, socket: 3/4 in, for: trunk}\n", "")]);
        change(
            &parts,
            &[("branch-laying-length: 2 in, run-laying-length: 1-3/4 in", "branch-laying-length: 2 in")],
        );
        change(&parts, &[("stick: 8 ft", "stick: 97.3 in")]);
    });
}

/// A house with members of many kinds, where now and then a line goes on as its trunk.
fn house(seed: u64) -> String {
    const MEMBERS: [&str; 8] = [
        "bottom-plate, size: 2x4",
        "top-plate, size: 2x4, bearing: true",
        "top-plate, size: 2x6, from-edge: 5/8 in",
        "stud, size: 2x6, from-edge: 1 in",
        "joist, size: 2x10, floor-line: true",
        "joist, depth: 9-1/2 in, garage-wall: true",
        "truss, depth: 12 in",
        "rafter, size: 2x8",
    ];
    let mut dice = Dice::new(seed);
    let mut text = String::new();
    let (mut begun, mut inlets) = (false, false);
    for line in crowded(&mut dice).lines() {
        inlets |= line == "inlets:";
        let goes_on = inlets && line.contains("into: {trunk: main-0") && !begun && dice.once_in(2);
        begun |= goes_on;
        let line = match (goes_on, line.find("member: ")) {
            (true, _) => "      into: {trunk: main-0, at: start}".into(),
            (_, Some(at)) => format!("{}member: {}, hole: 2-1/8 in}}]", &line[..at], dice.pick(&MEMBERS)),
            _ => line.to_owned(),
        };
        text += &line;
        text.push('\n');
    }
    text
}

fn loads_add_up(seed: u64, firm: impl Fn(&Path)) {
    let company = common::published_houses(HOUSES, |n| house(seed + n), firm);
    let path = company.path();
    fs::create_dir(path.join("takeoff")).expect("a folder");
    for n in 0..HOUSES {
        let job = format!("house-{n}");
        for (ending, arguments) in [("txt", &["takeoff", &job][..]), ("csv", &["takeoff", "--csv", &job])] {
            let run = common::run(path, arguments);
            assert_eq!(run.code, 0, "{}", run.err);
            fs::write(path.join(format!("takeoff/{job}.{ending}")), run.out).expect("a list");
        }
    }
    let found = common::reckon("printed_loads.py", &[path]);
    let wrong = common::list(&found, "/wrong");
    assert!(wrong.is_empty(), "{} faults: {:#?}", wrong.len(), &wrong[..wrong.len().min(12)]);
    assert!(common::number(&found, "/items") > 100.0, "{}", found["items"]);
}

//! Figures of `packet.json` against what the pages print of them, and readings typed in against the limits beside them,
//! for random houses (`tests/reference/printed_record.py`).
mod common;

use common::change;
use common::generate::Dice;
use common::houses::crowded;
use std::path::Path;

/// Houses of each firm.
const HOUSES: u64 = 10;

#[test]
fn pages_print_what_the_record_says_in_inches() {
    figures_agree(71_000, |_| ());
}

#[test]
fn pages_print_what_the_record_says_in_metres_where_much_is_not_known() {
    figures_agree(72_000, |content| {
        change(&content.join("company.yaml"), &[("lengths: ft-in", "lengths: metric")]);
        change(
            &content.join("catalog/hoses.yaml"),
            &[("friction: {in: 0.30, out: 0.34, floor: 0.35}, ", "")],
        );
        change(
            &content.join("catalog/valves.yaml"),
            &[(
                "    depth: 3-1/4 in\n    socket: 1-1/8 in\n    opening: 1.80 in\n",
                "    depth: 3-1/4 in\n    socket: 1-1/8 in\n",
            )],
        );
    });
}

/// A house with readings taken at most of its inlets, and a line here and there that nobody has led on from its stop.
fn house(seed: u64) -> String {
    let mut dice = Dice::new(seed);
    let mut text = String::new();
    for line in crowded(&mut dice).lines() {
        text += line;
        text.push('\n');
        if line.starts_with("    hose:") && !dice.once_in(4) {
            let (suction, flow) = (60 + dice.below(80), 40 + dice.below(70));
            let (drawn, pulled) = (dice.below(200), 20 + dice.below(280));
            text += &format!(
                "    readings: {{sealed-suction: {suction} inH2O, flow: {flow} cfm, draw-in: {}.{} lbf, pull-out: {}.{} lbf}}\n",
                drawn / 10,
                drawn % 10,
                pulled / 10,
                pulled % 10
            );
        }
    }
    match (dice.once_in(3), text.rfind("    onward:")) {
        (true, Some(at)) => text[..at].to_owned(),
        _ => text,
    }
}

fn figures_agree(seed: u64, firm: impl Fn(&Path)) {
    let company = common::published_houses(HOUSES, |n| house(seed + n), firm);
    let path = company.path();
    let found = common::reckon("printed_record.py", &[path]);
    let wrong = common::list(&found, "/wrong");
    assert!(wrong.is_empty(), "{} faults: {:#?}", wrong.len(), &wrong[..wrong.len().min(12)]);
    assert!(common::number(&found, "/count") > 400.0, "{} figures", found["count"]);
}

//! Random jobs whose figures can be reckoned: raceways of a few fitting bends, with their way on to the
//! unit, alone or by trunks. Where [`super::generate`] looks for odd words and shapes, these are houses.
use super::generate::Dice;
use std::fmt::Write;

const ACROSS: [&str; 4] = ["east", "north", "west", "south"];
const VALVES: [&str; 3] = ["door-sealed", "cuff-sealed", "tab-switched"];
const HOSES: [&str; 5] = ["socked-30", "socked-40", "socked-50", "bare-40", "bare-50"];
const UNITS: [&str; 2] = ["basement-600", "garage-450"];

/// How a job writes lengths.
#[derive(Clone, Copy)]
enum Tape {
    Feet,
    Metric,
}

impl Tape {
    fn run(self, dice: &mut Dice, least_in: u64, most_in: u64) -> String {
        let inches = least_in + dice.below(most_in - least_in + 1);
        match self {
            Tape::Feet => format!("{} ft {}-{}/8 in", inches / 12, inches % 12, 1 + 2 * dice.below(4)),
            Tape::Metric => format!("{}.{} cm", inches * 254 / 100, dice.below(10)),
        }
    }
}

/// Where a line is heading: level along one of [`ACROSS`] or an eighth turn beyond it, or up or down.
#[derive(Clone, Copy)]
enum Way {
    Level { quarter: usize, eighth: bool },
    Plumb,
}

/// A job of one to three inlets, with no trunk, one, or one that joins another.
pub fn house(dice: &mut Dice) -> String {
    let tape = if dice.once_in(2) { Tape::Feet } else { Tape::Metric };
    let trunks = dice.below(3);
    let mut text = String::from("title: House drawn by lot\ndate: 2026-05-04\n");
    writeln!(text, "unit: {{model: {}}}", dice.pick(&UNITS)).unwrap();
    if trunks > 0 {
        text.push_str("trunks:\n");
    }
    for n in 0..trunks {
        let into = if n == 0 { "unit".into() } else { joint(dice, 0) };
        trunk(dice, tape, n, &into, &mut text);
    }
    text.push_str("inlets:\n");
    for n in 0..1 + dice.below(3) {
        inlet(dice, tape, n, trunks, false, &mut text);
    }
    text
}

/// A job of one to five inlets on one to three trunks, each with its place and with members to go through.
pub fn crowded(dice: &mut Dice) -> String {
    let tape = if dice.once_in(2) { Tape::Feet } else { Tape::Metric };
    let mut text = String::from("title: Crowded house\ndate: 2026-05-04\n");
    writeln!(text, "unit: {{model: {}, at: {{east: 2 ft, north: 3 ft, up: -5 ft}}}}", dice.pick(&UNITS))
        .unwrap();
    text.push_str("levels:\n  - {name: First floor, up: 0 ft}\n  - {name: Basement ceiling, up: -1 ft}\n");
    text.push_str("datums:\n  - {name: south wall, line: east, north: 0 ft}\n");
    text.push_str("  - {name: stair wall, line: north, east: 12 ft}\ntrunks:\n");
    let trunks = 1 + dice.below(3);
    for n in 0..trunks {
        let into = if n == 0 { "unit".into() } else { joint(dice, n - 1) };
        trunk(dice, tape, n, &into, &mut text);
    }
    text.push_str("inlets:\n");
    for n in 0..1 + dice.below(5) {
        let joined = 1 + dice.below(trunks);
        inlet(dice, tape, n, joined, true, &mut text);
    }
    text
}

/// A joint into a trunk, whose first leg is never shorter than twelve feet.
fn joint(dice: &mut Dice, trunk: u64) -> String {
    let with = dice.pick(&["wye-45", "tee-90"]);
    format!("{{trunk: main-{trunk}, at: {} in, with: {with}}}", 6 + dice.below(120))
}

fn trunk(dice: &mut Dice, tape: Tape, n: u64, into: &str, text: &mut String) {
    let leaves = dice.pick(&ACROSS);
    let (first, last) = (tape.run(dice, 146, 480), tape.run(dice, 30, 100));
    writeln!(text, "  - {{id: main-{n}, leaves: {leaves}, into: {into},").unwrap();
    writeln!(text, "     path: [{{run: {first}}}, {{turn: 90 down, with: short-90}}, {{run: {last}}}]}}")
        .unwrap();
}

fn inlet(dice: &mut Dice, tape: Tape, n: u64, trunks: u64, placed: bool, text: &mut String) {
    let (valve, hose) = (dice.pick(&VALVES), dice.pick(&HOSES));
    writeln!(text, "  - id: room-{n}\n    valve: {valve}\n    hose: {hose}").unwrap();
    if placed {
        let (east, north) = (dice.below(50), dice.below(40));
        writeln!(text, "    at: {{east: {east} ft, north: {north} ft, up: 1 ft 6 in}}").unwrap();
    }
    // To the basement, to the attic, or on one level from the start.
    let (mut way, leaves) = match dice.below(4) {
        0 => (Way::Level { quarter: 0, eighth: false }, "east"),
        1 => (Way::Plumb, "up"),
        _ => (Way::Plumb, "down"),
    };
    writeln!(text, "    raceway:\n      leaves: {leaves}\n      path:").unwrap();
    run(&tape.run(dice, 24, 110), text);
    if placed {
        let member = dice.pick(&["bottom-plate, size: 2x4", "joist, size: 2x10", "engineered"]);
        let at = 6 + dice.below(14);
        writeln!(text, "          crosses: [{{at: {at} in, member: {member}, hole: 2-1/8 in}}]").unwrap();
    }
    for _ in 0..dice.below(7) {
        way = bend(dice, way, "", text);
        run(&tape.run(dice, 18, 220), text);
    }
    writeln!(text, "    onward:\n      path:").unwrap();
    run(&tape.run(dice, 6, 90), text);
    for _ in 0..dice.below(4) {
        way = bend(dice, way, "short", text);
        run(&tape.run(dice, 8, 140), text);
    }
    let into = if trunks == 0 { "unit".into() } else { joint(dice, trunks - 1) };
    writeln!(text, "      into: {into}").unwrap();
}

fn run(length: &str, text: &mut String) {
    writeln!(text, "        - run: {length}").unwrap();
}

/// A bend that the catalog has; returns the new heading. Now and then a level line goes up or down.
fn bend(dice: &mut Dice, way: Way, kind: &str, text: &mut String) -> Way {
    let (angle, toward, next) = match way {
        Way::Plumb => {
            let quarter = dice.below(4) as usize;
            (90, ACROSS[quarter], Way::Level { quarter, eighth: false })
        }
        Way::Level { eighth: false, .. } if dice.once_in(6) => {
            let up = dice.once_in(2);
            (90, if up { "up" } else { "down" }, Way::Plumb)
        }
        Way::Level { quarter, eighth: false } if dice.once_in(2) => {
            (45, ACROSS[(quarter + 1) % 4], Way::Level { quarter, eighth: true })
        }
        Way::Level { quarter, eighth: false } => {
            let side = (quarter + 1 + 2 * dice.below(2) as usize) % 4;
            (90, ACROSS[side], Way::Level { quarter: side, eighth: false })
        }
        Way::Level { quarter, eighth: true } => {
            let on = dice.once_in(2);
            let quarter = if on { (quarter + 1) % 4 } else { quarter };
            (45, ACROSS[quarter], Way::Level { quarter, eighth: false })
        }
    };
    let with = if kind.is_empty() { String::new() } else { format!(", with: {kind}-{angle}") };
    writeln!(text, "        - {{turn: {angle} {toward}{with}}}").unwrap();
    next
}

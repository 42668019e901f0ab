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

impl Tape {
    /// So many inches, to the nearest that the tape tells.
    fn inches(self, inches: u64) -> String {
        match self {
            Tape::Feet => format!("{} ft {} in", inches / 12, inches % 12),
            Tape::Metric => format!("{}.{} cm", inches * 254 / 100, inches * 254 % 100 / 10),
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

/// Every valve of the demo's catalog.
const ALL_VALVES: [&str; 6] =
    ["door-sealed", "cuff-sealed", "tab-switched", "door-frame-cuff", "cuff-frame-door", "cuff-box-tab"];

/// A job of one to four inlets with what changes their air: trunks that are joined on the level and on the riser, one
/// that goes on from an inlet, lines straight to the unit, an inlet whose way on is not given, slanted turns, readings.
pub fn drafty(dice: &mut Dice) -> String {
    let tape = if dice.once_in(2) { Tape::Feet } else { Tape::Metric };
    let mut text = String::from("title: Drafty house\ndate: 2026-05-04\n");
    let place = if dice.once_in(2) { ", at: {east: 2 ft, north: 3 ft, up: -5 ft}" } else { "" };
    writeln!(text, "unit: {{model: {}{place}}}", dice.pick(&UNITS)).unwrap();
    let mut trunks = Vec::new();
    for n in 0..dice.below(4) {
        text.push_str(if n == 0 { "trunks:\n" } else { "" });
        trunks.push(riser_trunk(dice, tape, &trunks, &mut text));
    }
    text.push_str("inlets:\n");
    for n in 0..1 + dice.below(4) {
        drafty_inlet(dice, tape, n, &mut trunks, &mut text);
    }
    text
}

/// How long a trunk's level leg and its riser are, in inches, and whether another line goes on as this one.
struct RiserTrunk {
    level_in: u64,
    riser_in: u64,
    goes_on: bool,
}

/// A trunk that runs level and then down, with room for junctions on both legs.
fn riser_trunk(dice: &mut Dice, tape: Tape, before: &[RiserTrunk], text: &mut String) -> RiserTrunk {
    let n = before.len();
    let made = RiserTrunk { level_in: 146 + dice.below(300), riser_in: 70 + dice.below(60), goes_on: false };
    let into = if n == 0 { "unit".into() } else { on_a_trunk(dice, before) };
    let (level, riser) = (tape.inches(made.level_in), tape.inches(made.riser_in));
    writeln!(text, "  - {{id: main-{n}, leaves: {}, into: {into},", dice.pick(&ACROSS)).unwrap();
    writeln!(text, "     path: [{{run: {level}}}, {{turn: 90 down, with: short-90}}, {{run: {riser}}}]}}")
        .unwrap();
    made
}

/// A joint into one of the trunks, on its level leg or on its riser.
fn on_a_trunk(dice: &mut Dice, trunks: &[RiserTrunk]) -> String {
    let n = dice.below(trunks.len() as u64) as usize;
    let trunk = &trunks[n];
    let at = match dice.once_in(2) {
        true => 6 + dice.below(trunk.level_in - 20),
        false => trunk.level_in + 8 + dice.below(trunk.riser_in - 20),
    };
    format!("{{trunk: main-{n}, at: {at} in, with: {}}}", dice.pick(&["wye-45", "tee-90"]))
}

fn drafty_inlet(dice: &mut Dice, tape: Tape, n: u64, trunks: &mut [RiserTrunk], text: &mut String) {
    let (valve, hose) = (dice.pick(&ALL_VALVES), dice.pick(&HOSES));
    writeln!(text, "  - id: room-{n}\n    name: Room {n}\n    valve: {valve}\n    hose: {hose}").unwrap();
    if dice.once_in(2) {
        let (east, north) = (dice.below(50), dice.below(40));
        writeln!(text, "    at: {{east: {east} ft, north: {north} ft, up: 1 ft 6 in}}").unwrap();
    }
    if dice.once_in(2) {
        readings(dice, text);
    }
    let (mut way, leaves) = match dice.below(5) {
        0 => (Way::Level { quarter: 0, eighth: false }, "east"),
        1 | 2 => (Way::Plumb, "up"),
        _ => (Way::Plumb, "down"),
    };
    writeln!(text, "    raceway:\n      leaves: {leaves}\n      path:").unwrap();
    run(&tape.run(dice, 24, 110), text);
    for _ in 0..1 + dice.below(5) {
        way = bend(dice, way, "", text);
        run(&tape.run(dice, 24, 190), text);
    }
    if dice.once_in(7) {
        return;
    }
    writeln!(text, "    onward:\n      path:").unwrap();
    run(&tape.run(dice, 6, 90), text);
    for _ in 0..dice.below(4) {
        way = bend(dice, way, "short", text);
        run(&tape.run(dice, 8, 140), text);
    }
    if dice.once_in(3) {
        let toward =
            dice.pick(&["{east: 3, north: 2, up: 1}", "{west: 1, south: 4, down: 2}", "{north: 1, up: 5}"]);
        writeln!(text, "        - {{turn: {{by: 45, toward: {toward}}}, with: short-45}}").unwrap();
        run(&tape.run(dice, 8, 60), text);
    }
    let start = trunks.iter().position(|trunk| !trunk.goes_on).filter(|_| dice.once_in(4));
    let into = match start {
        Some(trunk) => {
            trunks[trunk].goes_on = true;
            format!("{{trunk: main-{trunk}, at: start}}")
        }
        None if trunks.is_empty() || dice.once_in(5) => "unit".into(),
        None => on_a_trunk(dice, trunks),
    };
    writeln!(text, "      into: {into}").unwrap();
}

/// Readings about what may be expected, above and below, written to a tenth.
fn readings(dice: &mut Dice, text: &mut String) {
    let mut tenths = |least: u64, most: u64| {
        let tenths = 10 * least + dice.below(10 * (most - least));
        format!("{}.{}", tenths / 10, tenths % 10)
    };
    let (sealed, flow, pulled_in, pulled_out) =
        (tenths(96, 126), tenths(55, 85), tenths(0, 8), tenths(2, 24));
    writeln!(
        text,
        "    readings: {{sealed-suction: {sealed} inH2O, flow: {flow} cfm, draw-in: {pulled_in} lbf,"
    )
    .unwrap();
    writeln!(text, "      pull-out: {pulled_out} lbf}}").unwrap();
}

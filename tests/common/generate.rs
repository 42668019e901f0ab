//! Random jobs as a crew might write them: every way to write a length, mixed directions, right and
//! wrong routes. The seed alone decides what comes.
use serde_json::Value;
use std::fmt::Write;
use std::path::Path;

/// A stream of numbers from a seed (SplitMix64, Steele, Lea and Flood 2014).
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Dice {
        Dice(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A whole number below `n`.
    pub fn below(&mut self, n: u64) -> u64 {
        self.next() % n
    }

    /// True once in `n` times.
    pub fn once_in(&mut self, n: u64) -> bool {
        self.below(n) == 0
    }

    pub fn pick<'a, T>(&mut self, choices: &'a [T]) -> &'a T {
        &choices[self.below(choices.len() as u64) as usize]
    }
}

/// The ids a random job may use, read from a company's catalog.
pub struct Parts {
    hoses: Vec<String>,
    valves: Vec<String>,
    units: Vec<String>,
    /// Bends that suit a raceway: angle and id.
    bends: Vec<(f64, String)>,
    junctions: Vec<String>,
}

impl Parts {
    pub fn of(company: &Path) -> Parts {
        let mut parts =
            Parts { hoses: vec![], valves: vec![], units: vec![], bends: vec![], junctions: vec![] };
        for entry in walkdir::WalkDir::new(company.join("content/catalog")) {
            let entry = entry.expect("a readable catalog");
            if entry.path().extension().is_some_and(|ending| ending == "yaml") {
                let text = std::fs::read_to_string(entry.path()).expect("a catalog file");
                parts.take(&serde_yaml::from_str::<Value>(&text).expect("a catalog in YAML"));
            }
        }
        parts
    }

    pub fn a_hose(&self) -> &str {
        &self.hoses[0]
    }

    pub fn a_valve(&self) -> &str {
        &self.valves[0]
    }

    pub fn a_unit(&self) -> &str {
        &self.units[0]
    }

    fn take(&mut self, catalog: &Value) {
        self.hoses.extend(ids(&catalog["hoses"]));
        self.valves.extend(ids(&catalog["valves"]));
        self.units.extend(ids(&catalog["units"]));
        for fitting in catalog["fittings"].as_array().into_iter().flatten() {
            if fitting["kind"] == "junction" {
                self.junctions.push(fitting["id"].as_str().expect("an id").into());
            }
            if fitting["kind"] == "bend" && fitting["for"] != "trunk" {
                let angle = fitting["angle"].as_f64().expect("a bend has an angle");
                self.bends.push((angle, fitting["id"].as_str().expect("an id").into()));
            }
        }
    }
}

fn ids(list: &Value) -> impl Iterator<Item = String> + '_ {
    let each = list.as_array().into_iter().flatten();
    each.filter_map(|part| part["id"].as_str().map(String::from))
}

/// A job of one to five inlets, on up to three trunks.
pub fn job(dice: &mut Dice, parts: &Parts) -> String {
    let mut text = String::from("title: Drawn by lot\naddress: 1 Chance Row\ndate: 2026-03-01\n");
    let unit = dice.pick(&parts.units).clone();
    let unit_placed = dice.once_in(2);
    let place = if unit_placed { format!(", at: {}", place(dice)) } else { String::new() };
    writeln!(text, "unit: {{model: {unit}{place}}}").unwrap();
    let mut house = House { unit_placed, trunks: Vec::new() };
    let trunks = dice.below(4);
    if trunks > 0 {
        text.push_str("trunks:\n");
    }
    for n in 0..trunks {
        trunk(dice, parts, n, &mut house, &mut text);
    }
    text.push_str("inlets:\n");
    for n in 0..1 + dice.below(5) {
        inlet(dice, parts, n, &mut house, &mut text);
    }
    text
}

/// What lines may join: which of it has a place, and which trunk goes on from another line already.
struct House {
    unit_placed: bool,
    trunks: Vec<TrunkMade>,
}

struct TrunkMade {
    placed: bool,
    begun: bool,
}

/// A trunk of three runs of a foot or more each, into the unit or an earlier trunk.
fn trunk(dice: &mut Dice, parts: &Parts, n: u64, house: &mut House, text: &mut String) {
    writeln!(text, "  - id: main-{n}").unwrap();
    let started = dice.once_in(2);
    if started {
        writeln!(text, "    starts: {}", place(dice)).unwrap();
    }
    let (mut heading, words) = direction(dice);
    writeln!(text, "    leaves: {words}\n    path:").unwrap();
    for _ in 0..3 {
        writeln!(text, "        - run: {}", long_length(dice)).unwrap();
        heading = turn(dice, parts, heading, text);
    }
    let (into, known) = joint(dice, parts, house, started);
    match started && known && dice.once_in(2) {
        true => text.push_str("        - run: rest\n"),
        false => run(dice, text),
    }
    writeln!(text, "    into: {into}").unwrap();
    house.trunks.push(TrunkMade { placed: started || known, begun: false });
}

/// Where a line ends, and whether that has a place; `placed` tells whether the line itself has one.
fn joint(dice: &mut Dice, parts: &Parts, house: &mut House, placed: bool) -> (String, bool) {
    if house.trunks.is_empty() || dice.once_in(4) {
        return ("unit".into(), house.unit_placed);
    }
    let k = dice.below(house.trunks.len() as u64) as usize;
    let trunk = &mut house.trunks[k];
    if !trunk.begun && dice.once_in(6) {
        trunk.begun = true;
        return (format!("{{trunk: main-{k}, at: start}}"), trunk.placed);
    }
    let with = dice.pick(&parts.junctions);
    // Three runs of a foot or more are longer than this.
    let at = match placed && trunk.placed && dice.once_in(2) {
        true => String::new(),
        false => format!(", at: {} mm", dice.below(850)),
    };
    (format!("{{trunk: main-{k}{at}, with: {with}}}"), trunk.placed)
}

fn inlet(dice: &mut Dice, parts: &Parts, n: u64, house: &mut House, text: &mut String) {
    let (valve, hose) = (dice.pick(&parts.valves), dice.pick(&parts.hoses));
    writeln!(text, "  - id: room-{n}\n    name: Room {n}\n    valve: {valve}\n    hose: {hose}").unwrap();
    let placed = dice.once_in(2);
    if placed {
        writeln!(text, "    at: {}", place(dice)).unwrap();
    }
    let (mut heading, words) = direction(dice);
    writeln!(text, "    raceway:\n      leaves: {words}\n      path:").unwrap();
    let turns = dice.below(13);
    run(dice, text);
    for _ in 0..turns {
        heading = turn(dice, parts, heading, text);
        run(dice, text);
    }
    if !dice.once_in(4) {
        onward(dice, parts, heading, placed, house, text);
    }
}

/// The way on from the stop; now and then it ends in a turn, or in a run that is to be worked out.
fn onward(
    dice: &mut Dice,
    parts: &Parts,
    mut heading: [f64; 3],
    placed: bool,
    house: &mut House,
    text: &mut String,
) {
    text.push_str("    onward:\n      path:\n");
    run(dice, text);
    for _ in 0..dice.below(4) {
        heading = turn(dice, parts, heading, text);
        run(dice, text);
    }
    let (into, known) = joint(dice, parts, house, placed);
    if dice.once_in(3) {
        heading = turn(dice, parts, heading, text);
        if placed && known && dice.once_in(2) {
            text.push_str("        - run: rest\n");
        }
    }
    let _ = heading;
    writeln!(text, "      into: {into}").unwrap();
}

/// One run, now and then two in a row, which are one leg.
fn run(dice: &mut Dice, text: &mut String) {
    for _ in 0..1 + u64::from(dice.once_in(6)) {
        let length = if dice.once_in(8) { short_length(dice) } else { long_length(dice) };
        let line = if dice.once_in(2) { format!("{{run: {length}}}") } else { format!("run: {length}") };
        writeln!(text, "        - {line}").unwrap();
    }
}

/// A turn that has a plane; returns the new heading.
fn turn(dice: &mut Dice, parts: &Parts, heading: [f64; 3], text: &mut String) -> [f64; 3] {
    let (toward, words) = loop {
        let (toward, words) = direction(dice);
        // Nearly along or against the heading, the plane would hang on rounding.
        if dot(heading, toward).abs() < 0.98 {
            break (toward, words);
        }
    };
    let odd = [30.0, 60.0, 15.0, 11.25, 120.0];
    let (angle, with) = match dice.below(10) {
        0 => (*dice.pick(&odd), None),
        1 => dice.pick(&parts.bends).clone().into_named(),
        _ => (dice.pick(&parts.bends).0, None),
    };
    let with = with.map(|id| format!(", with: {id}")).unwrap_or_default();
    let step = if words.starts_with('{') || dice.once_in(4) {
        format!("turn: {{by: {angle}, toward: {words}}}")
    } else {
        format!("turn: {angle} {words}")
    };
    writeln!(text, "        - {{{step}{with}}}").unwrap();
    turned(heading, toward, angle)
}

trait IntoNamed {
    fn into_named(self) -> (f64, Option<String>);
}

impl IntoNamed for (f64, String) {
    fn into_named(self) -> (f64, Option<String>) {
        (self.0, Some(self.1))
    }
}

fn turned(heading: [f64; 3], toward: [f64; 3], angle_deg: f64) -> [f64; 3] {
    let along = dot(heading, toward);
    let across = unit(std::array::from_fn(|i| toward[i] - along * heading[i]));
    let (sine, cosine) = angle_deg.to_radians().sin_cos();
    std::array::from_fn(|i| cosine * heading[i] + sine * across[i])
}

fn dot(a: [f64; 3], b: [f64; 3]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn unit(v: [f64; 3]) -> [f64; 3] {
    let length = dot(v, v).sqrt();
    v.map(|x| x / length)
}

/// A direction and how it is written.
fn direction(dice: &mut Dice) -> ([f64; 3], String) {
    const WORDS: [(&str, &str); 3] = [("east", "west"), ("north", "south"), ("up", "down")];
    let parts: usize = if dice.once_in(4) { 2 + dice.below(2) as usize } else { 1 };
    let first = dice.below(3) as usize;
    let (mut vector, mut words) = ([0.0; 3], Vec::new());
    for axis in (0..parts).map(|i| (first + i) % 3) {
        let weight = if parts == 1 { 1 } else { 1 + dice.below(5) };
        let back = dice.once_in(2);
        vector[axis] = weight as f64 * if back { -1.0 } else { 1.0 };
        let word = if back { WORDS[axis].1 } else { WORDS[axis].0 };
        words.push(if parts == 1 { word.to_string() } else { format!("{word}: {weight}") });
    }
    let written = if parts == 1 { words.join("") } else { format!("{{{}}}", words.join(", ")) };
    (unit(vector), written)
}

fn place(dice: &mut Dice) -> String {
    let coordinate = |dice: &mut Dice| {
        let sign = if dice.once_in(3) { "-" } else { "" };
        let length = long_length(dice);
        match length.strip_prefix('\'') {
            Some(quoted) => format!("'{sign}{quoted}"),
            None => format!("{sign}{length}"),
        }
    };
    let (east, north, up) = (coordinate(dice), coordinate(dice), coordinate(dice));
    format!("{{east: {east}, north: {north}, up: {up}}}")
}

/// A length of a foot to some twenty feet, in any of the ways to write one.
fn long_length(dice: &mut Dice) -> String {
    let (feet, inches) = (1 + dice.below(20), dice.below(12));
    let low = *dice.pick(&[2, 4, 8, 16]);
    let top = 1 + 2 * dice.below(low / 2);
    match dice.below(12) {
        0 => format!("{feet} ft"),
        1 => format!("{feet} ft {inches} in"),
        2 => format!("{feet} ft {inches}-{top}/{low} in"),
        3 => format!("{feet} ft {inches} {top}/{low} in"),
        4 => format!("'{feet}'' {inches}-{top}/{low}\"'"),
        5 => format!("{feet}FT {inches}In"),
        6 => format!("{}.{} in", feet * 12 + inches, dice.below(10)),
        7 => format!("{} in", feet * 12 + inches),
        8 => format!("{}.{:03} m", feet / 3, 300 + dice.below(700)),
        9 => format!("{}.{} cm", feet * 30 + inches, dice.below(10)),
        10 => format!("{} mm", feet * 300 + dice.below(300)),
        _ => format!("{feet} ft {top}/{low} in"),
    }
}

/// A length so short that fittings collide and moves up and down hardly count.
fn short_length(dice: &mut Dice) -> String {
    match dice.below(3) {
        0 => format!("{}-{}/8 in", 1 + dice.below(9), 1 + 2 * dice.below(4)),
        1 => format!("{} mm", 15 + dice.below(250)),
        _ => format!("{}/16 in", 7 + 2 * dice.below(4)),
    }
}

//! A path: runs and turns, followed heading by heading.
//!
//! The heading is followed so that a turn without a plane (into the heading itself, or straight
//! back) is told where it is written. After a step that could not be read the heading is unknown,
//! and nothing more is said about planes: one mistake, one fault.
use super::super::catalog::Catalog;
use super::super::job::{Direction, Run, Step, Turn};
use super::bounds::STEPS;
use super::crossing::crossings;
use super::keys;
use super::kit::{Fields, Reader};
use crate::measure::{
    DIRECTIONS, Kind, MOST_LENGTH_M, direction_words, heading_words, mix, read_direction, read_quantity,
    split_turn,
};
use crate::text::{Node, Value, clip};
use glam::DVec3;
use std::ops::Range;

/// A path as far as it could be read.
pub struct Walk {
    pub steps: Vec<Step>,
    /// Heading at its end; `None` where some step left it unknown.
    pub heading: Option<DVec3>,
    /// Sum of its runs; `None` where one of them is unknown.
    pub length_m: Option<f64>,
    /// Where its last run is written, when that is to be worked out.
    pub rest: Option<Range<usize>>,
}

/// What a path may end with.
#[derive(Clone, Copy, PartialEq)]
pub enum Ends {
    /// A run: the tube seats in something.
    Run,
    /// A run, which may be written `rest`.
    Trunk,
    /// Also a turn, whose bend seats in the junction straight away, or a run written `rest`.
    Joint,
}

/// Reads a path that leaves on `heading`. It starts with a run and has one between turns.
pub fn walk(r: &mut Reader, node: &Node, heading: Option<DVec3>, ends: Ends, catalog: &Catalog) -> Walk {
    let mut walk = Walk { steps: Vec::new(), heading, length_m: Some(0.0), rest: None };
    let Some(items) = r.list(node, "a path, a list of runs and turns") else {
        return Walk { heading: None, length_m: None, ..walk };
    };
    let (items, all) = (r.at_most(items, &STEPS), items.len());
    let mut before: Option<(Sort, Range<usize>)> = None;
    for item in items {
        let last = items.last().is_some_and(|last| std::ptr::eq(last, item));
        let sort = walk.take(r, item, catalog, last && ends != Ends::Run);
        check_turns(r, item, sort, before.as_ref());
        before = Some((sort, r.mark_of(item)));
    }
    if items.len() < all {
        // Where it would have ended is not known.
        return Walk { heading: None, length_m: None, ..walk };
    }
    match before {
        None => {
            r.fail(r.mark_of(node), "the path is empty", "expected at least one run");
        }
        Some((Sort::Turn, bytes)) if ends != Ends::Joint => {
            let help = "add the run that follows the turn";
            r.fail(bytes, "the path ends with a turn", "expected a run after it").help = Some(help.into());
        }
        Some(_) => {}
    }
    walk
}

/// What an item of a path is.
#[derive(Clone, Copy, PartialEq)]
enum Sort {
    Run,
    Turn,
    Unknown,
}

/// A turn needs a run before it.
fn check_turns(r: &mut Reader, item: &Node, sort: Sort, before: Option<&(Sort, Range<usize>)>) {
    if sort != Sort::Turn {
        return;
    }
    match before {
        None => {
            let help = "begin with the run from the start to this turn";
            r.fail(r.mark_of(item), "the path starts with a turn", "expected a run first").help =
                Some(help.into());
        }
        Some((Sort::Turn, first)) => {
            let related = r.source.related(first.clone(), "the turn before");
            let diagnostic =
                r.fail(r.mark_of(item), "two turns follow each other", "expected a run between them");
            diagnostic.related.push(related);
            diagnostic.help = Some("add the run between the two work points".into());
        }
        Some(_) => {}
    }
}

impl Walk {
    fn take(&mut self, r: &mut Reader, item: &Node, catalog: &Catalog, may_rest: bool) -> Sort {
        let sort = sort_of(r, item);
        match sort {
            Sort::Run => match run(r, item, may_rest) {
                Some(run) => {
                    check_length(r, item, self.length_m, &run);
                    self.length_m = self.length_m.filter(|_| !run.rest).map(|sum| sum + run.length_m);
                    self.rest = run.rest.then(|| r.mark_of(item));
                    self.steps.push(Step::Run(run));
                }
                None => self.length_m = None,
            },
            Sort::Turn => {
                let turn = turn(r, item, self.heading, catalog);
                self.heading = self.heading.zip(turn.as_ref()).and_then(|(h, turn)| turn.heading_after(h));
                self.steps.extend(turn.map(Step::Turn));
            }
            Sort::Unknown => {
                self.heading = None;
                self.length_m = None;
            }
        }
        sort
    }
}

/// Whether an item is a run or a turn; anything else is told.
fn sort_of(r: &mut Reader, item: &Node) -> Sort {
    let Value::Map(map) = &item.value else {
        let written = match &item.value {
            Value::Text(text) => text.trim(),
            _ => "",
        };
        let word = ["run", "turn"].into_iter().find(|word| written.starts_with(word));
        let help = match word.map(|word| (word, written[word.len()..].trim_start_matches([':', '=', ' ']))) {
            Some((word, rest)) if !rest.is_empty() => format!("write `- {word}: {}`", clip(rest)),
            _ => "write `- run: 16 ft` or `- turn: 90 west`".into(),
        };
        r.mistyped(item, "a run or a turn").help = Some(help);
        return Sort::Unknown;
    };
    let has = |key: &str| map.iter().any(|(k, _)| k.value == Value::Text(key.into()));
    match (has("run"), has("turn")) {
        (true, false) => Sort::Run,
        (false, true) => Sort::Turn,
        (true, true) => {
            let help = "make two items of it, each with its own `- `";
            r.fail(r.mark_of(item), "one step holds both a run and a turn", "expected one of them").help =
                Some(help.into());
            Sort::Unknown
        }
        (false, false) => {
            if let Some((bytes, word, rest)) = bare_step(map) {
                let message = format!("there is no colon after `{word}`");
                r.fail(bytes, message, "expected a run or a turn").help =
                    Some(format!("write `{{{word}: {}}}`", clip(rest)));
                return Sort::Unknown;
            }
            let names: Vec<&str> = keys::RUN.names().into_iter().chain(keys::TURN.names()).collect();
            r.fields(item, "a step", &names);
            let of_a_run = has("crosses") || has("with");
            let fault =
                r.fail(r.mark_of(item), "a step has neither `run` nor `turn`", "expected a run or a turn");
            if of_a_run {
                let help = "where it belongs to the step above, take its `- ` away and line it up with that step's keys";
                fault.help = Some(help.into());
            }
            Sort::Unknown
        }
    }
}

/// `{run 12 ft}`: the bytes to mark, the word, and what it takes.
fn bare_step(map: &[(Node, Node)]) -> Option<(Range<usize>, &'static str, &str)> {
    map.iter().find_map(|(key, value)| {
        let Value::Text(words) = &key.value else { return None };
        let word = ["run", "turn"].into_iter().find(|word| words.split(' ').next() == Some(word))?;
        let rest = words[word.len()..].trim();
        let bytes = key.bytes.start..key.bytes.start + word.len();
        (value.value == Value::Null && !rest.is_empty()).then_some((bytes, word, rest))
    })
}

/// No line is longer than a length may be: two runs of 900 m are a slip as one of 1800 m is.
fn check_length(r: &mut Reader, item: &Node, before_m: Option<f64>, run: &Run) {
    let Some(before_m) = before_m.filter(|before_m| *before_m <= MOST_LENGTH_M) else { return };
    let total_m = before_m + run.length_m;
    if total_m > MOST_LENGTH_M {
        let (total, most) = (r.say.length(total_m), r.say.length(MOST_LENGTH_M));
        let message = format!("with this run the line is {total} long, more than the {most} of any house");
        r.fail(r.mark_of(item), message, "expected a shorter line").help =
            Some("check the runs and their units".into());
    }
}

fn run(r: &mut Reader, item: &Node, may_rest: bool) -> Option<Run> {
    let fields = r.thing(item, &keys::RUN)?;
    let length = r.need(&fields, "run")?;
    let rest = matches!(&length.value, Value::Text(word) if word.trim().eq_ignore_ascii_case("rest"));
    let length_m = match rest {
        true => check_rest(r, length, may_rest),
        false => r.above_zero(length, Kind::Length, "the run"),
    };
    let run_m = length_m.filter(|_| !rest);
    let crossings = fields.get("crosses").map_or(Vec::new(), |node| crossings(r, node, run_m));
    let looked_at = fields.get("crosses").is_some();
    Some(Run { length_m: length_m?, rest, crossings, looked_at, place: r.place_of(item) })
}

/// `rest` stands only where something else says how far the line must go.
fn check_rest(r: &mut Reader, node: &Node, may_rest: bool) -> Option<f64> {
    if may_rest {
        return Some(0.0);
    }
    r.fail(
        node.bytes.clone(),
        "`rest` is only the last run of an onward path or of a trunk",
        "expected a length",
    )
    .help = Some("write the length of this run".into());
    None
}

fn turn(r: &mut Reader, item: &Node, heading: Option<DVec3>, catalog: &Catalog) -> Option<Turn> {
    let fields = r.thing(item, &keys::TURN)?;
    let node = r.need(&fields, "turn")?;
    let with = fields.get("with").map(|node| bend_named(r, node, catalog));
    let (angle_deg, toward) = match &node.value {
        Value::Map(_) => long_turn(r, node),
        _ => short_turn(r, node),
    };
    if let (Some(heading), Some(toward)) = (heading, &toward) {
        check_plane(r, node, heading, toward)?;
    }
    let with = match with {
        Some(named) => Some(named?),
        None => None,
    };
    Some(Turn { angle_deg: angle_deg?, toward: toward?, with, place: r.place_of(item) })
}

/// `90 west`
fn short_turn(r: &mut Reader, node: &Node) -> (Option<f64>, Option<Direction>) {
    let Some(text) = r.text(node, "a turn, like 90 west") else {
        return (None, None);
    };
    // The node's own text, not the trimmed one: places are counted in it.
    let lead = match &node.value {
        Value::Text(whole) => whole.len() - whole.trim_start().len(),
        _ => 0,
    };
    let (angle, word) = match split_turn(text) {
        Ok(parts) => parts,
        Err(error) => {
            let bytes = r.inside(node, error.at.start + lead..error.at.end + lead);
            r.fail(bytes, error.to_string(), "expected a turn, like 90 west").help = error.fault.help();
            return (None, None);
        }
    };
    let angle_deg = match read_quantity(&text[angle.clone()], Kind::Angle) {
        Ok(angle_deg) => in_range(r, r.inside(node, angle.start + lead..angle.end + lead), angle_deg),
        Err(error) => {
            r.measure_fault(node, angle.start + lead, &error, Kind::Angle);
            None
        }
    };
    let bytes = r.inside(node, word.start + lead..word.end + lead);
    (angle_deg, word_direction(r, &text[word], bytes))
}

/// `{by: 45, toward: {north: 3, up: 4}}`
fn long_turn(r: &mut Reader, node: &Node) -> (Option<f64>, Option<Direction>) {
    let Some(fields) = r.thing(node, &keys::LONG_TURN) else {
        return (None, None);
    };
    let by = r.need(&fields, "by");
    let angle_deg = by.and_then(|by| {
        let angle_deg = r.quantity(by, Kind::Angle)?;
        in_range(r, by.bytes.clone(), angle_deg)
    });
    let toward = r.need(&fields, "toward");
    (angle_deg, toward.and_then(|toward| direction(r, toward)))
}

/// A bend turns by more than nothing and less than straight back.
fn in_range(r: &mut Reader, bytes: Range<usize>, angle_deg: f64) -> Option<f64> {
    if angle_deg > 0.0 && angle_deg < 180.0 {
        return Some(angle_deg);
    }
    let message = format!("a turn of {angle_deg} degrees is no bend");
    r.fail(bytes, message, "expected an angle above 0 and below 180");
    None
}

/// The heading and the direction must span a plane.
fn check_plane(r: &mut Reader, node: &Node, heading: DVec3, toward: &Direction) -> Option<()> {
    if heading.cross(toward.vector).length() > Turn::LEAST_SINE {
        return Some(());
    }
    let runs = heading_words(heading);
    let message = if heading.dot(toward.vector) > 0.0 {
        format!("this turn goes toward {}, but the line already runs {runs}", toward.words)
    } else {
        format!("this turn goes toward {}, straight back, for the line runs {runs}", toward.words)
    };
    r.fail(r.mark_of(node), message, "expected a direction to the side").help =
        Some(format!("check the turns before it; here the line runs {runs}"));
    None
}

/// A direction: one of six words, or a mix.
pub fn direction(r: &mut Reader, node: &Node) -> Option<Direction> {
    if let Value::Map(_) = &node.value {
        let fields = r.thing(node, &keys::DIRECTION)?;
        return mixed(r, node, &fields);
    }
    let text = r.text(node, "a direction, like west or {north: 3, up: 4}")?;
    word_direction(r, text, node.bytes.clone())
}

fn word_direction(r: &mut Reader, word: &str, bytes: Range<usize>) -> Option<Direction> {
    match read_direction(word) {
        Ok(vector) => Some(Direction { vector, words: word.trim().to_lowercase() }),
        Err(error) => {
            r.fail(bytes, error.to_string(), "expected a direction").help = error.fault.help();
            None
        }
    }
}

fn mixed(r: &mut Reader, node: &Node, fields: &Fields) -> Option<Direction> {
    let mut vectors = Vec::new();
    let mut words = Vec::new();
    for (name, vector) in DIRECTIONS {
        let Some(part) = fields.get(name) else { continue };
        let weight = r.number(part, "a part of a direction")?;
        vectors.push((vector, weight));
        words.push((name, weight));
    }
    if vectors.is_empty() {
        let help = "name at least one of east, west, north, south, up, down";
        r.fail(r.mark_of(node), "this direction has no part", LIKE).help = Some(help.into());
        return None;
    }
    match mix(&vectors) {
        Ok(vector) => Some(Direction { vector, words: direction_words(&words) }),
        Err(error) => {
            r.fail(r.mark_of(node), error.to_string(), LIKE).help = error.fault.help();
            None
        }
    }
}

/// What is expected where a mix of directions is wrong.
const LIKE: &str = "expected a direction, like {north: 3, up: 4}";

/// The fitting that a turn names, which must be a bend.
fn bend_named(r: &mut Reader, node: &Node, catalog: &Catalog) -> Option<super::super::catalog::Fitting> {
    let ids: Vec<&str> = catalog.fittings.iter().map(|f| f.id.as_str()).collect();
    let bends: Vec<&str> =
        catalog.fittings.iter().filter(|f| f.bend().is_some()).map(|f| f.id.as_str()).collect();
    let named = matches!(&node.value, Value::Text(id) if ids.contains(&id.trim()));
    if !named {
        r.known(node, "bend", "the catalog", &bends)?;
    }
    let fitting = &catalog.fittings[r.known(node, "fitting", "the catalog", &ids)?];
    if fitting.bend().is_some() {
        return Some(fitting.clone());
    }
    let message = format!("`{}` is not a bend", fitting.id);
    r.fail(node.bytes.clone(), message, "expected a bend").help =
        Some(format!("use one of: {}", bends.join(", ")));
    None
}

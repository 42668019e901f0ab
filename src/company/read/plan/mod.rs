//! A house plan, in a job or in a file of its own beside the job.
//!
//! Reading goes in two steps: what is written becomes a [`Plan`], each part with the bytes it came from; then
//! the rooms are set down, and what does not fit the ground is told at those bytes.
mod block;
mod check;
mod level;
mod parts;
mod rooms;

pub use block::{LessonPlan, read_plan};

use super::super::job::FloorPlan;
use super::super::keys;
use super::kit::{Fields, Reader};
use crate::measure::{INCH_M, Kind};
use crate::plan::{Plan, ValvePlace, place};
use crate::text::Diagnostic;
use crate::text::{Node, Value};
use crate::text::{clip, nearest};
use std::ops::Range;

/// Keys beside `plan` itself, in a job or a plan's own file.
pub const BESIDE: [&str; 2] = ["valve-places", "wand"];
/// A tape, a level and a person close a floor within this (common practice, no source).
const CLOSES_WITHIN_M: f64 = 2.0 * INCH_M;
/// The ending of a plan's own file.
pub const ENDING: &str = ".plan.yaml";

/// Where the parts of a plan stand in its file, for faults that show only when all is read.
#[derive(Default)]
struct Marks {
    rooms: Vec<Range<usize>>,
    doors: Vec<Range<usize>>,
    stairs: Vec<Range<usize>>,
    things: Vec<Range<usize>>,
}

/// Reads the plan that a job holds or names; `plans` are the plan files of the company, path and text.
pub fn job_plan(r: &mut Reader, f: &Fields, plans: &[(String, String)]) -> Option<FloorPlan> {
    let Some(node) = f.get("plan") else {
        for key in BESIDE {
            if let Some(node) = f.get(key) {
                let message = format!("`{key}` is given, but the job has no plan");
                let bytes = r.mark_of(node);
                r.fail(bytes, message, "belongs to a plan").help =
                    Some("add `plan:`, or leave it out".into());
            }
        }
        return None;
    };
    let Value::Text(_) = &node.value else {
        return plan(r, node, f);
    };
    let name = r.text(node, "a plan, or the name of its file")?;
    let folder = r.source.file.rsplit_once('/').map_or("", |(folder, _)| folder);
    let path = if folder.is_empty() { name.to_owned() } else { format!("{folder}/{name}") };
    let Some((file, text)) = plans.iter().find(|(file, _)| *file == path) else {
        let known = plans.iter().filter_map(|(file, _)| file.strip_prefix(&format!("{folder}/")));
        let help = match nearest(name, known) {
            Some(near) => format!("write `{near}`"),
            None => format!("put the plan's file beside the job; its name ends in {ENDING}"),
        };
        r.fail(
            node.bytes.clone(),
            format!("there is no plan `{}` beside the job", clip(name)),
            "unknown file",
        )
        .help = Some(help);
        return None;
    };
    for key in BESIDE {
        if let Some(beside) = f.get(key) {
            let message = format!("`{key}` belongs to the plan, which stands in {file}");
            let bytes = r.mark_of(beside);
            r.fail(bytes, message, "not read here").help = Some(format!("move it into {file}"));
        }
    }
    match in_own_file(file, text, r) {
        Ok(plan) => Some(plan),
        Err(faults) => {
            r.absorb(faults);
            None
        }
    }
}

/// A plan in a file of its own.
fn in_own_file(file: &str, text: &str, job: &Reader) -> Result<FloorPlan, Vec<Diagnostic>> {
    let (mut r, root) = Reader::open(file, text, "a plan: plan, wand")?;
    r.say = job.say;
    let f = r.thing(&root, &keys::PLAN_FILE);
    let found = f.and_then(|f| lone_plan(&mut r, &f));
    r.finish(found)
}

/// Reads the plan that a lesson draws, its `wand` and `valve-places` beside it.
pub fn lone_plan(r: &mut Reader, f: &Fields) -> Option<FloorPlan> {
    let node = r.need(f, "plan")?;
    plan(r, node, f)
}

/// `beside` holds the keys that stand beside the plan.
fn plan(r: &mut Reader, node: &Node, beside: &Fields) -> Option<FloorPlan> {
    let f = r.thing(node, &keys::PLAN)?;
    let mut marks = Marks::default();
    let walls_m = r.need(&f, "walls").and_then(|n| r.quantity(n, Kind::Length));
    let closes = f.get("closes-within").map_or(Some(CLOSES_WITHIN_M), |n| r.quantity(n, Kind::Length));
    let rooms = r.need(&f, "rooms").and_then(|n| rooms::rooms(r, n, &mut marks.rooms));
    let known = rooms.as_deref().unwrap_or(&[]);
    let doors = list(r, &f, "doors", &mut marks.doors, |r, n| parts::door(r, n, known));
    let stairs = list(r, &f, "stairs", &mut marks.stairs, |r, n| parts::stair(r, n, known));
    let things = list(r, &f, "things", &mut marks.things, |r, n| parts::thing(r, n, known));
    let level = match f.get("raceway-level") {
        Some(n) => Some(level::level(r, n)?),
        None => None,
    };
    let wand_m = r.need(beside, "wand").and_then(|n| r.quantity(n, Kind::Length));
    let places = beside.get("valve-places").map(|n| valve_places(r, n, known));
    let places = match places {
        Some(list) => Some(list?),
        None => None,
    };
    let plan = Plan {
        walls_m: walls_m?,
        wand_m: wand_m?,
        closes_within_m: closes?,
        rooms: rooms?,
        doors: doors?,
        stairs: stairs?,
        things: things?,
        level,
        places,
    };
    settle(r, plan, &marks)
}

/// Sets the rooms down and tells what does not fit.
fn settle(r: &mut Reader, plan: Plan, marks: &Marks) -> Option<FloorPlan> {
    if !check::before(r, &plan, marks) {
        return None;
    }
    match place(&plan) {
        Ok(placed) => {
            let file = r.source.file.to_owned();
            check::after(r, &plan, &placed, marks).then_some(FloorPlan { plan, placed, file })
        }
        Err(faults) => {
            faults.iter().for_each(|fault| check::misplaced(r, &plan, marks, fault));
            None
        }
    }
}

/// A list that may be left out; every item is read, and where each stands is kept.
fn list<T>(
    r: &mut Reader,
    f: &Fields,
    key: &str,
    marks: &mut Vec<Range<usize>>,
    mut item: impl FnMut(&mut Reader, &Node) -> Option<T>,
) -> Option<Vec<T>> {
    let Some(node) = f.get(key) else { return Some(Vec::new()) };
    let items = r.list(node, &format!("a list of {key}"))?;
    let read: Vec<Option<T>> = items.iter().map(|node| item(r, node)).collect();
    marks.extend(items.iter().map(|node| r.mark_of(node)));
    read.into_iter().collect()
}

fn valve_places(r: &mut Reader, node: &Node, rooms: &[crate::plan::Room]) -> Option<Vec<ValvePlace>> {
    let items = r.list(node, "a list of walls where a valve may go")?;
    let read: Vec<Option<ValvePlace>> = items
        .iter()
        .map(|item| {
            let f = r.thing(item, &keys::VALVE_PLACE)?;
            let (room, wall) = parts::room_and_wall(r, &f, ("room", "wall"), rooms)?;
            Some(ValvePlace { room, wall })
        })
        .collect();
    read.into_iter().collect()
}

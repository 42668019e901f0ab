//! The rooms of a plan, each a walk along its inside faces.
use super::super::bounds::ROOMS;
use super::super::keys;
use super::super::kit::Reader;
use crate::measure::{Kind, read_direction, read_length};
use crate::plan::{P2, Room};
use crate::text::clip;
use crate::text::{Node, Value};
use std::ops::Range;

/// Reads the list; where each room's name stands is kept.
pub fn rooms(r: &mut Reader, node: &Node, marks: &mut Vec<Range<usize>>) -> Option<Vec<Room>> {
    let items = r.list(node, "a list of rooms")?;
    if items.is_empty() {
        r.fail(node.bytes.clone(), "the plan has no room", "expected at least one room");
        return None;
    }
    let items = r.at_most(items, &ROOMS);
    let mut names: Vec<(String, Range<usize>)> = Vec::new();
    let read: Vec<Option<Room>> = items.iter().map(|item| room(r, item, &mut names)).collect();
    let rooms: Option<Vec<Room>> = read.into_iter().collect();
    marks.extend(names.into_iter().map(|(_, bytes)| bytes));
    rooms
}

fn room(r: &mut Reader, item: &Node, names: &mut Vec<(String, Range<usize>)>) -> Option<Room> {
    let f = r.thing(item, &keys::ROOM)?;
    let name = r.need(&f, "name").and_then(|node| {
        let name = r.text(node, "a name")?;
        if let Some((_, first)) = names.iter().find(|(known, _)| known.eq_ignore_ascii_case(name)) {
            let (first, message) = (first.clone(), format!("the room `{}` is given twice", clip(name)));
            r.fail_twice(node.bytes.clone(), first, message, "give each room its own name");
            return None;
        }
        names.push((name.to_owned(), node.bytes.clone()));
        Some(name.to_owned())
    });
    let walk = r.need(&f, "walk").and_then(|node| walk(r, node));
    let at = match f.get("at") {
        Some(node) => Some(point(r, node)?),
        None => None,
    };
    let up_m = match f.get("up") {
        Some(node) => Some(r.quantity(node, Kind::Coordinate)?),
        None => None,
    };
    Some(Room { name: name?, walk: walk?, at, up_m })
}

fn walk(r: &mut Reader, node: &Node) -> Option<Vec<P2>> {
    let items = r.list(node, "a walk, like [east 6 ft, north 18 ft, west 6 ft, south 18 ft]")?;
    let steps: Vec<Option<P2>> = items.iter().map(|item| step(r, item)).collect();
    let steps: Vec<P2> = steps.into_iter().collect::<Option<_>>()?;
    if steps.len() < 3 {
        let message = format!("a walk of {} walls goes round no room", steps.len());
        let bytes = r.mark_of(node);
        r.fail(bytes, message, "expected at least three walls").help =
            Some("walk along every inside face, back to the first corner".into());
        return None;
    }
    Some(steps)
}

/// `east 6 ft`, or `{east: 3 ft, north: 4 ft}` for a wall that stands askew.
fn step(r: &mut Reader, node: &Node) -> Option<P2> {
    const LIKE: &str = "a wall, like east 6 ft";
    let step = match &node.value {
        Value::Map(_) => point(r, node)?,
        _ => {
            let text = r.text(node, LIKE)?;
            let Some((word, length)) = text.split_once(char::is_whitespace) else {
                let message = format!("`{}` is no wall", clip(text));
                r.fail(node.bytes.clone(), message, format!("expected {LIKE}"));
                return None;
            };
            let way = match read_direction(word) {
                Ok(way) if way.z == 0.0 => way.truncate(),
                Ok(_) => {
                    let bytes = r.inside(node, 0..word.len());
                    r.fail(
                        bytes,
                        format!("a wall does not run {word}"),
                        "expected east, north, west or south",
                    );
                    return None;
                }
                Err(error) => {
                    let bytes = r.inside(node, 0..word.len());
                    r.fail(bytes, error.to_string(), format!("expected {LIKE}")).help = error.fault.help();
                    return None;
                }
            };
            match read_length(length) {
                Ok(length_m) => way * length_m,
                Err(error) => {
                    r.measure_fault(node, text.len() - length.len(), &error, Kind::Length);
                    return None;
                }
            }
        }
    };
    if step.length() > 0.0 {
        return Some(step);
    }
    let bytes = r.mark_of(node);
    r.fail(bytes, "this wall has no length", "expected more than zero").help =
        Some("write what it measures, or leave the wall out".into());
    None
}

/// `{east: 5 ft, north: 4 ft}`
pub fn point(r: &mut Reader, node: &Node) -> Option<P2> {
    let f = r.thing(node, &keys::PLAN_POINT)?;
    let mut coordinate = |key| r.need(&f, key).and_then(|n| r.quantity(n, Kind::Coordinate));
    let (east, north) = (coordinate("east"), coordinate("north"));
    Some(P2::new(east?, north?))
}

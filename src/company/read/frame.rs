//! What a job is set out from: places, levels, datums, and the wall round a valve.
use super::super::job::{Datum, DatumRuns, Level};
use super::crossing::dressed;
use super::keys;
use super::kit::Reader;
use crate::measure::Kind;
use crate::text::{Node, Value};
use glam::DVec3;

/// A place has all three coordinates.
pub fn place(r: &mut Reader, node: &Node) -> Option<DVec3> {
    let f = r.thing(node, &keys::PLACE)?;
    let mut coordinate = |key| r.need(&f, key).and_then(|n| r.quantity(n, Kind::Coordinate));
    let (east, north, up) = (coordinate("east"), coordinate("north"), coordinate("up"));
    Some(DVec3::new(east?, north?, up?))
}

/// The levels of a job, in the order written.
pub fn levels(r: &mut Reader, node: &Node) -> Vec<Level> {
    let items = r.list(node, "a list of levels").unwrap_or(&[]);
    items.iter().filter_map(|item| level(r, item)).collect()
}

fn level(r: &mut Reader, item: &Node) -> Option<Level> {
    let f = r.thing(item, &keys::LEVEL)?;
    let name = r.need(&f, "name").and_then(|n| r.name(n, "a name"));
    let up_m = r.need(&f, "up").and_then(|n| r.quantity(n, Kind::Coordinate));
    Some(Level { name: name?.to_owned(), up_m: up_m?, place: r.place_of(item) })
}

/// The datums of a job, in the order written.
pub fn datums(r: &mut Reader, node: &Node) -> Vec<Datum> {
    let items = r.list(node, "a list of datums").unwrap_or(&[]);
    items.iter().filter_map(|item| datum(r, item)).collect()
}

/// `{name: "stair wall", line: north, east: 12 ft}`: it runs north, all of it 12 ft east.
fn datum(r: &mut Reader, item: &Node) -> Option<Datum> {
    let f = r.thing(item, &keys::DATUM)?;
    let name = r.need(&f, "name").and_then(|n| r.name(n, "a name"));
    let ways = [("north", "east"), ("south", "east"), ("east", "north"), ("west", "north")];
    let fixed = r.need(&f, "line").and_then(|n| r.one_of(n, "the way a datum runs", &ways))?;
    let other = if fixed == "east" { "north" } else { "east" };
    if let Some(node) = f.get(other) {
        let message = format!("`{other}` changes along this datum");
        r.fail(node.bytes.clone(), message, format!("expected `{fixed}` alone")).help =
            Some(format!("leave `{other}` out, or turn `line`"));
    }
    let at_m = r.need(&f, fixed).and_then(|n| r.quantity(n, Kind::Coordinate))?;
    let runs = match fixed {
        "east" => DatumRuns::North { east_m: at_m },
        _ => DatumRuns::East { north_m: at_m },
    };
    Some(Datum { name: name?.to_owned(), runs, place: r.place_of(item) })
}

/// The clear depth of a wall: of its studs by PS 20, `2x4`, or as measured, `3-1/2 in`.
pub fn wall(r: &mut Reader, node: &Node) -> Option<f64> {
    match &node.value {
        Value::Text(text) if text.contains(['x', 'X', '×']) => {
            dressed(r, node, "give the wall's clear depth as measured, like 3-1/2 in").map(|d| d.depth_m)
        }
        _ => r.above_zero(node, Kind::Breadth, "the wall"),
    }
}

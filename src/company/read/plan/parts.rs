//! Doors, stairs and things.
use super::super::keys;
use super::super::kit::{Fields, Reader};
use super::rooms::point;
use crate::measure::{DIRECTIONS, Kind};
use crate::plan::{Box2, Door, P2, Room, Stair, Thing};
use crate::text::Node;

pub fn door(r: &mut Reader, item: &Node, rooms: &[Room]) -> Option<Door> {
    let f = r.thing(item, &keys::DOOR)?;
    let from = room_and_wall(r, &f, ("room", "wall"), rooms);
    let into = room_and_wall(r, &f, ("into", "its-wall"), rooms);
    let mut length = |key| r.need(&f, key).and_then(|n| r.quantity(n, Kind::Length));
    let (at_m, its_at_m) = (length("at"), length("its-at"));
    let wide_m = r.need(&f, "wide").and_then(|n| r.above_zero(n, Kind::Length, "the width of a door"));
    let ((room, wall), (into, its_wall)) = (from?, into?);
    if room == into {
        let message = format!("this door leads from {} into itself", rooms[room].name);
        let bytes = r.mark_of(item);
        r.fail(bytes, message, "expected two rooms");
        return None;
    }
    Some(Door { room, wall, at_m: at_m?, wide_m: wide_m?, into, its_wall, its_at_m: its_at_m? })
}

pub fn stair(r: &mut Reader, item: &Node, rooms: &[Room]) -> Option<Stair> {
    let f = r.thing(item, &keys::STAIR)?;
    let room = r.need(&f, "room").and_then(|n| room_named(r, n, rooms));
    let into = r.need(&f, "into").and_then(|n| room_named(r, n, rooms));
    let from = r.need(&f, "from").and_then(|n| point(r, n));
    let mut length = |key, what| r.need(&f, key).and_then(|n| r.above_zero(n, Kind::Length, what));
    let wide_m = length("wide", "the width of a stair");
    let run_m = length("run", "the run of a stair");
    let rise_m = length("rise", "the rise of a stair");
    let ways: Vec<(&str, P2)> = DIRECTIONS[..4].iter().map(|(word, way)| (*word, way.truncate())).collect();
    let toward = r.need(&f, "toward").and_then(|n| r.one_of(n, "a direction of the compass", &ways));
    let its_wall = match (f.get("its-wall"), into) {
        (Some(n), Some(into)) => Some(wall_number(r, n, &rooms[into])?),
        _ => None,
    };
    let its_at_m = f.get("its-at").map_or(Some(0.0), |n| r.quantity(n, Kind::Length));
    let (room, into) = (room?, into?);
    if room == into {
        let message = format!("this stair leads from {} into itself", rooms[room].name);
        let bytes = r.mark_of(item);
        r.fail(bytes, message, "expected two rooms");
        return None;
    }
    Some(Stair {
        room,
        from: from?,
        wide_m: wide_m?,
        run_m: run_m?,
        rise_m: rise_m?,
        toward: toward?,
        into,
        its_wall,
        its_at_m: its_at_m?,
    })
}

pub fn thing(r: &mut Reader, item: &Node, rooms: &[Room]) -> Option<Thing> {
    let f = r.thing(item, &keys::THING)?;
    let room = r.need(&f, "room").and_then(|n| room_named(r, n, rooms));
    let place = rectangle(r, &f);
    let what = r.need(&f, "what").and_then(|n| r.text(n, "what it is, like table"));
    Some(Thing { room: room?, place: place?, what: what?.to_owned() })
}

/// `from` and `size` of a rectangle.
pub fn rectangle(r: &mut Reader, f: &Fields) -> Option<Box2> {
    let from = r.need(f, "from").and_then(|n| point(r, n));
    let size = r.need(f, "size").and_then(|node| {
        let size = point(r, node)?;
        if size.min_element() > 0.0 {
            return Some(size);
        }
        let bytes = r.mark_of(node);
        r.fail(bytes, "a size is zero or less", "expected two lengths of more than zero").help =
            Some("measure from the south-west corner, east and north".into());
        None
    });
    Some(Box2 { from: from?, size: size? })
}

/// A room and one of its walls, counted from 1 in the file and from 0 here.
pub fn room_and_wall(
    r: &mut Reader,
    f: &Fields,
    (room, wall): (&str, &str),
    rooms: &[Room],
) -> Option<(usize, usize)> {
    let room = r.need(f, room).and_then(|n| room_named(r, n, rooms));
    let wall = r.need(f, wall);
    let room = room?;
    Some((room, wall_number(r, wall?, &rooms[room])?))
}

fn room_named(r: &mut Reader, node: &Node, rooms: &[Room]) -> Option<usize> {
    // Where the rooms themselves could not be read, their faults are told already.
    if rooms.is_empty() {
        return None;
    }
    let names: Vec<&str> = rooms.iter().map(|room| room.name.as_str()).collect();
    r.known(node, "room", "the plan", &names)
}

fn wall_number(r: &mut Reader, node: &Node, room: &Room) -> Option<usize> {
    let text = r.text(node, "a wall's number")?;
    let count = room.walk.len();
    let number = text.parse::<usize>().ok().filter(|n| (1..=count).contains(n));
    if number.is_none() {
        let message = format!("the room {} has no wall `{}`", room.name, crate::text::clip(text));
        let label = format!("expected a number from 1 to {count}");
        r.fail(node.bytes.clone(), message, label).help =
            Some("count the walls in the order of its walk".into());
    }
    number.map(|n| n - 1)
}

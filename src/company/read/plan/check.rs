//! What a plan says of one part that does not fit another.
use super::super::kit::Reader;
use super::Marks;
use crate::plan::{LoopBy, P2, PlaceFault, Placed, Plan, overlap_m2, signed_area_m2};

/// Rounding of the tape and of unions, m.
const ROUND_M: f64 = 1e-4;
/// Two rooms, or a thing and what lies outside its room, share less than this by rounding, m².
const ROUND_M2: f64 = 1e-3;

/// What can be told before the rooms stand. Whether all is well.
pub fn before(r: &mut Reader, plan: &Plan, marks: &Marks) -> bool {
    let mut well = true;
    for (number, room) in plan.rooms.iter().enumerate() {
        if let Some((a, b)) = crosses_itself(&room.walk) {
            let message = format!("walls {} and {} of {} cross", a + 1, b + 1, room.name);
            r.fail(marks.rooms[number].clone(), message, "this walk crosses itself").help =
                Some("check the order and the lengths of the walls".into());
            well = false;
        }
        let miss: P2 = room.walk.iter().copied().sum();
        if miss.length() > plan.closes_within_m {
            let (by, limit) = (way(r, miss), r.say.length(plan.closes_within_m));
            let message = format!("the walk round {} ends {by} of where it began", room.name);
            r.fail(marks.rooms[number].clone(), message, format!("may miss by {limit}")).help =
                Some("measure its walls again, or give `closes-within:`".into());
            well = false;
        }
    }
    for (number, door) in plan.doors.iter().enumerate() {
        let sides = [(door.room, door.wall, door.at_m), (door.into, door.its_wall, door.its_at_m)];
        for (room, wall, at_m) in sides {
            well &= fits_wall(r, plan, marks.doors[number].clone(), "door", (room, wall, at_m, door.wide_m));
        }
    }
    for (number, stair) in plan.stairs.iter().enumerate() {
        if let Some(wall) = stair.its_wall {
            let opening = (stair.into, wall, stair.its_at_m, stair.wide_m);
            well &= fits_wall(r, plan, marks.stairs[number].clone(), "stair", opening);
        }
    }
    well
}

/// Whether an opening lies within its wall.
fn fits_wall(
    r: &mut Reader,
    plan: &Plan,
    bytes: std::ops::Range<usize>,
    what: &str,
    (room, wall, at_m, wide_m): (usize, usize, f64, f64),
) -> bool {
    let room = &plan.rooms[room];
    let length_m = room.walk[wall].length();
    if at_m + wide_m <= length_m + ROUND_M {
        return true;
    }
    let say = r.say;
    let (long, wide) = (say.length(length_m), say.length(wide_m));
    let message = if wide_m > length_m + ROUND_M {
        format!("this {what} is {wide} wide; wall {} of {} is {long} long", wall + 1, room.name)
    } else {
        let end = say.length(at_m + wide_m);
        format!("this {what} ends at {end}; wall {} of {} is {long} long", wall + 1, room.name)
    };
    r.fail(bytes, message, "does not fit its wall").help =
        Some("measure from the wall's first end in the order of the walk".into());
    false
}

/// Two walls of a walk that meet elsewhere than at a shared corner.
fn crosses_itself(walk: &[P2]) -> Option<(usize, usize)> {
    let mut at = P2::ZERO;
    let mut walls = Vec::new();
    for step in walk {
        walls.push((at, *step));
        at += *step;
    }
    let n = walls.len();
    for i in 0..n {
        for j in i + 2..n {
            if i == 0 && j == n - 1 {
                continue;
            }
            let ((a, u), (b, v)) = (walls[i], walls[j]);
            let det = u.perp_dot(v);
            if det.abs() < 1e-12 {
                continue;
            }
            let (s, t) = ((b - a).perp_dot(v) / det, (b - a).perp_dot(u) / det);
            if (1e-9..=1.0 - 1e-9).contains(&s) && (1e-9..=1.0 - 1e-9).contains(&t) {
                return Some((i, j));
            }
        }
    }
    None
}

/// Why the rooms cannot be set down.
pub fn misplaced(r: &mut Reader, plan: &Plan, marks: &Marks, fault: &PlaceFault) {
    match *fault {
        PlaceFault::NotFacing { door } => {
            let d = &plan.doors[door];
            let (a, b) = (&plan.rooms[d.room].name, &plan.rooms[d.into].name);
            let message = format!(
                "wall {} of {a} and wall {} of {b} do not face each other",
                d.wall + 1,
                d.its_wall + 1
            );
            r.fail(marks.doors[door].clone(), message, "a door stands square in both walls").help =
                Some("check both numbers; walls are counted in the order of the walk".into());
        }
        PlaceFault::NoWall { stair } => {
            let s = &plan.stairs[stair];
            let name = &plan.rooms[s.into].name;
            let message = format!("this stair meets no wall of {name} squarely");
            r.fail(marks.stairs[stair].clone(), message, "comes up through a wall of the upper room").help =
                Some("check `toward`, or name the wall with `its-wall:`".into());
        }
        PlaceFault::Loose { room } => {
            let message = format!("nothing leads to {}", plan.rooms[room].name);
            r.fail(marks.rooms[room].clone(), message, "expected a door or a stair to it").help =
                Some("add the door, or say where the room stands with `at:`".into());
        }
        PlaceFault::Height { stair, off_m } => {
            let s = &plan.stairs[stair];
            let (name, off) = (&plan.rooms[s.into].name, r.say.length(off_m.abs()));
            let message = format!("this stair comes up {off} off the floor of {name}");
            r.fail(marks.stairs[stair].clone(), message, "does not reach its floor").help =
                Some("measure its rise again, or the heights given with `up:`".into());
        }
    }
}

/// What can be told only when the rooms stand. Whether all is well.
pub fn after(r: &mut Reader, plan: &Plan, placed: &Placed, marks: &Marks) -> bool {
    let loops = closes(r, plan, placed, marks);
    let rooms = apart(r, plan, placed, marks);
    let things = inside(r, plan, placed, marks);
    loops && rooms && things
}

/// Every loop misses by no more than it may.
fn closes(r: &mut Reader, plan: &Plan, placed: &Placed, marks: &Marks) -> bool {
    let mut well = true;
    for found in placed.loops.iter().filter(|found| found.miss.length() > plan.closes_within_m) {
        let (bytes, what) = match found.by {
            // Told before the rooms were set down.
            LoopBy::Walk(_) => continue,
            LoopBy::Door(door) => (marks.doors[door].clone(), "door"),
            LoopBy::Stair(stair) => (marks.stairs[stair].clone(), "stair"),
        };
        let (by, limit) = (way(r, found.miss), r.say.length(plan.closes_within_m));
        let message = format!("this {what} closes a loop of rooms and misses by {by}");
        r.fail(bytes, message, format!("may miss by {limit}")).help =
            Some("measure the rooms of the loop again, or give `closes-within:`".into());
        well = false;
    }
    well
}

/// No two rooms of a floor overlap.
fn apart(r: &mut Reader, plan: &Plan, placed: &Placed, marks: &Marks) -> bool {
    let mut well = true;
    for (b, second) in placed.rooms.iter().enumerate() {
        for (a, first) in placed.rooms[..b].iter().enumerate() {
            let shared_m2 = overlap_m2(&first.corners, &second.corners);
            if first.floor != second.floor || shared_m2 < ROUND_M2 {
                continue;
            }
            let message = format!(
                "the rooms {} and {} overlap by {}",
                plan.rooms[a].name,
                plan.rooms[b].name,
                r.say.area(shared_m2)
            );
            let related = r.source.related(marks.rooms[a].clone(), "overlaps this one");
            let fault = r.fail(marks.rooms[b].clone(), message, "lies over another room");
            fault.related.push(related);
            fault.help = Some("check the doors between them and the lengths of their walls".into());
            well = false;
        }
    }
    well
}

/// Things and stairs stand in their rooms.
fn inside(r: &mut Reader, plan: &Plan, placed: &Placed, marks: &Marks) -> bool {
    let mut well = true;
    for (number, thing) in plan.things.iter().enumerate() {
        let room = &placed.rooms[thing.room].corners;
        let corners = thing.place.corners().map(|p| p + room[0]);
        let out_m2 = signed_area_m2(&corners) - overlap_m2(&corners, room);
        if out_m2 > ROUND_M2 {
            let message = format!(
                "the {} stands {} outside {}",
                thing.what,
                r.say.area(out_m2),
                plan.rooms[thing.room].name
            );
            r.fail(marks.things[number].clone(), message, "not in its room").help =
                Some("measure from the room's first corner, east and north".into());
            well = false;
        }
    }
    for (number, stair) in plan.stairs.iter().enumerate() {
        let room = &placed.rooms[stair.room].corners;
        let foot = placed.stairs[number].foot;
        let step = stair.toward * 2.0 * ROUND_M;
        // The strip of floor just before the lowest step, where one stands to go up.
        let strip = [foot.0, foot.1, foot.1 - step, foot.0 - step];
        let whole_m2 = signed_area_m2(&strip).abs();
        if overlap_m2(&strip, room) < whole_m2 * 0.5 {
            let message = format!("this stair begins outside {}", plan.rooms[stair.room].name);
            r.fail(marks.stairs[number].clone(), message, "not in its room").help =
                Some("give the west or south end of its lowest edge, from the room's first corner".into());
            well = false;
        }
    }
    well
}

/// A step in words: `3 in east, 1 in south`.
fn way(r: &Reader, step: P2) -> String {
    let part = |m: f64, plus: &str, minus: &str| {
        let word = if m > 0.0 { plus } else { minus };
        (m.abs() > ROUND_M).then(|| format!("{} {word}", r.say.length(m.abs())))
    };
    let parts = [part(step.x, "east", "west"), part(step.y, "north", "south")];
    parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

//! Random floors: rectangular rooms hung together by doors, with things in them; and houses of two of them, with a
//! stair between. The seed alone decides what comes.
use super::generate::Dice;
use longsweep::plan::{Box2, Door, P2, Plan, Room, Stair, Thing};

const INCH_M: f64 = 0.0254;
/// Inches of wall between two rooms.
const WALL: i64 = 5;

/// A room in whole inches: south-west corner and size.
#[derive(Clone, Copy)]
struct Rect {
    x: i64,
    y: i64,
    w: i64,
    h: i64,
}

impl Rect {
    fn apart(&self, other: &Rect) -> bool {
        self.x + self.w + WALL <= other.x
            || other.x + other.w + WALL <= self.x
            || self.y + self.h + WALL <= other.y
            || other.y + other.h + WALL <= self.y
    }
}

/// A floor of up to so many rooms.
pub fn floor(dice: &mut Dice, rooms: usize) -> Plan {
    let mut rects = vec![sized(dice)];
    let mut doors = Vec::new();
    for _ in 0..rooms * 12 {
        if rects.len() < rooms {
            grow(dice, &mut rects, &mut doors);
        }
    }
    let things = (0..rects.len()).filter_map(|r| thing(dice, r, &rects[r])).collect();
    Plan {
        walls_m: WALL as f64 * INCH_M,
        wand_m: 54.0 * INCH_M,
        closes_within_m: 2.0 * INCH_M,
        rooms: rects.iter().enumerate().map(|(r, rect)| room(r, rect)).collect(),
        doors,
        stairs: Vec::new(),
        things,
        level: None,
        places: None,
    }
}

#[allow(dead_code)] // Not every program that draws floors goes upstairs.
/// A house of two floors of up to so many rooms each, with a stair up into the first room of the upper one; the lower
/// floor alone where none of its rooms has room for the stair, or no wall above for its opening.
pub fn house(dice: &mut Dice, rooms: usize) -> Plan {
    let (mut plan, upper) = (floor(dice, rooms), floor(dice, rooms));
    let size = |room: &Room| (room.walk[0].x / INCH_M, room.walk[1].y / INCH_M);
    let Some(from) = plan.rooms.iter().position(|room| size(room).0 > 80.0 && size(room).1 > 130.0) else {
        return plan;
    };
    // Up along the west wall of its room, to the north or to the south, and out of the wall that it meets there.
    let (north, wide) = (dice.once_in(2), 34 + dice.below(6) as i64);
    let its_wall = if north { 0 } else { 2 };
    let its_at =
        2 + dice.below((size(&upper.rooms[0]).0 as u64).saturating_sub(wide as u64 + 4).max(1)) as i64;
    let m = |inches: i64| inches as f64 * INCH_M;
    let shut = upper.doors.iter().filter(|door| (door.room, door.wall) == (0, its_wall));
    if shut
        .into_iter()
        .any(|door| door.at_m < m(its_at + wide + 2) && m(its_at - 2) < door.at_m + door.wide_m)
    {
        return plan;
    }
    let run = 70 + dice.below(size(&plan.rooms[from]).1 as u64 - 110) as i64;
    let start = 15 + dice.below(20) as i64;
    plan.things.retain(|thing| thing.room != from);
    let lower = plan.rooms.len();
    plan.stairs.push(Stair {
        room: from,
        from: point(0, if north { start } else { start + run }),
        wide_m: m(wide),
        run_m: m(run),
        rise_m: m(105),
        toward: if north { P2::Y } else { P2::NEG_Y },
        into: lower,
        its_wall: Some(its_wall),
        its_at_m: m(its_at),
    });
    plan.rooms.extend(upper.rooms);
    let above = |door: Door| Door { room: door.room + lower, into: door.into + lower, ..door };
    plan.doors.extend(upper.doors.into_iter().map(above));
    plan.things.extend(upper.things.into_iter().map(|thing| Thing { room: thing.room + lower, ..thing }));
    plan
}

fn sized(dice: &mut Dice) -> Rect {
    Rect { x: 0, y: 0, w: 60 + dice.below(180) as i64, h: 60 + dice.below(180) as i64 }
}

fn point(x: i64, y: i64) -> P2 {
    P2::new(x as f64, y as f64) * INCH_M
}

fn room(number: usize, rect: &Rect) -> Room {
    let (w, h) = (rect.w, rect.h);
    let walk = vec![point(w, 0), point(0, h), point(-w, 0), point(0, -h)];
    Room { name: format!("Room {}", number + 1), walk, at: None, up_m: None }
}

/// Puts a room against a wall of one that stands, with a door between them.
fn grow(dice: &mut Dice, rects: &mut Vec<Rect>, doors: &mut Vec<Door>) {
    let from = dice.below(rects.len() as u64) as usize;
    let (old, mut new) = (rects[from], sized(dice));
    let wide = 28 + dice.below(12) as i64;
    let wall = dice.below(4) as usize;
    // Along the shared wall, between both rooms' corners.
    let lengths = if wall.is_multiple_of(2) { (old.w, new.w) } else { (old.h, new.h) };
    let mut place = |length: i64| 2 + dice.below((length - wide - 4).max(1) as u64) as i64;
    let (at, its_at) = (place(lengths.0), place(lengths.1));
    // A wall of the walk runs the other way round the room behind it.
    let its_from_end = lengths.1 - its_at - wide;
    (new.x, new.y) = match wall {
        0 => (old.x + at - its_from_end, old.y - WALL - new.h),
        1 => (old.x + old.w + WALL, old.y + at - its_from_end),
        2 => (old.x + old.w - at - wide - its_at, old.y + old.h + WALL),
        _ => (old.x - WALL - new.w, old.y + old.h - at - wide - its_at),
    };
    if !rects.iter().all(|rect| rect.apart(&new)) {
        return;
    }
    let m = |inches: i64| inches as f64 * INCH_M;
    doors.push(Door {
        room: from,
        wall,
        at_m: m(at),
        wide_m: m(wide),
        into: rects.len(),
        its_wall: (wall + 2) % 4,
        its_at_m: m(its_at),
    });
    rects.push(new);
}

/// A table, clear of the walls, in two rooms of three.
fn thing(dice: &mut Dice, room: usize, rect: &Rect) -> Option<Thing> {
    if dice.once_in(3) {
        return None;
    }
    let (w, h) = (16 + dice.below(50) as i64, 16 + dice.below(50) as i64);
    let (free_x, free_y) = (rect.w - w - 30, rect.h - h - 30);
    if free_x <= 0 || free_y <= 0 {
        return None;
    }
    let from = point(15 + dice.below(free_x as u64) as i64, 15 + dice.below(free_y as u64) as i64);
    Some(Thing { room, place: Box2 { from, size: point(w, h) }, what: "table".into() })
}

#[allow(dead_code)] // Not every program that draws floors picks points on them.
/// A point of the floor, in some room and clear of its walls and things.
pub fn spot(dice: &mut Dice, plan: &Plan, corners: &[Vec<P2>]) -> (usize, P2) {
    loop {
        let room = dice.below(corners.len() as u64) as usize;
        let (low, high) = (corners[room][0], corners[room][2]);
        let part = |dice: &mut Dice| 0.02 + 0.96 * dice.below(1_000_000) as f64 / 1e6;
        let at = low + (high - low) * P2::new(part(dice), part(dice));
        let clear = plan.things.iter().filter(|thing| thing.room == room).all(|thing| {
            let (a, b) = (low + thing.place.from, low + thing.place.from + thing.place.size);
            at.x < a.x - 0.01 || at.x > b.x + 0.01 || at.y < a.y - 0.01 || at.y > b.y + 0.01
        });
        if clear {
            return (room, at);
        }
    }
}

//! The walkable floor of a placed plan: one sheet for each floor, one for each stair's slope laid flat.
use super::place::Placed;
use super::shapes::{Rings, difference, union};
use super::sheet::{Gate, Opening, Sheet};
use super::types::{P2, Plan};

/// An opening is drawn this much into the rooms at both its sides, so that the union has no crack.
const INTO_M: f64 = 0.002;

/// Sheets of floor, joined by stairs.
#[derive(Debug, Clone, PartialEq)]
pub struct House {
    /// First the floors, from the lowest, then the slopes in the order of the plan's stairs.
    pub sheets: Vec<Sheet>,
    pub floors: usize,
}

/// A point on one of the sheets.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Home {
    pub sheet: usize,
    pub at: P2,
}

/// Builds the sheets. A stair lies in its room as something to go round, open at its lowest edge.
pub fn house(plan: &Plan, placed: &Placed) -> House {
    let floors = placed.floors_m.len();
    let openings = openings(plan, placed, floors);
    let mut sheets: Vec<Sheet> =
        (0..floors).map(|floor| Sheet::new(floor_rings(plan, placed, floor), &openings[floor])).collect();
    for (s, stair) in plan.stairs.iter().enumerate() {
        let (left, right) = placed.stairs[s].foot;
        let up = stair.toward * stair.slope_m();
        let ring = vec![left, right, right + up, left + up];
        sheets.push(Sheet::new(union(&[ring]), &openings[floors + s]));
    }
    House { sheets, floors }
}

/// Rooms and openings of a floor less the things and stairs that stand there.
fn floor_rings(plan: &Plan, placed: &Placed, floor: usize) -> Rings {
    let on_floor = |room: &usize| placed.rooms[*room].floor == floor;
    let things = plan.things.iter().filter(|thing| on_floor(&thing.room)).map(|thing| {
        let origin = placed.rooms[thing.room].corners[0];
        thing.place.corners().map(|corner| corner + origin).to_vec()
    });
    let stairs = plan.stairs.iter().zip(&placed.stairs).filter(|(stair, _)| on_floor(&stair.room));
    let stairs = stairs.map(|(_, set)| vec![set.foot.0, set.foot.1, set.head.1, set.head.0]);
    let shut: Vec<Vec<P2>> = things.chain(stairs).collect();
    difference(&outlines(plan, placed, floor), &if shut.is_empty() { Vec::new() } else { union(&shut) })
}

/// Rooms and openings of a floor, with all that stands there: the inside faces of its walls.
pub fn outlines(plan: &Plan, placed: &Placed, floor: usize) -> Rings {
    let on_floor = |room: &usize| placed.rooms[*room].floor == floor;
    let rooms = (0..plan.rooms.len()).filter(on_floor).map(|r| placed.rooms[r].corners.clone());
    let doors = plan.doors.iter().enumerate().filter(|(_, d)| on_floor(&d.room));
    union(&rooms.chain(doors.map(|(d, _)| doorway(plan, placed, d))).collect::<Vec<_>>())
}

/// What a floor covers with its walls: every room grown by the thickness of a wall.
pub fn footprint(plan: &Plan, placed: &Placed, floor: usize) -> Rings {
    let rooms = placed.rooms.iter().filter(|room| room.floor == floor);
    let grown = rooms.map(|room| {
        let n = room.corners.len();
        let corner = |w: usize| {
            let ((u, a), (v, b)) = (room.sides((w + n - 1) % n), room.sides(w));
            // Where both faces, moved out, meet; in line they move together.
            let (p, q) = (room.corners[w] + a * plan.walls_m, room.corners[w] + b * plan.walls_m);
            let det = u.perp_dot(v);
            if det.abs() < 1e-9 { p } else { p + u * ((q - p).perp_dot(v) / det) }
        };
        (0..n).map(corner).collect::<Vec<P2>>()
    });
    union(&grown.collect::<Vec<_>>())
}

/// The opening of a door through the wall, from face to face.
pub fn doorway(plan: &Plan, placed: &Placed, door: usize) -> Vec<P2> {
    let door = &plan.doors[door];
    let side = |room: usize, wall: usize, at_m: f64| {
        let room = &placed.rooms[room];
        let (along, out) = room.sides(wall);
        let start = room.wall(wall).0 + along * at_m - out * INTO_M;
        let ends = (start, start + along * door.wide_m);
        if room.left { ends } else { (ends.1, ends.0) }
    };
    let (a, b) = side(door.room, door.wall, door.at_m);
    let (c, d) = side(door.into, door.its_wall, door.its_at_m);
    vec![a, b, c, d]
}

/// The gates of every sheet: at both ends of every stair, from both sides.
fn openings(plan: &Plan, placed: &Placed, floors: usize) -> Vec<Vec<Opening>> {
    let mut found: Vec<Vec<Opening>> = vec![Vec::new(); floors + plan.stairs.len()];
    for (s, stair) in plan.stairs.iter().enumerate() {
        let (slope, set) = (floors + s, &placed.stairs[s]);
        let (lower, upper) = (placed.rooms[stair.room].floor, placed.rooms[stair.into].floor);
        // Laid flat, the slope reaches further than its run; the upper floor is met at its end.
        let longer = stair.toward * (stair.slope_m() - stair.run_m);
        let mut gate = |sheet: usize, (a, b): (P2, P2), to: usize, shift: P2| {
            found[sheet].push(Opening { a, b, gate: Gate { to, shift } });
        };
        let flat_head = (set.head.0 + longer, set.head.1 + longer);
        gate(lower, set.foot, slope, P2::ZERO);
        gate(slope, set.foot, lower, P2::ZERO);
        gate(slope, flat_head, upper, set.opening.0 - flat_head.0);
        gate(upper, set.opening, slope, flat_head.0 - set.opening.0);
    }
    found
}

impl House {
    /// The sheet of a floor at a point, moved onto it where it stands just off.
    pub fn home(&self, floor: usize, at: P2) -> Home {
        Home { sheet: floor, at: self.sheets[floor].nearest(at) }
    }
}

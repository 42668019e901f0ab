//! The floor in small cells, and the places along its walls where a valve may go.
use super::house::{Home, House};
use super::pieces::{Piece, halved, pieces};
use super::place::Placed;
use super::types::{P2, Plan, ValvePlace};

/// Places stand about this far apart along a wall: every second bay of studs 16 in apart.
const PITCH_M: f64 = 32.0 * 0.0254;
/// Kept free beside corners and door openings, for studs and trim.
const FREE_M: f64 = 6.0 * 0.0254;
/// A thing nearer to the wall than this stands in the way of a valve.
const CLEAR_M: f64 = 0.3048;

/// A place where a valve may go.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Candidate {
    pub place: ValvePlace,
    /// From the wall's start, along the walk.
    pub at_m: f64,
    pub home: Home,
}

/// A convex bit of floor.
#[derive(Debug, Clone, PartialEq)]
pub struct Cell {
    pub sheet: usize,
    /// The convex part of its sheet that it was cut from; the cells of a part follow on each other.
    pub part: usize,
    pub piece: Piece,
}

/// Places along the free stretches of the walls where a valve may go.
pub fn candidates(plan: &Plan, placed: &Placed, house: &House) -> Vec<Candidate> {
    let every = || {
        let walls = |(room, set): (usize, &super::place::PlacedRoom)| {
            (0..set.corners.len()).map(move |wall| ValvePlace { room, wall })
        };
        placed.rooms.iter().enumerate().flat_map(walls).collect()
    };
    let places: Vec<ValvePlace> = plan.places.clone().unwrap_or_else(every);
    places.into_iter().flat_map(|place| along(plan, placed, house, place)).collect()
}

fn along(plan: &Plan, placed: &Placed, house: &House, place: ValvePlace) -> Vec<Candidate> {
    let room = &placed.rooms[place.room];
    let (start, end) = room.wall(place.wall);
    let unit = (end - start).normalize_or_zero();
    let mut found = Vec::new();
    for (from_m, to_m) in stretches(plan, placed, place) {
        let n = ((to_m - from_m) / PITCH_M).floor().max(1.0);
        for i in 0..n as usize {
            let at_m = from_m + (to_m - from_m) * (i as f64 + 0.5) / n;
            // On a tape, whole inches; the stretch is longer than that on both sides.
            let at_m = (at_m / 0.0254).round() * 0.0254;
            found.push(Candidate { place, at_m, home: house.home(room.floor, start + unit * at_m) });
        }
    }
    found
}

/// What is free of a wall: less its corners, its openings, and what stands before it.
pub fn stretches(plan: &Plan, placed: &Placed, place: ValvePlace) -> Vec<(f64, f64)> {
    let room = &placed.rooms[place.room];
    let (start, end) = room.wall(place.wall);
    let length_m = start.distance(end);
    let (unit, out) = room.sides(place.wall);
    let mut shut: Vec<(f64, f64)> = vec![(f64::MIN, FREE_M), (length_m - FREE_M, f64::MAX)];
    for door in &plan.doors {
        for (r, w, at_m) in [(door.room, door.wall, door.at_m), (door.into, door.its_wall, door.its_at_m)] {
            if (r, w) == (place.room, place.wall) {
                shut.push((at_m - FREE_M, at_m + door.wide_m + FREE_M));
            }
        }
    }
    let mut before = |corners: &[P2]| {
        let depth_m = corners.iter().map(|p| -out.dot(*p - start)).fold(f64::MAX, f64::min);
        let reach = corners.iter().map(|p| unit.dot(*p - start));
        let (a, b) = reach.fold((f64::MAX, f64::MIN), |(a, b), x| (a.min(x), b.max(x)));
        if depth_m < CLEAR_M {
            shut.push((a, b));
        }
    };
    let origin = room.corners[0];
    for thing in plan.things.iter().filter(|thing| thing.room == place.room) {
        before(&thing.place.corners().map(|p| p + origin));
    }
    for (stair, set) in plan.stairs.iter().zip(&placed.stairs) {
        if stair.room == place.room {
            before(&[set.foot.0, set.foot.1, set.head.1, set.head.0]);
        }
        if stair.into == place.room {
            before(&[set.opening.0, set.opening.1]);
        }
    }
    shut.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (mut at, mut free) = (f64::MIN, Vec::new());
    for (a, b) in shut {
        if at > f64::MIN && a - at > 0.1 {
            free.push((at, a));
        }
        at = at.max(b);
    }
    free
}

/// Cuts all floor that a hose can come to from some place into cells no longer or wider than `size_m`.
pub fn cells(house: &House, size_m: f64) -> Vec<Cell> {
    let mut found = Vec::new();
    for (sheet, floor) in house.sheets.iter().enumerate() {
        let mut open: Vec<(usize, Piece)> = pieces(floor).into_iter().enumerate().collect();
        while let Some((part, piece)) = open.pop() {
            let fold = |f: fn(P2, P2) -> P2| piece.iter().copied().reduce(f).unwrap_or_default();
            if (fold(P2::max) - fold(P2::min)).max_element() > size_m {
                let halves = halved(&piece).into_iter().filter(|half| half.len() > 2);
                open.extend(halves.map(|half| (part, half)));
            } else {
                found.push(Cell { sheet, part, piece });
            }
        }
    }
    found
}

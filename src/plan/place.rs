//! Rooms set down on their floors: from one room to the next through doors and up stairs.
//!
//! A door stands square in its wall, so the middles of its two sides lie one wall's thickness apart. The
//! first way that leads to a room sets it down; every other way to it closes a loop and misses by
//! something, as a traverse does. A walk round a room that does not come back to its start misses too;
//! its last wall is then drawn to the start.
use super::shapes::signed_area_m2;
use super::types::{P2, Plan, Stair};

/// Floors nearer in height than this are one floor.
const ONE_FLOOR_M: f64 = 0.02;
/// Sine of the most that the two walls of a door may be out of parallel.
const PARALLEL: f64 = 1e-3;

/// The rooms of a plan in one frame.
#[derive(Debug, Clone, PartialEq)]
pub struct Placed {
    /// In the order of the plan.
    pub rooms: Vec<PlacedRoom>,
    /// In the order of the plan's stairs.
    pub stairs: Vec<PlacedStair>,
    /// Heights of the floors, in the job's frame, from the lowest.
    pub floors_m: Vec<f64>,
    /// Every closed loop with what it misses by, in the order in which they were closed.
    pub loops: Vec<Loop>,
}

/// A room set down.
#[derive(Debug, Clone, PartialEq)]
pub struct PlacedRoom {
    /// Counter-clockwise or clockwise, as it was walked; the first is the first corner.
    pub corners: Vec<P2>,
    /// Index into the floors.
    pub floor: usize,
    /// Whether the walk went counter-clockwise, the room at its left.
    pub left: bool,
}

impl PlacedRoom {
    /// Both ends of a wall, in the direction of the walk.
    pub fn wall(&self, wall: usize) -> (P2, P2) {
        let n = self.corners.len();
        (self.corners[wall % n], self.corners[(wall + 1) % n])
    }

    /// Unit vector along a wall, and the one out of the room.
    pub fn sides(&self, wall: usize) -> (P2, P2) {
        let (a, b) = self.wall(wall);
        let along = (b - a).try_normalize().unwrap_or(P2::X);
        (along, if self.left { -along.perp() } else { along.perp() })
    }
}

/// A stair set down: its lowest and its highest edge, and its opening in the wall of the upper room, each
/// from left to right as one goes up. Head and opening are one but for what a loop misses by.
#[derive(Debug, Clone, PartialEq)]
pub struct PlacedStair {
    pub foot: (P2, P2),
    pub head: (P2, P2),
    pub opening: (P2, P2),
}

/// What closes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Loop {
    pub by: LoopBy,
    /// From where the opening should be to where it is.
    pub miss: P2,
}

/// What closed a loop.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LoopBy {
    /// The walk round a room.
    Walk(usize),
    Door(usize),
    Stair(usize),
}

/// Why rooms cannot be set down.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum PlaceFault {
    /// The two walls of a door do not face each other.
    NotFacing { door: usize },
    /// A stair meets no wall of the upper room squarely.
    NoWall { stair: usize },
    /// Nothing leads from the first room to this one.
    Loose { room: usize },
    /// A stair leads to a room that stands at another height already.
    Height { stair: usize, off_m: f64 },
}

/// Sets the rooms down. All faults come out, in the order of the plan.
pub fn place(plan: &Plan) -> Result<Placed, Vec<PlaceFault>> {
    let mut work = Work::new(plan);
    work.spread();
    work.settle()
}

struct Work<'p> {
    plan: &'p Plan,
    /// Corners from each room's first corner, and whether its walk goes counter-clockwise.
    shapes: Vec<PlacedRoom>,
    at: Vec<Option<P2>>,
    up_m: Vec<f64>,
    loops: Vec<Loop>,
    faults: Vec<PlaceFault>,
}

/// A way from one room to another: `to` stands so that `there` comes to lie at `here`.
struct Link {
    by: LoopBy,
    from: usize,
    to: usize,
    /// From the first corner of `from`, and of `to`.
    here: P2,
    there: P2,
    rise_m: f64,
}

impl<'p> Work<'p> {
    fn new(plan: &'p Plan) -> Work<'p> {
        let mut loops = Vec::new();
        let shapes = plan.rooms.iter().enumerate().map(|(r, room)| {
            let mut at = P2::ZERO;
            let mut corners = Vec::with_capacity(room.walk.len());
            for step in &room.walk {
                corners.push(at);
                at += *step;
            }
            if at.length() > 1e-9 {
                loops.push(Loop { by: LoopBy::Walk(r), miss: at });
            }
            let left = signed_area_m2(&corners) >= 0.0;
            PlacedRoom { corners, floor: 0, left }
        });
        let shapes: Vec<PlacedRoom> = shapes.collect();
        let at = plan.rooms.iter().enumerate();
        let at = at.map(|(r, room)| room.at.or((r == 0).then_some(P2::ZERO))).collect();
        let up_m = plan.rooms.iter().map(|room| room.up_m.unwrap_or(0.0)).collect();
        Work { plan, shapes, at, up_m, loops, faults: Vec::new() }
    }

    /// Follows every door and stair from rooms that stand to rooms that do not, in rounds.
    fn spread(&mut self) {
        let links = self.links();
        let mut open: Vec<Link> = links;
        loop {
            let ready = open.iter().position(|l| self.at[l.from].is_some() != self.at[l.to].is_some());
            // Loops close where both rooms stand; they are judged when nothing more can be set down.
            let Some(ready) = ready else { break };
            let link = open.remove(ready);
            let step = link.here - link.there;
            if let Some(at) = self.at[link.from] {
                self.at[link.to] = Some(at + step);
                self.stand(link.to, self.up_m[link.from] + link.rise_m);
            } else if let Some(at) = self.at[link.to] {
                self.at[link.from] = Some(at - step);
                self.stand(link.from, self.up_m[link.to] - link.rise_m);
            }
        }
        for link in open {
            let (Some(from), Some(to)) = (self.at[link.from], self.at[link.to]) else { continue };
            self.loops.push(Loop { by: link.by, miss: to + link.there - from - link.here });
            let off_m = self.up_m[link.to] - self.up_m[link.from] - link.rise_m;
            if let (LoopBy::Stair(stair), true) = (link.by, off_m.abs() > self.plan.closes_within_m) {
                self.faults.push(PlaceFault::Height { stair, off_m });
            }
        }
    }

    /// A height that is written stands; else it follows from the way that led there.
    fn stand(&mut self, room: usize, up_m: f64) {
        self.up_m[room] = self.plan.rooms[room].up_m.unwrap_or(up_m);
    }

    fn links(&mut self) -> Vec<Link> {
        let doors: Vec<Option<Link>> = (0..self.plan.doors.len()).map(|d| self.door(d)).collect();
        let stairs: Vec<Option<Link>> = (0..self.plan.stairs.len()).map(|s| self.stair(s)).collect();
        doors.into_iter().chain(stairs).flatten().collect()
    }

    fn door(&mut self, number: usize) -> Option<Link> {
        let door = &self.plan.doors[number];
        let (mine, its) = (&self.shapes[door.room], &self.shapes[door.into]);
        let ((along, out), (its_along, its_out)) = (mine.sides(door.wall), its.sides(door.its_wall));
        if out.perp_dot(its_out).abs() > PARALLEL || out.dot(its_out) > 0.0 {
            self.faults.push(PlaceFault::NotFacing { door: number });
            return None;
        }
        let half_m = door.wide_m / 2.0;
        let here = mine.wall(door.wall).0 + along * (door.at_m + half_m) + out * self.plan.walls_m;
        let there = its.wall(door.its_wall).0 + its_along * (door.its_at_m + half_m);
        Some(Link { by: LoopBy::Door(number), from: door.room, to: door.into, here, there, rise_m: 0.0 })
    }

    fn stair(&mut self, number: usize) -> Option<Link> {
        let stair = &self.plan.stairs[number];
        let upper = &self.shapes[stair.into];
        let Some(wall) = landing_wall(stair, upper) else {
            self.faults.push(PlaceFault::NoWall { stair: number });
            return None;
        };
        let (a, b) = stair.foot();
        let here = (a + b) / 2.0 + stair.toward * stair.run_m;
        let there = upper.wall(wall).0 + upper.sides(wall).0 * (stair.its_at_m + stair.wide_m / 2.0);
        let (from, to) = (stair.room, stair.into);
        Some(Link { by: LoopBy::Stair(number), from, to, here, there, rise_m: stair.rise_m })
    }

    fn settle(mut self) -> Result<Placed, Vec<PlaceFault>> {
        // A way that does not fit leaves rooms loose behind it; then it alone is told.
        if self.faults.is_empty() {
            let loose = self.at.iter().enumerate().filter(|(_, at)| at.is_none());
            self.faults.extend(loose.map(|(room, _)| PlaceFault::Loose { room }));
        }
        if !self.faults.is_empty() {
            return Err(self.faults);
        }
        let mut floors_m = self.up_m.clone();
        floors_m.sort_by(f64::total_cmp);
        floors_m.dedup_by(|b, a| *b - *a < ONE_FLOOR_M);
        for ((shape, at), up_m) in self.shapes.iter_mut().zip(&self.at).zip(&self.up_m) {
            let at = at.unwrap_or_default();
            shape.corners.iter_mut().for_each(|corner| *corner += at);
            shape.floor = floors_m.iter().rposition(|floor| *floor <= up_m + ONE_FLOOR_M / 2.0).unwrap_or(0);
        }
        let shapes = &self.shapes;
        let stairs = self.plan.stairs.iter().map(|stair| {
            let origin = shapes[stair.room].corners[0];
            let (a, b) = stair.foot();
            let up = stair.toward * stair.run_m;
            let opening = landing(stair, &shapes[stair.into]);
            PlacedStair { foot: (origin + a, origin + b), head: (origin + a + up, origin + b + up), opening }
        });
        let stairs = stairs.collect();
        Ok(Placed { stairs, rooms: self.shapes, floors_m, loops: self.loops })
    }
}

/// The wall through which a stair comes into the upper room: the one that is named, else the first that it
/// meets squarely from outside.
fn landing_wall(stair: &Stair, upper: &PlacedRoom) -> Option<usize> {
    let meets = |wall: &usize| upper.sides(*wall).1.dot(stair.toward) < -1.0 + PARALLEL;
    stair.its_wall.or_else(|| (0..upper.corners.len()).find(meets)).filter(meets)
}

/// Its opening in that wall, from left to right as one goes up.
fn landing(stair: &Stair, upper: &PlacedRoom) -> (P2, P2) {
    let wall = landing_wall(stair, upper).unwrap_or(0);
    let along = upper.sides(wall).0;
    let start = upper.wall(wall).0 + along * stair.its_at_m;
    let end = start + along * stair.wide_m;
    if upper.left { (start, end) } else { (end, start) }
}

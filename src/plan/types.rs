//! A plan as it is taped: rooms by their inside faces, hung together by doors and stairs.
use glam::DVec2;

/// A point or a step on a floor, metres: x east, y north.
pub type P2 = DVec2;

/// A plan, resolved. It holds no door of an unknown room, no wall that a room does not have, no room of
/// fewer than three walls, no length that is negative.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// Thickness of every wall between rooms, face to face.
    pub walls_m: f64,
    /// How far the wand reaches past the hose's end, in a straight line.
    pub wand_m: f64,
    /// The most by which a closed loop of doors, or a walk round a room, may miss.
    pub closes_within_m: f64,
    pub rooms: Vec<Room>,
    pub doors: Vec<Door>,
    pub stairs: Vec<Stair>,
    pub things: Vec<Thing>,
    /// What the raceways run in, when the plan tells.
    pub level: Option<RacewayLevel>,
    /// Walls where a valve may go; `None` for every free stretch of inside wall.
    pub places: Option<Vec<ValvePlace>>,
}

/// A room, by a walk along its inside faces back to where it started.
#[derive(Debug, Clone, PartialEq)]
pub struct Room {
    pub name: String,
    /// One step for each wall; wall `w` of the words is step `w - 1`.
    pub walk: Vec<P2>,
    /// Where its first corner stands in the job's frame; else it hangs on its doors, and the first room
    /// of the plan stands at the origin.
    pub at: Option<P2>,
    /// Height of its floor in the job's frame, when given.
    pub up_m: Option<f64>,
}

/// An opening between two rooms, square through the wall.
#[derive(Debug, Clone, PartialEq)]
pub struct Door {
    pub room: usize,
    /// Index of the wall, from 0.
    pub wall: usize,
    /// From the wall's start, in the direction of the walk, to the opening's nearer side.
    pub at_m: f64,
    pub wide_m: f64,
    pub into: usize,
    pub its_wall: usize,
    pub its_at_m: f64,
}

/// A straight stair up from one room into another.
#[derive(Debug, Clone, PartialEq)]
pub struct Stair {
    pub room: usize,
    /// West or south end of its lowest edge, from the room's first corner.
    pub from: P2,
    pub wide_m: f64,
    /// Level length, and height.
    pub run_m: f64,
    pub rise_m: f64,
    /// Unit vector along one of the four compass directions, uphill.
    pub toward: P2,
    pub into: usize,
    /// Wall of the upper room that it comes through, and where its opening starts on it; `None` for the
    /// first wall that it meets squarely, at its start.
    pub its_wall: Option<usize>,
    pub its_at_m: f64,
}

impl Stair {
    /// Length of its slope, along which a hose lies.
    pub fn slope_m(&self) -> f64 {
        self.run_m.hypot(self.rise_m)
    }

    /// Its lowest edge, seen going up: left end, right end; from the room's first corner.
    pub fn foot(&self) -> (P2, P2) {
        let across = P2::new(self.toward.y.abs(), self.toward.x.abs());
        let (a, b) = (self.from, self.from + across * self.wide_m);
        if self.toward.perp_dot(b - a) > 0.0 { (b, a) } else { (a, b) }
    }
}

/// An upright rectangle, from its south-west corner.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Box2 {
    pub from: P2,
    pub size: P2,
}

impl Box2 {
    /// Its corners, counter-clockwise from the south-west.
    pub fn corners(&self) -> [P2; 4] {
        let (a, b) = (self.from, self.from + self.size);
        [a, P2::new(b.x, a.y), b, P2::new(a.x, b.y)]
    }
}

/// Something that stands on the floor and that a hose goes round.
#[derive(Debug, Clone, PartialEq)]
pub struct Thing {
    pub room: usize,
    /// From the room's first corner.
    pub place: Box2,
    pub what: String,
}

/// The level that the raceways run in.
#[derive(Debug, Clone, PartialEq)]
pub struct RacewayLevel {
    /// Height of the tube's centreline in the job's frame.
    pub up_m: f64,
    pub hang: Hang,
    /// In the job's frame.
    pub no_go: Vec<NoGo>,
}

/// What tube meets there.
#[derive(Debug, Clone, PartialEq)]
pub enum Hang {
    /// Nothing is told of it.
    Unknown,
    /// Tube hangs below the joists and crosses none.
    Below,
    /// Tube runs between joists.
    Between(Joists),
}

/// Joists at equal spaces.
#[derive(Debug, Clone, PartialEq)]
pub struct Joists {
    /// Whether they run north and south; else east and west.
    pub run_north: bool,
    pub spacing_m: f64,
    /// Where the middle of one of them lies: east for those that run north, north for the others.
    pub first_m: f64,
    /// As written, `2x10`, and its dressed thickness and depth.
    pub size: String,
    pub thick_m: f64,
    pub deep_m: f64,
    /// Whether they may be bored.
    pub bore: bool,
}

impl Joists {
    /// The middle of the joist nearest to a coordinate across them.
    pub fn nearest_m(&self, across_m: f64) -> f64 {
        ((across_m - self.first_m) / self.spacing_m).round() * self.spacing_m + self.first_m
    }

    /// How many joists have their middle between two coordinates across them.
    pub fn count_between(&self, a_m: f64, b_m: f64) -> usize {
        self.numbers(a_m, b_m).count()
    }

    fn numbers(&self, a_m: f64, b_m: f64) -> std::ops::RangeInclusive<i64> {
        let number = |x: f64| (x - self.first_m) / self.spacing_m;
        number(a_m.min(b_m)).ceil() as i64..=number(a_m.max(b_m)).floor() as i64
    }

    /// Middles of the joists between two coordinates across them, in order from `a_m`.
    pub fn between(&self, a_m: f64, b_m: f64) -> Vec<f64> {
        let mut found: Vec<f64> =
            self.numbers(a_m, b_m).map(|k| k as f64 * self.spacing_m + self.first_m).collect();
        if b_m < a_m {
            found.reverse();
        }
        found
    }
}

/// Where no tube may go.
#[derive(Debug, Clone, PartialEq)]
pub struct NoGo {
    pub what: String,
    pub place: Box2,
}

/// A wall where a valve may go.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ValvePlace {
    pub room: usize,
    pub wall: usize,
}

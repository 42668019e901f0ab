//! The plain data of a route.
use crate::company::{Crossing, Fitting};
use glam::DVec3;

/// The centreline of a line of tube: raceway, onward path or trunk.
#[derive(Debug, Clone)]
pub struct Route {
    /// Where it starts: the valve's seat, the stop, a trunk's start.
    pub start: DVec3,
    pub legs: Vec<Leg>,
    pub bends: Vec<Bend>,
    /// One tube per leg, in order; of a trunk, one between each two fittings.
    pub tubes: Vec<Tube>,
    /// Sum of all runs.
    pub centre_m: f64,
    /// Length along the arcs: runs less `2 R tan(a/2)` plus `R a` for each bend.
    pub hose_path_m: f64,
    pub bend_total_deg: f64,
    /// How many leading legs are the riser (steeper than 45 degrees).
    pub riser_legs: usize,
    /// Greatest departure, up or down, of a work point after the riser from the riser's end height.
    pub level_deviation_m: f64,
    /// How often the line, having risen, falls, or the other way round.
    pub reversals: usize,
    pub end: DVec3,
    /// Heading with which it ends.
    pub end_heading: DVec3,
}

/// A straight between two turns; runs in a row are one leg.
#[derive(Debug, Clone)]
pub struct Leg {
    pub from: DVec3,
    pub to: DVec3,
    /// Unit vector.
    pub heading: DVec3,
    pub length_m: f64,
    /// Distance from the route's start along work points to this leg's start.
    pub station_m: f64,
    /// The runs it is made of: length, and line in the job file.
    pub runs: Vec<(f64, usize)>,
    /// What it is bored through: distance from the leg's start, and the crossing as written.
    pub crossings: Vec<(f64, Crossing)>,
}

/// A bend between two legs.
#[derive(Debug, Clone)]
pub struct Bend {
    /// Counted from 1 at the valve.
    pub n: usize,
    pub angle_deg: f64,
    /// Sum of angles up to and with this one.
    pub so_far_deg: f64,
    /// Work point.
    pub point: DVec3,
    /// Sum of runs from the route's start to the work point.
    pub at_centre_m: f64,
    pub heading_in: DVec3,
    pub heading_out: DVec3,
    /// New heading in words: `west`, `north-east`, `down`, `west, 30° up`.
    pub heading_words: String,
    /// The bend used; `None` where the catalog has none of that angle for this use.
    pub fitting: Option<Fitting>,
    /// Whether the job named the fitting (`with:`).
    pub named: bool,
    /// Centreline radius; 0 without a fitting.
    pub radius_m: f64,
    /// Taken off each leg, `R tan(a/2)`.
    pub tangent_m: f64,
    /// Given back, `R a`.
    pub arc_m: f64,
    pub laying_length_m: f64,
    /// How far its plane is turned from the bend before, about the tube between, clockwise positive
    /// looking toward the stop, above -180 to 180; `None` for the first.
    pub roll_deg: Option<f64>,
    /// Line in the job file.
    pub line: usize,
}

/// What a tube seats in at one end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum End {
    Valve,
    /// Bend by its number.
    Bend(usize),
    Stop,
    /// A junction or the unit, at the far end of an onward path or trunk.
    Far,
    /// The open start of a trunk.
    Start,
    /// The run of a junction: index into [`TrunkRoute::joinings`].
    Joining(usize),
}

/// The tube of one leg, between the socket bottoms of its two fittings.
#[derive(Debug, Clone, PartialEq)]
pub struct Tube {
    /// `A3`: the tube of the third leg.
    pub mark: String,
    /// Index of its leg.
    pub leg: usize,
    pub from: End,
    pub to: End,
    /// Leg less the laying lengths; negative where the fittings collide.
    pub clear_m: f64,
}

/// The onward part of an inlet.
#[derive(Debug, Clone)]
pub struct Onward {
    pub route: Route,
    /// Where it should arrive, when that is known.
    pub closure: Option<Closure>,
}

/// How well a line closes on a known place, as in a survey traverse.
#[derive(Debug, Clone, PartialEq)]
pub struct Closure {
    /// Where it should arrive.
    pub wanted: DVec3,
    /// Where it arrives less where it should.
    pub miss: DVec3,
    /// The thing arrived at: `the unit`, `trunk main at 20 ft`.
    pub place: String,
}

impl Closure {
    /// The misclosure: the length of the miss.
    pub fn misclosure_m(&self) -> f64 {
        self.miss.length()
    }
}

/// How a line's place in the job's frame is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Anchor {
    /// From the place of its start.
    Start,
    /// From the place of its end, worked backwards.
    End,
    /// Not at all; points are relative to its start.
    None,
}

/// A trunk laid out.
#[derive(Debug, Clone)]
pub struct TrunkRoute {
    pub id: String,
    pub route: Route,
    pub anchor: Anchor,
    pub closure: Option<Closure>,
    /// What joins it, from its start on.
    pub joinings: Vec<Joining>,
}

/// A junction on a trunk.
#[derive(Debug, Clone, PartialEq)]
pub struct Joining {
    /// From the trunk's start along its runs to the crossing of centrelines.
    pub at_m: f64,
    pub fitting: Fitting,
    /// The inlet or trunk that joins.
    pub by: String,
}

/// Every line of a job, in the job's order.
#[derive(Debug, Clone)]
pub struct JobRoutes {
    pub raceways: Vec<Route>,
    /// `None` where the inlet has no onward path.
    pub onward: Vec<Option<Onward>>,
    pub trunks: Vec<TrunkRoute>,
}

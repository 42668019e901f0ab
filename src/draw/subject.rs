//! What a drawing is made from: plain data, already judged and already in words.
//!
//! Lengths in metres, paper in millimetres. A subject holds no clause and no catalog: findings come
//! as [`Balloon`]s, crossings with the words to write at them. Nothing in it says where on the paper
//! a thing goes; that is the drawing's own affair.
use crate::company::Level;
use crate::measure::Say;
use crate::route::Line;
use glam::DVec3;
use std::borrow::Cow;

/// One raceway, for its elevation, plan and isometric.
#[derive(Debug, Clone)]
pub struct RacewayPicture<'a> {
    /// Put before every id of the SVG; letters, digits and hyphens, different for each drawing of a page.
    pub prefix: String,
    /// What the drawing shows, for its `<title>`: `Hall, elevation`.
    pub title: String,
    /// Written at the valve: `HALL valve`.
    pub valve: String,
    /// The line, or the stretch of it that is drawn.
    pub route: Cow<'a, Line>,
    /// Datum lines in the frame of the route; left empty where the route's place is not known.
    pub levels: &'a [Level],
    pub tube_outside_m: f64,
    pub hose: Option<HoseBand>,
    /// How each leg's tube is cut; a leg without an entry is drawn as one piece of the clear length.
    pub tubes: Vec<TubePieces>,
    pub joints: Vec<JointMark>,
    pub crossings: Vec<CrossingMark>,
    pub balloons: Vec<Balloon>,
    /// Trunk, unit and onward path, in the frame of the route.
    pub surroundings: Option<Surroundings>,
    pub say: Say,
    /// Width and height to draw in. The width is kept; the height is passed only where words need it.
    pub area_mm: (f64, f64),
}

/// The stored hose, as lengths along the hose path from the valve's seat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HoseBand {
    /// Where the tail of a new hose lies.
    pub new_m: f64,
    /// Where it lies when the hose has grown by its allowance.
    pub grown_m: f64,
}

/// The tube of one leg as the cutting plan cuts it.
#[derive(Debug, Clone, PartialEq)]
pub struct TubePieces {
    /// Index of the leg.
    pub leg: usize,
    /// Pieces from the valve's side to the stop's.
    pub pieces: Vec<Piece>,
    /// What a coupling keeps between two pieces.
    pub gap_m: f64,
}

/// A cut piece of tube.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// `A3`, or as the cutting plan marks a part of it.
    pub mark: String,
    pub length_m: f64,
}

/// A cemented joint.
#[derive(Debug, Clone, PartialEq)]
pub struct JointMark {
    /// `J7`.
    pub mark: String,
    /// Distance from the valve along work points.
    pub station_m: f64,
}

/// A member of the frame that a leg is bored through.
#[derive(Debug, Clone, PartialEq)]
pub struct CrossingMark {
    /// Index of the leg.
    pub leg: usize,
    /// From the leg's start to the middle of the member.
    pub at_m: f64,
    /// Thickness along the tube, as far as known; drawn to scale.
    pub thickness_m: Option<f64>,
    /// Member and bore: `bottom plate 2x4, bore 2-1/8 in`.
    pub words: String,
    /// What came of the bore: `pass`, `fail`, `hold`.
    pub verdict: String,
}

/// A finding that matches a note of the packet by its number.
#[derive(Debug, Clone, PartialEq)]
pub struct Balloon {
    pub number: usize,
    pub kind: BalloonKind,
    pub spot: Spot,
    /// What was found; said by the mark's `<title>`.
    pub text: String,
}

/// How a finding looks: by word and by shape, never by colour alone.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BalloonKind {
    Fail,
    Hold,
    Caution,
    Waived,
    NotChecked,
}

impl BalloonKind {
    /// The word written in the balloon.
    pub fn word(self) -> &'static str {
        match self {
            BalloonKind::Fail => "FAIL",
            BalloonKind::Hold => "HOLD",
            BalloonKind::Caution => "CAUTION",
            BalloonKind::Waived => "WAIVED",
            BalloonKind::NotChecked => "NOT CHECKED",
        }
    }
}

/// Where on the line something sits.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Spot {
    Whole,
    /// Bend by its number, from 1.
    Bend(usize),
    /// Leg by its index.
    Leg(usize),
    /// Distance from the valve along work points.
    Station(f64),
    /// The stop.
    End,
}

/// What stands around a raceway, in light line.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Surroundings {
    pub unit: Option<DVec3>,
    /// Name and centreline, as work points.
    pub trunks: Vec<(String, Vec<DVec3>)>,
    /// From the stop to where it joins, as work points.
    pub onward: Vec<DVec3>,
}

/// The lines of a whole job, seen from above.
#[derive(Debug, Clone)]
pub struct KeyPicture<'a> {
    pub prefix: String,
    pub title: String,
    pub lines: Vec<KeyLine<'a>>,
    /// Name and place of the unit, when it is known.
    pub unit: Option<(String, DVec3)>,
    pub say: Say,
    pub area_mm: (f64, f64),
}

/// One line of the key plan.
#[derive(Debug, Clone)]
pub struct KeyLine<'a> {
    pub name: String,
    pub kind: KeyKind,
    pub route: Cow<'a, Line>,
}

/// What a line of the key plan is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum KeyKind {
    /// From a valve to its stop; each has a line pattern of its own.
    Raceway,
    /// From a stop to where it joins; not named on the drawing.
    Onward,
    Trunk,
}

/// Sticks of tube with the pieces sawn from them.
#[derive(Debug, Clone)]
pub struct CuttingPicture {
    pub prefix: String,
    pub title: String,
    pub stick_m: f64,
    pub kerf_m: f64,
    /// Pieces of each stick, in the order of the cuts.
    pub sticks: Vec<Vec<Piece>>,
    pub say: Say,
    pub area_mm: (f64, f64),
}

/// One joint, cut open: how far the tube goes in and where its insertion mark stands.
#[derive(Debug, Clone)]
pub struct JointPicture {
    pub prefix: String,
    pub title: String,
    /// Mark of the tube: `A3`.
    pub tube: String,
    /// What it seats in: `sweep 90`.
    pub fitting: String,
    pub tube_outside_m: f64,
    pub tube_bore_m: f64,
    pub socket_m: f64,
    pub say: Say,
    pub area_mm: (f64, f64),
}

/// A valve's box or frame in the wall, from the front and from the side.
#[derive(Debug, Clone)]
pub struct ValveBoxPicture {
    pub prefix: String,
    pub title: String,
    /// Written at the box: `door-sealed, frame`.
    pub name: String,
    /// Width and height.
    pub box_m: (f64, f64),
    /// Room it takes in the wall, from the back of the drywall.
    pub depth_m: f64,
    /// Clear width between the studs.
    pub bay_m: f64,
    /// Depth of the studs.
    pub stud_m: f64,
    pub drywall_m: f64,
    pub tube_outside_m: f64,
    /// Whether the tube leaves upward; else downward.
    pub leaves_up: bool,
    /// Height of the box's middle over the floor, when known.
    pub over_floor_m: Option<f64>,
    pub say: Say,
    pub area_mm: (f64, f64),
}

/// Force against the length of hose drawn in.
#[derive(Debug, Clone)]
pub struct Plot {
    pub prefix: String,
    pub title: String,
    /// Name of each curve, and its points: metres of hose in the tube, newtons.
    pub curves: Vec<(String, Vec<(f64, f64)>)>,
    /// Name and size of the force at hand, newtons.
    pub available: Option<(String, f64)>,
    /// Mark of each bend and where its middle lies along the hose path, metres.
    pub bends: Vec<(String, f64)>,
    /// Under the axis: `hose drawn in`.
    pub along: String,
    pub say: Say,
    pub area_mm: (f64, f64),
}

/// One floor of a house with what its valves reach.
#[derive(Debug, Clone)]
pub struct ReachPicture<'a> {
    pub prefix: String,
    pub title: String,
    pub plan: &'a crate::plan::Plan,
    pub placed: &'a crate::plan::Placed,
    pub house: &'a crate::plan::House,
    pub floor: usize,
    /// What is reached with so much hose, from the shortest; the last is all that is reached.
    pub bands: &'a [crate::plan::Region],
    /// Those that stand on this floor.
    pub valves: Vec<ReachValve>,
    /// The point of this floor that wants the most hose of all, and how much.
    pub farthest: Option<(crate::plan::P2, f64)>,
    /// Rooms of the plan with what is left out of them: `12 sq ft out of reach`.
    pub left: Vec<(usize, String)>,
    /// Lines of tube by name, as work points.
    pub lines: Vec<(String, Vec<DVec3>)>,
    pub say: Say,
    pub area_mm: (f64, f64),
}

/// A valve of a reach.
#[derive(Debug, Clone, PartialEq)]
pub struct ReachValve {
    pub name: String,
    pub at: crate::plan::P2,
    pub hose_m: f64,
}

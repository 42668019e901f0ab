//! What a drawing is made from: plain data, already judged and already in words.
//!
//! Lengths in metres, paper in millimetres. A subject holds no clause and no catalog: findings come
//! as [`Balloon`]s, crossings with the words to write at them. Nothing in it says where on the paper
//! a thing goes; that is the drawing's own affair.
use crate::company::{DatumRuns, Level};
use crate::measure::Say;
use crate::route::{Line, Spot};
use glam::DVec3;
use std::borrow::Cow;

/// One line of tube, from its start to where it joins, for its elevation, plan and isometric.
#[derive(Debug, Clone)]
pub struct LinePicture<'a> {
    /// Put before every id of the SVG; letters, digits and hyphens, different for each drawing of a page.
    pub prefix: String,
    /// What the drawing shows, for its `<title>`: `Hall, elevation`.
    pub title: String,
    /// Written at its start: `HALL valve`, `cap`; empty where nothing stands there.
    pub begins: String,
    /// Written at its end: `unit`, `trunk main at 20 ft`; empty where nothing is known of it.
    pub ends: String,
    pub line: Cow<'a, Line>,
    /// Datum lines in the frame of the line; left empty where its place is not known.
    pub levels: &'a [Level],
    pub tube_outside_m: f64,
    pub hose: Option<HoseBand>,
    /// How tubes are cut; a tube without an entry is drawn as one piece of its clear length.
    pub tubes: Vec<TubePieces>,
    pub joints: Vec<JointMark>,
    pub branches: Vec<BranchMark>,
    pub crossings: Vec<CrossingMark>,
    pub balloons: Vec<Balloon>,
    /// Other lines and the unit, in the frame of the line.
    pub surroundings: Option<Surroundings>,
    pub say: Say,
    /// Whether the line's cut list stands beside the drawing, so that what it tells of bends, branches and
    /// cuts need not be said under the drawing too.
    pub listed: bool,
    /// Width and height to draw in. The width is kept; the height is passed only where words need it.
    pub area_mm: (f64, f64),
    /// How much higher than that the line itself may be drawn where its words want room; [`SPARE_MM`] is usual.
    pub spare_mm: f64,
}

/// How much higher than its area a line may be drawn where nothing else is told, mm.
pub const SPARE_MM: f64 = 30.0;

/// The stored hose, as lengths along the hose path from the valve's seat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HoseBand {
    /// Where the tail of a new hose lies.
    pub new_m: f64,
    /// Where it lies when the hose has grown by its allowance.
    pub grown_m: f64,
}

/// A tube as the cutting plan cuts it.
#[derive(Debug, Clone, PartialEq)]
pub struct TubePieces {
    /// Mark of the tube, as the line has it.
    pub tube: String,
    /// Pieces in the order of the line.
    pub pieces: Vec<Piece>,
    /// What each coupling between them covers, by distance from the tube's start.
    pub couplings: Vec<(f64, f64)>,
}

/// Another line that comes in by a junction.
#[derive(Debug, Clone, PartialEq)]
pub struct BranchMark {
    /// Letters of the line that comes in: `H`.
    pub letters: String,
    pub station_m: f64,
    /// The way its branch points from the run, a unit vector.
    pub toward: DVec3,
    /// About the run, clockwise looking the way the air goes, 0 straight up; degrees.
    pub roll_deg: f64,
    /// What the drawing says of it, the most wanted first: `at 20 ft`, `from above, with the flow`.
    pub words: Vec<String>,
}

/// A cut piece of tube.
#[derive(Debug, Clone, PartialEq)]
pub struct Piece {
    /// `H3`, or as the cutting plan marks a part of it.
    pub mark: String,
    pub length_m: f64,
    /// From the start of its tube, or of its stick.
    pub from_m: f64,
}

/// A cemented joint.
#[derive(Debug, Clone, PartialEq)]
pub struct JointMark {
    /// `HJ7`.
    pub mark: String,
    /// Distance from the line's start along work points.
    pub station_m: f64,
}

/// A member of the frame that a leg is bored through.
#[derive(Debug, Clone, PartialEq)]
pub struct CrossingMark {
    /// `HX2`.
    pub mark: String,
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
    /// Where the number stands.
    pub spot: Spot,
    /// Other places of the same finding, hatched as well.
    pub also: Vec<Spot>,
    /// What was found; said by the mark's `<title>`.
    pub text: String,
}

/// How a finding looks: by word and by shape, never by colour alone.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BalloonKind {
    Fail,
    Hold,
    Caution,
    /// A hold that a paper has answered.
    Cleared,
    Waived,
    NotChecked,
}

impl BalloonKind {
    /// Whether somebody must see to it, so that its place is hatched.
    pub fn calls(self) -> bool {
        match self {
            BalloonKind::Fail | BalloonKind::Hold | BalloonKind::Caution => true,
            BalloonKind::Cleared | BalloonKind::Waived | BalloonKind::NotChecked => false,
        }
    }

    /// The word written in the balloon.
    pub fn word(self) -> &'static str {
        match self {
            BalloonKind::Fail => "FAIL",
            BalloonKind::Hold => "HOLD",
            BalloonKind::Caution => "CAUTION",
            BalloonKind::Cleared => "CLEARED",
            BalloonKind::Waived => "WAIVED",
            BalloonKind::NotChecked => "NOT CHECKED",
        }
    }
}

/// What stands around a line, in light line.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Surroundings {
    pub unit: Option<DVec3>,
    /// Name and centreline of each other line, as work points; no name where a flag tells it.
    pub others: Vec<(String, Vec<DVec3>)>,
}

/// The lines of a whole job.
#[derive(Debug, Clone)]
pub struct KeyPicture<'a> {
    pub prefix: String,
    pub title: String,
    pub lines: Vec<&'a Line>,
    /// Name and place of the unit, when it is known.
    pub unit: Option<(String, DVec3)>,
    /// Where lines come too near to each other.
    pub clashes: Vec<ClashMark>,
    /// Lines on site that a tape starts from; for the layout.
    pub datums: Vec<DatumLine>,
    /// What is set out; for the layout.
    pub points: Vec<SetOut>,
    pub say: Say,
    /// Whether a table of what is set out stands beside the layout, so that marks alone are written on it.
    pub listed: bool,
    pub area_mm: (f64, f64),
}

/// A place at which two lines want the same room.
#[derive(Debug, Clone, PartialEq)]
pub struct ClashMark {
    pub at: DVec3,
    /// `H and K: 2-1/4 in too near`.
    pub words: String,
}

/// A line on site that a tape can start from.
#[derive(Debug, Clone, PartialEq)]
pub struct DatumLine {
    /// `D1`, as the schedules call it.
    pub mark: String,
    pub name: String,
    pub runs: DatumRuns,
}

/// A place that is set out.
#[derive(Debug, Clone, PartialEq)]
pub struct SetOut {
    /// As the schedules call it: `HX1`, `HB2`, `H STOP`.
    pub mark: String,
    pub at: DVec3,
    /// How far from what: `12 ft 4 in east of D1`.
    pub words: Vec<String>,
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

/// A tree of questions.
#[derive(Debug, Clone)]
pub struct TreePicture {
    pub prefix: String,
    pub title: String,
    /// From the top down.
    pub forks: Vec<Fork>,
    pub width_mm: f64,
}

/// A question of a tree.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fork {
    pub ask: String,
    /// Each answer, and what it leads to.
    pub ways: Vec<(String, String)>,
    /// Whether one of them leads to the question below.
    pub goes_on: bool,
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
    /// Whether somebody measured it; else it is a common one.
    pub bay_known: bool,
    /// Clear depth of the wall, when known.
    pub wall_m: Option<f64>,
    /// Depth of the studs.
    pub stud_m: f64,
    pub drywall_m: f64,
    pub tube_outside_m: f64,
    pub leaves: TubeLeaves,
    /// When known.
    pub heights: Option<BoxHeights>,
    pub say: Say,
    pub area_mm: (f64, f64),
}

/// Which way the tube leaves a valve's box.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TubeLeaves {
    Up,
    Down,
    Level,
}

/// Heights of a valve's box, in metres over a level.
#[derive(Debug, Clone, PartialEq)]
pub struct BoxHeights {
    /// Name of the level.
    pub over: String,
    /// Where the tube seats.
    pub seat_m: f64,
    /// The lower edge of the box.
    pub bottom_m: f64,
}

/// A hose drawn in: suction needed and had against the length that is in, and where it is spent.
#[derive(Debug, Clone)]
pub struct TravelPicture {
    pub prefix: String,
    pub title: String,
    /// One with all marks, or several side by side on one scale.
    pub panels: Vec<TravelPanel>,
    /// Mark of each bend and where its middle lies along the hose path, metres.
    pub bends: Vec<(String, f64)>,
    /// How much of the hose path is riser.
    pub riser_m: f64,
    /// Under the axis: `hose drawn in`.
    pub along: String,
    pub say: Say,
    pub area_mm: (f64, f64),
}

/// One travel.
#[derive(Debug, Clone)]
pub struct TravelPanel {
    /// Said over it; empty for a picture of one.
    pub title: String,
    /// Ascending.
    pub places: Vec<TravelPlace>,
}

/// One place of a travel.
#[derive(Debug, Clone, Copy)]
pub struct TravelPlace {
    pub inserted_m: f64,
    /// Infinite where no suction moves the hose.
    pub needed_pa: f64,
    /// In the valve, along the hose, round the tail.
    pub spent_pa: [f64; 3],
}

impl TravelPlace {
    /// Suction behind the tail: what is spent, in all.
    pub fn had_pa(&self) -> f64 {
        self.spent_pa.iter().sum()
    }

    /// Had over needed.
    pub fn reserve(&self) -> f64 {
        if self.needed_pa > 0.0 { self.had_pa() / self.needed_pa } else { f64::INFINITY }
    }
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

//! The plain data of a laid line.
use crate::company::{Crossing, Fitting, Owner};
use crate::text::Place;
use glam::DVec3;

/// A line of tube laid out: its centreline, what stands in it and the tubes between.
///
/// Stations are distances along its work points from its start. There is one leg more than bends.
#[derive(Debug, Clone)]
pub struct Line {
    pub owner: Owner,
    /// Id of the inlet or trunk.
    pub id: String,
    /// Name for people: the inlet's, or the trunk's id.
    pub name: String,
    /// The letters that begin its marks.
    pub letters: String,
    /// Where it is written.
    pub place: Place,
    /// Where it is written what it joins.
    pub into_place: Place,
    /// The valve's seat, or a trunk's start.
    pub start: DVec3,
    pub anchor: Anchor,
    pub legs: Vec<Leg>,
    /// Numbered through, from the start to where the line joins.
    pub bends: Vec<Bend>,
    /// Fittings that stand in a leg, by station.
    pub inlines: Vec<Inline>,
    /// What its first tube seats in.
    pub head: End,
    /// What its last tube seats in.
    pub tail: End,
    /// One between each two fittings, in order.
    pub tubes: Vec<Tube>,
    pub crossings: Vec<Crossed>,
    /// What the hose has to do with; `None` for a trunk.
    pub raceway: Option<Raceway>,
    /// The line that it runs into; `None` where that is the unit, or nothing.
    pub joins: Option<Joins>,
    /// How it closes, where both its ends have places.
    pub closure: Option<Closure>,
    /// Sum of all runs.
    pub centre_m: f64,
    pub end: DVec3,
    /// Heading with which it ends.
    pub end_heading: DVec3,
}

/// The part of an inlet's line that the hose lies in, from the valve to the stop.
#[derive(Debug, Clone, PartialEq)]
pub struct Raceway {
    /// Station of the stop: where the tube seats in it, and so the sum of the runs up to there.
    pub stop_m: f64,
    /// The stop's place.
    pub end: DVec3,
    /// How many legs lead to it; it stands on the last of them, or ends it.
    pub legs: usize,
    /// How many bends come before it.
    pub bends: usize,
    /// Length along the arcs: runs less `2 R tan(a/2)` plus `R a` for each bend.
    pub hose_path_m: f64,
    pub bend_total_deg: f64,
    /// How many leading legs are the riser (steeper than 45 degrees).
    pub riser_legs: usize,
    /// Greatest departure, up or down, of a work point after the riser from the riser's end height.
    pub level_deviation_m: f64,
    /// How often the line, having risen, falls, or the other way round.
    pub reversals: usize,
}

/// A straight between two turns; runs in a row are one leg, and the stop does not divide it.
#[derive(Debug, Clone)]
pub struct Leg {
    pub from: DVec3,
    pub to: DVec3,
    /// Unit vector.
    pub heading: DVec3,
    pub length_m: f64,
    /// Station of this leg's start.
    pub station_m: f64,
    /// The runs it is made of: length, and where it is written.
    pub runs: Vec<(f64, Place)>,
}

/// A bend between two legs.
#[derive(Debug, Clone)]
pub struct Bend {
    /// Counted from 1 at the start.
    pub n: usize,
    pub angle_deg: f64,
    /// Sum of angles up to and with this one.
    pub so_far_deg: f64,
    /// Work point.
    pub point: DVec3,
    /// Station of the work point.
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
    /// looking on along the line, above -180 to 180; `None` for the first.
    pub roll_deg: Option<f64>,
    /// Where it is written.
    pub place: Place,
}

/// A fitting that stands in a leg, its run straight through.
#[derive(Debug, Clone)]
pub struct Inline {
    pub kind: InlineKind,
    /// Index of its leg.
    pub leg: usize,
    /// Station of its work point: of a stop, where the tube before it seats.
    pub station_m: f64,
    /// From the work point to where the tube before it seats, and the tube after.
    pub before_m: f64,
    pub after_m: f64,
}

/// What stands in a leg.
#[derive(Debug, Clone)]
pub enum InlineKind {
    Stop,
    /// A junction by which another line comes in.
    Junction(Joining),
}

/// A line coming in by the branch of a junction.
#[derive(Debug, Clone)]
pub struct Joining {
    /// Index of the line that joins.
    pub line: usize,
    /// Its name.
    pub by: String,
    pub fitting: Fitting,
    pub entry: Entry,
}

/// How a branch stands on its run. It depends on headings alone, so that it is known without places.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Entry {
    /// Between the way the branch's air comes and the way the run's air goes, degrees: 45 where a wye
    /// flows with the run, 135 where it is set backwards, 90 for a tee.
    pub turn_deg: f64,
    /// How steeply the branch lies over the run's axis, square to it: 90 comes in from straight above, 0
    /// from the side, -90 from below.
    pub rise_deg: f64,
    /// Roll of the branch about the run, looking the way the air goes: 0 is straight up (on an upright run,
    /// north), clockwise positive, above -180 to 180.
    pub roll_deg: f64,
}

/// What a tube seats in at one end.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum End {
    Valve,
    /// Bend by its number.
    Bend(usize),
    Stop,
    /// The run of a junction: index into [`Line::inlines`].
    Junction(usize),
    /// The branch of a junction on the line that it joins.
    Branch,
    Unit,
    /// A cap on the start of a trunk.
    Cap,
    /// The start of a trunk with nothing on it.
    Open,
    /// The start of a trunk, from which another line goes on: the coupling with that line.
    From,
    /// The end of a line that goes on as a trunk: the coupling with it.
    Onto,
}

/// The tube between two fittings that follow each other.
#[derive(Debug, Clone, PartialEq)]
pub struct Tube {
    /// `H3`: the third tube of line H.
    pub mark: String,
    /// Index of its leg.
    pub leg: usize,
    pub from: End,
    pub to: End,
    /// Station at which it begins.
    pub start_m: f64,
    /// From seat to seat; negative where the fittings collide.
    pub clear_m: f64,
}

/// A crossing met by a line.
#[derive(Debug, Clone, PartialEq)]
pub struct Crossed {
    /// `HX2`: the second of line H.
    pub mark: String,
    /// Index of its leg.
    pub leg: usize,
    /// From the leg's start to the middle of the member.
    pub at_m: f64,
    pub station_m: f64,
    /// As written; its own `at_m` is from the start of its run.
    pub crossing: Crossing,
}

/// Where a line runs into another.
#[derive(Debug, Clone)]
pub struct Joins {
    /// Index of that line.
    pub line: usize,
    /// Station on it; `None` where the job leaves it out and the places do not tell it.
    pub station_m: Option<f64>,
    /// The junction whose branch takes it; `None` where it goes on as that line, by a coupling.
    pub with: Option<Fitting>,
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

/// Every line of a job: the inlets' first, then the trunks', each in the job's order.
#[derive(Debug, Clone)]
pub struct JobLines {
    pub lines: Vec<Line>,
    /// How many of them are inlets'.
    pub inlets: usize,
}
